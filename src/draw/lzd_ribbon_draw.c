// SPDX-License-Identifier: GPL-3.0-or-later
// Draws lanes and ribbons. One lot alone flows through its necks as one shape; where there are
// several, necks are thin, so that many can cross.
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "lzd_hatch.h"
#include "lzd_lanes.h"
#include "lzd_marks.h"
#include "lzd_pen.h"
#include "lzd_text.h"

typedef struct {
  cairo_t *cr;
  const lzd_ribbon *ribbon;
  const lzd_look *look;
  lzd_lanes l;
  lzd_hatch_cache *hatches;
  const lzd_leg_place *places; // all
  double bottom;
} drawing;

static double
x_at(const drawing *d, lzd_minute minute)
{
  return lzd_scale_at(&d->l.time, (double)minute);
}

static double
x_held(const drawing *d, lzd_minute minute)
{
  return lzd_scale_clamp(&d->l.time, (double)minute);
}

// +1 where later is to the right, -1 where it is to the left.
static double
forward(const drawing *d)
{
  return d->look->mirrored ? -1 : 1;
}

static void
draw_times(const drawing *d)
{
  const lzd_ribbon *r = d->ribbon;
  for (size_t i = 0; i < r->n_shades; i++) {
    double a = x_held(d, r->shades[i].from), b = x_held(d, r->shades[i].to);
    lzd_fill_rect(d->cr, d->look, LZD_SUNK, 1,
                  (lzd_rect){fmin(a, b), d->l.head, fabs(b - a), d->bottom - d->l.head});
  }
  for (size_t i = 0; i < r->n_ticks; i++) {
    const lzd_time_tick *tick = &r->ticks[i];
    if (tick->minute < r->window.from || tick->minute > r->window.to)
      continue;
    double x = lzd_snap(x_at(d, tick->minute));
    lzd_pen_set(d->cr, d->look, LZD_HAIRLINE, 1, LZD_DASH_NONE);
    lzd_line(d->cr, x, d->l.head - 18 * d->l.text, x, d->bottom);
    lzd_type type = {.size = LZD_SIZE_AXIS, .bold = tick->strong, .role = LZD_TEXT2};
    double width = lzd_text_width(d->look, type.size, type.bold, tick->label);
    bool fits = x + width < d->l.x + d->l.w + 2 || d->look->mirrored;
    if (r->now != LZD_NEVER) { // the word "now" has the right of way
      double ahead = forward(d) * (x_at(d, r->now) - x);
      fits =
          fits && (ahead > width + 8 * d->l.unit ||
                   ahead < -10 * d->l.unit - lzd_text_width(d->look, type.size, true, r->now_text));
    }
    if (fits)
      lzd_text_draw(d->cr, d->look, &type, x + forward(d) * 5 * d->l.unit,
                    d->l.head - 6 * d->l.text, tick->label);
  }
}

static void
draw_lanes(const drawing *d)
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

// The neck from one leg's end to the next one's start: one edge of it, as a path. `side` -1 is the
// upper edge, +1 the lower; `back` draws from the next leg to this one.
static void
neck_edge(const drawing *d, lzd_rect a, lzd_rect b, double xa, double xb, int side, bool back)
{
  double f = forward(d), ya = side < 0 ? a.y : a.y + a.h, yb = side < 0 ? b.y : b.y + b.h;
  double squeeze = fmin(1, fmin(a.w, b.w) / (26 * d->l.unit)), u = d->l.unit * squeeze * f;
  bool outer = (b.y > a.y) == (side < 0); // the edge on the outside of the bend leaves later
  double leave = xa + (outer ? 6 : -6) * u, land = xb + (outer ? 22 : 10) * u;
  double c1 = leave + 12 * u, c2 = land - 20 * u;
  if (back) {
    cairo_line_to(d->cr, land, yb);
    cairo_curve_to(d->cr, c2 + 4 * u, yb, c1, ya, leave, ya);
  } else {
    cairo_line_to(d->cr, leave, ya);
    cairo_curve_to(d->cr, c1, ya, c2, yb, land, yb);
  }
}

static double
start_x(const drawing *d, const lzd_leg_place *place)
{
  return x_at(d, d->ribbon->ways[place->way].legs[place->leg].from);
}

