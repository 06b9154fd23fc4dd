// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: filling the models from snapshot, plan and ledger.
#ifndef LZ_ROWS_PRIVATE_H
#define LZ_ROWS_PRIVATE_H

#include "lz_desk_private.h"

// How many of the newest entries the ledger's model keeps in memory; lz_desk_entries gives all.
#define LZ_LEDGER_ROWS 2000

// A lot at the minute of the rows, with or without a plan.
typedef struct {
  uint32_t system, tank; // LZQ_NONE = nowhere
  int32_t heads;
  gboolean living; // received, and neither gone nor dead
  gboolean released;
  uint32_t protocol; // LZQ_NONE = no course
  lzq_minute received_at;
} LzStanding;

void lz_rows_init(LzDesk *desk);   // empty lists
void lz_rows_update(LzDesk *desk); // all of them
void lz_rows_free(LzDesk *desk);

static inline const LzStanding *
lz_rows_standing(LzDesk *desk, uint32_t lot)
{
  return &g_array_index(desk->standing, LzStanding, lot);
}

// Texts of one row; freed with it.
GPtrArray *lz_rows_texts(void);
// A copy of a text that may be NULL, kept by the array; "" for NULL.
const char *lz_rows_text(GPtrArray *texts, const char *text);
// With a capital letter at its beginning; takes the text.
char *lz_rows_sentence(char *text);

// One file each.
void lz_rows_systems(LzDesk *desk);
void lz_rows_tanks(LzDesk *desk);
void lz_rows_lots(LzDesk *desk);
void lz_rows_round(LzDesk *desk); // tasks and what was done
void lz_rows_matters(LzDesk *desk);
void lz_rows_contacts(LzDesk *desk);
void lz_rows_ledger(LzDesk *desk);
// What later entries made of this one, and what it says in one line.
void lz_ledger_judge(const LzModel *m, const LzEntry *e, gboolean *corrected, gboolean *voided);
char *lz_ledger_what(LzDesk *desk, LzEntry *e);
void lz_rows_set_up(LzDesk *desk); // people, instruments, bottles, protocols

// How a carried level stands in a band at `now`.
LzMark lz_rows_mark(const lzq_band *band, double level, lzq_minute read_at, lzq_minute now);
// Beginning of the present shift.
lzq_minute lz_rows_shift_start(LzDesk *desk);

#endif
