// SPDX-License-Identifier: GPL-3.0-or-later
// How wide the columns of a sheet's tables are.
#include <math.h>
#include <string.h>

#include "lzd_sheet.h"

#define MOST_OF_WIDTH 0.3 // of the text area, for one word
#define LEAST_SHARE   60.0
#define WIDEST_BYTE   9.0 // at body size, points: shorter words need not be measured

static void
place_from_start(lzd_table *table)
{
  double x = 0;
  for (size_t i = 0; i < table->n; i++) {
    table->x[i] = x;
    x += table->w[i];
  }
}

void
lzd_table_place_columns(const lzd_sheet *sheet, lzd_table *table)
{
  double left = lzd_sheet_text_width(sheet);
  size_t free_columns = 0;
  for (size_t i = 0; i < table->n; i++) {
    left -= table->columns[i].width;
    free_columns += table->columns[i].width == 0;
  }
  // Too wide for the paper: all fixed columns give way alike.
  double fixed = lzd_sheet_text_width(sheet) - left, least = 40 * (double)free_columns, shrink = 1;
  if (left < least && fixed > 0) {
    shrink = (lzd_sheet_text_width(sheet) - least) / fixed;
    left = least;
  }
  for (size_t i = 0; i < table->n; i++) {
    double share = free_columns ? left / (double)free_columns : 0;
    table->w[i] = table->columns[i].width > 0 ? table->columns[i].width * shrink : share;
  }
  place_from_start(table);
}

// The longest of the words; of those that surely fit into `room`, 0.
static double
longest_word(const lzd_sheet *sheet, double size, bool bold, const char *words, double room)
{
  char word[64];
  double longest = 0, text = lzd_look_text(&sheet->look);
  for (const char *at = words; at && *at;) {
    size_t n = strcspn(at, " \n");
    // a word that does not fit the buffer has to be broken anyhow
    if (n < sizeof word && WIDEST_BYTE * text * (double)n > room) {
      memcpy(word, at, n);
      word[n] = 0;
      longest = fmax(longest, lzd_text_width(&sheet->look, size, bold, word));
    }
    at += n + (at[n] != 0);
  }
  return longest;
}

// What each column needs for its longest word; with `all`, also where every word fits.
static void
find_needs(const lzd_sheet *sheet, size_t index, bool all)
{
  const lzd_table *table = &sheet->tables[index];
  const double most = MOST_OF_WIDTH * lzd_sheet_text_width(sheet);
  for (size_t i = 0; all && i < table->n; i++)
    table->need[i] = 6.5 + longest_word(sheet, LZD_PT_SMALL, false, table->columns[i].head, 0);
  for (size_t b = 0; b < sheet->n_blocks; b++) {
    const lzd_block *row = &sheet->blocks[b];
    for (size_t i = 0; row->kind == LZD_B_ROW && row->table == index && i < row->n; i++) {
      const lzd_cell *cell = &row->cells[i];
      double beside =
          (i + 1 < table->n ? 6 : 0) + (row->flag && i == 0 ? 22 : 0) + (cell->mark ? 18 : 0) + 0.5;
      double room = all ? 0 : table->w[i] - beside;
      double word = cell->basin ? table->w[i] - beside
                                : longest_word(sheet, LZD_PT_BODY, cell->bold, cell->text, room);
      table->need[i] = fmax(table->need[i], fmin(most, word + beside));
    }
  }
}

static double
asked_in_all(const lzd_table *table)
{
  double asked = 0;
  for (size_t i = 0; i < table->n; i++)
    asked += fmax(0, table->need[i] - table->w[i]);
  return asked;
}

static double
can_give(const lzd_table *table, size_t i, bool share)
{
  if (share != (table->columns[i].width == 0))
    return 0;
  return fmax(0, table->w[i] - fmax(share ? LEAST_SHARE : 0, table->need[i]));
}

// Columns that had a share give, or those of a fixed width.
static void
hand_over(lzd_table *table, bool share)
{
  double asked = asked_in_all(table), given = 0;
  for (size_t i = 0; i < table->n; i++)
    given += can_give(table, i, share);
  if (asked <= 0 || given <= 0)
    return;
  const double granted = fmin(1, given / asked), part = fmin(1, asked / given);
  for (size_t i = 0; i < table->n; i++)
    table->w[i] +=
        fmax(0, table->need[i] - table->w[i]) * granted - can_give(table, i, share) * part;
}

void
lzd_table_fit_columns(const lzd_sheet *sheet, size_t index)
{
  lzd_table *table = &sheet->tables[index];
  find_needs(sheet, index, false);
  if (asked_in_all(table) <= 0)
    return;
  find_needs(sheet, index, true);
  hand_over(table, true);
  hand_over(table, false);
  place_from_start(table);
}