static double
end_x(const drawing *d, const lzd_leg_place *place)
{
  return x_at(d, d->ribbon->ways[place->way].legs[place->leg].to);
}

static bool
same_bar(const lzd_leg_place *a, const lzd_leg_place *b)
{
  return a->rect.y == b->rect.y;
}

// Tapered end of a way's last leg: its shoulder at early, its point at late.
static void
end_path(const drawing *d, const lzd_way *way, const lzd_leg_place *last)
{
  lzd_rect r = last->rect;
  if (way->late == LZD_NEVER) {
    cairo_line_to(d->cr, end_x(d, last), r.y);
    cairo_line_to(d->cr, end_x(d, last), r.y + r.h);
    return;
  }
  double shoulder = x_at(d, way->early), point = x_at(d, way->late);
  if (fabs(point - shoulder) < 6 * d->l.unit) // always seen as a point
    point = shoulder + forward(d) * 6 * d->l.unit;
  cairo_line_to(d->cr, shoulder, r.y);
  cairo_line_to(d->cr, point, r.y + r.h / 2);
  cairo_line_to(d->cr, shoulder, r.y + r.h);
}

// The whole way as one closed shape.
static void
flow_path(const drawing *d, const lzd_way *way, const lzd_leg_place *p)
{
  size_t n = way->n_legs;
  cairo_new_path(d->cr);
  cairo_move_to(d->cr, start_x(d, &p[0]), p[0].rect.y);
  for (size_t i = 0; i + 1 < n; i++)
    if (!same_bar(&p[i], &p[i + 1]))
      neck_edge(d, p[i].rect, p[i + 1].rect, end_x(d, &p[i]), start_x(d, &p[i + 1]), -1, false);
  end_path(d, way, &p[n - 1]);
  for (size_t i = n - 1; i-- > 0;)
    if (!same_bar(&p[i], &p[i + 1]))
      neck_edge(d, p[i].rect, p[i + 1].rect, end_x(d, &p[i]), start_x(d, &p[i + 1]), 1, true);
  cairo_line_to(d->cr, start_x(d, &p[0]), p[0].rect.y + p[0].rect.h);
  cairo_close_path(d->cr);
}

// Legs [from, to) of a way that lie in one bar, as a closed shape.
static void
bar_path(const drawing *d, const lzd_way *way, const lzd_leg_place *p, size_t from, size_t to)
{
  lzd_rect r = p[from].rect;
  cairo_new_path(d->cr);
  cairo_move_to(d->cr, start_x(d, &p[from]), r.y + r.h);
  cairo_line_to(d->cr, start_x(d, &p[from]), r.y);
  if (to == way->n_legs) {
    end_path(d, way, &p[to - 1]);
  } else {
    cairo_line_to(d->cr, end_x(d, &p[to - 1]), r.y);
    cairo_line_to(d->cr, end_x(d, &p[to - 1]), r.y + r.h);
  }
  cairo_close_path(d->cr);
}

// Clips to the past (which -1) or the future (+1) of the plot.
static void
clip_time(const drawing *d, int which)
{
  lzd_minute now = d->ribbon->now == LZD_NEVER ? d->ribbon->window.from : d->ribbon->now;
  double at = x_held(d, now), start = x_at(d, d->ribbon->window.from);
  double end = x_at(d, d->ribbon->window.to), a = which < 0 ? start : at, b = which < 0 ? at : end;
  cairo_rectangle(d->cr, fmin(a, b), 0, fabs(b - a), d->bottom + 40 * d->l.unit);
  cairo_clip(d->cr);
}

// Fills the path: past solid; future outlined, hatched for a what-if.
static void
paint_path(const drawing *d, const lzd_way *way)
{
  bool what_if = way->kind == LZD_WAY_WHAT_IF;
  cairo_path_t *path = cairo_copy_path(d->cr);
  cairo_new_path(d->cr);
  cairo_save(d->cr);
  clip_time(d, -1);
  cairo_append_path(d->cr, path);
  lzd_ink(d->cr, d->look->palette, LZD_ACCENT, 1);
  cairo_fill(d->cr);
  cairo_restore(d->cr);
  cairo_save(d->cr);
  clip_time(d, 1);
  cairo_append_path(d->cr, path);
  lzd_ink(d->cr, d->look->palette, what_if ? LZD_BACKGROUND : LZD_ACCENT_TINT, 1);
  cairo_fill(d->cr);
  if (what_if) {
    cairo_append_path(d->cr, path);
    lzd_hatch_fill(d->cr, d->hatches, d->look, LZD_HATCH_WHAT_IF);
  }
  cairo_append_path(d->cr, path);
  lzd_pen_set(d->cr, d->look, what_if || way->selected ? LZD_ACCENT : LZD_PLANNED,
              way->selected ? 2.4 : 1.4, LZD_DASH_NONE);
  cairo_stroke(d->cr);
  cairo_restore(d->cr);
  cairo_path_destroy(path);
}

