// SPDX-License-Identifier: GPL-3.0-or-later
// Entries on their way to the store, and the station of the first day: see decade_private.h.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "decade_private.h"

decade_shelf shelf;
static lzs_store *store;
static lzs_entry batch[BATCH];
static size_t n_batch;

void
decade_flush(void)
{
  lzs_error error = {0};
  if (lzs_append(store, batch, n_batch, &error) != LZS_OK) {
    fprintf(stderr, "%s: %s %s\n", lzs_status_name(error.status), error.field, error.detail);
    exit(1);
  }
  decade_written(batch, n_batch);
  n_batch = 0;
}

size_t
decade_place(void)
{
  return n_batch;
}

lzs_entry *
decade_next(lzs_kind kind)
{
  lzs_entry *e = &batch[n_batch++];
  memset(e, 0, sizeof *e);
  e->kind = kind;
  e->who = shelf.person;
  e->happened_min = decade_now();
  for (size_t i = 0; i < LZS_MAX_FIELDS; i++)
    e->v[i].null = true;
  return e;
}

// An act of several entries that name each other must lie in one batch.
void
decade_room(size_t n)
{
  if (n_batch + n > BATCH)
    decade_flush();
}

lzs_value *
decade_field(lzs_entry *e, const char *name)
{
  lzs_value *v = &e->v[lzs_kind_field(lzs_kind_get(e->kind), name)];
  v->null = false;
  return v;
}

// --- the station of the first day

static void
a_phase(int position, const char *name, const char *kind, int64_t credit, int64_t elapsed,
        int64_t quiet)
{
  lzs_entry *e = decade_next(LZS_PHASE);
  decade_field(e, "protocol")->i = shelf.protocol;
  decade_field(e, "position")->i = position;
  decade_field(e, "name")->text = name;
  decade_field(e, "kind")->text = kind;
  decade_field(e, "sighting_to")->i = 1;
  if (credit)
    decade_field(e, "min_credit_min")->i = credit;
  if (elapsed)
    decade_field(e, "min_elapsed_min")->i = elapsed;
  if (quiet)
    decade_field(e, "quiet_min")->i = quiet;
  if (strcmp(kind, "medicate") == 0) {
    decade_field(e, "medicine")->text = "praziquantel";
    decade_field(e, "dose_level")->r = 2;
  }
}

static void
set_up_course(void)
{
  lzs_entry *e = decade_next(LZS_PROTOCOL);
  decade_field(e, "name")->text = "House";
  decade_field(e, "version")->i = 1;
  decade_flush();
  shelf.protocol = batch[0].id;
  a_phase(1, "copper", "hold", 14 * DAY, 0, 0);
  a_phase(2, "flukes", "medicate", 0, 5 * DAY, 0);
  a_phase(3, "quiet", "observe", 0, 0, 7 * DAY);
  e = decade_next(LZS_BAND);
  decade_field(e, "phase")->i = -1;
  decade_field(e, "analyte")->text = "copper";
  decade_field(e, "form")->text = "ionic";
  decade_field(e, "side")->text = "at_or_above";
  decade_field(e, "works")->r = 0.18;
  decade_field(e, "target")->r = 0.2;
  decade_field(e, "plan")->r = 0.23;
  decade_field(e, "harm")->r = 0.3;
  decade_field(e, "gap_min")->i = DAY;
  decade_flush();
}

static void
set_up_shelf(void)
{
  static const char *const names[] = {"P1", "P2", "P3", "P4"};
  for (int i = 0; i < PHOTOMETERS; i++) {
    lzs_entry *e = decade_next(LZS_INSTRUMENT);
    decade_field(e, "name")->text = names[i];
    decade_field(e, "method")->text = "photometer";
    decade_field(e, "error_abs")->r = 0.01;
    decade_field(e, "check_days")->i = 30;
  }
  for (int i = 0; i < 2; i++) {
    lzs_entry *e = decade_next(LZS_BOTTLE);
    decade_field(e, "name")->text = i ? "F-01" : "C-01";
    decade_field(e, "analyte")->text = i ? "praziquantel" : "copper";
    if (i == 0)
      decade_field(e, "form")->text = "ionic";
    decade_field(e, "strength")->r = 5;
    decade_field(e, "volume_ml")->r = 1e7;
  }
  decade_field(decade_next(LZS_CUSTOMER), "reference")->text = "K-1";
  decade_flush();
  for (int i = 0; i < PHOTOMETERS; i++)
    shelf.photometers[i] = batch[i].id;
  shelf.copper_bottle = batch[PHOTOMETERS].id;
  shelf.fluke_bottle = batch[PHOTOMETERS + 1].id;
  shelf.customer = batch[PHOTOMETERS + 2].id;
}

void
decade_set_up(lzs_store *into)
{
  store = into;
  static char names[SYSTEMS][16];
  lzs_entry *e = decade_next(LZS_STATION);
  e->who = -2;
  decade_field(e, "name")->text = "Ten years";
  decade_field(e, "zone")->text = "Etc/UTC";
  decade_field(e, "slots")->text = "07:30 17:00";
  e = decade_next(LZS_PERSON);
  e->who = -2;
  decade_field(e, "role")->text = "lead";
  decade_field(e, "active")->i = 1;
  decade_flush();
  shelf.person = batch[1].id;
  for (int s = 0; s < SYSTEMS; s++) {
    snprintf(names[s], sizeof names[s], "Row-%d", s + 1);
    e = decade_next(LZS_SYSTEM);
    decade_field(e, "name")->text = names[s];
    decade_field(e, "volume_l")->r = 2000;
    decade_field(e, "role")->text = "treatment";
  }
  decade_flush();
  for (int s = 0; s < SYSTEMS; s++)
    shelf.systems[s] = batch[s].id;
  for (int s = 0; s < SYSTEMS; s++)
    for (int t = 0; t < TANKS; t++) {
      e = decade_next(LZS_TANK);
      decade_field(e, "system")->i = shelf.systems[s];
      decade_field(e, "number")->i = t + 1;
    }
  decade_flush();
  for (int s = 0; s < SYSTEMS; s++)
    for (int t = 0; t < TANKS; t++)
      shelf.tanks[s][t] = batch[s * TANKS + t].id;
  set_up_shelf();
  set_up_course();
}
