// SPDX-License-Identifier: GPL-3.0-or-later
// How tall each kind of block is, and how it is drawn: one function for both, so that they agree.
#include <math.h>
#include <stdio.h>
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

static void
rule(const lzd_sheet *sheet, cairo_t *cr, lzd_role role, double width, double x, double w, double y,
     lzd_dash dash)
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
  if (block->text3 && used < width) {
    lzd_type aside = {.size = LZD_PT_SMALL, .role = LZD_TEXT2, .align = LZD_END};
    if (lzd_text_width(&sheet->look, aside.size, false, block->text3) > width - used)
      aside.width = width - used;
    lzd_sheet_put(sheet, cr, &aside, width, base, block->text3);
  }
  rule(sheet, cr, LZD_HAIRLINE, 0.8, 0, width, base + 6, LZD_DASH_NONE);
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
    rule(sheet, cr, LZD_TEXT2, 0.8, table->x[last] + 6, table->w[last] - 6, y + pad + 11.5,
         LZD_DASH_SHORT);
  }
  double height = tallest + 2 * pad;
  if (table->rules)
    rule(sheet, cr, LZD_HAIRLINE, 0.8, 0, lzd_sheet_text_width(sheet), y + height, LZD_DASH_NONE);
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
    rule(sheet, cr, LZD_TEXT, 0.9, x + from, w - from, line + 1, LZD_DASH_NONE);
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
    rule(sheet, cr, LZD_TEXT, block->size, 0, lzd_sheet_text_width(sheet), y + 3, LZD_DASH_NONE);
    return block->size + 6;
  case LZD_B_FACTS: return facts_block(sheet, block, cr, y);
  case LZD_B_TABLE_HEAD: return table_head(sheet, block, cr, y);
  case LZD_B_ROW: return row_block(sheet, block, cr, y);
  case LZD_B_TICK_LINE: return tick_line(sheet, block, cr, y);
  case LZD_B_PEN_LINE:
    rule(sheet, cr, LZD_TEXT2, 0.8, 0, lzd_sheet_text_width(sheet), y + 18, LZD_DASH_SHORT);
    return 21;
  case LZD_B_WARNING: return warning_block(sheet, block, cr, y);
  case LZD_B_SIGN: return sign_block(sheet, block, cr, y);
  case LZD_B_CUSTOM: return custom_block(sheet, block, cr, y);
  default: return 0;
  }
}

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

double
lzd_sheet_head_height(const lzd_sheet *sheet, size_t page)
{
  if (!sheet->title)
    return 0;
  double text = scale(sheet);
  if (page > 0)
    return 18 * text;
  return LZD_PT_TITLE * text + (sheet->subtitle || sheet->right2 ? 18 * text : 6) + 14;
}

void
lzd_sheet_draw_head(const lzd_sheet *sheet, cairo_t *cr, size_t page)
{
  char buffer[512];
  if (!sheet->title)
    return;
  double text = scale(sheet), width = lzd_sheet_text_width(sheet), top = sheet->margin;
  bool first = page == 0;
  lzd_type title = {.size = first ? LZD_PT_TITLE : LZD_PT_SMALL,
                    .bold = true,
                    .role = LZD_TEXT,
                    .width = width * 0.62};
  lzd_type side = {.size = LZD_PT_SMALL, .bold = true, .role = LZD_TEXT, .align = LZD_END};
  lzd_type small = {.size = LZD_PT_BODY, .role = LZD_TEXT2, .width = width * 0.62};
  double base = top + title.size * text * (first ? 0.8 : 1);
  title.width =
      width - 14 -
      lzd_text_width(&sheet->look, side.size, true,
                     numbered(buffer, sizeof buffer, sheet->right, page + 1, sheet->n_pages));
  while (title.size > LZD_PT_BODY && // two languages are set smaller rather than cut
         lzd_text_width(&sheet->look, title.size, true, sheet->title) > title.width)
    title.size -= 0.5;
  lzd_sheet_put(sheet, cr, &title, 0, base, sheet->title);
  lzd_sheet_put(sheet, cr, &side, width, first ? top + LZD_PT_SMALL * text : base,
                numbered(buffer, sizeof buffer, sheet->right, page + 1, sheet->n_pages));
  if (first) {
    side.bold = false;
    lzd_sheet_put(sheet, cr, &small, 0, base + 18 * text, sheet->subtitle);
    lzd_sheet_put(sheet, cr, &side, width, top + (LZD_PT_SMALL + 13) * text,
                  numbered(buffer, sizeof buffer, sheet->right2, page + 1, sheet->n_pages));
  }
  double line = top + lzd_sheet_head_height(sheet, page) - (first ? 8 : 6);
  rule(sheet, cr, LZD_TEXT, first ? 1.6 : 0.8, 0, width, line, LZD_DASH_NONE);
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
  base -= sheet->foot_below ? 12 * scale(sheet) : 0;
  if (sheet->foot_left)
    foot_line(sheet, cr, left, base,
              numbered(buffer, sizeof buffer, sheet->foot_left, page + 1, sheet->n_pages));
  if (sheet->foot_below) // in the other language
    foot_line(sheet, cr, left, base + 12 * scale(sheet),
              numbered(buffer, sizeof buffer, sheet->foot_below, page + 1, sheet->n_pages));
  lzd_sheet_put(sheet, cr, &right, width, base,
                numbered(buffer, sizeof buffer, sheet->foot_right, page + 1, sheet->n_pages));
}
