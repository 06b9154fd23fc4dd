// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_kept_file.h.
#include "lz_kept_file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#define BLOCK      ((gsize)1 << 18) // bytes that are written at a time
#define READ_BLOCK ((gsize)1 << 22) // read and summed

struct _LzKeptFile {
  char *path, *part;
  int fd;
  gboolean failed;
  gsize size; // so far
  gsize used; // of the block
  LzSum sum;
  char block[BLOCK];
};

// --- the sum

static guint64
mix(guint64 sum)
{
  sum *= G_GUINT64_CONSTANT(0x9E3779B97F4A7C15);
  return sum ^ sum >> 29;
}

void
lz_sum_add(LzSum *sum, const void *bytes, gsize size)
{
  const unsigned char *p = bytes;
  guint64 word[4];
  for (; size >= sizeof word; p += sizeof word, size -= sizeof word) {
    memcpy(word, p, sizeof word);
    for (int i = 0; i < 4; i++)
      sum->lane[i] = mix(sum->lane[i] ^ word[i]);
  }
  memcpy(word, p, size);
  for (gsize i = 0; i < size / sizeof *word; i++)
    sum->lane[i] = mix(sum->lane[i] ^ word[i]);
}

guint64
lz_sum_end(const LzSum *sum)
{
  guint64 all = 0;
  for (int i = 0; i < 4; i++)
    all = mix(all ^ sum->lane[i]);
  return all;
}

gboolean
lz_sum_fits(LzMapped *mapped, gsize at, gsize size, guint64 wanted)
{
  LzSum sum = {0};
  for (const gsize end = at + size; at < end; at += READ_BLOCK) {
    const gsize n = MIN(READ_BLOCK, end - at);
    if (!lz_mapped_read(mapped, at, n))
      return FALSE;
    lz_sum_add(&sum, mapped->bytes + at, n);
    lz_mapped_rest(mapped, at, n);
  }
  return lz_sum_end(&sum) == wanted;
}

// --- writing

// Another one of this login writes it: its own is as good, and what is left by a kill is no one's.
static gboolean
is_written(const char *part)
{
  const int fd = open(part, O_RDONLY | O_NONBLOCK | O_NOFOLLOW | O_CLOEXEC);
  const gboolean taken = fd >= 0 && flock(fd, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK;
  if (fd >= 0)
    close(fd);
  return taken;
}

LzKeptFile *
lz_kept_file_new(const char *path)
{
  g_autofree char *part = g_strconcat(path, LZ_KEPT_PART, NULL);
  if (is_written(part))
    return NULL;
  unlink(part); // what a kill left, or anything that writing would wait for
  const int fd = open(part, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
  if (fd < 0)
    return NULL;
  flock(fd, LOCK_EX | LOCK_NB); // where a file system has no locks, two may spoil one another's
  LzKeptFile *file = g_new0(LzKeptFile, 1);
  file->path = g_strdup(path);
  file->part = g_steal_pointer(&part);
  file->fd = fd;
  return file;
}

static gboolean
write_all(int fd, const char *p, gsize size)
{
  while (size > 0) {
    const gssize n = write(fd, p, size);
    if (n < 0 && errno == EINTR)
      continue;
    if (n <= 0)
      return FALSE;
    p += n;
    size -= (gsize)n;
  }
  return TRUE;
}

static void
flush_block(LzKeptFile *file)
{
  lz_sum_add(&file->sum, file->block, file->used);
  file->failed = file->failed || !write_all(file->fd, file->block, file->used);
  file->used = 0;
}

bool
lz_kept_file_put(void *to, const void *bytes, gsize size)
{
  LzKeptFile *file = to;
  for (const char *p = bytes; size > 0 && !file->failed;) {
    const gsize n = MIN(size, BLOCK - file->used);
    memcpy(file->block + file->used, p, n);
    file->used += n;
    file->size += n;
    p += n;
    size -= n;
    if (file->used == BLOCK)
      flush_block(file);
  }
  return !file->failed;
}

gsize
lz_kept_file_part(LzKeptFile *file, guint64 *sum)
{
  static const char zeros[LZ_MAPPED_UNIT];
  const gsize over = file->size % LZ_MAPPED_UNIT;
  if (over)
    lz_kept_file_put(file, zeros, LZ_MAPPED_UNIT - over);
  flush_block(file);
  *sum = lz_sum_end(&file->sum);
  file->sum = (LzSum){0};
  return file->size;
}

gboolean
lz_kept_file_end(LzKeptFile *file, gsize *size, guint64 *sum)
{
  flush_block(file);
  gboolean ok = !file->failed && fsync(file->fd) == 0;
  ok = close(file->fd) == 0 && ok && rename(file->part, file->path) == 0;
  if (!ok)
    unlink(file->part);
  *size = file->size;
  *sum = lz_sum_end(&file->sum);
  g_free(file->path);
  g_free(file->part);
  g_free(file);
  return ok;
}

// --- reading

int
lz_kept_file_open(const char *path, gsize size)
{
  const int fd = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
  struct stat is;
  if (fd >= 0 && fstat(fd, &is) == 0 && S_ISREG(is.st_mode) && (gsize)is.st_size == size)
    return fd;
  if (fd >= 0)
    close(fd);
  return -1;
}
