// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: the two steps of a salvage, and what they hand on. First every entry is read by itself
// and held against its chain; then what can be kept is written.
#ifndef LZS_SALVAGE_H
#define LZS_SALVAGE_H

#include "lzs_db.h"

// What is known of one id.
typedef struct {
  uint8_t fate; // lzs_fate
  bool named;   // another entry rests on it
  bool there;   // it could be read, whatever its hash
  bool absent;  // nothing says that there ever was an entry of this id
} lzs_finding;

// A hash column that was damaged while its entry was not.
typedef struct {
  int64_t id;
  uint8_t hash[32];
} lzs_mended;

typedef struct {
  lzs_store *from;
  lzs_finding *of; // 0 .. last
  int64_t last;
  lzs_mended *mended;
  size_t n_mended;
} lzs_findings;

// Reads one entry whatever lies around it; false if it cannot be read whole. Its strings live until
// the next call.
bool lzs_salvage_read(lzs_findings *found, int64_t id, lzs_entry *entry);
// Holds every entry against its chain.
lzs_status lzs_salvage_judge(lzs_findings *found, lzs_error *error);
// Writes what is kept, in one transaction.
lzs_status lzs_salvage_keep(lzs_findings *found, lzs_store *to, lzs_each_fate each, void *ctx,
                            lzs_salvage_result *out, lzs_error *error);

#endif
