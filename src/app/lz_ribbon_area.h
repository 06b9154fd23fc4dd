// SPDX-License-Identifier: GPL-3.0-or-later
// Ribbons on screen: one lot's way, or the lanes of the whole station.
#ifndef LZ_RIBBON_AREA_H
#define LZ_RIBBON_AREA_H

#include <gtk/gtk.h>

#include "lz_pad.h"
#include "lz_ribbon_model.h"

#define LZ_TYPE_RIBBON_AREA (lz_ribbon_area_get_type())
G_DECLARE_FINAL_TYPE(LzRibbonArea, lz_ribbon_area, LZ, RIBBON_AREA, GtkWidget)

// Signal "chosen" (guint lot): a press on a ribbon.
GtkWidget *lz_ribbon_area_new(void);
void lz_ribbon_area_set(LzRibbonArea *self, LzRibbonModel *model); // (transfer full)
LzRibbonModel *lz_ribbon_area_model(LzRibbonArea *self);
// Plus and minus zoom, left and right pan.
gboolean lz_ribbon_area_key(LzRibbonArea *self, LzPadKey key);

#endif
