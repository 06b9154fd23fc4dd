// SPDX-License-Identifier: GPL-3.0-or-later
// Handing over, a page of the round: read aloud line by line, ticked by whoever takes over, then
// signed by them with their initials (and PIN, where the station asks for one).
#ifndef LZ_HANDOVER_VIEW_H
#define LZ_HANDOVER_VIEW_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#define LZ_TYPE_HANDOVER_VIEW (lz_handover_view_get_type())
G_DECLARE_FINAL_TYPE(LzHandoverView, lz_handover_view, LZ, HANDOVER_VIEW, GtkWidget)

GtkWidget *lz_handover_view_new(LzDesk *desk);

#endif