// Where fish are carried between two bars of several lots.
static void
draw_neck(const drawing *d, const lzd_way *way, const lzd_leg_place *a, const lzd_leg_place *b)
{
  double xa = end_x(d, a), xb = start_x(d, b), f = forward(d) * d->l.unit;
  double ya = a->rect.y + a->rect.h / 2, yb = b->rect.y + b->rect.h / 2;
  double reach = fmax(12 * d->l.unit, fabs(xb - xa) * 0.8) * forward(d);
  bool what_if = way->kind == LZD_WAY_WHAT_IF;
  for (int pass = 0; pass < (what_if ? 1 : 2); pass++) {
    cairo_move_to(d->cr, xa, ya);
    cairo_curve_to(d->cr, xa + reach, ya, xb - reach + 4 * f, yb, xb, yb);
    lzd_role role = what_if || (way->selected && !pass) ? LZD_ACCENT
                    : pass                              ? LZD_ACCENT_TINT
                                                        : LZD_PLANNED;
    lzd_pen_set(d->cr, d->look, role, pass ? 2.8 : 5.5, LZD_DASH_NONE);
    cairo_stroke(d->cr);
  }
}

// One leg's words: in the past part if it lasts long enough, else in the future part.
static void
leg_words(const drawing *d, const lzd_way *way, const lzd_leg_place *place, const char *text)
{
  const lzd_leg *leg = &way->legs[place->leg];
  const lzd_ribbon *r = d->ribbon;
  lzd_minute from = leg->from > r->window.from ? leg->from : r->window.from;
  lzd_minute to = leg->to < r->window.to ? leg->to : r->window.to;
  if (from >= to || !text || !*text)
    return;
  double size = fmin(LZD_SIZE_AXIS, place->rect.h / d->l.text * 0.76), pad = 7 * d->l.unit;
  bool past = false;
  if (r->now != LZD_NEVER && from < r->now) {
    double width = lzd_text_width(d->look, size, false, text) + 2 * pad;
    lzd_minute until = to < r->now ? to : r->now;
    past = fabs(x_at(d, until) - x_at(d, from)) >= width || to <= r->now;
    from = past ? from : r->now;
    to = past ? until : to;
  }
  bool neck = place->leg > 0 && way->legs[place->leg - 1].lane != leg->lane && r->n_ways == 1;
  double x0 = x_at(d, from) + forward(d) * (pad + (neck ? 16 * d->l.unit : 0));
  double room = fabs(x_at(d, to) - x0) - 3 * d->l.unit;
  double wanted = lzd_text_width(d->look, size, past, text);
  if (room < 12 * d->l.unit || forward(d) * (x_at(d, to) - x0) < 0) {
    if (way->kind == LZD_WAY_WHAT_IF && place->leg == 0) { // an arrival: its name stands beside it
      lzd_type beside = {.size = size, .bold = true, .role = LZD_ACCENT};
      lzd_text_draw(d->cr, d->look, &beside, x_at(d, to) + forward(d) * 20 * d->l.unit,
                    place->rect.y + place->rect.h / 2 + 0.35 * size * d->l.text, text);
    }
    return;
  }
  lzd_type type = {.size = size,
                   .bold = past,
                   .role = past ? LZD_BACKGROUND : LZD_TEXT,
                   .width = wanted > room ? room : 0};
  double y = place->rect.y + place->rect.h / 2 + 0.35 * size * d->l.text;
  if (way->kind == LZD_WAY_WHAT_IF && !past) {
    double w = fmin(wanted, room) + 6 * d->l.unit;
    double left = d->look->mirrored ? x0 - w + 3 * d->l.unit : x0 - 3 * d->l.unit;
    lzd_fill_rect(
        d->cr, d->look, LZD_BACKGROUND, 1,
        (lzd_rect){left, place->rect.y + 1.5 * d->l.unit, w, place->rect.h - 3 * d->l.unit});
    type.bold = true;
    type.role = LZD_ACCENT;
  }
  lzd_text_draw(d->cr, d->look, &type, x0, y, text);
}

