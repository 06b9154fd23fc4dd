// SPDX-License-Identifier: GPL-3.0-or-later
// The story: what happens at each slot of each day, and to whom. See decade.h.
#include "decade.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../lib/prng.h"

#define SYSTEMS     100
#define TANKS       50 // of each system
#define BATCH       20000
#define FIRST       24105600 // 2015-11-01 00:00 UTC in minutes
#define DAY         1440
#define LIVING      1024 // most lots at one time
#define REMEMBERED  4096
#define PHOTOMETERS 4

typedef struct {
  int64_t id;                            // negative: entry -id - 1 of the batch
  int system, leaves, medicated, splits; // days
  int64_t heads;
} lot;

static lzs_error error;
static lzs_store *store;
static int64_t now_min = FIRST;
static lzs_entry batch[BATCH];
static size_t n_batch;
static decade_count count;
static lzt_prng prng;
static int64_t systems[SYSTEMS], tanks[SYSTEMS][TANKS], person, protocol, copper_bottle,
    fluke_bottle, customer, photometers[PHOTOMETERS];
static lot living[LIVING];
static int n_living;
static struct {
  int64_t id, happened_min, system;
  const char *analyte;
  double value;
} remembered[REMEMBERED]; // readings that may be corrected, some of them years old
static char codes[BATCH][16];

int64_t
decade_clock(void *ctx)
{
  (void)ctx;
  return now_min * 60000;
}

decade_count
decade_counted(void)
{
  count.living = n_living;
  return count;
}

static int
below(int n)
{
  return (int)lzt_prng_range(&prng, 0, n - 1);
}

// --- entries

static void
remember(const lzs_entry *e)
{
  const int place = below(REMEMBERED * 64); // so that some stay for years
  if (e->kind != LZS_READING || e->corrects || place >= REMEMBERED)
    return;
  remembered[place].id = e->id;
  remembered[place].happened_min = e->happened_min;
  remembered[place].system = e->v[0].i;
  remembered[place].analyte = NULL;
  static const char *const analytes[] = {"copper", "salinity", "temperature"};
  for (int i = 0; i < 3; i++)
    if (strcmp(e->v[1].text, analytes[i]) == 0)
      remembered[place].analyte = analytes[i];
  remembered[place].value = e->v[2].r;
}

static void
flush(void)
{
  if (lzs_append(store, batch, n_batch, &error) != LZS_OK) {
    fprintf(stderr, "%s: %s %s\n", lzs_status_name(error.status), error.field, error.detail);
    exit(1);
  }
  for (size_t i = 0; i < n_batch; i++)
    remember(&batch[i]);
  for (int i = 0; i < n_living; i++)
    if (living[i].id < 0)
      living[i].id = batch[-living[i].id - 1].id;
  count.entries += (int64_t)n_batch;
  n_batch = 0;
}

static lzs_entry *
next(lzs_kind kind)
{
  lzs_entry *e = &batch[n_batch++];
  memset(e, 0, sizeof *e);
  e->kind = kind;
  e->who = person;
  e->happened_min = now_min;
  for (size_t i = 0; i < LZS_MAX_FIELDS; i++)
    e->v[i].null = true;
  return e;
}

// An act of several entries that name each other must lie in one batch.
static void
room(size_t n)
{
  if (n_batch + n > BATCH)
    flush();
}

static lzs_value *
field(lzs_entry *e, const char *name)
{
  lzs_value *v = &e->v[lzs_kind_field(lzs_kind_get(e->kind), name)];
  v->null = false;
  return v;
}

// --- set-up

static void
a_phase(int position, const char *name, const char *kind, int64_t credit, int64_t elapsed,
        int64_t quiet)
{
  lzs_entry *e = next(LZS_PHASE);
  field(e, "protocol")->i = protocol;
  field(e, "position")->i = position;
  field(e, "name")->text = name;
  field(e, "kind")->text = kind;
  field(e, "sighting_to")->i = 1;
  if (credit)
    field(e, "min_credit_min")->i = credit;
  if (elapsed)
    field(e, "min_elapsed_min")->i = elapsed;
  if (quiet)
    field(e, "quiet_min")->i = quiet;
  if (strcmp(kind, "medicate") == 0) {
    field(e, "medicine")->text = "praziquantel";
    field(e, "dose_level")->r = 2;
  }
}

static void
set_up_course(void)
{
  lzs_entry *e = next(LZS_PROTOCOL);
  field(e, "name")->text = "House";
  field(e, "version")->i = 1;
  flush();
  protocol = batch[0].id;
  a_phase(1, "copper", "hold", 14 * DAY, 0, 0);
  a_phase(2, "flukes", "medicate", 0, 5 * DAY, 0);
  a_phase(3, "quiet", "observe", 0, 0, 7 * DAY);
  e = next(LZS_BAND);
  field(e, "phase")->i = -1;
  field(e, "analyte")->text = "copper";
  field(e, "form")->text = "ionic";
  field(e, "side")->text = "at_or_above";
  field(e, "works")->r = 0.18;
  field(e, "target")->r = 0.2;
  field(e, "plan")->r = 0.23;
  field(e, "harm")->r = 0.3;
  field(e, "gap_min")->i = DAY;
  flush();
}

