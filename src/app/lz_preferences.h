// SPDX-License-Identifier: GPL-3.0-or-later
// What this login prefers, straight onto GSettings: every change acts at once and is kept.
#ifndef LZ_PREFERENCES_H
#define LZ_PREFERENCES_H

#include <gtk/gtk.h>

#define LZ_TYPE_PREFERENCES (lz_preferences_get_type())
G_DECLARE_FINAL_TYPE(LzPreferences, lz_preferences, LZ, PREFERENCES, GtkWindow)

GtkWidget *lz_preferences_new(GtkWindow *above);

#endif