// Another lot's leg that shares place i's row and time; only then is the row a folded one.
static bool
shares(const drawing *d, size_t i, size_t j)
{
  const lzd_rect *a = &d->places[i].rect, *b = &d->places[j].rect;
  return i != j && d->places[i].way != d->places[j].way && a->y == b->y && b->x < a->x + a->w &&
         b->x + b->w > a->x;
}

static void
draw_words(const drawing *d, const lzd_way *way, const lzd_leg_place *p)
{
  bool named = d->ribbon->n_ways == 1;
  for (size_t i = 0; i < way->n_legs; i++) {
    const lzd_leg *leg = &way->legs[i];
    bool hidden = p[i].folded; // so is a leg that folded ones lie on: the badge counts it
    for (size_t j = 0; j < lzd_ribbon_legs(d->ribbon) && !hidden; j++)
      hidden = d->places[j].folded && shares(d, (size_t)(p - d->places) + i, j);
    if (hidden)
      continue;
    bool part = i && same_bar(&p[i - 1], &p[i]);
    if (part) { // a rise, then a hold: parted by a line
      double x = x_at(d, leg->from);
      bool past = d->ribbon->now != LZD_NEVER && leg->from < d->ribbon->now;
      lzd_pen_set(d->cr, d->look, past ? LZD_BACKGROUND : LZD_PLANNED, 1.4, LZD_DASH_NONE);
      if (leg->from > d->ribbon->window.from && leg->from < d->ribbon->window.to)
        lzd_line(d->cr, x, p[i].rect.y, x, p[i].rect.y + p[i].rect.h);
    }
    leg_words(d, way, &p[i], leg->text ? leg->text : named || part ? NULL : way->name);
  }
}

// Left edge of something w wide that stands a little after the start of a bar [from, until].
static double
look_start(const drawing *d, double from, double until, double w)
{
  double indent = 8 * d->l.unit;
  return d->look->mirrored ? fmax(until - indent - w, from) : fmin(from + indent, until);
}

// Bracket below the taper and words above it.
static void
draw_release(const drawing *d, const lzd_way *way, const lzd_leg_place *last)
{
  if (way->likely == LZD_NEVER || !(d->ribbon->n_ways == 1 || way->selected))
    return;
  double early = x_held(d, way->early), late = x_held(d, way->late),
         likely = x_held(d, way->likely);
  double unit = d->l.unit, y = last->rect.y + last->rect.h + 7 * unit;
  lzd_pen_set(d->cr, d->look, LZD_TEXT, 1.6, LZD_DASH_NONE);
  lzd_line(d->cr, early, y, late, y);
  lzd_line(d->cr, early, y - 5 * unit, early, y + 5 * unit);
  lzd_line(d->cr, late, y - 5 * unit, late, y + 5 * unit);
  lzd_ink(d->cr, d->look->palette, LZD_TEXT, 1);
  cairo_move_to(d->cr, likely, y - 7 * unit);
  cairo_line_to(d->cr, likely + 5 * unit, y);
  cairo_line_to(d->cr, likely, y + 7 * unit);
  cairo_line_to(d->cr, likely - 5 * unit, y);
  cairo_close_path(d->cr);
  cairo_fill(d->cr);
  lzd_type title = {.size = LZD_SIZE_HEADING, .bold = true, .role = LZD_TEXT, .align = LZD_END};
  lzd_type range = {.size = LZD_SIZE_BODY, .role = LZD_TEXT2, .align = LZD_END};
  double widest = fmax(lzd_text_width(d->look, title.size, true, way->release_title),
                       lzd_text_width(d->look, range.size, false, way->release_range));
  double end =
      d->look->mirrored ? fmax(d->l.x, late - 54 * unit) : fmin(d->l.x + d->l.w, late + 54 * unit);
  double base = last->rect.y - 12 * unit, high = 46 * d->l.text;
  if (way->release_title || way->release_range)
    lzd_fill_rect(d->cr, d->look, LZD_BACKGROUND, 1,
                  (lzd_rect){d->look->mirrored ? end : end - widest - 8 * unit,
                             base - high + 8 * d->l.text, widest + 8 * unit, high});
  lzd_text_draw(d->cr, d->look, &title, end, base - 22 * d->l.text, way->release_title);
  lzd_text_draw(d->cr, d->look, &range, end, base, way->release_range);
}

