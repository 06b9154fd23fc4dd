// SPDX-License-Identifier: GPL-3.0-or-later
// What takes long with a station's file, as jobs of lz_long_work: each opens the file anew, as
// another program would, so that the window's own desk goes on meanwhile.
#ifndef LZ_STATION_JOBS_H
#define LZ_STATION_JOBS_H

#include "lz_long_work.h"

typedef struct {
  char *path;        // of the station
  char *other;       // of the copy, the table or the export
  const char *table; // static: what the table at `other` is of
  char *pc_folder;   // NULL = the usual one
  LzClock *clock;    // NULL = the real one
  int64_t actor;
} LzStationWish;

// As `desk` has it open.
LzStationWish *lz_station_wish_new(LzDesk *desk, const char *other);
// Of a file that no desk has open.
LzStationWish *lz_station_wish_new_for(const char *path, const char *other);
void lz_station_wish_free(gpointer wish);

// Makes an LzVerify.
gpointer lz_job_verify(gpointer wish, LzProgress hear, gpointer hearer, GError **error);
// A verified copy at `other`; makes an LzVerify of nothing but zeros.
gpointer lz_job_copy(gpointer wish, LzProgress hear, gpointer hearer, GError **error);
// The table at `other` taken in, all or nothing; makes an LzImport.
gpointer lz_job_import(gpointer wish, LzProgress hear, gpointer hearer, GError **error);
// The ledger as a table at `other`; makes the name of its manifest, which lies beside it.
gpointer lz_job_export(gpointer wish, LzProgress hear, gpointer hearer, GError **error);

#endif
