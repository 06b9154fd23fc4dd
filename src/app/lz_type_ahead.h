// SPDX-License-Identifier: GPL-3.0-or-later
// A closed list answers to keys: arrows step through it, letters find a name by its beginning.
#ifndef LZ_TYPE_AHEAD_H
#define LZ_TYPE_AHEAD_H

#include <gtk/gtk.h>

// drop: its model holds strings (GtkStringList).
void lz_type_ahead_add(GtkDropDown *drop);

#endif
