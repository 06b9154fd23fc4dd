// SPDX-License-Identifier: GPL-3.0-or-later
// A new station in one go, for the window's three questions and for the command line's `new`.
#ifndef LZ_SETUP_H
#define LZ_SETUP_H

#include "lz_desk.h"

typedef struct {
  const char *name;
  double volume_l;
  const char *role;       // "treatment"; NULL = treatment
  int tanks;              // numbered from 1, equal shares of the volume
  double source_salinity; // NAN = 35
} LzSetupSystem;

typedef struct {
  const char *station;           // its name
  const char *zone;              // IANA; NULL = this PC's
  const char *slots;             // NULL = "07:30 17:00"
  const char *person, *initials; // the first person, a lead; NULL = nobody yet
  const LzSetupSystem *systems;
  gsize n_systems;
  gboolean protocols; // bring in every shipped protocol
} LzSetup;

// Makes the file and submits everything in one transaction; nothing is left behind on failure.
LzDesk *lz_setup_new_station(const char *path, const LzSetup *setup, const LzDeskOptions *options,
                             GError **error);
// The same into an open, empty file.
gboolean lz_setup_station(LzDesk *desk, const LzSetup *setup, GError **error);
// This PC's IANA zone, "UTC" if it cannot be found. Newly allocated.
char *lz_setup_local_zone(void);
// A clock that stands at a local time of this PC: what is written under it is practice for good.
// NULL with error: the text is no time.
LzClock *lz_setup_clock(const char *text, GError **error);
// How the hours of the shifts are written, for whoever types them; translated.
const char *lz_setup_slots_help(void);

#endif
