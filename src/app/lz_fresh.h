// SPDX-License-Identifier: GPL-3.0-or-later
// Made anew when it is seen: an entry costs what is in sight, not every place of the window. What
// is hidden only remembers that it is old, and is made anew before it comes into sight again.
#ifndef LZ_FRESH_H
#define LZ_FRESH_H

#include <glib-object.h>
#include <gtk/gtk.h>

// Makes what the widget shows anew, by what the desk says now.
typedef void (*LzFreshMake)(gpointer widget);

// The widget, not yet made, is made as soon as it is seen. Once for each widget.
void lz_fresh_keep(gpointer widget, LzFreshMake make);
// What it shows may have changed: made at once if it is seen, else before it is.
void lz_fresh_old(gpointer widget);
// Made now if it is old, whether seen or not: before it is asked what it shows.
void lz_fresh_now(gpointer widget);
// The widget and all that it stands in are to be shown, in a window; which may be on its way.
gboolean lz_fresh_is_seen(GtkWidget *widget);

#endif
