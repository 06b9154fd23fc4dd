// SPDX-License-Identifier: GPL-3.0-or-later
// How tall each kind of block is, and how it is drawn: one function for both, so that they agree.
#include <math.h>
#include <string.h>

#include "lzd_sheet.h"

#define LINE (LZD_PT_BODY * 1.36) // a line of body text with its air
#define MARK 13.0
#define PAIR 10.5 // a mark of two lines, before text scale

static double
scale(const lzd_sheet *sheet)
{
  return lzd_look_text(&sheet->look);
}

double
lzd_sheet_put(const lzd_sheet *sheet, cairo_t *cr, const lzd_type *type, double x, double y,
              const char *text)
{
  double anchor = sheet->look.mirrored ? sheet->width - sheet->margin - x : sheet->margin + x;
  if (!text)
    return 0;
  if (cr)
    return lzd_text_draw(cr, &sheet->look, type, anchor, y, text);
  double height;
  lzd_text_measure(&sheet->look, type, text, NULL, &height);
  return height;
}

lzd_rect
lzd_sheet_span(const lzd_sheet *sheet, double x, double w, double y, double h)
{
  double left = sheet->look.mirrored ? sheet->width - sheet->margin - x - w : sheet->margin + x;
  return (lzd_rect){left, y, w, h};
}

void
lzd_sheet_across(const lzd_sheet *sheet, cairo_t *cr, lzd_role role, double width, double x,
                 double w, double y, lzd_dash dash)
{
  if (!cr)
    return;
  lzd_rect span = lzd_sheet_span(sheet, x, w, y, 0);
  lzd_pen_set(cr, &sheet->look, role, width, dash);
  lzd_line(cr, span.x, y, span.x + span.w, y);
}

static void
mark(const lzd_sheet *sheet, cairo_t *cr, lzd_mark which, lzd_mark_state state, double x, double y,
     double size)
{
  lzd_rect span = lzd_sheet_span(sheet, x, 0, y, 0);
  if (cr)
    lzd_mark_draw(cr, &sheet->look, which, state, lzd_mark_role(which, state), span.x, y, size);
}

static double
text_block(const lzd_sheet *sheet, const lzd_block *block, cairo_t *cr, double y)
{
  double indent = block->mark ? MARK + 8 : 0, text = scale(sheet);
  lzd_type type = {
      .size = LZD_PT_BODY, .wrap = true, .width = lzd_sheet_text_width(sheet) - indent};
  lzd_rect span = lzd_sheet_span(sheet, indent, type.width, y, 0);
  double anchor = sheet->look.mirrored ? span.x + span.w : span.x;
  mark(sheet, cr, block->mark, LZD_PLAIN, MARK / 2 + 1, y + 7.5 * text, MARK);
  double height = lzd_text_runs(cr, &sheet->look, &type, anchor, y + 1, block->runs, block->n);
  return fmax(height, LZD_PT_BODY * text) + 4;
}

static double
heading_block(const lzd_sheet *sheet, const lzd_block *block, cairo_t *cr, double y)
{
  double text = scale(sheet), base = y + 8 + LZD_PT_HEADING * text, at = 0;
  double width = lzd_sheet_text_width(sheet);
  lzd_type type = {.size = LZD_PT_HEADING, .bold = true, .role = LZD_TEXT};
  if (block->text) {
    lzd_sheet_put(sheet, cr, &type, 0, base, block->text);
    at = fmax(14 * text, lzd_text_width(&sheet->look, type.size, true, block->text) + 6);
  }
  type.width = width - at;
  lzd_sheet_put(sheet, cr, &type, at, base, block->text2);
  double used = at + lzd_text_width(&sheet->look, type.size, true, block->text2) + 12;
  lzd_type aside = {.size = LZD_PT_SMALL, .role = LZD_TEXT2, .align = LZD_END};
  if (block->text3 && lzd_text_width(&sheet->look, aside.size, false, block->text3) <= width - used)
    lzd_sheet_put(sheet, cr, &aside, width, base, block->text3);
  else if (block->text3) { // no room beside it: below it, whole
    aside = (lzd_type){.size = LZD_PT_SMALL, .role = LZD_TEXT2, .wrap = true, .width = width};
    base += 3 + lzd_sheet_put(sheet, cr, &aside, 0, base + 13 * text, block->text3);
  }
  lzd_sheet_across(sheet, cr, LZD_HAIRLINE, 0.8, 0, width, base + 6, LZD_DASH_NONE);
  return base + 9 - y;
}

