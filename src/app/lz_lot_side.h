// SPDX-License-Identifier: GPL-3.0-or-later
// The right column of a lot: what stands in the way of its release, what was seen, what was given.
#ifndef LZ_LOT_SIDE_H
#define LZ_LOT_SIDE_H

#include <gtk/gtk.h>
#include <lz_rows.h>
#include <lz_desk.h>

void lz_lot_side_whys(GtkLabel *title, GtkBox *box, LzDesk *desk, const LzLotInfo *lot);
void lz_lot_side_seen(GtkGrid *grid, LzDesk *desk, const LzLotInfo *lot);
// FALSE if nothing was given.
gboolean lz_lot_side_given(GtkGrid *grid, LzDesk *desk, const LzLotInfo *lot);

// What a digit of the pad writes down about the lot that is shown, 1 to 9 in the order of the
// buttons; NULL = nothing. The buttons show their digits.
const char *lz_lot_side_act(int digit);
void lz_lot_side_number(GtkFlowBox *acts);
// Shuts those that are not for whoever is at this PC.
void lz_lot_side_shut(GtkFlowBox *acts, LzDesk *desk, const LzLotInfo *lot);

#endif
