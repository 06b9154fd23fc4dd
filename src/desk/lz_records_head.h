// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: what the sealed row beside the ledger says of this PC's copy of a large
// station's records.
#ifndef LZ_RECORDS_HEAD_H
#define LZ_RECORDS_HEAD_H

#include "lz_desk_private.h"
#include "lz_kept_file.h"

#define LZ_RECORDS_KEPT   "records"  // name of the row
#define LZ_RECORDS_ENDING ".records" // of the file

typedef struct {
  char magic[8];
  uint64_t edition; // of the build that wrote it: no other believes it
  uint64_t records, entries;
  // records from the beginning of the file, what stands beside them, the engine's book
  uint64_t beside, book, size; // where the latter begin, and the file ends
  uint64_t sum[3];             // one for each
  uint64_t days;               // lz_records_days
  int64_t last;                // entry
  int64_t ahead_min;
  int32_t first_day, last_day;     // of the station's, on which was fed
  uint32_t leave_from, disordered; // of the model
  uint8_t hash[32];                // of the last entry
} LzRecordsHead;

// What every row of this build says.
LzRecordsHead lz_records_head(void);
char *lz_records_path(const LzDesk *desk);
// When the station's days from first to last began, as a number: another table of time zones may
// put what was eaten on other days.
uint64_t lz_records_days(const LzModel *model, int32_t first, int32_t last);

#endif