static double
facts_block(const lzd_sheet *sheet, const lzd_block *block, cairo_t *cr, double y)
{
  double text = scale(sheet), at = 0, names = 0, height = 6;
  if (block->text) {
    double w = lzd_pennant_width(&sheet->look, block->text, 15);
    if (cr)
      lzd_pennant_draw(cr, &sheet->look, lzd_sheet_span(sheet, 0, w, y + 6, 26 * text),
                       LZD_PENNANT_SOLID, block->text, 15);
    at = w + 20;
  }
  for (size_t i = 0; i < block->n; i++)
    names = fmax(names, lzd_text_width(&sheet->look, LZD_PT_BODY, false, block->names[i]));
  for (size_t i = 0; i < block->n; i++) {
    lzd_type name = {.size = LZD_PT_BODY, .role = LZD_TEXT2};
    lzd_type value = {.size = LZD_PT_BODY, .role = LZD_TEXT, .wrap = true};
    double x = at + names + 14;
    value.width = lzd_sheet_text_width(sheet) - x;
    double base = y + height + LZD_PT_BODY * text;
    lzd_sheet_put(sheet, cr, &name, at, base, block->names[i]);
    height += fmax(lzd_sheet_put(sheet, cr, &value, x, base, block->values[i]), LINE * text) + 3;
  }
  return fmax(height, block->text ? 26 * text + 10 : 0) + 4;
}

// A unit below its analyte, and both once more in the second language.
static int
lines_of(const char *head)
{
  int n = 1;
  for (const char *p = head; p && (p = strchr(p, '\n')); p++)
    n++;
  return n;
}

static double
table_head(const lzd_sheet *sheet, const lzd_block *block, cairo_t *cr, double y)
{
  const lzd_table *table = &sheet->tables[block->table];
  double text = scale(sheet), height = LZD_PT_SMALL * 1.3 * text, one = height;
  for (size_t i = 0; i < table->n; i++) {
    lzd_type type = {.size = LZD_PT_SMALL,
                     .role = LZD_TEXT2,
                     .align = table->columns[i].align,
                     .width = table->w[i] - 6};
    double gap = i + 1 < table->n ? 6 : 0; // an amount keeps clear of the words after it
    double x = table->x[i] + (type.align == LZD_END      ? table->w[i] - gap
                              : type.align == LZD_MIDDLE ? table->w[i] / 2
                                                         : 0);
    const char *head = table->columns[i].head;
    lzd_sheet_put(sheet, cr, &type, x, y + 1 + LZD_PT_SMALL * text, head);
    height = fmax(height, lines_of(head) * one);
  }
  return height + 5;
}

