// SPDX-License-Identifier: GPL-3.0-or-later
// The chart of a water: panels of analytes over one time axis, a rail of events, strips of credit.
// The description below is plain arrays and finished strings, all the caller's, all in order of
// time; nothing is copied or kept. lzd_chart_draw paints it on any cairo context.
#ifndef LZD_CHART_H
#define LZD_CHART_H

#include "lzd_base.h"
#include "lzd_index.h"
#include "lzd_scale.h"
#include "lzd_ticks.h"

#define LZD_MAX_PANELS 6
#define LZD_MAX_RAILS  10
#define LZD_MAX_STRIPS 6

typedef enum {
  LZD_EDGE_PLAIN, // a line
  LZD_EDGE_WORKS, // toothed, teeth inward: the side that works
  LZD_EDGE_PLAN,  // double: where no plan and no dose goes beyond
  LZD_EDGE_HARM,  // thin line: where it harms
} lzd_edge;

// A strip of values that is aimed at, over a stretch of time.
typedef struct {
  lzd_minute from, to; // from < to; may reach beyond the window
  double low, high;    // low < high; -INFINITY / INFINITY: open on that side
  lzd_edge low_edge, high_edge;
  const char *low_text, *high_text; // beside the edge; may be NULL
} lzd_band;

// One level over a stretch of time: where harm begins, a limit of the water's other users.
typedef struct {
  lzd_minute from, to;
  double value;
  lzd_edge edge;
  const char *text; // may be NULL
} lzd_level;

typedef struct {
  lzd_minute minute;
  double value; // NAN breaks the line
} lzd_point;

// A value with its 80 % interval. Two points of the same minute make an upright step.
typedef struct {
  lzd_minute minute;
  double low, mid, high; // mid NAN breaks line and interval
} lzd_span;

// When a forecast leaves its band: a bracket from early to late with a diamond at likely.
typedef struct {
  lzd_minute early, likely, late; // early <= likely <= late; late LZD_NEVER: open to the right
  double value;                   // the edge that is crossed
  const char *title;              // "leaves the band Wed 18:00"
  const char *range;              // "Wed 09:00 to Thu 06:00"
  const char *note;               // "if nothing is dosed"; each may be NULL
} lzd_exit;

typedef struct {
  const char *title; // "Copper, complexed, mg/L"
  double low, high;  // value axis; both NAN: chosen from what is drawn
  double share;      // of the height, against the other panels; 0 is read as 1
  const lzd_band *bands;
  size_t n_bands;
  const lzd_level *levels;
  size_t n_levels;
  const lzd_point *plan; // dashed
  size_t n_plan;
  const lzd_span *estimate; // solid, interval filled
  size_t n_estimate;
  const lzd_span *forecast; // dotted, interval outlined
  size_t n_forecast;
  const lzd_exit *exits;
  size_t n_exits;
  const lzd_reading *readings;
  size_t n_readings;
  const lzd_index *index; // of `readings`; NULL is right for a few thousand
  const lzd_span *other;  // a second water or an earlier course, thin, for comparison
  size_t n_other;
  const char *empty_text; // shown where a panel has nothing to show: "never read"
} lzd_panel;

typedef struct {
  lzd_minute minute;
  const char *label; // to the right of the glyph where there is room; may be NULL
  uint32_t id;
  uint8_t mark; // lzd_mark of the LZD_RAIL_ kind
  bool planned; // hollow
} lzd_event;

typedef struct {
  const char *name; // "dose"
  const lzd_event *events;
  size_t n_events;
} lzd_rail;

typedef enum {
  LZD_CREDIT_SERVED,     // filled: firm
  LZD_CREDIT_OPEN,       // lower half filled: served if the next reading bears it out
  LZD_CREDIT_NOT_SERVED, // hatched and framed
  LZD_CREDIT_TO_SERVE,   // outline
} lzd_credit_state;

typedef struct {
  lzd_minute from, to;
  lzd_credit_state state;
} lzd_credit_span;

typedef struct {
  const char *name; // "credit", or a lot's name
  const lzd_credit_span *spans;
  size_t n_spans;
} lzd_strip;

// One line of the box at the cursor.
typedef struct {
  lzd_mark mark; // LZD_MARK_NONE: no mark
  lzd_mark_state state;
  const char *text;
  bool bold;
} lzd_callout_line;

typedef struct {
  lzd_minute minute; // LZD_NEVER: no cursor
  size_t panel;      // whose reading is ringed; SIZE_MAX: none
  size_t reading;
  const char *title; // "Mon 8 March 19:20"
  const lzd_callout_line *lines;
  size_t n_lines;
} lzd_cursor;

// Words of the legend above the panels; an entry whose word is NULL is left out.
typedef struct {
  const char *disc, *square, *diamond, *triangle, *cross, *bar;
  const char *estimate, *plan, *forecast, *band;
  const char *other; // the name of what lzd_panel.other shows
} lzd_legend;

typedef struct {
  lzd_window window;
  const lzd_time_tick *ticks;
  size_t n_ticks;
  bool label_between; // labels stand in the middle between ticks (days), not at them (hours)
  lzd_minute now;     // LZD_NEVER: no line
  const char *now_text;
  const lzd_panel *panels; // 1 to LZD_MAX_PANELS
  size_t n_panels;
  const lzd_rail *rails;
  size_t n_rails;
  const lzd_strip *strips;
  size_t n_strips;
  const lzd_legend *legend; // NULL: none
  lzd_cursor cursor;        // minute = LZD_NEVER where there is none
} lzd_chart;

// Where everything is. A pure function of description, look and size.
typedef struct {
  lzd_rect frame, legend, axis; // axis: the row of time labels
  lzd_scale time;               // minute to x
  size_t n_panels, n_rails, n_strips;
  struct {
    lzd_rect rect; // the plot
    lzd_scale value;
    lzd_value_ticks ticks;
    bool dense; // readings drawn as columns from least to greatest, not one by one
  } panel[LZD_MAX_PANELS];
  lzd_rect rail[LZD_MAX_RAILS];
  lzd_rect strip[LZD_MAX_STRIPS];
} lzd_layout;

// Checks the description: order of time, from < to, low < high, counts, marks. Called by both
// functions below; O(1) in the number of readings (their order is the caller's word).
lzd_status lzd_chart_check(const lzd_chart *chart, lzd_fault *fault);
lzd_status lzd_chart_layout(lzd_layout *out, const lzd_chart *chart, const lzd_look *look,
                            double width, double height, lzd_fault *fault);
// Draws into (0, 0, width, height) of cr. Nothing is drawn after LZD_BAD_INPUT.
lzd_status lzd_chart_draw(cairo_t *cr, const lzd_chart *chart, const lzd_look *look, double width,
                          double height, lzd_fault *fault);
// Only the cursor line, its ring and its box, for a widget that keeps the rest as it is. The
// chart's own cursor should then be off while the chart is drawn.
lzd_status lzd_chart_draw_cursor(cairo_t *cr, const lzd_chart *chart, const lzd_look *look,
                                 double width, double height, lzd_fault *fault);
// A height that suits the number of panels, rails and strips.
double lzd_chart_natural_height(const lzd_chart *chart, const lzd_look *look);

#endif
