// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the banks: one bank and how far it has been fed.
#ifndef LZ_BANKS_PRIVATE_H
#define LZ_BANKS_PRIVATE_H

#include "lz_banks.h"

typedef struct {
  lzq_water_bank bank;
  gboolean made;
  guint generation;   // of the model that it was made from
  guint seen;         // records of the model looked at
  guint taken;        // of the water's own list
  guint unsaved;      // fed since the last checkpoint
  gboolean waits;     // see lz_banks_feeds
  lzq_minute begin;   // see lz_banks_begin
  lzq_minute last_at; // of the last record fed
  uint8_t last_kind;
  double reference; // see lz_banks_reference
  lzq_form form;
  guint stands, parts; // of the model when that reference was looked for; G_MAXUINT = not known
} LzKept;

struct _LzBanks {
  GHashTable *kept; // system * LZQ_N_ANALYTES + analyte -> LzKept (owned)
  guint made;
};

// The place of a pair, made where there is none.
LzKept *lz_banks_kept(LzBanks *banks, uint32_t system, lzq_analyte analyte);

#endif
