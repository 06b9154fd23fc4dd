// SPDX-License-Identifier: GPL-3.0-or-later
// The five palettes. tests/draw/test_palette.c computes every contrast that is promised here.
#include "lzd_palette.h"

#include <math.h>
#include <stddef.h>

static const lzd_palette palettes[LZD_THEMES] = {
    [LZD_LIGHT] =
        {
            .rgb =
                {
                    [LZD_BACKGROUND] = 0xFAFAF8,
                    [LZD_SURFACE] = 0xFFFFFF,
                    [LZD_SUNK] = 0xF0F1EE,
                    [LZD_TEXT] = 0x1B2125,
                    [LZD_TEXT2] = 0x4E585F,
                    [LZD_ACCENT] = 0x1A4F8B,
                    [LZD_ALARM] = 0x9C3208,
                    [LZD_RULE] = 0x7C868D,
                    [LZD_PLANNED] = 0x5B7FA8,
                    [LZD_HATCH] = 0x8FA0AE,
                    [LZD_HAIRLINE] = 0xD3D8DA,
                    [LZD_ACCENT_TINT] = 0xE4ECF5,
                    [LZD_ALARM_TINT] = 0xFBEEE6,
                },
            .interval_alpha = 0.22,
            .forecast_alpha = 0.10,
            .weight = 1,
        },
    [LZD_DARK] =
        {
            .rgb =
                {
                    [LZD_BACKGROUND] = 0x15191C,
                    [LZD_SURFACE] = 0x1E2429,
                    [LZD_SUNK] = 0x101315,
                    [LZD_TEXT] = 0xE9ECED,
                    [LZD_TEXT2] = 0xAEB8BE,
                    [LZD_ACCENT] = 0x86B9EC,
                    [LZD_ALARM] = 0xF2A074,
                    [LZD_RULE] = 0x828E97,
                    [LZD_PLANNED] = 0x6B96C4,
                    [LZD_HATCH] = 0x5E6E7C,
                    [LZD_HAIRLINE] = 0x37414A,
                    [LZD_ACCENT_TINT] = 0x1F3448,
                    [LZD_ALARM_TINT] = 0x38241A,
                },
            .interval_alpha = 0.22,
            .forecast_alpha = 0.10,
            .weight = 1,
        },
    // All at 100 % black but hairlines and hatches: a worn laser printer and a copier keep it.
    [LZD_PRINT] =
        {
            .rgb =
                {
                    [LZD_BACKGROUND] = 0xFFFFFF,
                    [LZD_SURFACE] = 0xFFFFFF,
                    [LZD_SUNK] = 0xFFFFFF,
                    [LZD_TEXT] = 0x000000,
                    [LZD_TEXT2] = 0x333333,
                    [LZD_ACCENT] = 0x000000,
                    [LZD_ALARM] = 0x000000,
                    [LZD_RULE] = 0x000000,
                    [LZD_PLANNED] = 0x000000,
                    [LZD_HATCH] = 0x555555,
                    [LZD_HAIRLINE] = 0xB0B0B0,
                    [LZD_ACCENT_TINT] = 0xFFFFFF,
                    [LZD_ALARM_TINT] = 0xFFFFFF,
                },
            .interval_alpha = 0.14,
            .forecast_alpha = 0,
            .weight = 1,
        },
    [LZD_LIGHT_CONTRAST] =
        {
            .rgb =
                {
                    [LZD_BACKGROUND] = 0xFFFFFF,
                    [LZD_SURFACE] = 0xFFFFFF,
                    [LZD_SUNK] = 0xFFFFFF,
                    [LZD_TEXT] = 0x000000,
                    [LZD_TEXT2] = 0x000000,
                    [LZD_ACCENT] = 0x003A7A,
                    [LZD_ALARM] = 0x7A2000,
                    [LZD_RULE] = 0x000000,
                    [LZD_PLANNED] = 0x003A7A,
                    [LZD_HATCH] = 0x4A545B,
                    [LZD_HAIRLINE] = 0x5E686F,
                    [LZD_ACCENT_TINT] = 0xDCEBFF,
                    [LZD_ALARM_TINT] = 0xFFE9DC,
                },
            .interval_alpha = 0.30,
            .forecast_alpha = 0.15,
            .weight = 1.35,
        },
    [LZD_DARK_CONTRAST] =
        {
            .rgb =
                {
                    [LZD_BACKGROUND] = 0x000000,
                    [LZD_SURFACE] = 0x000000,
                    [LZD_SUNK] = 0x000000,
                    [LZD_TEXT] = 0xFFFFFF,
                    [LZD_TEXT2] = 0xFFFFFF,
                    [LZD_ACCENT] = 0x9FD0FF,
                    [LZD_ALARM] = 0xFFB27A,
                    [LZD_RULE] = 0xFFFFFF,
                    [LZD_PLANNED] = 0x9FD0FF,
                    [LZD_HATCH] = 0xB8C4CE,
                    [LZD_HAIRLINE] = 0x8A949B,
                    [LZD_ACCENT_TINT] = 0x00233F,
                    [LZD_ALARM_TINT] = 0x3A1C00,
                },
            .interval_alpha = 0.35,
            .forecast_alpha = 0.18,
            .weight = 1.35,
        },
};

const lzd_palette *
lzd_palette_get(lzd_theme theme)
{
  return theme < LZD_THEMES ? &palettes[theme] : &palettes[LZD_LIGHT];
}

const char *
lzd_role_name(lzd_role role)
{
  static const char *const names[LZD_ROLES] = {
      [LZD_BACKGROUND] = "background",
      [LZD_SURFACE] = "surface",
      [LZD_SUNK] = "sunk",
      [LZD_TEXT] = "text",
      [LZD_TEXT2] = "text2",
      [LZD_ACCENT] = "accent",
      [LZD_ALARM] = "alarm",
      [LZD_RULE] = "rule",
      [LZD_PLANNED] = "planned",
      [LZD_HATCH] = "hatch",
      [LZD_HAIRLINE] = "hairline",
      [LZD_ACCENT_TINT] = "accent_tint",
      [LZD_ALARM_TINT] = "alarm_tint",
  };
  return role < LZD_ROLES ? names[role] : NULL;
}

// W3C, WCAG 2.1, relative luminance: sRGB channel to linear light.
static double
channel(uint32_t eight_bit)
{
  double s = eight_bit / 255.0;
  return s <= 0.03928 ? s / 12.92 : pow((s + 0.055) / 1.055, 2.4);
}

static double
luminance(uint32_t rgb)
{
  return 0.2126 * channel(rgb >> 16 & 255) + 0.7152 * channel(rgb >> 8 & 255) +
         0.0722 * channel(rgb & 255);
}

double
lzd_contrast(uint32_t rgb, uint32_t other)
{
  double a = luminance(rgb), b = luminance(other);
  return a > b ? (a + 0.05) / (b + 0.05) : (b + 0.05) / (a + 0.05);
}

void
lzd_ink(cairo_t *cr, const lzd_palette *palette, lzd_role role, double alpha)
{
  uint32_t rgb = palette->rgb[role];
  cairo_set_source_rgba(cr, (rgb >> 16 & 255) / 255.0, (rgb >> 8 & 255) / 255.0,
                        (rgb & 255) / 255.0, alpha);
}
