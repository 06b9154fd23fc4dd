// SPDX-License-Identifier: GPL-3.0-or-later
// The lots of one water to choose from, for a question that is about fish: all of them at first.
#ifndef LZ_AMOUNT_LOTS_H
#define LZ_AMOUNT_LOTS_H

#include <gtk/gtk.h>
#include <lz_desk.h>

// A box for them; `changed` with `data` after each edit.
GtkWidget *lz_amount_lots_new(GCallback changed, gpointer data);
// Those that live in the water now; one that was left out stays so. LZQ_NONE = none.
void lz_amount_lots_show(GtkWidget *box, LzDesk *desk, uint32_t system);
// uint32_t, newly allocated; NULL = there is none to choose from.
GArray *lz_amount_lots_chosen(GtkWidget *box);

#endif
