// SPDX-License-Identifier: GPL-3.0-or-later
// Paper: a sheet is a list of blocks that flows over as many pages as it needs and draws page n on
// any cairo context (a PDF, a printer, a picture). Points: 72 to the inch. Strings are copied in.
//
// After a failure of any adding call the sheet remembers the first failure and ignores what
// follows: check once, at lzd_sheet_pages.
#ifndef LZD_PAGE_H
#define LZD_PAGE_H

#include "lzd_base.h"
#include "lzd_marks.h"
#include "lzd_text.h"

typedef enum { LZD_A4, LZD_LETTER, LZD_A6, LZD_PAPERS } lzd_paper;

// ISO 216 (A4 210 x 297 mm, A6 105 x 148 mm); ANSI/ASME Y14.1 (Letter 8.5 x 11 in).
void lzd_paper_size(lzd_paper paper, double *width, double *height);

typedef struct lzd_sheet lzd_sheet;

// look NULL: the print palette. *out is NULL after a failure.
lzd_status lzd_sheet_new(lzd_sheet **out, lzd_paper paper, const lzd_look *look, lzd_fault *fault);
void lzd_sheet_free(lzd_sheet *sheet); // NULL is fine

// Head of the first page: title left, two lines right, a heavy rule below. In `right` and `right2`
// "{page}" and "{pages}" become numbers; further pages repeat title and right in small type.
void lzd_sheet_head(lzd_sheet *sheet, const char *title, const char *subtitle, const char *right,
                    const char *right2);
// Foot of every page, {page} and {pages} as above. Either may be NULL.
void lzd_sheet_foot(lzd_sheet *sheet, const char *left, const char *right);

// "1  Out of range now" with a rule below and a remark at the right. number and aside may be NULL.
// Never the last line of a page: it keeps with the block after it.
void lzd_sheet_heading(lzd_sheet *sheet, const char *number, const char *text, const char *aside);
// A paragraph of runs with an optional mark before it.
void lzd_sheet_text(lzd_sheet *sheet, lzd_mark mark, const lzd_run *runs, size_t n_runs);
void lzd_sheet_line(lzd_sheet *sheet, const char *text, bool bold);
void lzd_sheet_space(lzd_sheet *sheet, double points);
void lzd_sheet_rule(lzd_sheet *sheet, double width);
// A lot's pennant at the left with a list of name and value beside it.
void lzd_sheet_facts(lzd_sheet *sheet, const char *pennant, const char *const *names,
                     const char *const *values, size_t n);

typedef struct {
  const char *head; // may be NULL
  double width;     // points; 0: an equal share of what is left
  lzd_align align;
} lzd_column;

typedef struct {
  const char *text; // wrapped in its column; may be NULL
  bool bold;
  lzd_role role;  // LZD_BACKGROUND (0) is read as text
  lzd_mark mark;  // before the text
  lzd_mark mark2; // before its second line, of a text of two lines
  lzd_mark_state state;
  bool basin;     // text is a system's name, drawn as a basin
  unsigned water; // of the basin
} lzd_cell;

// Rows follow by lzd_sheet_row with as many cells; the head is repeated after a page break.
// rules: a hairline below each row.
void lzd_sheet_table(lzd_sheet *sheet, const lzd_column *columns, size_t n_columns, bool rules);
void lzd_sheet_row(lzd_sheet *sheet, const lzd_cell *cells, size_t n_cells);
// A row of the current table with a tick box before it and a dotted pen line in the last column.
void lzd_sheet_tick_row(lzd_sheet *sheet, const lzd_cell *cells, size_t n_cells);
void lzd_sheet_end_table(lzd_sheet *sheet);

void lzd_sheet_tick_line(lzd_sheet *sheet, const char *bold, const char *text);
void lzd_sheet_pen_lines(lzd_sheet *sheet, size_t n);
// Framed words that nobody may miss, with a mark.
void lzd_sheet_warning(lzd_sheet *sheet, lzd_mark mark, const char *title, const char *text);
// Lines to sign on, side by side. inline_label: words before the line, else below it.
void lzd_sheet_sign(lzd_sheet *sheet, const char *const *labels, size_t n, bool inline_label);
// What follows goes to the foot of the page (signatures).
void lzd_sheet_to_foot(lzd_sheet *sheet);
void lzd_sheet_new_page(lzd_sheet *sheet);

// What was added last stays on one page with what is added next: a caption with its picture.
void lzd_sheet_keep(lzd_sheet *sheet);

// Anything else: height points across the text width, drawn by draw(cr, look, width, height, data)
// with its origin at its top left corner. data is the caller's and must live until the sheet is
// freed.
typedef void (*lzd_block_draw)(cairo_t *cr, const lzd_look *look, double width, double height,
                               const void *data);
void lzd_sheet_block(lzd_sheet *sheet, double height, lzd_block_draw draw, const void *data);

// Puts the words of `other`, the same sheet in another language, beside those of `sheet`: below
// them in a cell or a paragraph, after a point in a heading, nowhere where they are equal. Marks,
// widths and pictures stay those of `sheet`. LZD_BAD_INPUT if the two are not block for block
// alike.
lzd_status lzd_sheet_beside(lzd_sheet *sheet, const lzd_sheet *other, lzd_fault *fault);

double lzd_sheet_text_width(const lzd_sheet *sheet);
lzd_paper lzd_sheet_paper(const lzd_sheet *sheet);
// Lays the sheet out. The first failure of any adding call comes out here.
lzd_status lzd_sheet_pages(lzd_sheet *sheet, size_t *n_pages, lzd_fault *fault);
// page from 0. Needs lzd_sheet_pages first.
lzd_status lzd_sheet_draw(lzd_sheet *sheet, cairo_t *cr, size_t page, lzd_fault *fault);

#endif
