// SPDX-License-Identifier: GPL-3.0-or-later
// What one water needs of one analyte now: the amount, what of, the working line by line, what a
// gate says to it, and the caution.
#ifndef LZ_WATER_DOSE_H
#define LZ_WATER_DOSE_H

#include <gtk/gtk.h>
#include <lz_rows.h>

#define LZ_TYPE_WATER_DOSE (lz_water_dose_get_type())
G_DECLARE_FINAL_TYPE(LzWaterDose, lz_water_dose, LZ, WATER_DOSE, GtkWidget)

// Empties the box and fills it with one for every analyte about which there is something to say.
// FALSE where there is none.
gboolean lz_water_doses_fill(GtkBox *box, LzDesk *desk, const LzSystemInfo *info);

#endif
