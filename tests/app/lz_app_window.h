// SPDX-License-Identifier: GPL-3.0-or-later
// The whole window on a small station, laid out and painted: what tests of its look share.
#ifndef LZ_APP_WINDOW_H
#define LZ_APP_WINDOW_H

#include "lz_app_station.h"
#include "lz_app_test.h"
#include "lz_window.h"

// Registers the application, once in a process; FALSE without a display.
gboolean lz_app_window_init(void);
// Fixtures: a station with one lot, and its window, mapped.
void lz_app_window_setup(void);
void lz_app_window_setup_demo(void); // the demo station at LZ_APP_NOW, with its hundred lines
void lz_app_window_teardown(void);
LzWindow *lz_app_window(void);
LzAppStation *lz_app_window_station(void);

// A palette, percent of text, and a place, painted.
void lz_app_window_theme(const char *theme);
void lz_app_window_text(int percent);
void lz_app_window_size(int width, int height);
void lz_app_window_go(const char *place);
// Waits until frames have passed in which nothing moves.
void lz_app_window_settle(void);

// The first widget of a type at or below one; NULL = none.
gpointer lz_app_below(GtkWidget *root, GType type);

// The window's pixels, RGB24; caller destroys.
cairo_surface_t *lz_app_window_picture(void);
uint32_t lz_app_pixel(cairo_surface_t *picture, int x, int y); // 0xRRGGBB

// Calls visit for every widget that is shown whole (nothing scrolls a part of it away), with its
// box in the picture.
typedef void (*LzAppVisit)(GtkWidget *widget, const GdkRectangle *box, gpointer data);
void lz_app_window_each(LzAppVisit visit, gpointer data);

#endif
