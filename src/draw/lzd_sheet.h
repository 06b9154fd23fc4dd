// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the layer only: a sheet's blocks and where they were laid.
#ifndef LZD_SHEET_H
#define LZD_SHEET_H

#include "lzd_page.h"
#include "lzd_pen.h"

// Sizes on paper, in points.
#define LZD_PT_TITLE   18.0
#define LZD_PT_HEADING 11.5
#define LZD_PT_BODY    10.0
#define LZD_PT_SMALL   9.0

typedef enum {
  LZD_B_TEXT,
  LZD_B_HEADING,
  LZD_B_SPACE,
  LZD_B_RULE,
  LZD_B_FACTS,
  LZD_B_TABLE_HEAD,
  LZD_B_ROW,
  LZD_B_TICK_LINE,
  LZD_B_PEN_LINE,
  LZD_B_WARNING,
  LZD_B_SIGN,
  LZD_B_CUSTOM,
  LZD_B_TO_FOOT,
  LZD_B_NEW_PAGE,
  LZD_B_KINDS
} lzd_block_kind;

typedef struct {
  lzd_column *columns;
  double *x, *w; // of each column, from the start edge
  double *need;  // of each column: its longest word
  size_t n;
  bool rules;
} lzd_table;

// One block. Which fields count depends on its kind.
typedef struct {
  lzd_block_kind kind;
  const char *text, *text2, *text3;
  double size; // height, width of a rule
  bool flag;   // bold, tick row, inline label
  bool keeps;  // on one page with the next block
  lzd_mark mark;
  lzd_run *runs;
  lzd_cell *cells;
  const char **names, **values;
  size_t n;
  size_t table; // SIZE_MAX: none
  lzd_block_draw draw;
  const void *data;
} lzd_block;

typedef struct {
  size_t block, page;
  double y;
} lzd_placed;

struct lzd_sheet {
  lzd_paper paper;
  lzd_look look;
  double width, height, margin;
  const char *title, *subtitle, *right, *right2, *foot_left, *foot_right;
  const char *foot_below; // the left foot in another language
  lzd_block *blocks;
  size_t n_blocks, room_blocks;
  lzd_table *tables;
  size_t n_tables, room_tables;
  size_t open_table; // SIZE_MAX: none
  void **owned;      // every allocation but the arrays above
  size_t n_owned, room_owned;
  lzd_placed *placed;
  size_t n_placed, room_placed, n_pages;
  bool laid;
  lzd_status status; // of the first failing call
  lzd_fault fault;
};

// Grows *array by one element of `size` bytes; NULL: no memory, nothing changed.
void *lzd_sheet_grow(void **array, size_t *n, size_t *room, size_t size);
// Zeroed memory, or a copy of a text, that the sheet owns; NULL after noting the failure.
void *lzd_sheet_own(lzd_sheet *sheet, size_t size);
const char *lzd_sheet_copy(lzd_sheet *sheet, const char *text);
// --- lzd_page_columns.c
// Widths of the columns: those given, and equal shares of the rest.
void lzd_table_place_columns(const lzd_sheet *sheet, lzd_table *table);
// When all rows are there: a column whose longest word would be broken becomes wider, at the cost
// of those that had a share.
void lzd_table_fit_columns(const lzd_sheet *sheet, size_t table);
// Height of a block; draws it too where cr is not NULL, its top at y.
double lzd_block_run(const lzd_sheet *sheet, const lzd_block *block, cairo_t *cr, double y);
double lzd_sheet_head_height(const lzd_sheet *sheet, size_t page);
void lzd_sheet_draw_head(const lzd_sheet *sheet, cairo_t *cr, size_t page);
void lzd_sheet_draw_foot(const lzd_sheet *sheet, cairo_t *cr, size_t page);
// Draws one text, x counted from the start edge of the text area.
double lzd_sheet_put(const lzd_sheet *sheet, cairo_t *cr, const lzd_type *type, double x, double y,
                     const char *text);
// A stretch of the text area as a rectangle on the page.
lzd_rect lzd_sheet_span(const lzd_sheet *sheet, double x, double w, double y, double h);
// A line across; nothing where cr is NULL.
void lzd_sheet_across(const lzd_sheet *sheet, cairo_t *cr, lzd_role role, double width, double x,
                      double w, double y, lzd_dash dash);

#endif
