// SPDX-License-Identifier: GPL-3.0-or-later
// Where the ribbons lie: lanes, rows within a lane, folding, and what is under the pointer.
#include "lzd_ribbon.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "lzd_lanes.h"
#include "lzd_marks.h"
#include "lzd_text.h"

#define LANE_ONE  44.0 // natural height of a lane with one lot
#define LANE_MANY 60.0

static lzd_status
bad(lzd_fault *fault, const char *where, size_t index, const char *field, const char *reason)
{
  return lzd_fail(fault, LZD_BAD_INPUT, where, index, field, reason);
}

static lzd_status
check_way(const lzd_ribbon *ribbon, size_t w, lzd_fault *fault)
{
  const lzd_way *way = &ribbon->ways[w];
  for (size_t i = 0; i < way->n_legs; i++) {
    if (way->legs[i].lane >= ribbon->n_lanes)
      return bad(fault, "leg", i, "lane", "no such lane");
    if (way->legs[i].from > way->legs[i].to)
      return bad(fault, "leg", i, "from", "from is after to");
    if (i && way->legs[i].from < way->legs[i - 1].from)
      return bad(fault, "leg", i, "from", "not in order of time");
  }
  if (way->early > way->likely || way->likely > way->late)
    return bad(fault, "way", w, "likely", "not between early and late");
  return LZD_OK;
}

lzd_status
lzd_ribbon_check(const lzd_ribbon *ribbon, lzd_fault *fault)
{
  if (ribbon->window.from >= ribbon->window.to)
    return bad(fault, "ribbon", 0, "window", "from is not before to");
  if (!ribbon->n_lanes)
    return bad(fault, "ribbon", 0, "n_lanes", "no lane");
  for (size_t i = 0; i < ribbon->n_conflicts; i++)
    if (ribbon->conflicts[i].lane >= ribbon->n_lanes)
      return bad(fault, "conflict", i, "lane", "no such lane");
  for (size_t w = 0; w < ribbon->n_ways; w++) {
    lzd_status status = check_way(ribbon, w, fault);
    if (status != LZD_OK)
      return status;
  }
  return LZD_OK;
}

size_t
lzd_ribbon_legs(const lzd_ribbon *ribbon)
{
  size_t n = 0;
  for (size_t w = 0; w < ribbon->n_ways; w++)
    n += ribbon->ways[w].n_legs;
  return n;
}

// Below the last lane: the bracket of a release, and its words where no lane stands above them.
static double
foot_of(const lzd_ribbon *ribbon, const lzd_look *look)
{
  bool words = ribbon->n_lanes == 1 && ribbon->n_ways == 1 && ribbon->ways[0].release_title;
  return 14 * lzd_look_unit(look) + (words ? 52 * lzd_look_text(look) : 0);
}

lzd_lanes
lzd_lanes_of(const lzd_ribbon *ribbon, const lzd_look *look, double width, double height)
{
  lzd_lanes l = {.unit = lzd_look_unit(look), .text = lzd_look_text(look)};
  l.head = 30 * l.text;
  for (size_t i = 0; i < ribbon->n_lanes; i++)
    l.label = fmax(l.label, lzd_basin_width(look, ribbon->lanes[i].name, LZD_SIZE_BODY));
  l.label = fmax(l.label, 72 * l.unit);
  double gap = 8 * l.unit;
  l.w = fmax(width - l.label - gap - 2 * l.unit, 20);
  l.x = look->mirrored ? width - l.label - gap - l.w : l.label + gap;
  l.lane_h = fmax((height - l.head - foot_of(ribbon, look)) / (double)ribbon->n_lanes, 12 * l.unit);
  double from = look->mirrored ? l.x + l.w : l.x;
  l.time = (lzd_scale){(double)ribbon->window.from, (double)ribbon->window.to, from,
                       2 * l.x + l.w - from};
  return l;
}

double
lzd_ribbon_natural_height(const lzd_ribbon *ribbon, const lzd_look *look)
{
  double lane =
      (ribbon->n_ways > 1 ? LANE_MANY : LANE_ONE) * fmax(lzd_look_unit(look), lzd_look_text(look));
  return 30 * lzd_look_text(look) + foot_of(ribbon, look) + lane * (double)ribbon->n_lanes;
}

lzd_scale
lzd_ribbon_time(const lzd_ribbon *ribbon, const lzd_look *look, double width)
{
  return lzd_lanes_of(ribbon, look, width, 100).time;
}

lzd_rect
lzd_ribbon_lane_rect(const lzd_ribbon *ribbon, const lzd_look *look, double width, double height,
                     size_t lane)
{
  lzd_lanes l = lzd_lanes_of(ribbon, look, width, height);
  return (lzd_rect){l.x, l.head + (double)lane * l.lane_h, l.w, l.lane_h};
}

// A leg while rows are given out.
typedef struct {
  lzd_minute from, to;
  size_t lane, place; // index into the caller's places
  bool goes_on;       // the same lot's next part, in the same water: keeps its row
} seat;

