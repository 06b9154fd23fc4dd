// SPDX-License-Identifier: GPL-3.0-or-later
// Credit: one span, a bar of spans, and the grid of days.
#include "lzd_credit.h"

#include <math.h>

#include "lzd_parts.h"

#define LEGEND_STEP 22.0

void
lzd_credit_span_draw(cairo_t *cr, lzd_hatch_cache *hatches, const lzd_look *look, lzd_rect rect,
                     lzd_credit_state state)
{
  switch (state) {
  case LZD_CREDIT_SERVED: lzd_fill_rect(cr, look, LZD_ACCENT, 1, rect); break;
  case LZD_CREDIT_OPEN: {
    // Half full: served, but the next reading has still to bear it out.
    lzd_rect lower = {rect.x, rect.y + rect.h / 2, rect.w, rect.h / 2};
    lzd_fill_rect(cr, look, LZD_BACKGROUND, 1, rect);
    lzd_fill_rect(cr, look, LZD_ACCENT, 1, lower);
    lzd_frame_rect(cr, look, LZD_ACCENT, 1.2, rect);
    break;
  }
  case LZD_CREDIT_NOT_SERVED:
    lzd_fill_rect(cr, look, LZD_BACKGROUND, 1, rect);
    cairo_rectangle(cr, rect.x, rect.y, rect.w, rect.h);
    lzd_hatch_fill(cr, hatches, look, LZD_HATCH_NOT_SERVED);
    lzd_frame_rect(cr, look, LZD_TEXT, 1.2, rect);
    break;
  default:
    lzd_fill_rect(cr, look, LZD_BACKGROUND, 1, rect);
    lzd_frame_rect(cr, look, LZD_PLANNED, 1.2, rect);
  }
}

void
lzd_credit_bar(cairo_t *cr, const lzd_look *look, lzd_rect rect, lzd_window window,
               const lzd_credit_span *spans, size_t n_spans)
{
  lzd_hatch_cache hatches = {0};
  double from = look->mirrored ? rect.x + rect.w : rect.x;
  lzd_scale time =
      lzd_scale_make((double)window.from, (double)window.to, from, 2 * rect.x + rect.w - from);
  for (size_t i = 0; i < n_spans; i++) {
    if (spans[i].to <= window.from || spans[i].from >= window.to)
      continue;
    double a = lzd_scale_clamp(&time, (double)spans[i].from);
    double b = lzd_scale_clamp(&time, (double)spans[i].to);
    lzd_credit_span_draw(cr, &hatches, look, (lzd_rect){fmin(a, b), rect.y, fabs(b - a), rect.h},
                         spans[i].state);
  }
  lzd_hatch_clear(&hatches);
}

// Columns and rows of the grid.
typedef struct {
  double unit, text, head, row, label, total, note, cells_x, cells_w, cell_h;
  double minutes; // of the longest day
} plan;

static bool
has_legend(const lzd_credit_grid *grid)
{
  return grid->served || grid->open || grid->not_served || grid->to_serve;
}

static plan
plan_of(const lzd_credit_grid *grid, const lzd_look *look, double width, double height)
{
  plan p = {.unit = lzd_look_unit(look), .text = lzd_look_text(look), .minutes = 24 * 60};
  bool notes = has_legend(grid);
  for (size_t i = 0; i < grid->n_days; i++) {
    const lzd_credit_day *day = &grid->days[i];
    p.label = fmax(p.label, lzd_text_width(look, LZD_SIZE_AXIS, true, day->label));
    p.total = fmax(p.total, lzd_text_width(look, LZD_SIZE_AXIS, false, day->total));
    p.minutes = fmax(p.minutes, (double)(day->to - day->from));
    notes = notes || day->note;
  }
  p.total = fmax(p.total, lzd_text_width(look, LZD_SIZE_AXIS, false, grid->total_head));
  p.head = 20 * p.text;
  p.label += 12 * p.unit;
  p.total += p.total > 0 ? 20 * p.unit : 0;
  p.note = notes ? fmin(width * 0.28, 240 * p.text) : 0;
  p.cells_w = fmax(width - p.label - p.total - p.note - 2 * p.unit, 48 * p.unit);
  p.cells_x = look->mirrored ? width - p.label - p.cells_w : p.label;
  double rows = fmax((double)grid->n_days, 1);
  p.row = fmin(fmax((height - p.head) / rows, 8 * p.unit), 22 * fmax(p.unit, p.text));
  p.cell_h = fmax(p.row - 4 * p.unit, 4 * p.unit);
  return p;
}

// The last day with a note: the legend stands below it.
static size_t
rows_with_notes(const lzd_credit_grid *grid)
{
  size_t rows = 0;
  for (size_t i = 0; i < grid->n_days; i++)
    if (grid->days[i].note)
      rows = i + 1;
  return rows;
}