static void
draw_way(const drawing *d, const lzd_way *way, const lzd_leg_place *p)
{
  if (!way->n_legs)
    return;
  if (d->ribbon->n_ways == 1) {
    flow_path(d, way, p);
    paint_path(d, way);
    return;
  }
  for (size_t from = 0; from < way->n_legs;) {
    size_t to = from + 1;
    while (to < way->n_legs && same_bar(&p[to - 1], &p[to]))
      to++;
    bar_path(d, way, p, from, to);
    paint_path(d, way);
    from = to;
  }
}

static void
draw_badge(const drawing *d, const lzd_rect *bar, unsigned lots)
{
  char text[24];
  snprintf(text, sizeof text, "+%u", lots);
  double h = bar->h, w = 28 * d->l.text, size = fmin(LZD_SIZE_AXIS, h / d->l.text * 0.8);
  double from = fmax(bar->x, d->l.x), until = fmin(bar->x + bar->w, d->l.x + d->l.w);
  lzd_rect badge = {look_start(d, from, until, w), bar->y, w, h};
  lzd_fill_rect(d->cr, d->look, LZD_SURFACE, 1, badge);
  lzd_frame_rect(d->cr, d->look, LZD_TEXT, 1.2, badge);
  lzd_type type = {.size = size, .bold = true, .role = LZD_TEXT, .align = LZD_MIDDLE};
  lzd_text_draw(d->cr, d->look, &type, badge.x + w / 2, badge.y + h / 2 + 0.36 * size * d->l.text,
                text);
}

// How many more lots there are than a lane has rows: told once where a run of folded legs begins.
static void
draw_folds(const drawing *d, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    if (!d->places[i].folded)
      continue;
    unsigned lots = 1;
    bool first = true;
    for (size_t j = 0; j < n; j++) {
      if (!shares(d, i, j))
        continue;
      lots++;
      first = first &&
              !(d->places[j].folded && (d->places[j].rect.x < d->places[i].rect.x ||
                                        (d->places[j].rect.x == d->places[i].rect.x && j < i)));
    }
    if (first)
      draw_badge(d, &d->places[i].rect, lots);
  }
}

static void
draw_conflicts(const drawing *d)
{
  for (size_t i = 0; i < d->ribbon->n_conflicts; i++) {
    const lzd_conflict *c = &d->ribbon->conflicts[i];
    if (c->to < d->ribbon->window.from || c->from > d->ribbon->window.to)
      continue;
    double a = x_held(d, c->from), b = x_held(d, c->to),
           top = d->l.head + (double)c->lane * d->l.lane_h;
    double least = 26 * d->l.unit, middle = (a + b) / 2, w = fmax(fabs(b - a), least);
    lzd_rect frame = {middle - w / 2, top + 2 * d->l.unit, w, d->l.lane_h - 4 * d->l.unit};
    lzd_frame_rect(d->cr, d->look, LZD_ALARM, 1.8, frame);
    double f = forward(d), side = f > 0 ? frame.x + frame.w : frame.x;
    double y = top - 6 * d->l.unit; // above the ribbons of its lane
    lzd_type type = {.size = LZD_SIZE_AXIS, .bold = true, .role = LZD_ALARM};
    double wide = lzd_text_width(d->look, type.size, true, c->text) + 30 * d->l.unit;
    double left = f > 0 ? side + 2 * d->l.unit : side - wide - 2 * d->l.unit;
    lzd_fill_rect(d->cr, d->look, LZD_BACKGROUND, 0.9,
                  (lzd_rect){left, y - 9 * d->l.text, wide, 18 * d->l.text});
    lzd_mark_draw(d->cr, d->look, LZD_TASK_CONFLICT, LZD_PLAIN, LZD_ALARM,
                  side + f * 12 * d->l.unit, y, 15 * d->l.unit);
    lzd_text_draw(d->cr, d->look, &type, side + f * 25 * d->l.unit, y + 4.6 * d->l.text, c->text);
  }
}

