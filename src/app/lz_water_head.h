// SPDX-License-Identifier: GPL-3.0-or-later
// The head of a water's page: what its fish are under, and its tanks as a divided basin.
#ifndef LZ_WATER_HEAD_H
#define LZ_WATER_HEAD_H

#include <lz_desk.h>
#include <lz_rows.h>

#include "lz_sign.h"

// What the lots in this water are under, in words; newly allocated.
char *lz_water_courses(LzDesk *desk, const LzSystemInfo *system);
void lz_water_cells(LzSign *sign, LzDesk *desk, const LzSystemInfo *system);
// "900 L net, 30 fish, 1 lot"; newly allocated.
char *lz_water_burden(const LzSystemInfo *system);
// The toggle that chooses a system: its basin, its name, its state as description; the name is its
// data "system".
GtkWidget *lz_water_basin(LzSystemRow *row);

#endif
