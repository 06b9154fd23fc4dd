// SPDX-License-Identifier: GPL-3.0-or-later
// Hatches. Both ways of drawing are anchored at the origin of user space, so that neighbouring
// shapes carry one continuous hatch.
#include "lzd_hatch.h"

#include <math.h>

static const struct {
  double pitch, width;
  int slope;   // +1: rises to the right, -1: falls
  int periods; // in one tile, chosen so that a tile is near a whole number of pixels
  lzd_role role;
} kinds[LZD_HATCHES] = {
    [LZD_HATCH_BAND] = {6, 1.4, +1, 2, LZD_HATCH},
    [LZD_HATCH_WHAT_IF] = {5, 1.7, -1, 1, LZD_ACCENT},
    [LZD_HATCH_NOT_SERVED] = {4, 1.1, +1, 3, LZD_RULE},
};

static bool
is_vector(cairo_t *cr)
{
  cairo_surface_type_t type = cairo_surface_get_type(cairo_get_target(cr));
  return type == CAIRO_SURFACE_TYPE_PDF || type == CAIRO_SURFACE_TYPE_SVG ||
         type == CAIRO_SURFACE_TYPE_PS;
}

// Parallel lines across the clip, `step` apart along x.
static void
rule_lines(cairo_t *cr, int slope, double step)
{
  double x0, y0, x1, y1;
  cairo_clip_extents(cr, &x0, &y0, &x1, &y1);
  if (!(x1 > x0) || !(y1 > y0))
    return;
  // A rising line keeps x + y, a falling one x - y.
  double low = slope > 0 ? x0 + y0 : x0 - y1, high = slope > 0 ? x1 + y1 : x1 - y0;
  double first = floor(low / step) * step;
  int lines = (int)fmin((high - first) / step + 2, 100000); // a clip can be absurdly wide
  for (int i = 0; i < lines; i++) {
    double c = first + i * step;
    cairo_move_to(cr, c - slope * y0, y0);
    cairo_line_to(cr, c - slope * y1, y1);
  }
  cairo_stroke(cr);
}

static cairo_pattern_t *
make_tile(cairo_t *cr, const lzd_look *look, lzd_hatch hatch)
{
  double sx = 1, sy = 0, dx, dy;
  cairo_user_to_device_distance(cr, &sx, &sy);
  cairo_surface_get_device_scale(cairo_get_target(cr), &dx, &dy);
  double fine = fmax(hypot(sx, sy) * dx, 0.25); // pixels per user unit
  double unit = lzd_look_unit(look);
  double period = kinds[hatch].pitch * M_SQRT2 * unit;
  int n = (int)fmax(4, round(period * kinds[hatch].periods * fine));
  cairo_surface_t *tile = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, n, n);
  cairo_t *pen = cairo_create(tile);
  lzd_ink(pen, look->palette, kinds[hatch].role, 1);
  cairo_set_line_width(pen, kinds[hatch].width * unit * fine * look->palette->weight);
  cairo_rectangle(pen, 0, 0, n, n);
  cairo_clip(pen);
  rule_lines(pen, kinds[hatch].slope, (double)n / kinds[hatch].periods);
  cairo_destroy(pen);
  cairo_pattern_t *pattern = cairo_pattern_create_for_surface(tile);
  cairo_surface_destroy(tile);
  cairo_matrix_t matrix;
  cairo_matrix_init_scale(&matrix, fine, fine);
  cairo_pattern_set_matrix(pattern, &matrix);
  cairo_pattern_set_extend(pattern, CAIRO_EXTEND_REPEAT);
  cairo_pattern_set_filter(pattern, CAIRO_FILTER_NEAREST);
  return pattern;
}

void
lzd_hatch_fill(cairo_t *cr, lzd_hatch_cache *cache, const lzd_look *look, lzd_hatch hatch)
{
  if (is_vector(cr)) {
    double unit = lzd_look_unit(look);
    cairo_save(cr);
    cairo_clip(cr);
    lzd_ink(cr, look->palette, kinds[hatch].role, 1);
    cairo_set_dash(cr, NULL, 0, 0);
    cairo_set_line_width(cr, kinds[hatch].width * unit);
    rule_lines(cr, kinds[hatch].slope, kinds[hatch].pitch * M_SQRT2 * unit);
    cairo_restore(cr);
    return;
  }
  cairo_pattern_t *tile = cache ? cache->tile[hatch] : NULL;
  if (!tile)
    tile = make_tile(cr, look, hatch);
  cairo_set_source(cr, tile);
  cairo_fill(cr);
  if (cache)
    cache->tile[hatch] = tile;
  else
    cairo_pattern_destroy(tile);
}

void
lzd_hatch_clear(lzd_hatch_cache *cache)
{
  for (int i = 0; i < LZD_HATCHES; i++) {
    if (cache->tile[i])
      cairo_pattern_destroy(cache->tile[i]);
    cache->tile[i] = NULL;
  }
}
