// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: the rules that an entry must meet before it is written.
#ifndef LZS_CHECK_H
#define LZS_CHECK_H

#include "lzs_db.h"

// Checks one entry whose references are resolved against its kind and against the entries before
// it. A person named by who or witness may be made by an entry at or after this one but not after
// last_new: the database checks it at commit. Fills error with field and value.
lzs_status lzs_check_entry(lzs_store *store, const lzs_entry *entry, int64_t last_new,
                           lzs_error *error);

// Whether id names the first entry of an entity or fact of that kind.
lzs_status lzs_check_reference(lzs_store *store, const char *field, int64_t id, lzs_kind wanted,
                               lzs_error *error);

// Remembers an entry just written, so that the next ones need not ask the file about it.
void lzs_check_remember(lzs_store *store, const lzs_entry *entry);

#endif
