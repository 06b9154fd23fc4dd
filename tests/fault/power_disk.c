// SPDX-License-Identifier: GPL-3.0-or-later
// A disk that loses power: see power_disk.h. Sectors are torn as on a real one, but what lies
// beside a write is left alone, which is what SQLite's own unix VFS tells it too (powersafe
// overwrite).
#include "power_private.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SECTOR 512
#define MOST   64

static disk_file files[MOST];
static int n_files;
static long countdown, lost;
bool power_off;
unsigned power_dice;

bool
power_goes_off(void)
{
  if (!power_off && countdown > 0 && --countdown == 0)
    power_off = true;
  return power_off;
}

void
power_forget_changes(disk_file *f)
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
  power_forget_changes(f);
  free(f->now);
  free(f->safe);
  for (int i = 0; i < 64; i++)
    free(f->shm[i]);
  memset(f, 0, sizeof *f);
}

void
power_resize(uint8_t **bytes, size_t *size, size_t wanted)
{
  if (wanted > *size) {
    *bytes = realloc(*bytes, wanted);
    memset(*bytes + *size, 0, wanted - *size);
  }
  *size = wanted;
}

void
power_keep(disk_file *f, const void *bytes, size_t n, size_t at, bool truncate)
{
  f->changes = realloc(f->changes, (f->n_changes + 1) * sizeof *f->changes);
  change *c = &f->changes[f->n_changes++];
  *c = (change){.at = at, .n = n, .truncate = truncate};
  if (n > 0) {
    c->bytes = malloc(n);
    memcpy(c->bytes, bytes, n);
  }
}

disk_file *
power_find(const char *name)
{
  for (int i = 0; i < n_files; i++)
    if (files[i].there && strcmp(files[i].name, name) == 0)
      return &files[i];
  return NULL;
}

disk_file *
power_make(const char *name)
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
void
power_sync_folder(void)
{
  for (int i = 0; i < n_files; i++) {
    files[i].safely_there = files[i].there;
    files[i].deletion_pending = false;
  }
}

// --- from outside

void
power_disk_put(const char *path, const void *bytes, size_t size)
{
  for (int i = 0; i < n_files; i++)
    empty_file(&files[i]);
  n_files = 0;
  disk_file *f = power_make(path);
  power_resize(&f->now, &f->size, size);
  memcpy(f->now, bytes, size);
  power_resize(&f->safe, &f->safe_size, size);
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
  return power_off;
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
    if (rand_r(&power_dice) % 100 >= percent) {
      lost++;
    } else {
      size_t kept = rand_r(&power_dice) % 16 == 0 ? (size_t)rand_r(&power_dice) % (n + 1) : n;
      end = c->at + from + kept;
      power_resize(&f->safe, &f->safe_size, end > f->safe_size ? end : f->safe_size);
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
  int percent = percents[rand_r(&power_dice) % 5];
  for (size_t i = 0; i < f->n_changes; i++) {
    const change *c = &f->changes[i];
    if (!c->truncate)
      settle_write(f, c, percent);
    else if (rand_r(&power_dice) % 2 == 0)
      power_resize(&f->safe, &f->safe_size, c->at);
  }
}

void
power_disk_restart(void)
{
  for (int i = 0; i < n_files; i++) {
    disk_file *f = &files[i];
    bool kept = f->there ? f->safely_there || rand_r(&power_dice) % 2 == 0
                         : f->deletion_pending && rand_r(&power_dice) % 2 == 0;
    if (kept && !f->there && power_find(f->name) != NULL)
      kept = false; // its name was taken by a younger one
    settle(f);
    disk_file old = *f;
    if (!kept) {
      empty_file(f);
      continue;
    }
    power_forget_changes(&old);
    memset(f, 0, sizeof *f);
    memcpy(f->name, old.name, sizeof f->name);
    power_resize(&f->now, &f->size, old.safe_size);
    if (old.safe_size > 0)
      memcpy(f->now, old.safe, old.safe_size);
    f->safe = old.safe;
    f->safe_size = old.safe_size;
    f->there = f->safely_there = true;
    free(old.now);
    for (int k = 0; k < 64; k++)
      free(old.shm[k]);
  }
  power_off = false;
  countdown = 0;
}
