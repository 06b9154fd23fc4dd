// SPDX-License-Identifier: GPL-3.0-or-later
// See full_disk.h: the methods of each kind of file that the default VFS opens, with xWrite ours.
#include "full_disk.h"

#include <sqlite3.h>
#include <stdlib.h>

#define MOST_KINDS 8

static sqlite3_vfs ours, *real;
static int answer;
static struct {
  const sqlite3_io_methods *theirs;
  sqlite3_io_methods methods;
} kinds[MOST_KINDS];

static int
write_or_fail(sqlite3_file *file, const void *from, int n, sqlite3_int64 at)
{
  if (answer)
    return answer;
  for (int i = 0; i < MOST_KINDS; i++)
    if (file->pMethods == &kinds[i].methods)
      return kinds[i].theirs->xWrite(file, from, n, at);
  abort();
}

static int
open_file(sqlite3_vfs *vfs, const char *name, sqlite3_file *file, int flags, int *out)
{
  int code = real->xOpen(real, name, file, flags, out);
  if (code != SQLITE_OK || !file->pMethods)
    return code;
  for (int i = 0; i < MOST_KINDS; i++) {
    if (!kinds[i].theirs) {
      kinds[i].theirs = file->pMethods;
      kinds[i].methods = *file->pMethods;
      kinds[i].methods.xWrite = write_or_fail;
    }
    if (kinds[i].theirs == file->pMethods) {
      file->pMethods = &kinds[i].methods;
      return code;
    }
  }
  abort();
}

void
full_disk_begin(void)
{
  if (real)
    return;
  real = sqlite3_vfs_find(NULL);
  ours = *real;
  ours.zName = "full-disk";
  ours.xOpen = open_file;
  if (sqlite3_vfs_register(&ours, 1) != SQLITE_OK)
    abort();
}

void
full_disk_set(int code)
{
  answer = code;
}
