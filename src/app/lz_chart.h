// SPDX-License-Identifier: GPL-3.0-or-later
// The chart of a water on screen: the drawing layer's chart with a keyboard cursor, zoom and pan.
// Role img with a sentence as its label; the same data as a table is the place's F8.
#ifndef LZ_CHART_H
#define LZ_CHART_H

#include <gtk/gtk.h>

#include "lz_chart_model.h"
#include "lz_pad.h"

#define LZ_TYPE_CHART (lz_chart_get_type())
G_DECLARE_FINAL_TYPE(LzChart, lz_chart, LZ, CHART, GtkWidget)

// Signal "reload" (gint64 from, gint64 to): the window left what the model covers.
GtkWidget *lz_chart_new(void);
// model (transfer full). reset: show all of it; else the window stays.
void lz_chart_set_model(LzChart *self, LzChartModel *model, lzd_window whole, gboolean reset);
LzChartModel *lz_chart_model(LzChart *self);
// Left and right along readings or events, up and down between panels and rails, plus and minus
// zoom.
gboolean lz_chart_key(LzChart *self, LzPadKey key);
void lz_chart_zoom(LzChart *self, double factor);
void lz_chart_pan(LzChart *self, double share);
void lz_chart_show_whole(LzChart *self);
void lz_chart_show_span(LzChart *self, lzd_minute wide); // an hour to ten years, the cursor stays
lzd_window lz_chart_window(LzChart *self);
// Takes the cursor away; FALSE if there was none.
gboolean lz_chart_clear_cursor(LzChart *self);
// The entry of the reading or event at the cursor; 0 = none.
gint64 lz_chart_entry(LzChart *self);
// For tests: the cursor's minute, LZD_NEVER if there is none.
lzd_minute lz_chart_cursor(LzChart *self);

// The chart as it is shown, with its title, on white; lz_chart_file.c.
gboolean lz_chart_save(LzChart *self, const char *path, lzd_format format, GError **error);
// What "copy" puts on the clipboard: the picture, and the table as tab-separated text.
GdkContentProvider *lz_chart_copy(LzChart *self);

#endif
