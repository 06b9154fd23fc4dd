// SPDX-License-Identifier: GPL-3.0-or-later
// What this login prefers, straight onto GSettings: every change acts at once and is kept. Below it
// the hours of the station's shifts, which are an entry of its ledger like any other.
#ifndef LZ_PREFERENCES_H
#define LZ_PREFERENCES_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#define LZ_TYPE_PREFERENCES (lz_preferences_get_type())
G_DECLARE_FINAL_TYPE(LzPreferences, lz_preferences, LZ, PREFERENCES, GtkWindow)

GtkWidget *lz_preferences_new(GtkWindow *above, LzDesk *desk); // desk NULL = none is open

#endif
