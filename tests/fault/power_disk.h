// SPDX-License-Identifier: GPL-3.0-or-later
// A disk that loses power: a VFS for SQLite that keeps every file in memory twice, as the programs
// see it and as it is safe on the platter. Between two syncs nothing is safe: at the cut each
// sector of each write since then is there, not there, or torn, in any combination, and so is every
// file made or deleted since the folder was last synced.
#ifndef POWER_DISK_H
#define POWER_DISK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

// Registers the VFS as the default. The same seed loses the same sectors.
void power_disk_register(unsigned seed);
// Forgets all files and puts this one there, safe.
void power_disk_put(const char *path, const void *bytes, size_t size);
// Power goes at the nth write, sync, truncation or deletion from now; 0 = never.
void power_disk_cut_after(long n);
bool power_disk_is_off(void);
// What is left is what was safe, and of the rest whatever chance left; the power is back.
void power_disk_restart(void);
// Writes that were lost or torn so far.
long power_disk_lost(void);

#endif
