// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_mapped.h. Address space is reserved for the file and the room behind it, the file laid
// over its beginning.
#include "lz_mapped.h"

#include <errno.h>
#include <signal.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

// --- a page that cannot be read any more

#define MOST 16 // more at a time are not mapped

static const LzMapped *known[MOST];
static GMutex lock;
static struct sigaction before;

// What may be called here is little: the file is deleted, and the signal comes again to whoever
// heard it before, who ends the process.
static void
cannot_read(int number, siginfo_t *info, void *context)
{
  static const char words[] = "lazaret: a file that was kept beside the station can not be read "
                              "any more; it was deleted, please start again\n";
  const char *at = info->si_addr;
  (void)context;
  for (int i = 0; i < MOST; i++) {
    const LzMapped *m = g_atomic_pointer_get(&known[i]);
    if (!m || at < m->bytes || at >= m->bytes + m->size)
      continue;
    unlink(m->path);
    if (write(STDERR_FILENO, words, sizeof words - 1) < 0)
      break;
  }
  sigaction(number, &before, NULL);
}

static gboolean
note(const LzMapped *m)
{
  static gboolean heard;
  gboolean noted = FALSE;
  g_mutex_lock(&lock);
  for (int i = 0; !noted && i < MOST; i++)
    if (!known[i]) {
      g_atomic_pointer_set(&known[i], m);
      noted = TRUE;
    }
  if (!heard) {
    struct sigaction action = {.sa_sigaction = cannot_read, .sa_flags = SA_SIGINFO};
    sigemptyset(&action.sa_mask);
    heard = sigaction(SIGBUS, &action, &before) == 0;
  }
  g_mutex_unlock(&lock);
  return noted;
}

static void
forget(const LzMapped *m)
{
  g_mutex_lock(&lock);
  for (int i = 0; i < MOST; i++)
    if (known[i] == m)
      g_atomic_pointer_set(&known[i], NULL);
  g_mutex_unlock(&lock);
}

// --- mapping

static gsize
whole_units(gsize size)
{
  return (size + LZ_MAPPED_UNIT - 1) / LZ_MAPPED_UNIT * LZ_MAPPED_UNIT;
}

LzMapped *
lz_mapped_new(int fd, gsize from, gsize size, gsize room, const char *path)
{
  const gsize all = whole_units(size + room);
  void *at =
      mmap(NULL, all, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS | MAP_NORESERVE, -1, 0);
  if (at == MAP_FAILED)
    return NULL;
  LzMapped *m = g_new0(LzMapped, 1);
  *m = (LzMapped){.bytes = at, .size = all, .path = g_strdup(path)};
  if ((size && mmap(at, size, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_FIXED | MAP_NORESERVE, fd,
                    (off_t)from) == MAP_FAILED) ||
      !note(m)) {
    lz_mapped_free(m);
    return NULL;
  }
  return m;
}

void
lz_mapped_free(LzMapped *m)
{
  if (!m)
    return;
  forget(m);
  munmap(m->bytes, m->size);
  g_free(m->path);
  g_free(m);
}

#ifndef MADV_POPULATE_READ
#define MADV_POPULATE_READ 22 // Linux 5.14
#endif

gboolean
lz_mapped_read(LzMapped *m, gsize at, gsize size)
{
  int failed;
  do
    failed = madvise(m->bytes + at, size, MADV_POPULATE_READ);
  while (failed && errno == EINTR);
  // an older kernel reads when one looks, and a bad disk ends the process
  return !failed || errno == EINVAL;
}

void
lz_mapped_rest(LzMapped *m, gsize at, gsize size)
{
  const gsize page = (gsize)sysconf(_SC_PAGESIZE);
  madvise(m->bytes + at, size / page * page, MADV_DONTNEED);
}
