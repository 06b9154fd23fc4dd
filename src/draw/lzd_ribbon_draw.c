// SPDX-License-Identifier: GPL-3.0-or-later
// Draws lanes, words, folds, conflicts and releases around the ribbons' shapes, in their order.
#include <math.h>
#include <string.h>
#include <stdio.h>
#include <stdlib.h>

#include "lzd_hatch.h"
#include "lzd_lanes.h"
#include "lzd_marks.h"
#include "lzd_pen.h"
#include "lzd_text.h"

// What stands before the first comma, if it fits in size.
static bool
name_alone(const char *text, char *name, size_t size)
{
  size_t length = strcspn(text, ",");
  if (!text[length] || length >= size)
    return false;
  memcpy(name, text, length);
  name[length] = 0;
  return true;
}

// One leg's words: in the past part if it lasts long enough, else in the future part.
static void
leg_words(const lzd_lane_drawing *d, const lzd_way *way, const lzd_leg_place *place,
          const char *text)
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
    past = fabs(lzd_lane_x(d, until) - lzd_lane_x(d, from)) >= width || to <= r->now;
    from = past ? from : r->now;
    to = past ? until : to;
  }
  bool neck = place->leg > 0 && way->legs[place->leg - 1].lane != leg->lane && r->n_ways == 1;
  double x0 = lzd_lane_x(d, from) + lzd_lane_forward(d) * (pad + (neck ? 16 * d->l.unit : 0));
  double room = fabs(lzd_lane_x(d, to) - x0) - 3 * d->l.unit;
  char name[32];
  double wanted = lzd_text_width(d->look, size, past, text);
  if (wanted > room && name_alone(text, name, sizeof name)) { // "0312, 16" where only 0312 fits
    wanted = lzd_text_width(d->look, size, past, text = name);
    double give = fmin(pad - 3 * d->l.unit, fmax(0, wanted - room));
    x0 -= lzd_lane_forward(d) * give;
    room += give;
  }
  if (room < 12 * d->l.unit || lzd_lane_forward(d) * (lzd_lane_x(d, to) - x0) < 0) {
    if (way->kind == LZD_WAY_WHAT_IF && place->leg == 0) { // an arrival: its name stands beside it
      lzd_type beside = {.size = size, .bold = true, .role = LZD_ACCENT};
      lzd_text_draw(d->cr, d->look, &beside,
                    lzd_lane_x(d, to) + lzd_lane_forward(d) * 20 * d->l.unit,
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
shares(const lzd_lane_drawing *d, size_t i, size_t j)
{
  const lzd_rect *a = &d->places[i].rect, *b = &d->places[j].rect;
  return i != j && d->places[i].way != d->places[j].way && a->y == b->y && b->x < a->x + a->w &&
         b->x + b->w > a->x;
}

// Where a leg has most room for words in the window, before now or after it.
static double
room_of(const lzd_lane_drawing *d, const lzd_leg *leg)
{
  lzd_window window = d->ribbon->window;
  lzd_minute from = leg->from > window.from ? leg->from : window.from;
  lzd_minute to = leg->to < window.to ? leg->to : window.to, now = d->ribbon->now;
  if (from >= to)
    return 0;
  double x0 = lzd_lane_x(d, from), x1 = lzd_lane_x(d, to);
  if (now == LZD_NEVER || now <= from || now >= to)
    return fabs(x1 - x0);
  double middle = lzd_lane_x(d, now);
  return fmax(fabs(middle - x0), fabs(x1 - middle));
}

// The leg that carries the lot's name: the roomiest of those that leg i makes one bar with.
static size_t
named_leg(const lzd_lane_drawing *d, const lzd_way *way, const lzd_leg_place *p, size_t i)
{
  size_t first = i, best;
  while (first > 0 && lzd_leg_same_bar(&p[first - 1], &p[first]))
    first--;
  best = first;
  for (size_t k = first + 1; k < way->n_legs && lzd_leg_same_bar(&p[k - 1], &p[k]); k++)
    if (room_of(d, &way->legs[k]) > room_of(d, &way->legs[best]))
      best = k;
  return best;
}

static void
draw_words(const lzd_lane_drawing *d, const lzd_way *way, const lzd_leg_place *p)
{
  bool named = d->ribbon->n_ways == 1;
  const size_t all = lzd_ribbon_legs(d->ribbon);
  for (size_t i = 0; i < way->n_legs; i++) {
    const lzd_leg *leg = &way->legs[i];
    bool hidden = p[i].folded; // so is a leg that folded ones lie on: the badge counts it
    for (size_t j = 0; j < all && !hidden; j++)
      hidden = d->places[j].folded && shares(d, (size_t)(p - d->places) + i, j);
    if (hidden)
      continue;
    bool part = i && lzd_leg_same_bar(&p[i - 1], &p[i]);
    if (part) { // a rise, then a hold: parted by a line
      double x = lzd_lane_x(d, leg->from);
      bool past = d->ribbon->now != LZD_NEVER && leg->from < d->ribbon->now;
      lzd_pen_set(d->cr, d->look, past ? LZD_BACKGROUND : LZD_PLANNED, 1.4, LZD_DASH_NONE);
      if (leg->from > d->ribbon->window.from && leg->from < d->ribbon->window.to)
        lzd_line(d->cr, x, p[i].rect.y, x, p[i].rect.y + p[i].rect.h);
    }
    bool carries = !named && named_leg(d, way, p, i) == i;
    leg_words(d, way, &p[i], leg->text ? leg->text : carries ? way->name : NULL);
  }
}

// Left edge of something w wide that stands a little after the start of a bar [from, until].
static double
look_start(const lzd_lane_drawing *d, double from, double until, double w)
{
  double indent = 8 * d->l.unit;
  return d->look->mirrored ? fmax(until - indent - w, from) : fmin(from + indent, until);
}

// Words above the taper, or below its bracket where the times of the head stand above.
static void
draw_release_words(const lzd_lane_drawing *d, const lzd_way *way, double top, double bottom)
{
  double unit = d->l.unit, late = lzd_lane_x_held(d, way->late), high = 46 * d->l.text;
  lzd_type title = {.size = LZD_SIZE_HEADING, .bold = true, .role = LZD_TEXT, .align = LZD_END};
  lzd_type range = {.size = LZD_SIZE_BODY, .role = LZD_TEXT2, .align = LZD_END};
  double widest = fmax(lzd_text_width(d->look, title.size, true, way->release_title),
                       lzd_text_width(d->look, range.size, false, way->release_range));
  double end = d->look->mirrored ? fmin(fmax(d->l.x, late - 54 * unit), d->l.x + d->l.w - widest)
                                 : fmax(fmin(d->l.x + d->l.w, late + 54 * unit), d->l.x + widest);
  double base = top - 12 * unit;
  if (base - high + 8 * d->l.text < d->l.head)
    base = bottom + high;
  if (!way->release_title && !way->release_range)
    return;
  lzd_fill_rect(d->cr, d->look, LZD_BACKGROUND, 1,
                (lzd_rect){d->look->mirrored ? end : end - widest - 8 * unit,
                           base - high + 8 * d->l.text, widest + 8 * unit, high});
  lzd_text_draw(d->cr, d->look, &title, end, base - 22 * d->l.text, way->release_title);
  lzd_text_draw(d->cr, d->look, &range, end, base, way->release_range);
}

// Bracket below the taper.
static void
draw_release(const lzd_lane_drawing *d, const lzd_way *way, const lzd_leg_place *last)
{
  if (way->likely == LZD_NEVER || !(d->ribbon->n_ways == 1 || way->selected))
    return;
  double early = lzd_lane_x_held(d, way->early), late = lzd_lane_x_held(d, way->late),
         likely = lzd_lane_x_held(d, way->likely);
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
  draw_release_words(d, way, last->rect.y, y + 7 * unit);
}

static void
draw_badge(const lzd_lane_drawing *d, const lzd_rect *bar, unsigned lots)
{
  char text[24];
  snprintf(text, sizeof text, "+%u", lots);
  double h = bar->h, w = 28 * d->l.text, size = fmin(LZD_SIZE_AXIS, h / d->l.text * 0.8);
  double from = fmax(bar->x, d->l.x), until = fmin(bar->x + bar->w, d->l.x + d->l.w);
  if (until <= from) // the whole leg lies outside the window
    return;
  lzd_rect badge = {look_start(d, from, until, w), bar->y, w, h};
  lzd_fill_rect(d->cr, d->look, LZD_SURFACE, 1, badge);
  lzd_frame_rect(d->cr, d->look, LZD_TEXT, 1.2, badge);
  lzd_type type = {.size = size, .bold = true, .role = LZD_TEXT, .align = LZD_MIDDLE};
  lzd_text_draw(d->cr, d->look, &type, badge.x + w / 2, badge.y + h / 2 + 0.36 * size * d->l.text,
                text);
}

// How many more lots there are than a lane has rows: told once where a run of folded legs begins.
static void
draw_folds(const lzd_lane_drawing *d, size_t n)
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
                                        (j < i && d->places[j].rect.x == d->places[i].rect.x)));
    }
    if (first)
      draw_badge(d, &d->places[i].rect, lots);
  }
}

