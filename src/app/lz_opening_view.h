// SPDX-License-Identifier: GPL-3.0-or-later
// What a window shows while a large station is being opened: which, how far it is, and a button
// that calls it off.
#ifndef LZ_OPENING_VIEW_H
#define LZ_OPENING_VIEW_H

#include <gtk/gtk.h>

#include "lz_opening.h"

#define LZ_TYPE_OPENING_VIEW (lz_opening_view_get_type())
G_DECLARE_FINAL_TYPE(LzOpeningView, lz_opening_view, LZ, OPENING_VIEW, GtkWidget)

// opening (transfer full). Signal "ended" once it has, or was called off; not when the view goes
// before.
GtkWidget *lz_opening_view_new(LzOpening *opening);
const char *lz_opening_view_path(LzOpeningView *self);
// In "ended": a desk (transfer full), NULL with error, or NULL without one: it was called off.
LzDesk *lz_opening_view_take(LzOpeningView *self, GError **error);

#endif
