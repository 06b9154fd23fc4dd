// SPDX-License-Identifier: GPL-3.0-or-later
// A disk that loses power: see power_disk.h. Sectors are torn as on a real one, but what lies
// beside a write is left alone, which is what SQLite's own unix VFS tells it too (powersafe
// overwrite).
#include "power_disk.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SECTOR    512
#define MOST      64
#define SHM_BLOCK 32768

typedef struct {
  size_t at, n;
  bool truncate; // to `at`
  uint8_t *bytes;
} change;

typedef struct {
  char name[200];
  bool there, safely_there; // under its name now; after a cut for certain
  bool deletion_pending;
  uint8_t *now, *safe;
  size_t size, safe_size;
  change *changes;
  size_t n_changes;
  void *shm[64];
} disk_file;

typedef struct {
  sqlite3_file base;
  disk_file *file;
} handle;

static sqlite3_vfs power_vfs, *real_vfs;
static disk_file files[MOST];
static int n_files;
static long countdown, lost;
static bool off;
static unsigned dice;

static bool
goes_off(void)
{
  if (!off && countdown > 0 && --countdown == 0)
    off = true;
  return off;
}

static void
forget_changes(disk_file *f)
{
  for (size_t i = 0; i < f->n_changes; i++)
    free(f->changes[i].bytes);
  free(f->changes);
  f->changes = NULL;
  f->n_changes = 0;
}

static void
empty_file(disk_file *f)
{
  forget_changes(f);
  free(f->now);
  free(f->safe);
  for (int i = 0; i < 64; i++)
    free(f->shm[i]);
  memset(f, 0, sizeof *f);
}

static void
resize(uint8_t **bytes, size_t *size, size_t wanted)
{
  if (wanted > *size) {
    *bytes = realloc(*bytes, wanted);
    memset(*bytes + *size, 0, wanted - *size);
  }
  *size = wanted;
}

static void
keep_change(disk_file *f, const void *bytes, size_t n, size_t at, bool truncate)
{
  f->changes = realloc(f->changes, (f->n_changes + 1) * sizeof *f->changes);
  change *c = &f->changes[f->n_changes++];
  *c = (change){.at = at, .n = n, .truncate = truncate};
  if (n > 0) {
    c->bytes = malloc(n);
    memcpy(c->bytes, bytes, n);
  }
}

static disk_file *
find(const char *name)
{
  for (int i = 0; i < n_files; i++)
    if (files[i].there && strcmp(files[i].name, name) == 0)
      return &files[i];
  return NULL;
}

static disk_file *
make(const char *name)
{
  disk_file *f = NULL;
  for (int i = 0; i < n_files && f == NULL; i++)
    if (!files[i].there && !files[i].deletion_pending)
      f = &files[i];
  if (f == NULL && n_files < MOST)
    f = &files[n_files++];
  if (f == NULL)
    abort();
  empty_file(f);
  snprintf(f->name, sizeof f->name, "%s", name);
  f->there = true;
  return f;
}

// What the folder says is now safe.
static void
sync_folder(void)
{
  for (int i = 0; i < n_files; i++) {
    files[i].safely_there = files[i].there;
    files[i].deletion_pending = false;
  }
}

// --- methods

static int
disk_close(sqlite3_file *h)
{
  return SQLITE_OK;
}

static int
disk_read(sqlite3_file *h, void *to, int n, sqlite3_int64 at)
{
  const disk_file *f = ((handle *)h)->file;
  if (off)
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
  if (off)
    return SQLITE_IOERR_WRITE;
  size_t end = (size_t)at + (size_t)n;
  keep_change(f, from, (size_t)n, (size_t)at, false);
  resize(&f->now, &f->size, end > f->size ? end : f->size);
  memcpy(f->now + at, from, (size_t)n);
  return goes_off() ? SQLITE_IOERR_WRITE : SQLITE_OK;
}

static int
disk_truncate(sqlite3_file *h, sqlite3_int64 size)
{
  disk_file *f = ((handle *)h)->file;
  if (off)
    return SQLITE_IOERR_TRUNCATE;
  keep_change(f, NULL, 0, (size_t)size, true);
  resize(&f->now, &f->size, (size_t)size);
  return goes_off() ? SQLITE_IOERR_TRUNCATE : SQLITE_OK;
}

