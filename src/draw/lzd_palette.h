// SPDX-License-Identifier: GPL-3.0-or-later
// Colours by role, never by name, and the contrast between two of them. No meaning is carried by
// colour alone: shape, word and position say it first. There is no green and no red in any palette.
#ifndef LZD_PALETTE_H
#define LZD_PALETTE_H

#include <stdint.h>
#include <cairo.h>

typedef enum {
  LZD_BACKGROUND,  // of a window or a sheet
  LZD_SURFACE,     // fields, callouts
  LZD_SUNK,        // bars, done work
  LZD_TEXT,        // text, marks, band edges
  LZD_TEXT2,       // second text, axes
  LZD_ACCENT,      // now, estimate, ribbon, served
  LZD_ALARM,       // late, stop, out of band
  LZD_RULE,        // control outlines, axis ticks
  LZD_PLANNED,     // outlines of what is planned
  LZD_HATCH,       // lines of the band hatch; the band's edges carry it
  LZD_HAIRLINE,    // decorative lines
  LZD_ACCENT_TINT, // inside of a planned ribbon
  LZD_ALARM_TINT,  // inside of a warning
  LZD_ROLES
} lzd_role;

typedef enum {
  LZD_LIGHT,
  LZD_DARK,
  LZD_PRINT,
  LZD_LIGHT_CONTRAST, // high contrast, black on white
  LZD_DARK_CONTRAST,  // high contrast, white on black
  LZD_THEMES
} lzd_theme;

typedef struct {
  uint32_t rgb[LZD_ROLES]; // 0xRRGGBB
  double interval_alpha;   // fill of an estimate's interval
  double forecast_alpha;   // fill of a forecast's interval
  double weight;           // line widths times this: 1, high contrast more
} lzd_palette;

// A static palette, never NULL (an unknown theme answers the light one).
const lzd_palette *lzd_palette_get(lzd_theme theme);

// A role's name in style sheets: "background", "accent_tint". NULL for no role.
const char *lzd_role_name(lzd_role role);

// Contrast ratio of two colours 0xRRGGBB, 1 to 21, by relative luminance. Source: W3C, WCAG 2.1,
// definitions "relative luminance" and "contrast ratio".
double lzd_contrast(uint32_t rgb, uint32_t other);

// Sets the source colour of cr. alpha 0 to 1.
void lzd_ink(cairo_t *cr, const lzd_palette *palette, lzd_role role, double alpha);

#endif
