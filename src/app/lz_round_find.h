// SPDX-License-Identifier: GPL-3.0-or-later
// Lines of the round looked for in the desk's model of them.
#ifndef LZ_ROUND_FIND_H
#define LZ_ROUND_FIND_H

#include <gtk/gtk.h>
#include <lz_rows.h>

// The first line that can be done now; blocked and waiting ones are passed over. 0 = none can.
guint lz_round_first_doable(GListModel *tasks);
// Position of the line with that key; GTK_INVALID_LIST_POSITION = none, or no key.
guint lz_round_find(GListModel *tasks, const char *key);
gboolean lz_round_is_due(const lzq_task *task, lzq_minute now);

#endif