// One cell's height; drawn where cr is not NULL. `pad` is the air above its first line.
static double
cell_run(const lzd_sheet *sheet, const lzd_table *table, size_t i, const lzd_cell *cell,
         cairo_t *cr, double y, double indent)
{
  double text = scale(sheet), gap = i + 1 < table->n ? 6 : 0;
  double x = table->x[i] + indent, w = table->w[i] - indent - gap;
  if (cell->basin) {
    double wide = fmin(w, fmax(54, lzd_basin_width(&sheet->look, cell->text, LZD_PT_BODY)));
    lzd_rect rect = lzd_sheet_span(sheet, x, wide, y - 1, 20 * text);
    if (cr)
      lzd_basin_draw(cr, &sheet->look, rect, cell->water, cell->text, LZD_PT_BODY);
    return 20 * text + (cell->water & LZD_WATER_LOW_SALT ? 5 : 1);
  }
  double base = y + LZD_PT_BODY * text;
  if (cell->mark) {
    double size = cell->mark >= LZD_READ_DISC && cell->mark <= LZD_READ_BAR ? 7
                  : cell->mark2                                             ? PAIR * text
                                                                            : MARK;
    mark(sheet, cr, cell->mark, cell->state, x + MARK / 2, base - 3.6 * text, size);
    x += MARK + 5;
    w -= MARK + 5;
  }
  lzd_align align = table->columns[i].align;
  lzd_type type = {.size = LZD_PT_BODY,
                   .bold = cell->bold,
                   .align = align,
                   .wrap = true,
                   .role = cell->role ? cell->role : LZD_TEXT,
                   .width = fmax(w, 8)};
  x += align == LZD_END ? w : align == LZD_MIDDLE ? w / 2 : 0;
  double height = lzd_sheet_put(sheet, cr, &type, x, base, cell->text);
  if (cell->mark2)
    mark(sheet, cr, cell->mark2, cell->state, table->x[i] + indent + MARK / 2,
         base - 3.6 * text + height / 2, PAIR * text);
  return fmax(height, LZD_PT_BODY * 1.2 * text);
}

static double
row_block(const lzd_sheet *sheet, const lzd_block *block, cairo_t *cr, double y)
{
  const lzd_table *table = &sheet->tables[block->table];
  double text = scale(sheet), tallest = LZD_PT_BODY * text, pad = block->flag && text >= 1 ? 4 : 3;
  bool basins = false; // words then stand level with the basin's name
  for (size_t i = 0; i < block->n; i++)
    basins = basins || block->cells[i].basin;
  for (size_t i = 0; i < block->n; i++) {
    double indent = block->flag && i == 0 ? 22 : 0, down = basins && !block->cells[i].basin ? 2 : 0;
    double height = cell_run(sheet, table, i, &block->cells[i], cr, y + pad + down, indent);
    tallest = fmax(tallest, height + down);
  }
  if (block->flag && cr) {
    lzd_rect box = lzd_sheet_span(sheet, 0.6, 11, y + pad + 0.5, 11);
    lzd_frame_rect(cr, &sheet->look, LZD_TEXT, 1.1, box);
    size_t last = table->n - 1;
    lzd_sheet_across(sheet, cr, LZD_TEXT2, 0.8, table->x[last] + 6, table->w[last] - 6,
                     y + pad + 11.5, LZD_DASH_SHORT);
  }
  double height = tallest + 2 * pad;
  if (table->rules)
    lzd_sheet_across(sheet, cr, LZD_HAIRLINE, 0.8, 0, lzd_sheet_text_width(sheet), y + height,
                     LZD_DASH_NONE);
  return height;
}

static double
tick_line(const lzd_sheet *sheet, const lzd_block *block, cairo_t *cr, double y)
{
  double text = scale(sheet);
  if (cr)
    lzd_frame_rect(cr, &sheet->look, LZD_TEXT, 1.1, lzd_sheet_span(sheet, 0.6, 11, y + 4, 11));
  lzd_run runs[3] = {
      {block->text, true, LZD_TEXT}, {"  ", false, LZD_TEXT}, {block->text2, false, LZD_TEXT}};
  lzd_type type = {.size = LZD_PT_BODY, .wrap = true, .width = lzd_sheet_text_width(sheet) - 22};
  lzd_rect span = lzd_sheet_span(sheet, 22, type.width, y, 0);
  double anchor = sheet->look.mirrored ? span.x + span.w : span.x;
  double height = lzd_text_runs(cr, &sheet->look, &type, anchor, y + 3, runs, block->text ? 3 : 2);
  return fmax(height, LINE * text) + 8;
}

