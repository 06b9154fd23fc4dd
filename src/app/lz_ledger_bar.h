// SPDX-License-Identifier: GPL-3.0-or-later
// Above the table of the ledger: filters, the check of the chain, and the export.
#ifndef LZ_LEDGER_BAR_H
#define LZ_LEDGER_BAR_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#define LZ_TYPE_LEDGER_BAR (lz_ledger_bar_get_type())
G_DECLARE_FINAL_TYPE(LzLedgerBar, lz_ledger_bar, LZ, LEDGER_BAR, GtkWidget)

// Signal "changed": other entries are wanted now.
void lz_ledger_bar_set_desk(LzLedgerBar *self, LzDesk *desk);
// What is wanted, as LzTextRow elements, newest first, ids of the first entries (transfer full).
GListModel *lz_ledger_bar_rows(LzLedgerBar *self);
// Takes all filters away; words NULL or "#17".
void lz_ledger_bar_look_for(LzLedgerBar *self, const char *words);
// What is typed into `widget` (the table) is looked for.
void lz_ledger_bar_listen(LzLedgerBar *self, GtkWidget *widget);

#endif
