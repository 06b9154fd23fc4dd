// SPDX-License-Identifier: GPL-3.0-or-later
// Building a sheet: every adding call copies what it is given.
#include "lzd_page.h"

#include <stdlib.h>
#include <string.h>

#include "lzd_sheet.h"

void
lzd_paper_size(lzd_paper paper, double *width, double *height)
{
  static const double size[LZD_PAPERS][2] = {
      [LZD_A4] = {210 * 72 / 25.4, 297 * 72 / 25.4},
      [LZD_LETTER] = {8.5 * 72, 11 * 72},
      [LZD_A6] = {105 * 72 / 25.4, 148 * 72 / 25.4},
  };
  *width = size[paper < LZD_PAPERS ? paper : LZD_A4][0];
  *height = size[paper < LZD_PAPERS ? paper : LZD_A4][1];
}

void *
lzd_sheet_grow(void **array, size_t *n, size_t *room, size_t size)
{
  if (*n == *room) {
    size_t wanted = *room ? *room * 2 : 16;
    void *grown = realloc(*array, wanted * size);
    if (!grown)
      return NULL;
    *array = grown;
    *room = wanted;
  }
  void *slot = (char *)*array + *n * size;
  memset(slot, 0, size);
  ++*n;
  return slot;
}

static void
failed(lzd_sheet *sheet, lzd_status status, const char *field, const char *reason)
{
  if (sheet->status == LZD_OK)
    sheet->status = lzd_fail(&sheet->fault, status, "page", sheet->n_blocks, field, reason);
}

void *
lzd_sheet_own(lzd_sheet *sheet, size_t size)
{
  if (sheet->status != LZD_OK)
    return NULL;
  void *memory = calloc(1, size ? size : 1);
  void **slot = memory ? lzd_sheet_grow((void **)&sheet->owned, &sheet->n_owned, &sheet->room_owned,
                                        sizeof *slot)
                       : NULL;
  if (!slot) {
    free(memory);
    failed(sheet, LZD_NO_MEMORY, "", "no memory");
    return NULL;
  }
  *slot = memory;
  return memory;
}

const char *
lzd_sheet_copy(lzd_sheet *sheet, const char *text)
{
  if (!text)
    return NULL;
  size_t size = strlen(text) + 1;
  char *out = lzd_sheet_own(sheet, size);
  return out ? memcpy(out, text, size) : NULL;
}

static lzd_block *
add(lzd_sheet *sheet, lzd_block_kind kind)
{
  if (sheet->status != LZD_OK)
    return NULL;
  sheet->laid = false;
  lzd_block *block =
      lzd_sheet_grow((void **)&sheet->blocks, &sheet->n_blocks, &sheet->room_blocks, sizeof *block);
  if (!block) {
    failed(sheet, LZD_NO_MEMORY, "", "no memory");
    return NULL;
  }
  block->kind = kind;
  block->table = SIZE_MAX;
  return block;
}

lzd_status
lzd_sheet_new(lzd_sheet **out, lzd_paper paper, const lzd_look *look, lzd_fault *fault)
{
  *out = NULL;
  if (paper >= LZD_PAPERS)
    return lzd_fail(fault, LZD_BAD_INPUT, "page", 0, "paper", "not A4, Letter or A6");
  lzd_sheet *sheet = calloc(1, sizeof *sheet);
  if (!sheet)
    return lzd_fail(fault, LZD_NO_MEMORY, "page", 0, "", "no memory");
  sheet->paper = paper;
  // A point is 4/3 of a design pixel: lines and marks are that much finer on paper.
  sheet->look =
      look ? *look : (lzd_look){.palette = lzd_palette_get(LZD_PRINT), .unit_scale = 0.75};
  lzd_paper_size(paper, &sheet->width, &sheet->height);
  sheet->margin = paper == LZD_A6 ? 20 : 40;
  sheet->open_table = SIZE_MAX;
  *out = sheet;
  return LZD_OK;
}

void
lzd_sheet_free(lzd_sheet *sheet)
{
  if (!sheet)
    return;
  for (size_t i = 0; i < sheet->n_owned; i++)
    free(sheet->owned[i]);
  free(sheet->owned);
  free(sheet->blocks);
  free(sheet->tables);
  free(sheet->placed);
  free(sheet);
}