static double
warning_block(const lzd_sheet *sheet, const lzd_block *block, cairo_t *cr, double y)
{
  double text = scale(sheet), w = lzd_sheet_text_width(sheet);
  double at = block->mark ? 34 : 10;
  lzd_type title = {.size = LZD_PT_HEADING + 1,
                    .bold = true,
                    .role = LZD_ALARM,
                    .wrap = true,
                    .width = w - at - 10};
  lzd_type body = {.size = LZD_PT_BODY, .role = LZD_TEXT, .wrap = true, .width = w - 20};
  double base = y + 9 + title.size * text;
  mark(sheet, cr, block->mark, LZD_PLAIN, 19, base - 4 * text, 15);
  double height = 9 + lzd_sheet_put(sheet, cr, &title, at, base, block->text) + 4;
  height += lzd_sheet_put(sheet, cr, &body, 10, y + height + LZD_PT_BODY * text, block->text2) + 8;
  if (cr)
    lzd_frame_rect(cr, &sheet->look, LZD_ALARM, 1.6,
                   lzd_sheet_span(sheet, 0, w, y + 2, height - 2));
  return height + 4;
}

static double
sign_block(const lzd_sheet *sheet, const lzd_block *block, cairo_t *cr, double y)
{
  double text = scale(sheet), gap = 24;
  double w = (lzd_sheet_text_width(sheet) - gap * (double)(block->n - 1)) / (double)block->n;
  double more = 0; // a second line of a label, in another language
  for (size_t i = 0; i < block->n; i++) {
    double x = (double)i * (w + gap), line = y + 20;
    lzd_type type = {.size = LZD_PT_SMALL, .role = LZD_TEXT2, .width = w};
    double from = 0;
    if (block->names[i] && strchr(block->names[i], '\n'))
      more = 12 * text;
    if (block->flag) {
      from = fmin(lzd_text_width(&sheet->look, type.size, false, block->names[i]) + 8, w / 2);
      type.width = from;
      lzd_sheet_put(sheet, cr, &type, x, line - 1, block->names[i]);
    } else {
      lzd_sheet_put(sheet, cr, &type, x, line + 3 + LZD_PT_SMALL * text, block->names[i]);
    }
    lzd_sheet_across(sheet, cr, LZD_TEXT, 0.9, x + from, w - from, line + 1, LZD_DASH_NONE);
  }
  return (block->flag ? 26 : 28 + LZD_PT_SMALL * text) + more;
}

static double
custom_block(const lzd_sheet *sheet, const lzd_block *block, cairo_t *cr, double y)
{
  if (cr) {
    cairo_save(cr);
    cairo_translate(cr, sheet->margin, y);
    block->draw(cr, &sheet->look, lzd_sheet_text_width(sheet), block->size, block->data);
    cairo_restore(cr);
  }
  return block->size;
}

double
lzd_block_run(const lzd_sheet *sheet, const lzd_block *block, cairo_t *cr, double y)
{
  switch (block->kind) {
  case LZD_B_TEXT: return text_block(sheet, block, cr, y);
  case LZD_B_HEADING: return heading_block(sheet, block, cr, y);
  case LZD_B_SPACE: return block->size;
  case LZD_B_RULE:
    lzd_sheet_across(sheet, cr, LZD_TEXT, block->size, 0, lzd_sheet_text_width(sheet), y + 3,
                     LZD_DASH_NONE);
    return block->size + 6;
  case LZD_B_FACTS: return facts_block(sheet, block, cr, y);
  case LZD_B_TABLE_HEAD: return table_head(sheet, block, cr, y);
  case LZD_B_ROW: return row_block(sheet, block, cr, y);
  case LZD_B_TICK_LINE: return tick_line(sheet, block, cr, y);
  case LZD_B_PEN_LINE:
    lzd_sheet_across(sheet, cr, LZD_TEXT2, 0.8, 0, lzd_sheet_text_width(sheet), y + 18,
                     LZD_DASH_SHORT);
    return 21;
  case LZD_B_WARNING: return warning_block(sheet, block, cr, y);
  case LZD_B_SIGN: return sign_block(sheet, block, cr, y);
  case LZD_B_CUSTOM: return custom_block(sheet, block, cr, y);
  default: return 0;
  }
}
