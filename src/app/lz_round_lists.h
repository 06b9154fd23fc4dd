// SPDX-License-Identifier: GPL-3.0-or-later
// The lists of the Round: how its rows are made, the heads of their columns, what was done.
#ifndef LZ_ROUND_LISTS_H
#define LZ_ROUND_LISTS_H

#include "lz_round_row.h"

// model: a list of LzTaskRow. desk and columns must outlive the list.
void lz_round_list_fill(GtkListView *list, LzDesk *desk, const LzRoundColumns *columns,
                        GListModel *model);
void lz_round_heads_fill(GtkBox *box, const LzRoundColumns *columns);
// done: of LzDoneRow, the newest first; how many are not shown is said in `earlier`.
void lz_done_list_fill(GtkListView *list, GListModel *done, GtkLabel *earlier);
const char *lz_round_title(LzDesk *desk); // by the time of day

#endif
