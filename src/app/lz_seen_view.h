// SPDX-License-Identifier: GPL-3.0-or-later
// What a sighting asks for, on the page of its water until it is answered: the lots it set back,
// that moves are stopped, a scrape, the contacts, and the ways on with their dates.
#ifndef LZ_SEEN_VIEW_H
#define LZ_SEEN_VIEW_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#include "lz_pad.h"

#define LZ_TYPE_SEEN_VIEW (lz_seen_view_get_type())
G_DECLARE_FINAL_TYPE(LzSeenView, lz_seen_view, LZ, SEEN_VIEW, GtkWidget)

// Signal "closed" (): somebody wants the chart.
GtkWidget *lz_seen_view_new(void);
// FALSE: nothing open in that water; the view is then empty.
gboolean lz_seen_view_set(LzSeenView *self, LzDesk *desk, uint32_t system);
// "White spot, today 09:00, 1 fish": of the open sighting; NULL if there is none.
const char *lz_seen_view_words(LzSeenView *self);
gint64 lz_seen_view_entry(LzSeenView *self); // 0 = none
bool lz_seen_view_key(LzSeenView *self, LzPadKey key);

#endif
