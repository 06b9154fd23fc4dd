// SPDX-License-Identifier: GPL-3.0-or-later
// The legend: words behind their samples, in as many rows as they need.
#include <math.h>

#include "lzd_parts.h"

#define ENTRIES 11

// The sample before a word: a mark or a piece of line.
static void
legend_sample(const lzd_drawing *d, int entry, double x, double y)
{
  static const lzd_mark marks[] = {LZD_READ_DISC,     LZD_READ_SQUARE, LZD_READ_DIAMOND,
                                   LZD_READ_TRIANGLE, LZD_READ_CROSS,  LZD_READ_BAR};
  double w = 26 * d->unit;
  cairo_t *cr = d->cr;
  if (entry < 6) {
    lzd_mark_draw(cr, d->look, marks[entry], LZD_PLAIN, LZD_TEXT, x + 5 * d->unit, y,
                  8.8 * d->unit);
  } else if (entry == 6) {
    lzd_fill_rect(cr, d->look, LZD_ACCENT, d->look->palette->interval_alpha,
                  (lzd_rect){x, y - 5 * d->unit, w, 10 * d->unit});
    lzd_pen_set(cr, d->look, LZD_ACCENT, 2.2, LZD_DASH_NONE);
    lzd_line(cr, x, y, x + w, y);
  } else if (entry == 9) {
    cairo_rectangle(cr, x, y - 6 * d->unit, w, 12 * d->unit);
    lzd_hatch_fill(cr, d->hatches, d->look, LZD_HATCH_BAND);
  } else if (entry == 10) {
    lzd_pen_set(cr, d->look, LZD_TEXT2, 1.2, LZD_DASH_NONE);
    lzd_line(cr, x, y, x + w, y);
  } else {
    bool plan = entry == 7;
    lzd_pen_set(cr, d->look, plan ? LZD_TEXT2 : LZD_ACCENT, plan ? 1.4 : 2.2,
                plan ? LZD_DASH_PLAN : LZD_DASH_FORECAST);
    lzd_line(cr, x, y, x + w, y);
  }
}

// The words in the order of their samples.
static void
words_of(const lzd_legend *legend, const char *out[ENTRIES])
{
  const char *words[ENTRIES] = {legend->disc,     legend->square, legend->diamond,
                                legend->triangle, legend->cross,  legend->bar,
                                legend->estimate, legend->plan,   legend->forecast,
                                legend->band,     legend->other};
  for (int i = 0; i < ENTRIES; i++)
    out[i] = words[i];
}

// Walks the entries; draws where d is not NULL. Answers the number of rows.
static int
walk(const lzd_legend *legend, const lzd_look *look, double width, const lzd_drawing *d)
{
  const char *words[ENTRIES];
  double unit = lzd_look_unit(look), text = lzd_look_text(look), at = 0, gap = 6 * unit;
  int rows = 1;
  words_of(legend, words);
  for (int i = 0; i < ENTRIES; i++) {
    if (!words[i])
      continue;
    double sample = (i < 6 ? 10 : 26) * unit;
    double need = sample + gap + lzd_text_width(look, LZD_SIZE_AXIS, false, words[i]);
    if (at > 0 && at + need > width) {
      at = 0;
      rows++;
    }
    if (d) {
      lzd_rect row = d->layout->legend;
      double x = look->mirrored ? row.x + row.w - at - sample : row.x + at;
      double y = row.y + (10 + (rows - 1) * 20) * text;
      lzd_type type = {.size = LZD_SIZE_AXIS, .role = LZD_TEXT2};
      legend_sample(d, i, x, y);
      lzd_text_draw(d->cr, look, &type, look->mirrored ? x - gap : x + sample + gap, y + 4.5 * text,
                    words[i]);
    }
    at += need + 16 * unit;
  }
  return rows;
}

int
lzd_legend_rows(const lzd_legend *legend, const lzd_look *look, double width)
{
  return walk(legend, look, width, NULL);
}

void
lzd_draw_legend(const lzd_drawing *d)
{
  if (d->chart->legend)
    walk(d->chart->legend, d->look, d->layout->legend.w, d);
}