static void
draw_conflicts(const lzd_lane_drawing *d)
{
  for (size_t i = 0; i < d->ribbon->n_conflicts; i++) {
    const lzd_conflict *c = &d->ribbon->conflicts[i];
    if (c->to < d->ribbon->window.from || c->from > d->ribbon->window.to)
      continue;
    double a = lzd_lane_x_held(d, c->from), b = lzd_lane_x_held(d, c->to),
           top = d->l.head + (double)c->lane * d->l.lane_h;
    double least = 26 * d->l.unit, middle = (a + b) / 2, w = fmax(fabs(b - a), least);
    lzd_rect frame = {middle - w / 2, top + 2 * d->l.unit, w, d->l.lane_h - 4 * d->l.unit};
    lzd_frame_rect(d->cr, d->look, LZD_ALARM, 1.8, frame);
    double f = lzd_lane_forward(d), side = f > 0 ? frame.x + frame.w : frame.x;
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
draw_now(const lzd_lane_drawing *d)
{
  const lzd_ribbon *r = d->ribbon;
  if (r->now == LZD_NEVER || r->now < r->window.from || r->now > r->window.to)
    return;
  double x = lzd_lane_x(d, r->now), top = d->l.head - 20 * d->l.text;
  lzd_pen_set(d->cr, d->look, LZD_TEXT, 1.4, LZD_DASH_NONE);
  lzd_line(d->cr, x, top, x, d->bottom);
  lzd_type type = {.size = LZD_SIZE_AXIS, .bold = true, .role = LZD_TEXT};
  double width = lzd_text_width(d->look, type.size, true, r->now_text), gap = 5 * d->l.unit;
  double left = d->look->mirrored ? x - gap - width : x + gap;
  lzd_fill_rect(d->cr, d->look, LZD_BACKGROUND, 1,
                (lzd_rect){left - 2, d->l.head - 17 * d->l.text, width + 4, 15 * d->l.text});
  lzd_text_draw(d->cr, d->look, &type, x + lzd_lane_forward(d) * gap, d->l.head - 6 * d->l.text,
                r->now_text);
}

static void
draw_ways(const lzd_lane_drawing *d)
{
  const lzd_ribbon *r = d->ribbon;
  size_t at = 0;
  cairo_save(d->cr);
  cairo_rectangle(d->cr, d->l.x, 0, d->l.w, d->bottom + 40 * d->l.unit);
  cairo_clip(d->cr);
  for (size_t w = 0; w < r->n_ways && r->n_ways > 1; at += r->ways[w++].n_legs)
    for (size_t i = 0; i + 1 < r->ways[w].n_legs; i++)
      if (!lzd_leg_same_bar(&d->places[at + i], &d->places[at + i + 1]))
        lzd_way_neck(d, &r->ways[w], &d->places[at + i], &d->places[at + i + 1]);
  // What-ifs lie over the plan, the selected way over all.
  for (int layer = 0; layer < 3; layer++) {
    at = 0;
    for (size_t w = 0; w < r->n_ways; at += r->ways[w++].n_legs) {
      int own = r->ways[w].selected ? 2 : r->ways[w].kind == LZD_WAY_WHAT_IF ? 1 : 0;
      if (own != layer)
        continue;
      lzd_way_shape(d, &r->ways[w], d->places + at);
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
  lzd_leg_place *places = calloc(n ? n : 1, sizeof *places);
  if (!places)
    return lzd_fail(fault, LZD_NO_MEMORY, "ribbon", 0, "", "no memory");
  lzd_status status = lzd_ribbon_layout(places, n, ribbon, look, width, height, fault);
  if (status != LZD_OK) {
    free(places);
    return status;
  }
  lzd_hatch_cache hatches = {0};
  lzd_lane_drawing d = {cr,       ribbon, look, lzd_lanes_of(ribbon, look, width, height),
                        &hatches, places, 0};
  d.bottom = d.l.head + (double)ribbon->n_lanes * d.l.lane_h;
  cairo_save(cr);
  lzd_lane_times(&d);
  lzd_lane_heads(&d);
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
