// SPDX-License-Identifier: GPL-3.0-or-later
// A small station in a fresh folder, at a fixed minute, for tests of windows. Invented names.
#ifndef LZ_APP_STATION_H
#define LZ_APP_STATION_H

#include <lz_desk.h>

typedef struct {
  char *folder;
  LzClock *clock;
  LzDesk *desk;
} LzAppStation;

// Tue 9 March 2027 08:16 in Europe/Berlin.
#define LZ_APP_NOW ((int64_t)30076276)

// Two systems of four tanks, one person (MK), a photometer, a bottle, the shipped main protocol.
void lz_app_station_open(LzAppStation *station);
// A lot 0412 of 30 fish in Blue-2/1 under the main protocol since an hour ago.
void lz_app_station_lot(LzAppStation *station);
// Instead of the small one: the demo station, sixty days of it, up to LZ_APP_NOW.
void lz_app_station_demo(LzAppStation *station);
void lz_app_station_close(LzAppStation *station);
// Builds and submits one command; the test fails with the desk's sentence if it is refused.
void lz_app_submit(LzAppStation *station, const char *kind, ...) G_GNUC_NULL_TERMINATED;
// How many facts of a kind the ledger holds.
guint lz_app_count(LzAppStation *station, const char *kind);

#endif
