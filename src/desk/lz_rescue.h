// SPDX-License-Identifier: GPL-3.0-or-later
// What is done with files that nobody has open: salvaging a damaged one, putting a back-up in a
// station's place, sealing a copy for sending. Each is whole or leaves everything as it was; none
// writes over a file.
#ifndef LZ_RESCUE_H
#define LZ_RESCUE_H

#include <stdint.h>

#include "lz_desk.h"

typedef struct {
  int64_t kept, unproven, doubtful, lost; // unproven and doubtful are among kept
} LzSalvage;
// One entry that is not sound: number, what became of it (a translated sentence) and what can be
// read of it ("reading: system=#3 value=0.19 ...", "" for nothing).
typedef void (*LzSalvaged)(gpointer data, int64_t id, const char *fate, const char *what);
typedef struct {
  const char *pc_folder; // keeps this PC's id; NULL = the new file is nobody's yet
  LzSalvaged each;       // NULL = nobody hears of them
  gpointer each_data;
  LzProgress progress; // NULL = nobody hears; see lz_desk_set_progress
  gpointer hearer;
} LzSalvageOptions;
// options NULL = none of it.
gboolean lz_rescue_salvage(const char *path, const char *to_path, const LzSalvageOptions *options,
                           LzSalvage *out, GError **error);

// What putting the back-up in the station's place would change. Entries that stand in the station
// behind the last that both have would be gone from it.
typedef struct {
  int64_t entries;        // in the back-up
  int64_t would_lose;     // -1: the station cannot be read, so nobody can say
  gboolean other_station; // the back-up is not one of this station: they share no entry
  int64_t first_lost_min; // when the earliest lost entry happened, UTC minutes; 0 = none
  int64_t last_minute;    // when the back-up's last entry was recorded, UTC minutes
} LzRestore;
// First step: verifies the back-up and looks; writes nothing. progress NULL = nobody hears.
gboolean lz_rescue_preview(const char *backup, const char *path, LzProgress progress,
                           gpointer hearer, LzRestore *out, GError **error);
// Second step: the station's present file gets the name *aside (newly allocated, NULL if there was
// none), and a verified copy of the back-up takes its place. This PC gets a new id.
gboolean lz_rescue_restore(const char *backup, const char *path, const char *pc_folder,
                           char **aside, GError **error);

// A verified copy of a station, sealed with a passphrase; and back.
gboolean lz_rescue_seal(const char *path, const char *to_path, const char *passphrase,
                        GError **error);
gboolean lz_rescue_unseal(const char *sealed, const char *to_path, const char *passphrase,
                          GError **error);

#endif