// Room for the legend below the last note, at the largest row that is drawn.
double
lzd_credit_natural_height(const lzd_credit_grid *grid, const lzd_look *look)
{
  double unit = fmax(lzd_look_unit(look), lzd_look_text(look));
  double rows = (double)grid->n_days * 19 * unit;
  double legend = has_legend(grid) ? ((double)rows_with_notes(grid) + 1) * 22 * unit +
                                         4 * LEGEND_STEP * lzd_look_text(look)
                                   : 0;
  return 20 * lzd_look_text(look) + fmax(rows, legend);
}

static lzd_rect
day_rect(const plan *p, const lzd_credit_grid *grid, const lzd_look *look, size_t day)
{
  double minutes = (double)(grid->days[day].to - grid->days[day].from);
  double w = p->cells_w * minutes / p->minutes;
  double x = look->mirrored ? p->cells_x + p->cells_w - w : p->cells_x;
  return (lzd_rect){x, p->head + (double)day * p->row + 2 * p->unit, w, p->cell_h};
}

lzd_rect
lzd_credit_day_rect(const lzd_credit_grid *grid, const lzd_look *look, double width, double height,
                    size_t day)
{
  if (day >= grid->n_days)
    return (lzd_rect){0};
  plan p = plan_of(grid, look, width, height);
  return day_rect(&p, grid, look, day);
}

static lzd_scale
day_scale(const lzd_credit_day *day, const lzd_look *look, lzd_rect rect)
{
  double from = look->mirrored ? rect.x + rect.w : rect.x;
  return lzd_scale_make((double)day->from, (double)day->to, from, 2 * rect.x + rect.w - from);
}

lzd_minute
lzd_credit_minute_at(const lzd_credit_grid *grid, const lzd_look *look, double width, double height,
                     double x, double y)
{
  plan p = plan_of(grid, look, width, height);
  for (size_t i = 0; i < grid->n_days; i++) {
    lzd_rect rect = day_rect(&p, grid, look, i);
    if (!lzd_rect_has(rect, x, y))
      continue;
    lzd_scale scale = day_scale(&grid->days[i], look, rect);
    return (lzd_minute)floor(lzd_scale_invert(&scale, x));
  }
  return LZD_NEVER;
}

static void
draw_cells(cairo_t *cr, const plan *p, const lzd_credit_grid *grid, const lzd_look *look,
           lzd_hatch_cache *hatches, size_t i)
{
  const lzd_credit_day *day = &grid->days[i];
  lzd_rect rect = day_rect(p, grid, look, i);
  lzd_scale scale = day_scale(day, look, rect);
  for (size_t s = 0; s < grid->n_spans; s++) {
    const lzd_credit_span *span = &grid->spans[s];
    if (span->to <= day->from || span->from >= day->to)
      continue;
    double a = lzd_scale_clamp(&scale, (double)span->from);
    double b = lzd_scale_clamp(&scale, (double)span->to);
    lzd_rect piece = {fmin(a, b), rect.y, fabs(b - a), rect.h};
    lzd_credit_span_draw(cr, hatches, look, piece, span->state);
    // Hours, as notches of the background in what is filled and as hairlines elsewhere.
    bool filled = span->state == LZD_CREDIT_SERVED;
    lzd_pen_set(cr, look, filled ? LZD_BACKGROUND : LZD_HAIRLINE, filled ? 0.7 : 1, LZD_DASH_NONE);
    for (lzd_minute hour = day->from + 60; hour < day->to; hour += 60)
      if (hour > span->from && hour < span->to && span->state != LZD_CREDIT_NOT_SERVED) {
        double x = lzd_snap(lzd_scale_at(&scale, (double)hour));
        double top = span->state == LZD_CREDIT_OPEN ? rect.y + rect.h / 2 : rect.y + 1.5 * p->unit;
        lzd_line(cr, x, top, x, rect.y + rect.h - (filled ? 0 : 1.5 * p->unit));
      }
  }
  if (grid->selected == i)
    lzd_frame_rect(cr, look, LZD_ACCENT, 2,
                   (lzd_rect){rect.x - 3 * p->unit, rect.y - 3 * p->unit, rect.w + 6 * p->unit,
                              rect.h + 6 * p->unit});
}

