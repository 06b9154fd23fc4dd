// SPDX-License-Identifier: GPL-3.0-or-later
// Looking through the ledger in slices of the main loop: a ledger of ten years takes seconds, and
// whoever typed a word types the next one meanwhile.
#ifndef LZ_LEDGER_LOOK_H
#define LZ_LEDGER_LOOK_H

#include <lz_ledger.h>

typedef struct LzLedgerLook LzLedgerLook;

// `looked` hears that there are other rows or words, from the main loop.
typedef void (*LzLedgerLooked)(gpointer data);
LzLedgerLook *lz_ledger_look_new(LzDesk *desk, LzLedgerLooked looked, gpointer data);
void lz_ledger_look_free(LzLedgerLook *look);

// What is wanted from now on; filter NULL = what is past keeping. Asked again for the same, it
// looks again only where the ledger has grown, and not before it has come to the end. A small
// ledger is gone through at once. error: there is nothing of that name, and no rows.
void lz_ledger_look_for(LzLedgerLook *look, const LzLedgerFilter *filter, GError **error);

// LzTextRow elements, newest first; the look's own.
GListModel *lz_ledger_look_rows(LzLedgerLook *look);
// How many there are, or how far it is; newly allocated.
char *lz_ledger_look_words(LzLedgerLook *look);

#endif
