// SPDX-License-Identifier: GPL-3.0-or-later
// Pointer and keyboard: the nearest thing, the next thing.
#include "lzd_hit.h"

#include <math.h>

lzd_minute
lzd_chart_minute_at(const lzd_layout *layout, double x)
{
  return (lzd_minute)llround(lzd_scale_invert(&layout->time, x));
}

size_t
lzd_chart_panel_at(const lzd_layout *layout, double y)
{
  for (size_t i = 0; i < layout->n_panels; i++)
    if (y >= layout->panel[i].rect.y && y < layout->panel[i].rect.y + layout->panel[i].rect.h)
      return i;
  return SIZE_MAX;
}

double
lzd_chart_value_at(const lzd_layout *layout, size_t panel, double y)
{
  return panel < layout->n_panels ? lzd_scale_invert(&layout->panel[panel].value, y) : NAN;
}

static lzd_hit
reading_hit(const lzd_panel *panel, size_t row, size_t index)
{
  const lzd_reading *reading = &panel->readings[index];
  return (lzd_hit){LZD_HIT_READING, row, index, reading->id, reading->minute};
}

static lzd_hit
event_hit(const lzd_rail *rail, size_t row, size_t index)
{
  return (lzd_hit){LZD_HIT_EVENT, row, index, rail->events[index].id, rail->events[index].minute};
}

// Minutes that `radius` pixels are.
static lzd_minute
reach(const lzd_layout *layout, double radius)
{
  double per_pixel = (layout->time.v1 - layout->time.v0) / fabs(layout->time.p1 - layout->time.p0);
  return (lzd_minute)ceil(per_pixel * radius);
}

static void
nearest_reading(const lzd_chart *chart, const lzd_layout *layout, size_t p, double x, double y,
                lzd_minute around, lzd_minute within, double *best, lzd_hit *hit)
{
  const lzd_panel *panel = &chart->panels[p];
  const lzd_scale *scale = &layout->panel[p].value;
  size_t i = lzd_readings_from(panel->readings, panel->n_readings, around - within);
  for (; i < panel->n_readings && panel->readings[i].minute <= around + within; i++) {
    if (!isfinite(panel->readings[i].value))
      continue;
    double dx = lzd_scale_at(&layout->time, (double)panel->readings[i].minute) - x;
    double dy = lzd_scale_clamp(scale, panel->readings[i].value) - y;
    if (hypot(dx, dy) < *best) {
      *best = hypot(dx, dy);
      *hit = reading_hit(panel, p, i);
    }
  }
}

