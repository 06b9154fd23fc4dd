// SPDX-License-Identifier: GPL-3.0-or-later
// Above the table of the ledger: filters, the check of the chain, and the export.
#ifndef LZ_LEDGER_BAR_H
#define LZ_LEDGER_BAR_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#include "lz_text_table.h"

#define LZ_TYPE_LEDGER_BAR (lz_ledger_bar_get_type())
G_DECLARE_FINAL_TYPE(LzLedgerBar, lz_ledger_bar, LZ, LEDGER_BAR, GtkWidget)

// Signal "changed": other entries are wanted now.
void lz_ledger_bar_set_desk(LzLedgerBar *self, LzDesk *desk);
// What is wanted, as LzTextRow elements, newest first, ids of the first entries (transfer full).
GListModel *lz_ledger_bar_rows(LzLedgerBar *self);
// Shows the entry of this id, the first of its chain, in `table`: the filters stay where they let
// it through, else they are taken away, and that is said.
void lz_ledger_bar_show_entry(LzLedgerBar *self, LzTextTable *table, gint64 id);
// FALSE: what it lists are lots and people, not entries.
gboolean lz_ledger_bar_lists_entries(LzLedgerBar *self);
// What is typed into `widget` (the table) is looked for.
void lz_ledger_bar_listen(LzLedgerBar *self, GtkWidget *widget);

#endif
