// SPDX-License-Identifier: GPL-3.0-or-later
// Everything that can be written down, by the words that a person would look for: found by "/".
#ifndef LZ_ACTS_H
#define LZ_ACTS_H

#include <gtk/gtk.h>

GListModel *lz_acts(void);                     // of LzTextRow (transfer full)
void lz_acts_open(GtkWidget *from, gint64 id); // the row's id
#endif
