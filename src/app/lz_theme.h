// SPDX-License-Identifier: GPL-3.0-or-later
// Which palette is on, for CSS and for the drawing layer alike.
#ifndef LZ_THEME_H
#define LZ_THEME_H

#include <gtk/gtk.h>

#include "lz_settings.h"

// Loads the style sheets for the display and follows the setting and the desktop from then on.
void lz_theme_start(GdkDisplay *display);
// What is shown now: light, dark or contrast, never "system".
LzTheme lz_theme_now(void);
// How much larger than designed text is: the desktop's text scale times this PC's setting.
double lz_theme_text_scale(void);

#endif
