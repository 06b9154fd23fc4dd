// SPDX-License-Identifier: GPL-3.0-or-later
// One entry of the ledger, read only, as reports, tables and the ledger page want it.
#ifndef LZ_ENTRY_H
#define LZ_ENTRY_H

#include <glib.h>
#include <lzq_model.h>

typedef struct _LzEntry LzEntry; // reference counted

LzEntry *lz_entry_ref(LzEntry *entry);
void lz_entry_unref(LzEntry *entry);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzEntry, lz_entry_unref)

int64_t lz_entry_id(const LzEntry *entry);
const char *lz_entry_kind(const LzEntry *entry); // "reading"
lzq_minute lz_entry_at(const LzEntry *entry);    // when it happened, UTC
int lz_entry_offset(const LzEntry *entry);       // what the wall clock showed, minutes ahead of UTC
int64_t lz_entry_recorded_ms(const LzEntry *entry);
int64_t lz_entry_who(const LzEntry *entry); // person id, 0 = nobody
int64_t lz_entry_witness(const LzEntry *entry);
const char *lz_entry_reason(const LzEntry *entry); // NULL = none
int64_t lz_entry_corrects(const LzEntry *entry);   // id of the FIRST entry, 0 = none
gboolean lz_entry_voided(const LzEntry *entry);
int64_t lz_entry_entity(const LzEntry *entry); // set-up kinds; 0 = this entry makes the entity
const char *lz_entry_pc(const LzEntry *entry); // 32 hex digits
int64_t lz_entry_pc_seq(const LzEntry *entry);
const char *lz_entry_hash(const LzEntry *entry); // 64 hex digits

// Fields by name. A field that is not set: FALSE, NAN, 0, NULL.
gboolean lz_entry_has(const LzEntry *entry, const char *field);
double lz_entry_number(const LzEntry *entry, const char *field); // INT, REAL, BOOL
int64_t lz_entry_int(const LzEntry *entry, const char *field);   // INT, BOOL, REF (an id)
// Index of the word in a field of words, -1 if not set: the order of the engine.
int lz_entry_word(const LzEntry *entry, const char *field);
const char *lz_entry_text(const LzEntry *entry, const char *field); // TEXT, WORD

#endif
