// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the layer only: what the parts of the chart hand to each other while one chart is drawn.
#ifndef LZD_PARTS_H
#define LZD_PARTS_H

#include "lzd_chart.h"
#include "lzd_hatch.h"
#include "lzd_pen.h"
#include "lzd_text.h"

typedef struct {
  cairo_t *cr;
  const lzd_chart *chart;
  const lzd_look *look;
  const lzd_layout *layout;
  lzd_hatch_cache *hatches;
  double unit, text;
} lzd_drawing;

// A line's corner in pixels. gap: the line does not reach it from the corner before.
typedef struct {
  double x, low, mid, high;
  bool gap;
} lzd_vertex;

// The part of a line that the window shows, cut at the window's ends and thinned to at most four
// corners per pixel column (first, least, greatest, last), so that no spike is lost. *out is the
// caller's to free; NULL where nothing shows.
lzd_status lzd_trace_spans(lzd_vertex **out, size_t *n_out, const lzd_layout *layout, size_t panel,
                           const lzd_span *spans, size_t n);
lzd_status lzd_trace_points(lzd_vertex **out, size_t *n_out, const lzd_layout *layout, size_t panel,
                            const lzd_point *points, size_t n);

// The value range of a panel whose low and high are NAN.
void lzd_panel_range(const lzd_panel *panel, lzd_window window, double *low, double *high);

double lzd_x(const lzd_drawing *d, lzd_minute minute);
// x of `minute` held inside the plot.
double lzd_x_held(const lzd_drawing *d, lzd_minute minute);
double lzd_y(const lzd_drawing *d, size_t panel, double value);
// A text on a patch of background, so that what lies under it does not cut it.
void lzd_patched(const lzd_drawing *d, const lzd_type *type, double x, double y, const char *text);

void lzd_draw_bands(const lzd_drawing *d, size_t panel);
void lzd_draw_levels(const lzd_drawing *d, size_t panel);
lzd_status lzd_draw_lines(const lzd_drawing *d, size_t panel);
void lzd_draw_exits(const lzd_drawing *d, size_t panel);
lzd_status lzd_draw_readings(const lzd_drawing *d, size_t panel);
void lzd_draw_frame(const lzd_drawing *d, size_t panel); // grid, value axis, title
void lzd_draw_rails(const lzd_drawing *d);
void lzd_draw_strips(const lzd_drawing *d);
void lzd_draw_axis(const lzd_drawing *d);
void lzd_draw_now(const lzd_drawing *d);
void lzd_draw_legend(const lzd_drawing *d);
// Rows that the legend's words need in `width`.
int lzd_legend_rows(const lzd_legend *legend, const lzd_look *look, double width);
void lzd_draw_cursor(const lzd_drawing *d);

// One span of credit inside rect, for strips, bars and the grid alike.
void lzd_credit_span_draw(cairo_t *cr, lzd_hatch_cache *hatches, const lzd_look *look,
                          lzd_rect rect, lzd_credit_state state);

#endif
