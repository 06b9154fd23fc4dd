// SPDX-License-Identifier: GPL-3.0-or-later
// Files beside SQLite's own: a new file appears under its name complete, synced, or not at all.
#define _GNU_SOURCE // renameat2, mkostemp
#include "lzs_file.h"

#include <fcntl.h>
#include <libgen.h>
#include <linux/magic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/vfs.h>
#include <unistd.h>

char *
lzs_file_beside(const char *path, const char *suffix)
{
  size_t n = strlen(path) + strlen(suffix) + 1;
  char *out = malloc(n);
  if (out != NULL)
    snprintf(out, n, "%s%s", path, suffix);
  return out;
}

// The folder that holds path, from malloc.
static char *
folder_of(const char *path)
{
  char *copy = strdup(path);
  if (copy == NULL)
    return NULL;
  char *folder = strdup(dirname(copy));
  free(copy);
  return folder;
}

bool
lzs_file_on_network(const char *path)
{
  // FUSE may be a local disk or not: the rollback journal is right on both.
  static const unsigned long network[] = {
      NFS_SUPER_MAGIC, SMB_SUPER_MAGIC, CIFS_SUPER_MAGIC, SMB2_SUPER_MAGIC,  V9FS_MAGIC,
      AFS_SUPER_MAGIC, AFS_FS_MAGIC,    CODA_SUPER_MAGIC, CEPH_SUPER_MAGIC,  FUSE_SUPER_MAGIC,
      NCP_SUPER_MAGIC, 0x786f4256UL,    0x01161970UL,     OCFS2_SUPER_MAGIC, 0x0BD00BD0UL,
  };
  struct statfs where;
  if (statfs(path, &where) != 0)
    return false;
  for (size_t i = 0; i < sizeof network / sizeof network[0]; i++)
    if (((unsigned long)where.f_type & 0xFFFFFFFFUL) == network[i])
      return true;
  return false;
}

bool
lzs_file_writable(const char *path)
{
  char *folder = folder_of(path);
  bool ok = folder != NULL && access(folder, W_OK) == 0 && access(path, W_OK) == 0;
  free(folder);
  return ok;
}

static lzs_status
sync_one(const char *path, int flags, lzs_error *error)
{
  int fd = open(path, flags | O_CLOEXEC);
  if (fd < 0)
    return lzs_fail_errno(error, errno, path, "open to sync");
  lzs_status status = fsync(fd) == 0 ? LZS_OK : lzs_fail_errno(error, errno, path, "sync");
  close(fd);
  return status;
}

static lzs_status
sync_folder(const char *path, lzs_error *error)
{
  char *folder = folder_of(path);
  if (folder == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, "file", path, NULL);
  lzs_status status = sync_one(folder, O_RDONLY | O_DIRECTORY, error);
  free(folder);
  return status;
}

lzs_status
lzs_file_sync(const char *path, lzs_error *error)
{
  lzs_status status = sync_one(path, O_RDWR, error);
  return status == LZS_OK ? sync_folder(path, error) : status;
}

lzs_status
lzs_file_own(const char *path, lzs_error *error)
{
  return chmod(path, 0600) == 0 ? LZS_OK : lzs_fail_errno(error, errno, path, "protect the file");
}

lzs_status
lzs_file_publish(const char *from, const char *to, bool replace, lzs_error *error)
{
  lzs_status status = sync_one(from, O_RDWR, error);
  if (status != LZS_OK)
    return status;
  int failed =
      replace ? rename(from, to) : renameat2(AT_FDCWD, from, AT_FDCWD, to, RENAME_NOREPLACE);
  if (failed && !replace && (errno == EINVAL || errno == ENOSYS)) {
    // A file system without that flag: a hard link refuses an existing name just as well.
    failed = link(from, to);
    if (!failed)
      unlink(from);
  }
  if (failed)
    return lzs_fail_errno(error, errno, to, "give the finished file its name");
  return sync_folder(to, error);
}

void
lzs_file_discard(const char *path)
{
  static const char *const suffixes[] = {"", "-journal", "-wal", "-shm"};
  for (size_t i = 0; i < sizeof suffixes / sizeof suffixes[0]; i++) {
    char *name = lzs_file_beside(path, suffixes[i]);
    if (name != NULL)
      unlink(name);
    free(name);
  }
}

static lzs_status
write_all(int fd, const char *path, const char *bytes, size_t n, lzs_error *error)
{
  while (n > 0) {
    ssize_t done = write(fd, bytes, n);
    if (done < 0 && errno != EINTR)
      return lzs_fail_errno(error, errno, path, "write");
    if (done > 0) {
      bytes += done;
      n -= (size_t)done;
    }
  }
  return LZS_OK;
}

lzs_status
lzs_file_write(const char *path, const void *bytes, size_t n, bool replace, lzs_error *error)
{
  char *temp = lzs_file_beside(path, ".XXXXXX");
  if (temp == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, "file", path, NULL);
  int fd = mkostemp(temp, O_CLOEXEC); // mode 0600
  lzs_status status;
  if (fd < 0) {
    status = lzs_fail_errno(error, errno, path, "make a file beside it");
  } else {
    status = write_all(fd, path, bytes, n, error);
    close(fd);
    if (status == LZS_OK)
      status = lzs_file_publish(temp, path, replace, error);
    if (status != LZS_OK)
      unlink(temp);
  }
  free(temp);
  return status;
}

lzs_status
lzs_file_read(const char *path, void *bytes, size_t size, size_t *n, lzs_error *error)
{
  *n = 0;
  int fd = open(path, O_RDONLY | O_CLOEXEC);
  if (fd < 0)
    return lzs_fail_errno(error, errno, path, "open");
  lzs_status status = LZS_OK;
  while (*n < size) {
    ssize_t got = read(fd, (char *)bytes + *n, size - *n);
    if (got == 0)
      break;
    if (got > 0)
      *n += (size_t)got;
    else if (errno != EINTR) {
      status = lzs_fail_errno(error, errno, path, "read");
      break;
    }
  }
  close(fd);
  return status;
}
