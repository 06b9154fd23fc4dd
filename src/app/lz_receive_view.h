// SPDX-License-Identifier: GPL-3.0-or-later
// Receiving, a page of the round: all boxes of one shipment, recorded as one act. What is typed is
// kept beside the ledger from the first key on, and comes back after a power cut.
#ifndef LZ_RECEIVE_VIEW_H
#define LZ_RECEIVE_VIEW_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#define LZ_TYPE_RECEIVE_VIEW (lz_receive_view_get_type())
G_DECLARE_FINAL_TYPE(LzReceiveView, lz_receive_view, LZ, RECEIVE_VIEW, GtkWidget)

GtkWidget *lz_receive_view_new(LzDesk *desk);

#endif
