// SPDX-License-Identifier: GPL-3.0-or-later
// Names for assistive technology where GTK 4.8 leaves a widget that takes the focus without one:
// rows of lists, the button inside a drop-down or a menu button, buttons with a mnemonic.
#ifndef LZ_ACCESS_H
#define LZ_ACCESS_H

#include <gtk/gtk.h>

// The row of a list or table that this child stands in (bound to it already).
void lz_access_row(GtkWidget *child, const char *name, const char *description);
// A drop-down or menu button and the button inside it that takes the focus. A drop-down says what
// is chosen after its name.
void lz_access_inner(GtkWidget *widget, const char *name);
// Tab from a row goes on behind the whole list (the arrows walk its rows), or GTK 4.8 would stop at
// each of ten years' entries. FALSE = the focus is in no list, or nothing follows.
gboolean lz_access_leave_list(GtkWidget *focus, GtkDirectionType direction);
// Every button with a mnemonic below `root` loses the underscore in its name; panes that scroll,
// and what GTK itself leaves nameless in its shortcuts window, get one.
void lz_access_plain(GtkWidget *root);
// A widget that `why_not` shuts to whoever is here: it says so; NULL = open, and says `otherwise`.
void lz_access_shut(GtkWidget *widget, const char *why_not, const char *otherwise);

#endif
