// SPDX-License-Identifier: GPL-3.0-or-later
// The story: what happens at each slot of each day, and to whom. See decade.h.
#include <stdio.h>
#include <string.h>

#include "../lib/prng.h"
#include "decade_private.h"

#define FIRST      24105600 // 2015-11-01 00:00 UTC in minutes
#define LIVING     1024     // most lots at one time
#define REMEMBERED 4096

typedef struct {
  int64_t id;                            // negative: entry -id - 1 of the batch
  int system, leaves, medicated, splits; // days
  int64_t heads;
} lot;

static int64_t now_min = FIRST;
static decade_count count;
static lzt_prng prng;
static lot living[LIVING];
static int n_living;
static struct {
  int64_t id, happened_min, system;
  const char *analyte;
  double value;
} remembered[REMEMBERED]; // readings that may be corrected, some of them years old
static char codes[BATCH][16];

int64_t
decade_now(void)
{
  return now_min;
}

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

void
decade_written(const lzs_entry *entries, size_t n)
{
  for (size_t i = 0; i < n; i++)
    remember(&entries[i]);
  for (int i = 0; i < n_living; i++)
    if (living[i].id < 0)
      living[i].id = entries[-living[i].id - 1].id;
  count.entries += (int64_t)n;
}

// --- what is done to water

static void
reading(int system, const char *analyte, double value)
{
  decade_room(1);
  lzs_entry *e = decade_next(LZS_READING);
  decade_field(e, "system")->i = shelf.systems[system];
  decade_field(e, "analyte")->text = analyte;
  decade_field(e, "value")->r = value;
  if (strcmp(analyte, "copper") == 0)
    decade_field(e, "instrument")->i = shelf.photometers[system % PHOTOMETERS];
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
  decade_room(1);
  lzs_entry *e = decade_next(LZS_READING);
  e->corrects = remembered[place].id;
  e->reason = "read off wrongly";
  e->happened_min = remembered[place].happened_min;
  decade_field(e, "system")->i = remembered[place].system;
  decade_field(e, "analyte")->text = remembered[place].analyte;
  decade_field(e, "value")->r = remembered[place].value + 0.01;
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
  decade_room(2);
  lzs_entry *e = decade_next(LZS_CHANGE);
  decade_field(e, "system")->i = shelf.systems[system];
  decade_field(e, "litres")->r = 200;
  decade_field(e, "new_salinity")->r = 32;
  e = decade_next(LZS_DOSE);
  decade_field(e, "system")->i = shelf.systems[system];
  decade_field(e, "bottle")->i = shelf.copper_bottle;
  decade_field(e, "amount_ml")->r = 8; // 40 mg into 2,000 L: the 0.02 mg/L that went out
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
      decade_room(1);
      lzs_entry *e = decade_next(LZS_TOPUP);
      decade_field(e, "system")->i = shelf.systems[s];
      decade_field(e, "litres")->r = 12;
    }
  }
}

static void
checks(int day)
{
  for (int i = 0; i < PHOTOMETERS; i++) {
    if ((day + 7 * i) % 28 != 0)
      continue;
    decade_room(1);
    lzs_entry *e = decade_next(LZS_CHECK);
    decade_field(e, "instrument")->i = shelf.photometers[i];
    decade_field(e, "ok")->i = 1;
  }
}

// --- what is done to lots

static lzs_entry *
about(lzs_kind kind, const lot *l)
{
  lzs_entry *e = decade_next(kind);
  decade_field(e, "lot")->i = l->id;
  return e;
}

static char *
new_code(void)
{
  char *code = codes[decade_place()];
  snprintf(code, sizeof codes[0], "L%06d", (int)++count.lots);
  return code;
}

static void
receive(int day)
{
  if (n_living == LIVING)
    return;
  decade_room(2);
  lot *l = &living[n_living++];
  *l = (lot){.system = below(SYSTEMS), .heads = 10 + below(60), .medicated = day + 15};
  l->leaves = day + 40 + below(41);
  l->splits = below(16) ? 0 : day + 20;
  char *code = new_code();
  lzs_entry *e = decade_next(LZS_LOT);
  l->id = -(int64_t)decade_place();
  decade_field(e, "code")->text = code;
  decade_field(e, "tank")->i = shelf.tanks[l->system][below(TANKS)];
  decade_field(e, "heads")->i = l->heads;
  decade_field(about(LZS_COURSE, l), "protocol")->i = shelf.protocol;
}

static void
split(lot *l)
{
  if (n_living == LIVING || l->heads < 4)
    return;
  decade_room(1);
  lot *part = &living[n_living++];
  *part = *l;
  part->heads = l->heads / 2;
  part->splits = 0;
  part->leaves += below(12);
  l->heads -= part->heads;
  char *code = new_code();
  lzs_entry *e = about(LZS_SPLIT, l);
  part->id = -(int64_t)decade_place();
  decade_field(e, "code")->text = code;
  decade_field(e, "heads")->i = part->heads;
}

// Fed, watched, dosed, split, moved, sold. False = it has gone.
static bool
live(lot *l, int day)
{
  decade_room(8);
  decade_field(about(LZS_FEED, l), "eaten_share")->r = 0.9;
  if (below(60) == 0 && l->heads > 1) {
    decade_field(about(LZS_DEATH, l), "heads")->i = 1;
    l->heads--;
  }
  if (day == l->medicated) {
    lzs_entry *e = decade_next(LZS_DOSE);
    decade_field(e, "system")->i = shelf.systems[l->system];
    decade_field(e, "bottle")->i = shelf.fluke_bottle;
    decade_field(e, "amount_ml")->r = 800; // 2 mg/L in 2,000 L
  }
  if (below(2000) == 0) {
    l->system = below(SYSTEMS);
    decade_field(about(LZS_MOVE, l), "tank")->i = shelf.tanks[l->system][below(TANKS)];
  }
  if (day == l->splits)
    split(l);
  if (day < l->leaves)
    return true;
  decade_field(about(LZS_RELEASE, l), "customer")->i = shelf.customer;
  return false;
}

static void
lots(int day, int slot)
{
  for (int i = 0; i < n_living; i++) {
    if (slot == 3) {
      decade_room(1);
      decade_field(about(LZS_FEED, &living[i]), "eaten_share")->r = 0.95;
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
decade_make(lzs_store *store, int64_t wanted)
{
  lzt_prng_seed(&prng, 10);
  decade_set_up(store);
  for (int day = 0; count.entries + (int64_t)decade_place() < wanted; day++) {
    a_day(day);
    count.days = day + 1;
  }
  decade_flush();
}
