// SPDX-License-Identifier: GPL-3.0-or-later
// Ways to choose from, numbered: what each is, its date, what it costs, what it needs. Choosing one
// opens the form that would record it; nothing starts by itself.
#ifndef LZ_WAY_LIST_H
#define LZ_WAY_LIST_H

#include <gtk/gtk.h>
#include <lz_desk.h>
#include <lz_ways.h>

#include "lz_pad.h"

#define LZ_TYPE_WAY_LIST (lz_way_list_get_type())
G_DECLARE_FINAL_TYPE(LzWayList, lz_way_list, LZ, WAY_LIST, GtkWidget)

GtkWidget *lz_way_list_new(void);
// ways: LzWay elements (transfer full). first: number of the first one, so that several lists on a
// page go on counting. What would be refused is told, and cannot be chosen.
void lz_way_list_set(LzWayList *self, LzDesk *desk, GPtrArray *ways, guint first);
// A digit chooses; true = it was one of these.
bool lz_way_list_key(LzWayList *self, LzPadKey key);

#endif
