// SPDX-License-Identifier: GPL-3.0-or-later
// The rows of the ledger's table (LzTextRow): entries, or what is past keeping.
#ifndef LZ_LEDGER_ROWS_H
#define LZ_LEDGER_ROWS_H

#include <gio/gio.h>
#include <lz_desk.h>
#include <lz_ledger.h>
#include <lz_retention.h>

// The row's id is that of the first entry of its chain.
void lz_ledger_append(GListStore *store, const LzLedgerLine *line);
// What need not be kept any longer, a list to act on; how much it is, in words, newly allocated.
char *lz_ledger_append_past(GListStore *store, LzDesk *desk, LzRetention *counted);

#endif
