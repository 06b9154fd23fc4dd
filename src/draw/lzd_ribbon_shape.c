// SPDX-License-Identifier: GPL-3.0-or-later
// The shapes of ribbons: one lot alone flows through its necks as one shape; several are bars with
// thin necks between them. Past solid, planned outlined, what-if hatched.
#include <math.h>

#include "lzd_lanes.h"
#include "lzd_pen.h"

double
lzd_lane_x(const lzd_lane_drawing *d, lzd_minute minute)
{
  return lzd_scale_at(&d->l.time, (double)minute);
}

double
lzd_lane_x_held(const lzd_lane_drawing *d, lzd_minute minute)
{
  return lzd_scale_clamp(&d->l.time, (double)minute);
}

// +1 where later is to the right, -1 where it is to the left.
double
lzd_lane_forward(const lzd_lane_drawing *d)
{
  return d->look->mirrored ? -1 : 1;
}

double
lzd_leg_start(const lzd_lane_drawing *d, const lzd_leg_place *place)
{
  return lzd_lane_x(d, d->ribbon->ways[place->way].legs[place->leg].from);
}

double
lzd_leg_end(const lzd_lane_drawing *d, const lzd_leg_place *place)
{
  return lzd_lane_x(d, d->ribbon->ways[place->way].legs[place->leg].to);
}

bool
lzd_leg_same_bar(const lzd_leg_place *a, const lzd_leg_place *b)
{
  return a->rect.y == b->rect.y;
}

// The neck from one leg's end to the next one's start: one edge of it, as a path. `side` -1 is the
// upper edge, +1 the lower; `back` draws from the next leg to this one.
static void
neck_edge(const lzd_lane_drawing *d, lzd_rect a, lzd_rect b, double xa, double xb, int side,
          bool back)
{
  double f = lzd_lane_forward(d), ya = side < 0 ? a.y : a.y + a.h, yb = side < 0 ? b.y : b.y + b.h;
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

// Tapered end of a way's last leg: its shoulder at early, its point at late.
static void
end_path(const lzd_lane_drawing *d, const lzd_way *way, const lzd_leg_place *last)
{
  lzd_rect r = last->rect;
  if (way->late == LZD_NEVER) {
    cairo_line_to(d->cr, lzd_leg_end(d, last), r.y);
    cairo_line_to(d->cr, lzd_leg_end(d, last), r.y + r.h);
    return;
  }
  double shoulder = lzd_lane_x(d, way->early), point = lzd_lane_x(d, way->late);
  if (fabs(point - shoulder) < 6 * d->l.unit) // always seen as a point
    point = shoulder + lzd_lane_forward(d) * 6 * d->l.unit;
  cairo_line_to(d->cr, shoulder, r.y);
  cairo_line_to(d->cr, point, r.y + r.h / 2);
  cairo_line_to(d->cr, shoulder, r.y + r.h);
}

// The whole way as one closed shape.
static void
flow_path(const lzd_lane_drawing *d, const lzd_way *way, const lzd_leg_place *p)
{
  size_t n = way->n_legs;
  cairo_new_path(d->cr);
  cairo_move_to(d->cr, lzd_leg_start(d, &p[0]), p[0].rect.y);
  for (size_t i = 0; i + 1 < n; i++)
    if (!lzd_leg_same_bar(&p[i], &p[i + 1]))
      neck_edge(d, p[i].rect, p[i + 1].rect, lzd_leg_end(d, &p[i]), lzd_leg_start(d, &p[i + 1]), -1,
                false);
  end_path(d, way, &p[n - 1]);
  for (size_t i = n - 1; i-- > 0;)
    if (!lzd_leg_same_bar(&p[i], &p[i + 1]))
      neck_edge(d, p[i].rect, p[i + 1].rect, lzd_leg_end(d, &p[i]), lzd_leg_start(d, &p[i + 1]), 1,
                true);
  cairo_line_to(d->cr, lzd_leg_start(d, &p[0]), p[0].rect.y + p[0].rect.h);
  cairo_close_path(d->cr);
}

// Legs [from, to) of a way that lie in one bar, as a closed shape.
static void
bar_path(const lzd_lane_drawing *d, const lzd_way *way, const lzd_leg_place *p, size_t from,
         size_t to)
{
  lzd_rect r = p[from].rect;
  cairo_new_path(d->cr);
  cairo_move_to(d->cr, lzd_leg_start(d, &p[from]), r.y + r.h);
  cairo_line_to(d->cr, lzd_leg_start(d, &p[from]), r.y);
  if (to == way->n_legs) {
    end_path(d, way, &p[to - 1]);
  } else {
    cairo_line_to(d->cr, lzd_leg_end(d, &p[to - 1]), r.y);
    cairo_line_to(d->cr, lzd_leg_end(d, &p[to - 1]), r.y + r.h);
  }
  cairo_close_path(d->cr);
}

// Clips to the past (which -1) or the future (+1) of the plot.
static void
clip_time(const lzd_lane_drawing *d, int which)
{
  lzd_minute now = d->ribbon->now == LZD_NEVER ? d->ribbon->window.from : d->ribbon->now;
  double at = lzd_lane_x_held(d, now), start = lzd_lane_x(d, d->ribbon->window.from);
  double end = lzd_lane_x(d, d->ribbon->window.to), a = which < 0 ? start : at,
         b = which < 0 ? at : end;
  cairo_rectangle(d->cr, fmin(a, b), 0, fabs(b - a), d->bottom + 40 * d->l.unit);
  cairo_clip(d->cr);
}

// Fills the path: past solid; future outlined, hatched for a what-if.
static void
paint_path(const lzd_lane_drawing *d, const lzd_way *way)
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
void
lzd_way_neck(const lzd_lane_drawing *d, const lzd_way *way, const lzd_leg_place *a,
             const lzd_leg_place *b)
{
  double xa = lzd_leg_end(d, a), xb = lzd_leg_start(d, b), f = lzd_lane_forward(d) * d->l.unit;
  double ya = a->rect.y + a->rect.h / 2, yb = b->rect.y + b->rect.h / 2;
  double reach = fmax(12 * d->l.unit, fabs(xb - xa) * 0.8) * lzd_lane_forward(d);
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

void
lzd_way_shape(const lzd_lane_drawing *d, const lzd_way *way, const lzd_leg_place *p)
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
    while (to < way->n_legs && lzd_leg_same_bar(&p[to - 1], &p[to]))
      to++;
    bar_path(d, way, p, from, to);
    paint_path(d, way);
    from = to;
  }
}
