// SPDX-License-Identifier: GPL-3.0-or-later
// Which entry of the ledger is chosen where one stands, so that F7 opens the ledger at that very
// entry: a widget says which one it shows, a place which one is selected in it.
#ifndef LZ_CHOSEN_H
#define LZ_CHOSEN_H

#include "lz_place.h"

// id: any entry of a chain of corrections; 0 = none.
void lz_chosen_mark(GtkWidget *widget, gint64 id);
// Of the widget with the focus or those around it, else of the place; 0 = none. Both may be NULL.
gint64 lz_chosen_entry(GtkWidget *focus, LzPlace *place);

#endif