double
lzd_sheet_text_width(const lzd_sheet *sheet)
{
  return sheet->width - 2 * sheet->margin;
}

lzd_paper
lzd_sheet_paper(const lzd_sheet *sheet)
{
  return sheet->paper;
}

void
lzd_sheet_head(lzd_sheet *sheet, const char *title, const char *subtitle, const char *right,
               const char *right2)
{
  sheet->title = lzd_sheet_copy(sheet, title);
  sheet->subtitle = lzd_sheet_copy(sheet, subtitle);
  sheet->right = lzd_sheet_copy(sheet, right);
  sheet->right2 = lzd_sheet_copy(sheet, right2);
}

void
lzd_sheet_foot(lzd_sheet *sheet, const char *left, const char *right)
{
  sheet->foot_left = lzd_sheet_copy(sheet, left);
  sheet->foot_right = lzd_sheet_copy(sheet, right);
}

void
lzd_sheet_heading(lzd_sheet *sheet, const char *number, const char *text, const char *aside)
{
  const char *strings[3] = {lzd_sheet_copy(sheet, number), lzd_sheet_copy(sheet, text),
                            lzd_sheet_copy(sheet, aside)};
  lzd_block *block = add(sheet, LZD_B_HEADING);
  if (block)
    block->text = strings[0], block->text2 = strings[1], block->text3 = strings[2];
}

void
lzd_sheet_keep(lzd_sheet *sheet)
{
  if (sheet->n_blocks)
    sheet->blocks[sheet->n_blocks - 1].keeps = true;
}

void
lzd_sheet_text(lzd_sheet *sheet, lzd_mark mark, const lzd_run *runs, size_t n_runs)
{
  lzd_run *copied = lzd_sheet_own(sheet, n_runs * sizeof *copied);
  for (size_t i = 0; copied && i < n_runs; i++) {
    copied[i] = runs[i];
    copied[i].text = lzd_sheet_copy(sheet, runs[i].text);
  }
  lzd_block *block = add(sheet, LZD_B_TEXT);
  if (block)
    block->runs = copied, block->n = n_runs, block->mark = mark;
}

void
lzd_sheet_line(lzd_sheet *sheet, const char *text, bool bold)
{
  lzd_run run = {.text = text, .bold = bold};
  lzd_sheet_text(sheet, LZD_MARK_NONE, &run, 1);
}

void
lzd_sheet_space(lzd_sheet *sheet, double points)
{
  lzd_block *block = add(sheet, LZD_B_SPACE);
  if (block)
    block->size = points;
}

void
lzd_sheet_rule(lzd_sheet *sheet, double width)
{
  lzd_block *block = add(sheet, LZD_B_RULE);
  if (block)
    block->size = width;
}

static const char **
copy_all(lzd_sheet *sheet, const char *const *strings, size_t n)
{
  const char **out = lzd_sheet_own(sheet, n * sizeof *out);
  for (size_t i = 0; out && i < n; i++)
    out[i] = lzd_sheet_copy(sheet, strings[i]);
  return out;
}

void
lzd_sheet_facts(lzd_sheet *sheet, const char *pennant, const char *const *names,
                const char *const *values, size_t n)
{
  const char *flag = lzd_sheet_copy(sheet, pennant);
  const char **copied_names = copy_all(sheet, names, n);
  const char **copied_values = copy_all(sheet, values, n);
  lzd_block *block = add(sheet, LZD_B_FACTS);
  if (block)
    block->text = flag, block->names = copied_names, block->values = copied_values, block->n = n;
}