static int
disk_sync(sqlite3_file *h, int flags)
{
  disk_file *f = ((handle *)h)->file;
  if (goes_off())
    return SQLITE_IOERR_FSYNC;
  resize(&f->safe, &f->safe_size, f->size);
  if (f->size > 0)
    memcpy(f->safe, f->now, f->size);
  forget_changes(f);
  if (!f->safely_there)
    sync_folder(); // SQLite syncs the folder with a journal that it has just made
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
  if (off || name == NULL)
    return SQLITE_CANTOPEN;
  disk_file *f = find(name);
  if (f == NULL && !(flags & SQLITE_OPEN_CREATE))
    return SQLITE_CANTOPEN;
  ((handle *)h)->file = f != NULL ? f : make(name);
  h->pMethods = &methods;
  if (out != NULL)
    *out = flags;
  return SQLITE_OK;
}

static int
disk_delete(sqlite3_vfs *vfs, const char *name, int sync)
{
  if (off)
    return SQLITE_IOERR_DELETE;
  disk_file *f = find(name);
  if (f == NULL)
    return SQLITE_IOERR_DELETE_NOENT;
  f->there = false;
  f->deletion_pending = f->safely_there;
  if (goes_off())
    return SQLITE_IOERR_DELETE;
  if (sync)
    sync_folder();
  return SQLITE_OK;
}

static int
disk_access(sqlite3_vfs *vfs, const char *name, int flags, int *out)
{
  *out = find(name) != NULL;
  return off ? SQLITE_IOERR_ACCESS : SQLITE_OK;
}

static int
disk_full_path(sqlite3_vfs *vfs, const char *name, int n, char *out)
{
  snprintf(out, (size_t)n, "%s", name);
  return SQLITE_OK;
}

// --- from outside

void
power_disk_register(unsigned seed)
{
  dice = seed;
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

void
power_disk_put(const char *path, const void *bytes, size_t size)
{
  for (int i = 0; i < n_files; i++)
    empty_file(&files[i]);
  n_files = 0;
  disk_file *f = make(path);
  resize(&f->now, &f->size, size);
  memcpy(f->now, bytes, size);
  resize(&f->safe, &f->safe_size, size);
  memcpy(f->safe, bytes, size);
  f->safely_there = true;
}

void
power_disk_cut_after(long n)
{
  countdown = n;
}

bool
power_disk_is_off(void)
{
  return off;
}

long
power_disk_lost(void)
{
  return lost;
}

// Each sector of a write got there, did not, or only its beginning did.
static void
settle_write(disk_file *f, const change *c, int percent)
{
  for (size_t from = 0; from < c->n;) {
    size_t to = (c->at + from) / SECTOR * SECTOR + SECTOR - c->at;
    size_t n = (to < c->n ? to : c->n) - from, end;
    if (rand_r(&dice) % 100 >= percent) {
      lost++;
    } else {
      size_t kept = rand_r(&dice) % 16 == 0 ? (size_t)rand_r(&dice) % (n + 1) : n;
      end = c->at + from + kept;
      resize(&f->safe, &f->safe_size, end > f->safe_size ? end : f->safe_size);
      memcpy(f->safe + c->at + from, c->bytes + from, kept);
      lost += kept < n;
    }
    from += n;
  }
}

static void
settle(disk_file *f)
{
  static const int percents[] = {0, 10, 50, 90, 100};
  int percent = percents[rand_r(&dice) % 5];
  for (size_t i = 0; i < f->n_changes; i++) {
    const change *c = &f->changes[i];
    if (!c->truncate)
      settle_write(f, c, percent);
    else if (rand_r(&dice) % 2 == 0)
      resize(&f->safe, &f->safe_size, c->at);
  }
}

void
power_disk_restart(void)
{
  for (int i = 0; i < n_files; i++) {
    disk_file *f = &files[i];
    bool kept = f->there ? f->safely_there || rand_r(&dice) % 2 == 0
                         : f->deletion_pending && rand_r(&dice) % 2 == 0;
    if (kept && !f->there && find(f->name) != NULL)
      kept = false; // its name was taken by a younger one
    settle(f);
    disk_file old = *f;
    if (!kept) {
      empty_file(f);
      continue;
    }
    forget_changes(&old);
    memset(f, 0, sizeof *f);
    memcpy(f->name, old.name, sizeof f->name);
    resize(&f->now, &f->size, old.safe_size);
    if (old.safe_size > 0)
      memcpy(f->now, old.safe, old.safe_size);
    f->safe = old.safe;
    f->safe_size = old.safe_size;
    f->there = f->safely_there = true;
    free(old.now);
    for (int k = 0; k < 64; k++)
      free(old.shm[k]);
  }
  off = false;
  countdown = 0;
}
