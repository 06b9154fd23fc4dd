// SPDX-License-Identifier: GPL-3.0-or-later
// Lines through points: cut to the window, thinned to the pixels, gaps kept.
#include <math.h>
#include <stdlib.h>

#include "lzd_parts.h"

// Either kind of line, seen as spans.
typedef struct {
  const lzd_span *spans;
  const lzd_point *points;
  size_t n;
} source;

static lzd_span
get(const source *s, size_t i)
{
  if (s->spans)
    return s->spans[i];
  if (!s->points)
    return (lzd_span){0, NAN, NAN, NAN};
  double v = s->points[i].value;
  return (lzd_span){s->points[i].minute, v, v, v};
}

static size_t
first_from(const source *s, lzd_minute minute)
{
  size_t low = 0, high = s->n;
  while (low < high) {
    size_t middle = low + (high - low) / 2;
    if (get(s, middle).minute < minute)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

static lzd_span
between(lzd_span a, lzd_span b, lzd_minute minute)
{
  double f = (double)(minute - a.minute) / (double)(b.minute - a.minute);
  return (lzd_span){minute, a.low + f * (b.low - a.low), a.mid + f * (b.mid - a.mid),
                    a.high + f * (b.high - a.high)};
}

typedef struct {
  lzd_vertex *vertex;
  size_t n;
  const lzd_scale *time, *value;
  double top, bottom; // pixels beyond which nothing need be exact
  bool broken;        // the next vertex begins a new stretch
} trace;

static double
pixel(const trace *t, double value)
{
  double y = lzd_scale_at(t->value, value);
  return fmin(fmax(y, t->top), t->bottom);
}

static void
add(trace *t, lzd_span span)
{
  if (!isfinite(span.mid)) {
    t->broken = true;
    return;
  }
  double low = isfinite(span.low) ? span.low : span.mid;
  double high = isfinite(span.high) ? span.high : span.mid;
  t->vertex[t->n] = (lzd_vertex){.x = lzd_scale_at(t->time, (double)span.minute),
                                 .low = pixel(t, low),
                                 .mid = pixel(t, span.mid),
                                 .high = pixel(t, high),
                                 .gap = t->broken || t->n == 0};
  t->n++;
  t->broken = false;
}

// One column of many points becomes four, its interval the widest there.
static void
add_column(trace *t, const source *s, size_t from, size_t to)
{
  lzd_span least = get(s, from), most = least, first = least, last = least;
  double low = INFINITY, high = -INFINITY;
  bool any = false;
  for (size_t i = from; i < to; i++) {
    lzd_span span = get(s, i);
    if (!isfinite(span.mid)) {
      t->broken = t->broken || !any;
      continue;
    }
    if (!any)
      first = least = most = span;
    any = true;
    least = span.mid < least.mid ? span : least;
    most = span.mid > most.mid ? span : most;
    low = fmin(low, isfinite(span.low) ? span.low : span.mid);
    high = fmax(high, isfinite(span.high) ? span.high : span.mid);
    last = span;
  }
  lzd_span four[4] = {first, least, most, last};
  if (least.minute > most.minute)
    four[1] = most, four[2] = least;
  for (int i = 0; i < 4 && any; i++) {
    four[i].low = low;
    four[i].high = high;
    add(t, four[i]);
  }
}

static void
add_all(trace *t, const source *s, size_t from, size_t to, size_t columns)
{
  if (to - from <= 4 * columns) {
    for (size_t i = from; i < to; i++)
      add(t, get(s, i));
    return;
  }
  double width = (t->time->v1 - t->time->v0) / (double)columns;
  for (size_t c = 0, i = from; c < columns && i < to; c++) {
    double edge = t->time->v0 + width * (double)(c + 1);
    size_t end = i;
    while (end < to && (c + 1 == columns || (double)get(s, end).minute < edge))
      end++;
    if (end > i)
      add_column(t, s, i, end);
    i = end;
  }
}

static lzd_status
trace_source(lzd_vertex **out, size_t *n_out, const lzd_layout *layout, size_t panel, source s)
{
  *out = NULL;
  *n_out = 0;
  lzd_minute from = (lzd_minute)layout->time.v0, to = (lzd_minute)layout->time.v1;
  size_t begin = first_from(&s, from), end = first_from(&s, to + 1);
  bool before = begin > 0, after = end < s.n;
  if (begin >= end && !(before && after))
    return LZD_OK;
  lzd_rect rect = layout->panel[panel].rect;
  size_t columns = (size_t)fmax(rect.w, 1);
  size_t inside = end - begin, room = (inside < 4 * columns ? inside : 4 * columns) + 6;
  trace t = {.vertex = malloc(room * sizeof(lzd_vertex)),
             .time = &layout->time,
             .value = &layout->panel[panel].value,
             .top = rect.y - rect.h,
             .bottom = rect.y + 2 * rect.h};
  if (!t.vertex)
    return LZD_NO_MEMORY;
  size_t next = begin < s.n ? begin : s.n - 1;
  if (before && get(&s, next).minute > from)
    add(&t, between(get(&s, begin - 1), get(&s, next), from));
  add_all(&t, &s, begin, end, columns);
  if (after && end > 0 && get(&s, end - 1).minute < to)
    add(&t, between(get(&s, end - 1), get(&s, end), to));
  *out = t.vertex;
  *n_out = t.n;
  return LZD_OK;
}

lzd_status
lzd_trace_spans(lzd_vertex **out, size_t *n_out, const lzd_layout *layout, size_t panel,
                const lzd_span *spans, size_t n)
{
  return trace_source(out, n_out, layout, panel, (source){.spans = spans, .n = n});
}

lzd_status
lzd_trace_points(lzd_vertex **out, size_t *n_out, const lzd_layout *layout, size_t panel,
                 const lzd_point *points, size_t n)
{
  return trace_source(out, n_out, layout, panel, (source){.points = points, .n = n});
}
