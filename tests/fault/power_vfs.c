// SPDX-License-Identifier: GPL-3.0-or-later
// The disk that loses power as SQLite sees it. Sectors are torn as on a real one, but what lies
// beside a write is left alone, which is what SQLite's own unix VFS tells it too (powersafe
// overwrite).
#include "power_private.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SHM_BLOCK 32768

typedef struct {
  sqlite3_file base;
  disk_file *file;
} handle;

static sqlite3_vfs power_vfs, *real_vfs;

static int
disk_close(sqlite3_file *h)
{
  return SQLITE_OK;
}

static int
disk_read(sqlite3_file *h, void *to, int n, sqlite3_int64 at)
{
  const disk_file *f = ((handle *)h)->file;
  if (power_off)
    return SQLITE_IOERR_READ;
  size_t have = (size_t)at >= f->size ? 0 : f->size - (size_t)at;
  if (have > (size_t)n)
    have = (size_t)n;
  if (have > 0)
    memcpy(to, f->now + at, have);
  memset((char *)to + have, 0, (size_t)n - have);
  return have == (size_t)n ? SQLITE_OK : SQLITE_IOERR_SHORT_READ;
}

static int
disk_write(sqlite3_file *h, const void *from, int n, sqlite3_int64 at)
{
  disk_file *f = ((handle *)h)->file;
  if (power_off)
    return SQLITE_IOERR_WRITE;
  size_t end = (size_t)at + (size_t)n;
  power_keep(f, from, (size_t)n, (size_t)at, false);
  power_resize(&f->now, &f->size, end > f->size ? end : f->size);
  memcpy(f->now + at, from, (size_t)n);
  return power_goes_off() ? SQLITE_IOERR_WRITE : SQLITE_OK;
}

static int
disk_truncate(sqlite3_file *h, sqlite3_int64 size)
{
  disk_file *f = ((handle *)h)->file;
  if (power_off)
    return SQLITE_IOERR_TRUNCATE;
  power_keep(f, NULL, 0, (size_t)size, true);
  power_resize(&f->now, &f->size, (size_t)size);
  return power_goes_off() ? SQLITE_IOERR_TRUNCATE : SQLITE_OK;
}

static int
disk_sync(sqlite3_file *h, int flags)
{
  disk_file *f = ((handle *)h)->file;
  if (power_goes_off())
    return SQLITE_IOERR_FSYNC;
  power_resize(&f->safe, &f->safe_size, f->size);
  if (f->size > 0)
    memcpy(f->safe, f->now, f->size);
  power_forget_changes(f);
  if (!f->safely_there)
    power_sync_folder(); // SQLite syncs the folder with a journal that it has just made
  return SQLITE_OK;
}

static int
disk_size(sqlite3_file *h, sqlite3_int64 *out)
{
  *out = (sqlite3_int64)((handle *)h)->file->size;
  return SQLITE_OK;
}

static int
disk_lock(sqlite3_file *h, int level)
{
  return SQLITE_OK;
}

static int
disk_reserved(sqlite3_file *h, int *out)
{
  *out = 0;
  return SQLITE_OK;
}

static int
disk_control(sqlite3_file *h, int op, void *arg)
{
  return SQLITE_NOTFOUND;
}

static int
disk_sector(sqlite3_file *h)
{
  return 4096;
}

static int
disk_traits(sqlite3_file *h)
{
  return SQLITE_IOCAP_POWERSAFE_OVERWRITE;
}

static int
disk_shm_map(sqlite3_file *h, int block, int size, int extend, void volatile **out)
{
  disk_file *f = ((handle *)h)->file;
  if (size != SHM_BLOCK || block >= 64)
    return SQLITE_IOERR_SHMMAP;
  if (f->shm[block] == NULL && extend)
    f->shm[block] = calloc(1, SHM_BLOCK);
  *out = f->shm[block];
  return SQLITE_OK;
}

static int
disk_shm_lock(sqlite3_file *h, int offset, int n, int flags)
{
  return SQLITE_OK;
}

static void
disk_shm_barrier(sqlite3_file *h)
{
}

static int
disk_shm_unmap(sqlite3_file *h, int remove)
{
  disk_file *f = ((handle *)h)->file;
  for (int i = 0; remove && i < 64; i++) {
    free(f->shm[i]);
    f->shm[i] = NULL;
  }
  return SQLITE_OK;
}

static const sqlite3_io_methods methods = {
    .iVersion = 2,
    .xClose = disk_close,
    .xRead = disk_read,
    .xWrite = disk_write,
    .xTruncate = disk_truncate,
    .xSync = disk_sync,
    .xFileSize = disk_size,
    .xLock = disk_lock,
    .xUnlock = disk_lock,
    .xCheckReservedLock = disk_reserved,
    .xFileControl = disk_control,
    .xSectorSize = disk_sector,
    .xDeviceCharacteristics = disk_traits,
    .xShmMap = disk_shm_map,
    .xShmLock = disk_shm_lock,
    .xShmBarrier = disk_shm_barrier,
    .xShmUnmap = disk_shm_unmap,
};

static int
disk_open(sqlite3_vfs *vfs, const char *name, sqlite3_file *h, int flags, int *out)
{
  h->pMethods = NULL;
  if (power_off || name == NULL)
    return SQLITE_CANTOPEN;
  disk_file *f = power_find(name);
  if (f == NULL && !(flags & SQLITE_OPEN_CREATE))
    return SQLITE_CANTOPEN;
  ((handle *)h)->file = f != NULL ? f : power_make(name);
  h->pMethods = &methods;
  if (out != NULL)
    *out = flags;
  return SQLITE_OK;
}

static int
disk_delete(sqlite3_vfs *vfs, const char *name, int sync)
{
  if (power_off)
    return SQLITE_IOERR_DELETE;
  disk_file *f = power_find(name);
  if (f == NULL)
    return SQLITE_IOERR_DELETE_NOENT;
  f->there = false;
  f->deletion_pending = f->safely_there;
  if (power_goes_off())
    return SQLITE_IOERR_DELETE;
  if (sync)
    power_sync_folder();
  return SQLITE_OK;
}

static int
disk_access(sqlite3_vfs *vfs, const char *name, int flags, int *out)
{
  *out = power_find(name) != NULL;
  return power_off ? SQLITE_IOERR_ACCESS : SQLITE_OK;
}

static int
disk_full_path(sqlite3_vfs *vfs, const char *name, int n, char *out)
{
  snprintf(out, (size_t)n, "%s", name);
  return SQLITE_OK;
}

void
power_disk_register(unsigned seed)
{
  power_dice = seed;
  real_vfs = sqlite3_vfs_find(NULL);
  power_vfs = *real_vfs;
  power_vfs.zName = "power";
  power_vfs.szOsFile = sizeof(handle);
  power_vfs.xOpen = disk_open;
  power_vfs.xDelete = disk_delete;
  power_vfs.xAccess = disk_access;
  power_vfs.xFullPathname = disk_full_path;
  sqlite3_vfs_register(&power_vfs, 1);
}
