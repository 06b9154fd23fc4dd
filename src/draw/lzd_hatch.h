// SPDX-License-Identifier: GPL-3.0-or-later
// The three hatches: band (6 px at +45 degrees), what-if (5 px at -45), not served (4 px at +45).
// On pixels a hatch is a small repeating tile, made once per drawing; on PDF and SVG it is lines.
#ifndef LZD_HATCH_H
#define LZD_HATCH_H

#include "lzd_base.h"

typedef enum { LZD_HATCH_BAND, LZD_HATCH_WHAT_IF, LZD_HATCH_NOT_SERVED, LZD_HATCHES } lzd_hatch;

// Tiles of one drawing. Zero-initialise, fill through lzd_hatch_fill, clear at the end.
typedef struct {
  cairo_pattern_t *tile[LZD_HATCHES];
} lzd_hatch_cache;

// Fills cr's current path with the hatch and clears the path. cache may be NULL.
void lzd_hatch_fill(cairo_t *cr, lzd_hatch_cache *cache, const lzd_look *look, lzd_hatch hatch);
void lzd_hatch_clear(lzd_hatch_cache *cache);

#endif
