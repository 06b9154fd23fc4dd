// SPDX-License-Identifier: GPL-3.0-or-later
// Makes a station of ten years: 100 systems of 50 tanks, a lot in one system after the other, and
// readings of three analytes around the clock, 7 million entries unless said otherwise. Invented
// from beginning to end. Prints how many entries a second were appended, and what a verification
// and a back-up take. usage: make-decade OUT.lazaret [ENTRIES]
#include "lzs_store.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define SYSTEMS 100
#define TANKS   50 // of each system
#define BATCH   20000
#define FIRST   24105600 // 2015-11-01 00:00 UTC in minutes
#define MINUTES 5259600  // ten years

static lzs_error error;
static lzs_store *store;
static int64_t now_min = FIRST;
static lzs_entry batch[BATCH];
static size_t n_batch;
static int64_t n_made;
static int64_t systems[SYSTEMS], tanks[SYSTEMS][TANKS], person;

static double
seconds(void)
{
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static int64_t
made_up_clock(void *ctx)
{
  return now_min * 60000;
}

static void
must(lzs_status status)
{
  if (status == LZS_OK)
    return;
  fprintf(stderr, "%s: %s %s\n", lzs_status_name(status), error.field, error.detail);
  exit(1);
}

static void
flush(void)
{
  must(lzs_append(store, batch, n_batch, &error));
  n_made += (int64_t)n_batch;
  n_batch = 0;
}

static lzs_entry *
next(lzs_kind kind)
{
  if (n_batch == BATCH)
    flush();
  lzs_entry *e = &batch[n_batch++];
  memset(e, 0, sizeof *e);
  e->kind = kind;
  e->who = person;
  e->happened_min = now_min;
  for (size_t i = 0; i < LZS_MAX_FIELDS; i++)
    e->v[i].null = true;
  return e;
}

static lzs_value *
field(lzs_entry *e, const char *name)
{
  lzs_value *v = &e->v[lzs_kind_field(lzs_kind_get(e->kind), name)];
  v->null = false;
  return v;
}

static void
set_up(void)
{
  static char names[SYSTEMS][16];
  lzs_entry *e = next(LZS_STATION);
  e->who = -2;
  field(e, "name")->text = "Ten years";
  field(e, "zone")->text = "Etc/UTC";
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
}

static void
a_lot(int number)
{
  static char codes[4096][16];
  char *code = codes[number % 4096];
  snprintf(code, sizeof codes[0], "L%06d", number);
  lzs_entry *e = next(LZS_LOT);
  field(e, "code")->text = code;
  field(e, "tank")->i = tanks[number % SYSTEMS][number / SYSTEMS % TANKS];
  field(e, "heads")->i = 20;
}

static void
a_reading(int64_t number)
{
  static const char *const analytes[] = {"copper", "salinity", "temperature"};
  static const double values[] = {0.45, 32.1, 25.4};
  static const char *const typed[] = {"0.45", "32.1", "25.4"};
  lzs_entry *e = next(LZS_READING);
  field(e, "system")->i = systems[number % SYSTEMS];
  field(e, "analyte")->text = analytes[number % 3];
  field(e, "value")->r = values[number % 3];
  field(e, "typed")->text = typed[number % 3];
}

int
main(int argc, char **argv)
{
  int64_t wanted = argc > 2 ? atoll(argv[2]) : 7000000;
  lzs_options options = {.pc_folder = "/tmp/make-decade-pc", .clock_ms = made_up_clock};
  lzs_verify_result v;
  char copy[1024];
  if (argc < 2) {
    fprintf(stderr, "usage: make-decade OUT.lazaret [ENTRIES]\n");
    return 2;
  }
  must(lzs_create(argv[1], &options, &store, &error));
  double t = seconds();
  set_up();
  for (int64_t i = 0, lots = 0; n_made + (int64_t)n_batch < wanted; i++) {
    now_min = FIRST + i * MINUTES / wanted;
    a_reading(i);
    if (i * 10000 / wanted > lots)
      a_lot((int)lots++);
  }
  flush();
  t = seconds() - t;
  printf("%lld entries appended in %.1f s: %.0f a second\n", (long long)n_made, t,
         (double)n_made / t);
  t = seconds();
  must(lzs_verify(store, &v, &error));
  printf("verified in %.1f s: %.0f a second\n", seconds() - t, (double)v.entries / (seconds() - t));
  snprintf(copy, sizeof copy, "%s.copy", argv[1]);
  t = seconds();
  must(lzs_backup(store, copy, &error));
  printf("backed up and verified in %.1f s\n", seconds() - t);
  t = seconds();
  lzs_close(store);
  must(lzs_open(argv[1], &options, &store, &error));
  printf("closed and opened in %.3f s\n", seconds() - t);
  lzs_close(store);
  return 0;
}