static void
set_up_shelf(void)
{
  static const char *const names[] = {"P1", "P2", "P3", "P4"};
  for (int i = 0; i < PHOTOMETERS; i++) {
    lzs_entry *e = next(LZS_INSTRUMENT);
    field(e, "name")->text = names[i];
    field(e, "method")->text = "photometer";
    field(e, "error_abs")->r = 0.01;
    field(e, "check_days")->i = 30;
  }
  for (int i = 0; i < 2; i++) {
    lzs_entry *e = next(LZS_BOTTLE);
    field(e, "name")->text = i ? "F-01" : "C-01";
    field(e, "analyte")->text = i ? "praziquantel" : "copper";
    if (i == 0)
      field(e, "form")->text = "ionic";
    field(e, "strength")->r = 5;
    field(e, "volume_ml")->r = 1e7;
  }
  field(next(LZS_CUSTOMER), "reference")->text = "K-1";
  flush();
  for (int i = 0; i < PHOTOMETERS; i++)
    photometers[i] = batch[i].id;
  copper_bottle = batch[PHOTOMETERS].id;
  fluke_bottle = batch[PHOTOMETERS + 1].id;
  customer = batch[PHOTOMETERS + 2].id;
}

static void
set_up(void)
{
  static char names[SYSTEMS][16];
  lzs_entry *e = next(LZS_STATION);
  e->who = -2;
  field(e, "name")->text = "Ten years";
  field(e, "zone")->text = "Etc/UTC";
  field(e, "slots")->text = "07:30 17:00";
  e = next(LZS_PERSON);
  e->who = -2;
  field(e, "role")->text = "lead";
  field(e, "active")->i = 1;
  flush();
  person = batch[1].id;
  for (int s = 0; s < SYSTEMS; s++) {
    snprintf(names[s], sizeof names[s], "Row-%d", s + 1);
    e = next(LZS_SYSTEM);
    field(e, "name")->text = names[s];
    field(e, "volume_l")->r = 2000;
    field(e, "role")->text = "treatment";
  }
  flush();
  for (int s = 0; s < SYSTEMS; s++)
    systems[s] = batch[s].id;
  for (int s = 0; s < SYSTEMS; s++)
    for (int t = 0; t < TANKS; t++) {
      e = next(LZS_TANK);
      field(e, "system")->i = systems[s];
      field(e, "number")->i = t + 1;
    }
  flush();
  for (int s = 0; s < SYSTEMS; s++)
    for (int t = 0; t < TANKS; t++)
      tanks[s][t] = batch[s * TANKS + t].id;
  set_up_shelf();
  set_up_course();
}

// --- what is done to water

static void
reading(int system, const char *analyte, double value)
{
  room(1);
  lzs_entry *e = next(LZS_READING);
  field(e, "system")->i = systems[system];
  field(e, "analyte")->text = analyte;
  field(e, "value")->r = value;
  if (strcmp(analyte, "copper") == 0)
    field(e, "instrument")->i = photometers[system % PHOTOMETERS];
  if (below(200) == 0) { // from a paper round, days later
    e->happened_min -= below(5 * DAY);
    count.late++;
  }
}

static void
correct_one(void)
{
  const int place = below(REMEMBERED);
  if (remembered[place].id == 0 || !remembered[place].analyte)
    return;
  room(1);
  lzs_entry *e = next(LZS_READING);
  e->corrects = remembered[place].id;
  e->reason = "read off wrongly";
  e->happened_min = remembered[place].happened_min;
  field(e, "system")->i = remembered[place].system;
  field(e, "analyte")->text = remembered[place].analyte;
  field(e, "value")->r = remembered[place].value + 0.01;
  e->voided = below(4) == 0;
  remembered[place].id = 0;
  count.corrections++;
}

static double
near_to(double value, double by)
{
  return value + by * (below(201) - 100) / 100;
}

static void
change_and_dose(int system)
{
  room(2);
  lzs_entry *e = next(LZS_CHANGE);
  field(e, "system")->i = systems[system];
  field(e, "litres")->r = 200;
  field(e, "new_salinity")->r = 32;
  e = next(LZS_DOSE);
  field(e, "system")->i = systems[system];
  field(e, "bottle")->i = copper_bottle;
  field(e, "amount_ml")->r = 8; // 40 mg into 2,000 L: the 0.02 mg/L that went out
}

