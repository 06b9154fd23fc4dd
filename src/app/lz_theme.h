// SPDX-License-Identifier: GPL-3.0-or-later
// Which palette is on, for CSS and for the drawing layer alike.
#ifndef LZ_THEME_H
#define LZ_THEME_H

#include <gtk/gtk.h>
#include <lz_draw.h>
#include <stdbool.h>

#include "lz_settings.h"

// Loads the style sheets for the display and follows the setting and the desktop from then on.
void lz_theme_start(GdkDisplay *display);
// What is shown now, on screen and in drawings alike; static.
const lzd_palette *lz_theme_palette(void);

// What the desktop says of its look.
typedef struct {
  const char *gtk_theme; // its name, or GTK_THEME; may be NULL
  bool dark, contrast;   // what settings or the portal ask for
} LzDesktopLook;

// The look for a setting; never "system".
LzTheme lz_theme_choose(LzTheme setting, const LzDesktopLook *desktop);

// How much larger than designed text is: the desktop's text scale times this PC's setting.
double lz_theme_text_scale(void);

#endif