void
lzd_sheet_table(lzd_sheet *sheet, const lzd_column *columns, size_t n_columns, bool rules)
{
  if (!n_columns) {
    failed(sheet, LZD_BAD_INPUT, "columns", "a table without columns");
    return;
  }
  lzd_table table = {.n = n_columns, .rules = rules};
  table.columns = lzd_sheet_own(sheet, n_columns * sizeof *table.columns);
  table.x = lzd_sheet_own(sheet, n_columns * sizeof *table.x);
  table.need = lzd_sheet_own(sheet, n_columns * sizeof *table.need);
  table.w = table.need ? lzd_sheet_own(sheet, n_columns * sizeof *table.w) : NULL;
  bool head = false;
  for (size_t i = 0; table.w && i < n_columns; i++) {
    table.columns[i] = columns[i];
    table.columns[i].head = lzd_sheet_copy(sheet, columns[i].head);
    head = head || columns[i].head;
  }
  if (!table.w)
    return;
  lzd_table_place_columns(sheet, &table);
  lzd_table *slot =
      lzd_sheet_grow((void **)&sheet->tables, &sheet->n_tables, &sheet->room_tables, sizeof *slot);
  if (!slot) {
    failed(sheet, LZD_NO_MEMORY, "", "no memory");
    return;
  }
  *slot = table;
  sheet->open_table = sheet->n_tables - 1;
  lzd_block *block = head ? add(sheet, LZD_B_TABLE_HEAD) : NULL;
  if (block)
    block->table = sheet->open_table;
}

static void
add_row(lzd_sheet *sheet, const lzd_cell *cells, size_t n_cells, bool tick)
{
  if (sheet->open_table == SIZE_MAX || n_cells > sheet->tables[sheet->open_table].n) {
    failed(sheet, LZD_BAD_INPUT, "cells", "a row without a table, or with too many cells");
    return;
  }
  lzd_cell *copied = lzd_sheet_own(sheet, n_cells * sizeof *copied);
  for (size_t i = 0; copied && i < n_cells; i++) {
    copied[i] = cells[i];
    copied[i].text = lzd_sheet_copy(sheet, cells[i].text);
  }
  lzd_block *block = add(sheet, LZD_B_ROW);
  if (block) {
    block->cells = copied;
    block->n = n_cells;
    block->table = sheet->open_table;
    block->flag = tick;
  }
}

void
lzd_sheet_row(lzd_sheet *sheet, const lzd_cell *cells, size_t n_cells)
{
  add_row(sheet, cells, n_cells, false);
}

void
lzd_sheet_tick_row(lzd_sheet *sheet, const lzd_cell *cells, size_t n_cells)
{
  add_row(sheet, cells, n_cells, true);
}

void
lzd_sheet_end_table(lzd_sheet *sheet)
{
  sheet->open_table = SIZE_MAX;
}

void
lzd_sheet_tick_line(lzd_sheet *sheet, const char *bold, const char *text)
{
  const char *strings[2] = {lzd_sheet_copy(sheet, bold), lzd_sheet_copy(sheet, text)};
  lzd_block *block = add(sheet, LZD_B_TICK_LINE);
  if (block)
    block->text = strings[0], block->text2 = strings[1];
}

void
lzd_sheet_pen_lines(lzd_sheet *sheet, size_t n)
{
  while (n--)
    add(sheet, LZD_B_PEN_LINE);
}

void
lzd_sheet_warning(lzd_sheet *sheet, lzd_mark mark, const char *title, const char *text)
{
  const char *strings[2] = {lzd_sheet_copy(sheet, title), lzd_sheet_copy(sheet, text)};
  lzd_block *block = add(sheet, LZD_B_WARNING);
  if (block)
    block->text = strings[0], block->text2 = strings[1], block->mark = mark;
}

void
lzd_sheet_sign(lzd_sheet *sheet, const char *const *labels, size_t n, bool inline_label)
{
  const char **names = copy_all(sheet, labels, n);
  lzd_block *block = add(sheet, LZD_B_SIGN);
  if (block)
    block->names = names, block->n = n, block->flag = inline_label;
}

void
lzd_sheet_to_foot(lzd_sheet *sheet)
{
  add(sheet, LZD_B_TO_FOOT);
}

void
lzd_sheet_new_page(lzd_sheet *sheet)
{
  add(sheet, LZD_B_NEW_PAGE);
}

void
lzd_sheet_block(lzd_sheet *sheet, double height, lzd_block_draw draw, const void *data)
{
  lzd_block *block = add(sheet, LZD_B_CUSTOM);
  if (block)
    block->size = height, block->draw = draw, block->data = data;
}
