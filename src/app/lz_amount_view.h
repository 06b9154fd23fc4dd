// SPDX-License-Identifier: GPL-3.0-or-later
// How much to give, change or weigh, for any question that nobody planned: fields, the working line
// by line, cautions, source, and a button that opens the form of the entry. Called up from Water,
// Station and everywhere else by its key.
#ifndef LZ_AMOUNT_VIEW_H
#define LZ_AMOUNT_VIEW_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#define LZ_TYPE_AMOUNT_VIEW (lz_amount_view_get_type())
G_DECLARE_FINAL_TYPE(LzAmountView, lz_amount_view, LZ, AMOUNT_VIEW, GtkWidget)

GtkWidget *lz_amount_view_new(LzDesk *desk);
// Esc goes back to this place; system NULL leaves the water as it is.
void lz_amount_view_called_from(LzAmountView *self, const char *place, const char *system);

#endif
