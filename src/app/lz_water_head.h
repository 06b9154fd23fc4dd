// SPDX-License-Identifier: GPL-3.0-or-later
// The head of a water's page: what its fish are under, and its tanks as a divided basin.
#ifndef LZ_WATER_HEAD_H
#define LZ_WATER_HEAD_H

#include <lz_desk.h>
#include <lz_rows.h>

#include "lz_sign.h"

// The water of that name; where nobody chose one, the first under treatment, or the first of all.
// NULL = there is none. Valid until the next change.
const LzSystemInfo *lz_water_shown(LzDesk *desk, const char *name);
// What the lots in this water are under, in words; newly allocated.
char *lz_water_courses(LzDesk *desk, const LzSystemInfo *system);
void lz_water_cells(LzSign *sign, LzDesk *desk, const LzSystemInfo *system);
// "900 L net, 30 fish, 1 lot"; newly allocated.
char *lz_water_burden(const LzSystemInfo *system);
// One toggle per system, its basin in it, its state as description; `now` is pressed, on_toggled
// (button, data) is called for the others. The name is a button's data "system".
void lz_water_fill_systems(GtkBox *box, LzDesk *desk, const LzSystemInfo *now, GCallback on_toggled,
                           gpointer data);

#endif
