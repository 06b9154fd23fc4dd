// SPDX-License-Identifier: GPL-3.0-or-later
#include "lzs_there.h"

#include "lzs_file.h"

#include <errno.h>
#include <stdlib.h>
#include <sys/stat.h>

lzs_status
lzs_there_check(lzs_store *store, lzs_error *error)
{
  int moved = 0;
  sqlite3_file_control(store->db, "main", SQLITE_FCNTL_HAS_MOVED, &moved);
  return moved ? lzs_fail(error, LZS_MOVED, "file", store->path, "moved, deleted or replaced")
               : LZS_OK;
}

void
lzs_there_keep(lzs_store *store)
{
  char *log = lzs_file_beside(store->path, "-wal");
  struct stat st;
  if (log != NULL && stat(log, &st) != 0 && errno == ENOENT)
    sqlite3_wal_checkpoint_v2(store->db, "main", SQLITE_CHECKPOINT_FULL, NULL, NULL);
  free(log);
}