static int
by_time(const void *a, const void *b)
{
  const seat *x = a, *y = b;
  if (x->lane != y->lane)
    return x->lane < y->lane ? -1 : 1;
  if (x->from != y->from)
    return x->from < y->from ? -1 : 1;
  return x->place < y->place ? -1 : x->place > y->place;
}

static void
fill_seats(seat *seats, lzd_leg_place *out, const lzd_ribbon *ribbon)
{
  size_t n = 0;
  for (size_t w = 0; w < ribbon->n_ways; w++) {
    const lzd_way *way = &ribbon->ways[w];
    for (size_t i = 0; i < way->n_legs; i++, n++) {
      const lzd_leg *leg = &way->legs[i];
      bool last = i + 1 == way->n_legs && way->late != LZD_NEVER && way->late > leg->to;
      seats[n] =
          (seat){leg->from, last ? way->late : leg->to, leg->lane, n,
                 i && way->legs[i - 1].lane == leg->lane && way->legs[i - 1].to >= leg->from};
      out[n] = (lzd_leg_place){.way = w, .leg = i};
    }
  }
}

// Gives rows to the legs of one lane (seats [from, to)); answers how many rows it needs.
static size_t
seat_lane(const seat *seats, size_t from, size_t to, size_t rows, lzd_leg_place *out)
{
  lzd_minute busy[LZD_ROWS_MOST];
  size_t used = 1;
  for (size_t r = 0; r < rows; r++)
    busy[r] = INT64_MIN;
  for (size_t i = from; i < to; i++) {
    const seat *s = &seats[i];
    size_t row = 0;
    if (s->goes_on) {
      row = out[s->place - 1].row;
      out[s->place].folded = out[s->place - 1].folded;
    } else {
      while (row < rows && busy[row] > s->from)
        row++;
      out[s->place].folded = row == rows;
      row = row == rows ? row - 1 : row;
    }
    busy[row] = s->to > busy[row] ? s->to : busy[row];
    out[s->place].row = row;
    used = row + 1 > used ? row + 1 : used;
  }
  return used;
}

static void
set_rects(const seat *seats, size_t from, size_t to, size_t rows, lzd_leg_place *out,
          const lzd_lanes *l, double most)
{
  double air = 3 * l->unit;
  double h = fmin(most, (l->lane_h - 6 * l->unit) / (double)rows - air);
  h = fmax(h, 4 * l->unit);
  double block = (double)rows * (h + air) - air;
  double top = l->head + (double)seats[from].lane * l->lane_h + (l->lane_h - block) / 2;
  for (size_t i = from; i < to; i++) {
    lzd_leg_place *place = &out[seats[i].place];
    double a = lzd_scale_at(&l->time, (double)seats[i].from);
    double b = lzd_scale_at(&l->time, (double)seats[i].to);
    place->rect = (lzd_rect){fmin(a, b), top + (double)place->row * (h + air), fabs(b - a), h};
  }
}

lzd_status
lzd_ribbon_layout(lzd_leg_place *out, size_t n_out, const lzd_ribbon *ribbon, const lzd_look *look,
                  double width, double height, lzd_fault *fault)
{
  lzd_status status = lzd_ribbon_check(ribbon, fault);
  size_t n = lzd_ribbon_legs(ribbon);
  if (status != LZD_OK || !n)
    return status;
  if (n_out < n)
    return bad(fault, "ribbon", 0, "n_out", "less than the number of legs");
  seat *seats = malloc(n * sizeof *seats);
  if (!seats)
    return lzd_fail(fault, LZD_NO_MEMORY, "ribbon", 0, "", "no memory");
  memset(out, 0, n * sizeof *out);
  fill_seats(seats, out, ribbon);
  qsort(seats, n, sizeof *seats, by_time);
  lzd_lanes l = lzd_lanes_of(ribbon, look, width, height);
  double most = 18 * fmax(l.unit, l.text);
  size_t rows = !ribbon->rows                  ? LZD_ROWS_PER_LANE
                : ribbon->rows > LZD_ROWS_MOST ? LZD_ROWS_MOST
                                               : ribbon->rows;
  for (size_t from = 0; from < n;) {
    size_t to = from + 1;
    while (to < n && seats[to].lane == seats[from].lane)
      to++;
    size_t used = seat_lane(seats, from, to, rows, out);
    set_rects(seats, from, to, used, out, &l, most);
    from = to;
  }
  free(seats);
  return LZD_OK;
}

bool
lzd_ribbon_hit(const lzd_ribbon *ribbon, const lzd_look *look, double width, double height,
               double x, double y, size_t *way, size_t *leg)
{
  size_t n = lzd_ribbon_legs(ribbon);
  lzd_leg_place *places = n ? calloc(n, sizeof *places) : NULL;
  bool found = false;
  if (!places || lzd_ribbon_layout(places, n, ribbon, look, width, height, NULL) != LZD_OK) {
    free(places);
    return false;
  }
  for (size_t i = n; i-- > 0 && !found;)
    if (lzd_rect_has(places[i].rect, x, y)) {
      *way = places[i].way;
      *leg = places[i].leg;
      found = true;
    }
  free(places);
  return found;
}