static void
draw_now(const drawing *d)
{
  const lzd_ribbon *r = d->ribbon;
  if (r->now == LZD_NEVER || r->now < r->window.from || r->now > r->window.to)
    return;
  double x = x_at(d, r->now), top = d->l.head - 20 * d->l.text;
  lzd_pen_set(d->cr, d->look, LZD_TEXT, 1.4, LZD_DASH_NONE);
  lzd_line(d->cr, x, top, x, d->bottom);
  lzd_type type = {.size = LZD_SIZE_AXIS, .bold = true, .role = LZD_TEXT};
  double width = lzd_text_width(d->look, type.size, true, r->now_text), gap = 5 * d->l.unit;
  double left = d->look->mirrored ? x - gap - width : x + gap;
  lzd_fill_rect(d->cr, d->look, LZD_BACKGROUND, 1,
                (lzd_rect){left - 2, d->l.head - 17 * d->l.text, width + 4, 15 * d->l.text});
  lzd_text_draw(d->cr, d->look, &type, x + forward(d) * gap, d->l.head - 6 * d->l.text,
                r->now_text);
}

static void
draw_ways(const drawing *d)
{
  const lzd_ribbon *r = d->ribbon;
  size_t at = 0;
  cairo_save(d->cr);
  cairo_rectangle(d->cr, d->l.x, 0, d->l.w, d->bottom + 40 * d->l.unit);
  cairo_clip(d->cr);
  for (size_t w = 0; w < r->n_ways && r->n_ways > 1; at += r->ways[w++].n_legs)
    for (size_t i = 0; i + 1 < r->ways[w].n_legs; i++)
      if (!same_bar(&d->places[at + i], &d->places[at + i + 1]))
        draw_neck(d, &r->ways[w], &d->places[at + i], &d->places[at + i + 1]);
  // What-ifs lie over the plan, the selected way over all.
  for (int layer = 0; layer < 3; layer++) {
    at = 0;
    for (size_t w = 0; w < r->n_ways; at += r->ways[w++].n_legs) {
      int own = r->ways[w].selected ? 2 : r->ways[w].kind == LZD_WAY_WHAT_IF ? 1 : 0;
      if (own != layer)
        continue;
      draw_way(d, &r->ways[w], d->places + at);
      draw_words(d, &r->ways[w], d->places + at);
    }
  }
  cairo_restore(d->cr);
}

lzd_status
lzd_ribbon_draw(cairo_t *cr, const lzd_ribbon *ribbon, const lzd_look *look, double width,
                double height, lzd_fault *fault)
{
  size_t n = lzd_ribbon_legs(ribbon);
  lzd_leg_place *places = malloc((n ? n : 1) * sizeof *places);
  if (!places)
    return lzd_fail(fault, LZD_NO_MEMORY, "ribbon", 0, "", "no memory");
  lzd_status status = lzd_ribbon_layout(places, n, ribbon, look, width, height, fault);
  if (status != LZD_OK) {
    free(places);
    return status;
  }
  lzd_hatch_cache hatches = {0};
  drawing d = {cr, ribbon, look, lzd_lanes_of(ribbon, look, width, height), &hatches, places, 0};
  d.bottom = d.l.head + (double)ribbon->n_lanes * d.l.lane_h;
  cairo_save(cr);
  draw_times(&d);
  draw_lanes(&d);
  draw_ways(&d);
  draw_folds(&d, n);
  draw_conflicts(&d);
  draw_now(&d);
  for (size_t w = 0, at = 0; w < ribbon->n_ways; at += ribbon->ways[w++].n_legs)
    if (ribbon->ways[w].n_legs)
      draw_release(&d, &ribbon->ways[w], &places[at + ribbon->ways[w].n_legs - 1]);
  cairo_restore(cr);
  lzd_hatch_clear(&hatches);
  free(places);
  if (cairo_status(cr) != CAIRO_STATUS_SUCCESS)
    return lzd_fail(fault, LZD_NO_OUTPUT, "ribbon", 0, "",
                    cairo_status_to_string(cairo_status(cr)));
  return LZD_OK;
}
