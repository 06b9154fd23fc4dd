// SPDX-License-Identifier: GPL-3.0-or-later
// The Station place: set-up and the ledger.
#ifndef LZ_STATION_VIEW_H
#define LZ_STATION_VIEW_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#define LZ_TYPE_STATION_VIEW (lz_station_view_get_type())
G_DECLARE_FINAL_TYPE(LzStationView, lz_station_view, LZ, STATION_VIEW, GtkWidget)

GtkWidget *lz_station_view_new(LzDesk *desk);

#endif