static void
draw_day_words(cairo_t *cr, const plan *p, const lzd_credit_grid *grid, const lzd_look *look,
               size_t i)
{
  const lzd_credit_day *day = &grid->days[i];
  double y = p->head + ((double)i + 0.5) * p->row + 4.6 * p->text;
  double side = look->mirrored ? -1 : 1;
  double near = look->mirrored ? p->cells_x + p->cells_w : p->cells_x;
  double far = look->mirrored ? p->cells_x : p->cells_x + p->cells_w;
  lzd_type label = {.size = LZD_SIZE_AXIS,
                    .bold = day->strong,
                    .align = LZD_END,
                    .role = day->strong ? LZD_TEXT : LZD_TEXT2};
  lzd_text_draw(cr, look, &label, near - side * 12 * p->unit, y, day->label);
  lzd_type total = {.size = LZD_SIZE_AXIS, .role = LZD_TEXT, .align = LZD_END};
  lzd_text_draw(cr, look, &total, far + side * p->total, y, day->total);
  lzd_type note = {.size = LZD_SIZE_AXIS, .role = LZD_TEXT2, .width = p->note - 24 * p->unit};
  if (note.width > 0)
    lzd_text_draw(cr, look, &note, far + side * (p->total + 20 * p->unit), y, day->note);
}

static void
draw_head(cairo_t *cr, const plan *p, const lzd_credit_grid *grid, const lzd_look *look)
{
  double side = look->mirrored ? -1 : 1, y = p->head - 6 * p->text;
  double near = look->mirrored ? p->cells_x + p->cells_w : p->cells_x;
  lzd_type type = {.size = LZD_SIZE_AXIS, .role = LZD_TEXT2, .align = LZD_MIDDLE};
  for (int i = 0; i < 5; i++)
    lzd_text_draw(cr, look, &type, near + side * p->cells_w * i * 360 / p->minutes, y,
                  grid->hour_label[i]);
  type.align = LZD_END;
  double far = look->mirrored ? p->cells_x : p->cells_x + p->cells_w;
  lzd_text_draw(cr, look, &type, far + side * p->total, y, grid->total_head);
}

static void
draw_legend(cairo_t *cr, const plan *p, const lzd_credit_grid *grid, const lzd_look *look,
            lzd_hatch_cache *hatches, double height)
{
  const char *words[4] = {grid->served, grid->open, grid->not_served, grid->to_serve};
  double side = look->mirrored ? -1 : 1;
  double far = look->mirrored ? p->cells_x : p->cells_x + p->cells_w;
  double x = far + side * (p->total + 20 * p->unit), step = LEGEND_STEP * p->text;
  double y = p->head + ((double)rows_with_notes(grid) + 1) * p->row;
  y = fmin(y, fmax(height - 4 * step, p->head));
  for (int i = 0; i < 4; i++) {
    if (!words[i])
      continue;
    double w = 24 * p->unit, h = 15 * p->unit;
    lzd_rect sample = {look->mirrored ? x - w : x, y, w, h};
    lzd_credit_span_draw(cr, hatches, look, sample, (lzd_credit_state)i);
    lzd_type type = {.size = LZD_SIZE_AXIS, .role = LZD_TEXT2};
    lzd_text_draw(cr, look, &type, x + side * (w + 10 * p->unit), y + h / 2 + 4.6 * p->text,
                  words[i]);
    y += step;
  }
}

static lzd_status
check(const lzd_credit_grid *grid, lzd_fault *fault)
{
  for (size_t i = 0; i < grid->n_days; i++)
    if (grid->days[i].from >= grid->days[i].to || grid->days[i].to - grid->days[i].from > 26 * 60)
      return lzd_fail(fault, LZD_BAD_INPUT, "day", i, "from", "a day is not 1 minute to 26 hours");
  for (size_t i = 0; i < grid->n_spans; i++)
    if (grid->spans[i].from > grid->spans[i].to)
      return lzd_fail(fault, LZD_BAD_INPUT, "credit span", i, "from", "from is after to");
  return LZD_OK;
}

lzd_status
lzd_credit_draw(cairo_t *cr, const lzd_credit_grid *grid, const lzd_look *look, double width,
                double height, lzd_fault *fault)
{
  lzd_status status = check(grid, fault);
  if (status != LZD_OK)
    return status;
  plan p = plan_of(grid, look, width, height);
  lzd_hatch_cache hatches = {0};
  cairo_save(cr);
  draw_head(cr, &p, grid, look);
  for (size_t i = 0; i < grid->n_days; i++) {
    draw_cells(cr, &p, grid, look, &hatches, i);
    draw_day_words(cr, &p, grid, look, i);
  }
  if (has_legend(grid))
    draw_legend(cr, &p, grid, look, &hatches, height);
  cairo_restore(cr);
  lzd_hatch_clear(&hatches);
  if (cairo_status(cr) != CAIRO_STATUS_SUCCESS)
    return lzd_fail(fault, LZD_NO_OUTPUT, "credit", 0, "",
                    cairo_status_to_string(cairo_status(cr)));
  return LZD_OK;
}
