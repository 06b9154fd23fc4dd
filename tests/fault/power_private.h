// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the disk that loses power: its files, and what is not safe yet.
#ifndef POWER_PRIVATE_H
#define POWER_PRIVATE_H

#include "power_disk.h"

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

extern bool power_off;
extern unsigned power_dice;

// Counts one act; true if the power is away now.
bool power_goes_off(void);
void power_resize(uint8_t **bytes, size_t *size, size_t wanted);
void power_keep(disk_file *f, const void *bytes, size_t n, size_t at, bool truncate);
void power_forget_changes(disk_file *f);
disk_file *power_find(const char *name);
disk_file *power_make(const char *name);
// What the folder says is now safe.
void power_sync_folder(void);

#endif
