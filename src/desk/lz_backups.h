// SPDX-License-Identifier: GPL-3.0-or-later
// Back-ups that nobody has to think of: made in the background while the station is in use,
// verified by opening them, thinned out with age, in one folder or more (a USB drive).
//
// Names: STATION-2027-03-14T0730Z.lazaret. Kept: all of the last two days, the last of each day for
// two weeks, the last of each month for two years. Files of other names are never touched.
#ifndef LZ_BACKUPS_H
#define LZ_BACKUPS_H

#include "lz_desk.h"

#define LZ_BACKUP_EVERY_MIN 60

// The first folder of every station: back-ups in the user data folder. Newly allocated.
char *lz_backups_usual_folder(void);

// Makes one now, in the calling thread, and thins out; *made (newly allocated, may be NULL) is its
// name. `path` may be in use anywhere.
gboolean lz_backups_make(const char *path, const char *folder, lzq_minute now, char **made,
                         GError **error);
// When the newest in the folder was made; LZQ_LONG_AGO if there is none or no such folder.
lzq_minute lz_backups_newest(const char *path, const char *folder);
// Which of n back-ups, made at these times, are still kept at `now`.
void lz_backups_choose(const lzq_minute *made, gsize n, lzq_minute now, gboolean *keep);

// Runs while the desk is open: a back-up into each folder soon after opening, then every hour in
// which anything was written. folders: NULL-terminated, "" are skipped. Ask lz_desk_backup_state.
void lz_desk_start_backups(LzDesk *desk, const char *const *folders);
void lz_desk_stop_backups(LzDesk *desk); // makes no further ones
// One sentence: when and where the last ones were made, or what is wrong. Newly allocated; ask
// again at "changed".
char *lz_desk_backup_state(LzDesk *desk, gboolean *wrong);

#endif
