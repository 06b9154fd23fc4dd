// SPDX-License-Identifier: GPL-3.0-or-later
// "/": a system, a tank or a lot by part of its name or number.
#ifndef LZ_GO_TO_H
#define LZ_GO_TO_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#define LZ_TYPE_GO_TO (lz_go_to_get_type())
G_DECLARE_FINAL_TYPE(LzGoTo, lz_go_to, LZ, GO_TO, GtkWidget)

// Signals: "chosen" (const char *place, const char *name), "cancelled".
void lz_go_to_open(LzGoTo *self, LzDesk *desk);
// For tests: what matches now, first match first, and its number.
guint lz_go_to_n_matches(LzGoTo *self);
void lz_go_to_type(LzGoTo *self, const char *text);
void lz_go_to_choose(LzGoTo *self);

#endif
