// SPDX-License-Identifier: GPL-3.0-or-later
// What stands on every page: head and foot, with the numbers of the pages.
#include <stdio.h>
#include <string.h>

#include "lzd_sheet.h"

// Puts page and pages into a string with {page} and {pages}; cut at the buffer's end.
static const char *
numbered(char *out, size_t size, const char *text, size_t page, size_t pages)
{
  size_t n = 0;
  out[0] = 0;
  while (text && *text && n + 24 < size) {
    if (strncmp(text, "{page}", 6) == 0) {
      n += (size_t)snprintf(out + n, size - n, "%zu", page);
      text += 6;
    } else if (strncmp(text, "{pages}", 7) == 0) {
      n += (size_t)snprintf(out + n, size - n, "%zu", pages);
      text += 7;
    } else {
      out[n++] = *text++;
    }
  }
  out[n] = 0;
  return out;
}

// Of the first page: what is at its right decides how much room there is. Two languages are set
// smaller, and what is too long for that goes on below.
static lzd_type
title_type(const lzd_sheet *sheet, const char *right)
{
  lzd_type title = {.size = LZD_PT_TITLE, .bold = true, .role = LZD_TEXT};
  title.width =
      lzd_sheet_text_width(sheet) - 14 - lzd_text_width(&sheet->look, LZD_PT_SMALL, true, right);
  while (title.size > LZD_PT_BODY &&
         lzd_text_width(&sheet->look, title.size, true, sheet->title) > title.width)
    title.size -= 0.5;
  title.wrap = lzd_text_width(&sheet->look, title.size, true, sheet->title) > title.width;
  return title;
}

static lzd_type
subtitle_type(const lzd_sheet *sheet)
{
  return (lzd_type){.size = LZD_PT_BODY,
                    .role = LZD_TEXT2,
                    .wrap = true,
                    .width = lzd_sheet_text_width(sheet) * 0.62};
}

// What a text is higher than one line of it.
static double
more_lines(const lzd_sheet *sheet, const lzd_type *type, const char *text)
{
  double all, one;
  if (!text || !type->wrap)
    return 0;
  lzd_text_measure(&sheet->look, type, text, NULL, &all);
  lzd_text_measure(&sheet->look, type, "x", NULL, &one);
  return all > one * 1.5 ? all - one : 0;
}

// As wide as any number of pages may make it, so that a page more does not move what is on the
// first.
static lzd_type
widest_title(const lzd_sheet *sheet)
{
  char buffer[512];
  return title_type(sheet, numbered(buffer, sizeof buffer, sheet->right, 88, 88));
}

double
lzd_sheet_head_height(const lzd_sheet *sheet, size_t page)
{
  if (!sheet->title)
    return 0;
  double text = lzd_look_text(&sheet->look);
  if (page > 0)
    return 18 * text;
  lzd_type title = widest_title(sheet), small = subtitle_type(sheet);
  return LZD_PT_TITLE * text + (sheet->subtitle || sheet->right2 ? 18 * text : 6) + 14 +
         more_lines(sheet, &title, sheet->title) + more_lines(sheet, &small, sheet->subtitle);
}

void
lzd_sheet_draw_head(const lzd_sheet *sheet, cairo_t *cr, size_t page)
{
  char buffer[512];
  if (!sheet->title)
    return;
  double text = lzd_look_text(&sheet->look), width = lzd_sheet_text_width(sheet),
         top = sheet->margin;
  bool first = page == 0;
  lzd_type title = {.size = LZD_PT_SMALL, .bold = true, .role = LZD_TEXT};
  lzd_type side = {.size = LZD_PT_SMALL, .bold = true, .role = LZD_TEXT, .align = LZD_END};
  lzd_type small = subtitle_type(sheet);
  double base = top + (first ? LZD_PT_TITLE * 0.8 : LZD_PT_SMALL) * text;
  title.width =
      width - 14 -
      lzd_text_width(&sheet->look, side.size, true,
                     numbered(buffer, sizeof buffer, sheet->right, page + 1, sheet->n_pages));
  if (first)
    title = widest_title(sheet);
  lzd_sheet_put(sheet, cr, &title, 0, base, sheet->title);
  lzd_sheet_put(sheet, cr, &side, width, first ? top + LZD_PT_SMALL * text : base,
                numbered(buffer, sizeof buffer, sheet->right, page + 1, sheet->n_pages));
  if (first) {
    side.bold = false;
    lzd_sheet_put(sheet, cr, &small, 0, base + 18 * text + more_lines(sheet, &title, sheet->title),
                  sheet->subtitle);
    lzd_sheet_put(sheet, cr, &side, width, top + (LZD_PT_SMALL + 13) * text,
                  numbered(buffer, sizeof buffer, sheet->right2, page + 1, sheet->n_pages));
  }
  double line = top + lzd_sheet_head_height(sheet, page) - (first ? 8 : 6);
  lzd_sheet_across(sheet, cr, LZD_TEXT, first ? 1.6 : 0.8, 0, width, line, LZD_DASH_NONE);
}

// A foot is one line: letters give way, down to where they can still be read.
static void
foot_line(const lzd_sheet *sheet, cairo_t *cr, double width, double base, const char *text)
{
  lzd_type type = {.size = LZD_PT_SMALL, .role = LZD_TEXT2, .width = width};
  while (type.size > 7 && lzd_text_width(&sheet->look, type.size, false, text) > width)
    type.size -= 0.25;
  lzd_sheet_put(sheet, cr, &type, 0, base, text);
}

void
lzd_sheet_draw_foot(const lzd_sheet *sheet, cairo_t *cr, size_t page)
{
  char buffer[512];
  double width = lzd_sheet_text_width(sheet), base = sheet->height - sheet->margin;
  double left = sheet->foot_right ? width * 0.75 : width;
  lzd_type right = {.size = LZD_PT_SMALL, .role = LZD_TEXT2, .align = LZD_END};
  base -= sheet->foot_below ? 12 * lzd_look_text(&sheet->look) : 0;
  if (sheet->foot_left)
    foot_line(sheet, cr, left, base,
              numbered(buffer, sizeof buffer, sheet->foot_left, page + 1, sheet->n_pages));
  if (sheet->foot_below) // in the other language
    foot_line(sheet, cr, left, base + 12 * lzd_look_text(&sheet->look),
              numbered(buffer, sizeof buffer, sheet->foot_below, page + 1, sheet->n_pages));
  lzd_sheet_put(sheet, cr, &right, width, base,
                numbered(buffer, sizeof buffer, sheet->foot_right, page + 1, sheet->n_pages));
}
