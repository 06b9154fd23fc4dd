// SPDX-License-Identifier: GPL-3.0-or-later
// What stands around the ribbons: days and their times above, the basins of the lanes beside them.
#include <math.h>

#include "lzd_lanes.h"
#include "lzd_marks.h"
#include "lzd_pen.h"
#include "lzd_text.h"

void
lzd_lane_times(const lzd_lane_drawing *d)
{
  const lzd_ribbon *r = d->ribbon;
  for (size_t i = 0; i < r->n_shades; i++) {
    double a = lzd_lane_x_held(d, r->shades[i].from), b = lzd_lane_x_held(d, r->shades[i].to);
    lzd_fill_rect(d->cr, d->look, LZD_SUNK, 1,
                  (lzd_rect){fmin(a, b), d->l.head, fabs(b - a), d->bottom - d->l.head});
  }
  double free = -INFINITY; // along time: up to here words stand
  for (size_t i = 0; i < r->n_ticks; i++) {
    const lzd_time_tick *tick = &r->ticks[i];
    if (tick->minute < r->window.from || tick->minute > r->window.to)
      continue;
    double x = lzd_snap(lzd_lane_x(d, tick->minute));
    lzd_pen_set(d->cr, d->look, LZD_HAIRLINE, 1, LZD_DASH_NONE);
    lzd_line(d->cr, x, d->l.head - 18 * d->l.text, x, d->bottom);
    lzd_type type = {.size = LZD_SIZE_AXIS, .bold = tick->strong, .role = LZD_TEXT2};
    double width = lzd_text_width(d->look, type.size, type.bold, tick->label);
    bool fits = x + width < d->l.x + d->l.w + 2 || d->look->mirrored;
    if (r->now != LZD_NEVER) { // the word "now" has the right of way
      double ahead = lzd_lane_forward(d) * (lzd_lane_x(d, r->now) - x);
      fits =
          fits && (ahead > width + 8 * d->l.unit ||
                   ahead < -10 * d->l.unit - lzd_text_width(d->look, type.size, true, r->now_text));
    }
    if (!fits || lzd_lane_forward(d) * x < free)
      continue;
    free = lzd_lane_forward(d) * x + width + 10 * d->l.unit;
    lzd_text_draw(d->cr, d->look, &type, x + lzd_lane_forward(d) * 5 * d->l.unit,
                  d->l.head - 6 * d->l.text, tick->label);
  }
}

void
lzd_lane_heads(const lzd_lane_drawing *d)
{
  const lzd_ribbon *r = d->ribbon;
  double unit = d->l.unit, text = d->l.text;
  for (size_t i = 0; i <= r->n_lanes; i++) {
    double top = d->l.head + (double)i * d->l.lane_h;
    bool inside = i > 0 && i < r->n_lanes;
    lzd_pen_set(d->cr, d->look, LZD_HAIRLINE, 1, LZD_DASH_NONE);
    if (inside || r->n_ways > 1 || i == r->n_lanes)
      lzd_line(d->cr, d->l.x, lzd_snap(top), d->l.x + d->l.w, lzd_snap(top));
    if (i == r->n_lanes)
      break;
    bool note = r->lanes[i].note && d->l.lane_h >= 46 * text;
    double h = fmin(24 * text, d->l.lane_h - 8 * unit);
    double y = note ? top + 4 * unit : top + (d->l.lane_h - h) / 2;
    double x = d->look->mirrored ? d->l.x + d->l.w + 8 * unit : 0;
    double base = r->lanes[i].water & LZD_WATER_COPPER ? 5 * unit : 0;
    lzd_basin_draw(d->cr, d->look, (lzd_rect){x, y, d->l.label, h + base}, r->lanes[i].water,
                   r->lanes[i].name, LZD_SIZE_BODY);
    lzd_type type = {.size = LZD_SIZE_AXIS, .role = LZD_TEXT2, .width = d->l.label};
    if (note)
      lzd_text_draw(d->cr, d->look, &type, d->look->mirrored ? x + d->l.label : x,
                    top + d->l.lane_h - 8 * unit, r->lanes[i].note);
  }
}