static size_t
events_from(const lzd_rail *rail, lzd_minute minute)
{
  size_t low = 0, high = rail->n_events;
  while (low < high) {
    size_t middle = low + (high - low) / 2;
    if (rail->events[middle].minute < minute)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

static void
nearest_event(const lzd_chart *chart, const lzd_layout *layout, size_t r, double x, double y,
              lzd_minute around, lzd_minute within, double *best, lzd_hit *hit)
{
  const lzd_rail *rail = &chart->rails[r];
  double dy = layout->rail[r].y + layout->rail[r].h / 2 - y;
  for (size_t i = events_from(rail, around - within);
       i < rail->n_events && rail->events[i].minute <= around + within; i++) {
    double dx = lzd_scale_at(&layout->time, (double)rail->events[i].minute) - x;
    if (hypot(dx, dy) < *best) {
      *best = hypot(dx, dy);
      *hit = event_hit(rail, r, i);
    }
  }
}

static lzd_hit
credit_under(const lzd_chart *chart, const lzd_layout *layout, double x, double y,
             lzd_minute minute)
{
  lzd_hit hit = {.kind = LZD_HIT_NONE, .minute = minute};
  for (size_t s = 0; s < chart->n_strips; s++) {
    if (!lzd_rect_has(layout->strip[s], x, y))
      continue;
    for (size_t i = 0; i < chart->strips[s].n_spans; i++)
      if (minute >= chart->strips[s].spans[i].from && minute < chart->strips[s].spans[i].to)
        hit = (lzd_hit){LZD_HIT_CREDIT, s, i, 0, minute};
  }
  return hit;
}

lzd_hit
lzd_chart_hit(const lzd_chart *chart, const lzd_layout *layout, double x, double y, double radius)
{
  lzd_minute around = lzd_chart_minute_at(layout, x), within = reach(layout, radius);
  lzd_hit hit = {.kind = LZD_HIT_NONE};
  double best = nextafter(radius, INFINITY);
  for (size_t p = 0; p < layout->n_panels; p++)
    nearest_reading(chart, layout, p, x, y, around, within, &best, &hit);
  for (size_t r = 0; r < layout->n_rails; r++)
    nearest_event(chart, layout, r, x, y, around, within, &best, &hit);
  return hit.kind != LZD_HIT_NONE ? hit : credit_under(chart, layout, x, y, around);
}

// First reading with a value at or beyond i, going by direction; SIZE_MAX: none.
static size_t
seek(const lzd_panel *panel, size_t i, int direction)
{
  for (; i < panel->n_readings; i += (size_t)direction) // wraps below 0 to SIZE_MAX
    if (isfinite(panel->readings[i].value))
      return i;
  return SIZE_MAX;
}

lzd_hit
lzd_chart_step(const lzd_chart *chart, size_t panel, lzd_hit at, int direction)
{
  lzd_hit none = {.kind = LZD_HIT_NONE, .minute = at.minute};
  if (panel >= chart->n_panels || !direction)
    return none;
  direction = direction > 0 ? 1 : -1;
  const lzd_panel *p = &chart->panels[panel];
  size_t i;
  if (at.kind == LZD_HIT_READING && at.row == panel && at.index < p->n_readings)
    i = at.index + (size_t)direction;
  else if (direction > 0)
    i = lzd_readings_from(p->readings, p->n_readings, at.minute + (at.kind != LZD_HIT_NONE));
  else
    i = lzd_readings_from(p->readings, p->n_readings, at.minute) - 1;
  i = seek(p, i, direction);
  return i == SIZE_MAX ? none : reading_hit(p, panel, i);
}

lzd_hit
lzd_chart_step_panel(const lzd_chart *chart, lzd_hit at, int direction)
{
  size_t panel = at.kind == LZD_HIT_READING ? at.row : 0;
  for (size_t tries = chart->n_panels; tries-- > 0;) {
    panel += direction > 0 ? 1 : SIZE_MAX;
    if (panel >= chart->n_panels)
      break;
    const lzd_panel *p = &chart->panels[panel];
    size_t after = lzd_readings_from(p->readings, p->n_readings, at.minute);
    size_t next = seek(p, after, 1), before = after ? seek(p, after - 1, -1) : SIZE_MAX;
    if (next == SIZE_MAX && before == SIZE_MAX)
      continue; // an empty panel is passed over
    if (next == SIZE_MAX || (before != SIZE_MAX && at.minute - p->readings[before].minute <
                                                       p->readings[next].minute - at.minute))
      next = before;
    return reading_hit(p, panel, next);
  }
  return (lzd_hit){.kind = LZD_HIT_NONE, .minute = at.minute};
}

lzd_hit
lzd_chart_step_event(const lzd_chart *chart, size_t rail, lzd_hit at, int direction)
{
  lzd_hit none = {.kind = LZD_HIT_NONE, .minute = at.minute};
  if (rail >= chart->n_rails || !direction)
    return none;
  const lzd_rail *r = &chart->rails[rail];
  size_t i;
  if (at.kind == LZD_HIT_EVENT && at.row == rail && at.index < r->n_events)
    i = direction > 0 ? at.index + 1 : at.index - 1;
  else if (direction > 0)
    i = events_from(r, at.minute + (at.kind != LZD_HIT_NONE));
  else
    i = events_from(r, at.minute) - 1;
  return i < r->n_events ? event_hit(r, rail, i) : none;
}
