// SPDX-License-Identifier: GPL-3.0-or-later
// Columns that lie below each other where the text is large for the screen. The last one takes the
// room that is left if it expands; of three, it is the one that must be seen, so the middle one
// goes below first.
#ifndef LZ_FOLD_H
#define LZ_FOLD_H

#include <gtk/gtk.h>

#define LZ_TYPE_FOLD (lz_fold_get_type())
G_DECLARE_FINAL_TYPE(LzFold, lz_fold, LZ, FOLD, GtkWidget)

#endif