static void
slot_of_waters(int slot)
{
  for (int s = 0; s < SYSTEMS; s++) {
    reading(s, "temperature", near_to(25.4, 0.6));
    if (slot == 2 && below(2))
      change_and_dose(s);
    if (slot == 2 || slot == 4)
      continue;
    reading(s, "copper", near_to(0.2, 0.012));
    reading(s, "salinity", near_to(32, 0.4));
    if (slot != 1)
      continue;
    reading(s, "ph", near_to(8.1, 0.1));
    reading(s, "ammonia", 0.01);
    reading(s, "nitrite", 0.02);
    if (below(2)) {
      room(1);
      lzs_entry *e = next(LZS_TOPUP);
      field(e, "system")->i = systems[s];
      field(e, "litres")->r = 12;
    }
  }
}

static void
checks(int day)
{
  for (int i = 0; i < PHOTOMETERS; i++) {
    if ((day + 7 * i) % 28 != 0)
      continue;
    room(1);
    lzs_entry *e = next(LZS_CHECK);
    field(e, "instrument")->i = photometers[i];
    field(e, "ok")->i = 1;
  }
}

// --- what is done to lots

static lzs_entry *
about(lzs_kind kind, const lot *l)
{
  lzs_entry *e = next(kind);
  field(e, "lot")->i = l->id;
  return e;
}

static char *
new_code(void)
{
  char *code = codes[n_batch];
  snprintf(code, sizeof codes[0], "L%06d", (int)++count.lots);
  return code;
}

static void
receive(int day)
{
  if (n_living == LIVING)
    return;
  room(2);
  lot *l = &living[n_living++];
  *l = (lot){.system = below(SYSTEMS), .heads = 10 + below(60), .medicated = day + 15};
  l->leaves = day + 40 + below(41);
  l->splits = below(16) ? 0 : day + 20;
  char *code = new_code();
  lzs_entry *e = next(LZS_LOT);
  l->id = -(int64_t)n_batch;
  field(e, "code")->text = code;
  field(e, "tank")->i = tanks[l->system][below(TANKS)];
  field(e, "heads")->i = l->heads;
  field(about(LZS_COURSE, l), "protocol")->i = protocol;
}

static void
split(lot *l)
{
  if (n_living == LIVING || l->heads < 4)
    return;
  room(1);
  lot *part = &living[n_living++];
  *part = *l;
  part->heads = l->heads / 2;
  part->splits = 0;
  part->leaves += below(12);
  l->heads -= part->heads;
  char *code = new_code();
  lzs_entry *e = about(LZS_SPLIT, l);
  part->id = -(int64_t)n_batch;
  field(e, "code")->text = code;
  field(e, "heads")->i = part->heads;
}

// Fed, watched, dosed, split, moved, sold. False = it has gone.
static bool
live(lot *l, int day)
{
  room(8);
  field(about(LZS_FEED, l), "eaten_share")->r = 0.9;
  if (below(60) == 0 && l->heads > 1) {
    field(about(LZS_DEATH, l), "heads")->i = 1;
    l->heads--;
  }
  if (day == l->medicated) {
    lzs_entry *e = next(LZS_DOSE);
    field(e, "system")->i = systems[l->system];
    field(e, "bottle")->i = fluke_bottle;
    field(e, "amount_ml")->r = 800; // 2 mg/L in 2,000 L
  }
  if (below(2000) == 0) {
    l->system = below(SYSTEMS);
    field(about(LZS_MOVE, l), "tank")->i = tanks[l->system][below(TANKS)];
  }
  if (day == l->splits)
    split(l);
  if (day < l->leaves)
    return true;
  field(about(LZS_RELEASE, l), "customer")->i = customer;
  return false;
}

static void
lots(int day, int slot)
{
  for (int i = 0; i < n_living; i++) {
    if (slot == 3) {
      room(1);
      field(about(LZS_FEED, &living[i]), "eaten_share")->r = 0.95;
    } else if (!live(&living[i], day)) {
      living[i--] = living[--n_living];
    }
  }
}

static void
a_day(int day)
{
  static const int minutes[] = {30, 450, 720, 1020, 1260};
  for (int slot = 0; slot < 5; slot++) {
    now_min = FIRST + (int64_t)day * DAY + minutes[slot];
    slot_of_waters(slot);
    if (slot == 1 || slot == 3)
      lots(day, slot);
    if (slot == 1)
      checks(day);
    for (int i = 0; slot == 2 && i < 4; i++)
      correct_one();
    for (int i = below(2) + 2; slot == 2 && i > 0; i--)
      receive(day);
  }
}

void
decade_make(lzs_store *into, int64_t wanted)
{
  store = into;
  lzt_prng_seed(&prng, 10);
  set_up();
  for (int day = 0; count.entries + (int64_t)n_batch < wanted; day++) {
    a_day(day);
    count.days = day + 1;
  }
  flush();
}
