// SPDX-License-Identifier: GPL-3.0-or-later
// Power lost at a random instant of writing, thousands of times, with a write-ahead log and with a
// rollback journal, on a disk that drops, reorders and tears what was not synced (power_disk.h): no
// acknowledged entry is lost, no group is there by half, the file opens and its chain verifies.
// With synchronous = OFF the same test must see losses, or it could not see any. LAZARET_CUTS sets
// the number of cuts, LAZARET_SEED repeats them.
#include "store_fixture.h"

#include "lzs_db.h"
#include "power_disk.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define CUTS      400
#define GROUP_MAX 5
#define BASE_MIN  10000000 // the group's number is kept in happened_min
#define LIVES     60       // before the disk begins anew, so that files stay small

static unsigned seed;
static uint8_t *base;
static size_t base_size;

static int
group_size(int64_t group)
{
  return 1 + (int)(group % GROUP_MAX);
}

static void
setup(void)
{
  const char *given = getenv("LAZARET_SEED");
  seed = given != NULL ? (unsigned)strtoul(given, NULL, 10) : (unsigned)time(NULL);
  printf("LAZARET_SEED=%u\n", seed);
  fixture_create();
  append_small_station();
  lzs_close(fx.store);
  fx.store = NULL;
  FILE *in = fopen(fx.file, "rb");
  base = malloc(1 << 22);
  base_size = fread(base, 1, 1 << 22, in);
  fclose(in);
  power_disk_register(seed);
}

static void
teardown(void)
{
  free(base);
  fixture_teardown();
}

// Appends group after group until the power goes; answers the last acknowledged one.
static int64_t
live(int64_t last, const char *pragma)
{
  power_disk_cut_after(1 + rand_r(&seed) % (rand_r(&seed) % 4 == 0 ? 30 : 600));
  while (lzs_open(fx.file, &fx.options, &fx.store, NULL) == LZS_OK) {
    lzs_db_exec(fx.store->db, pragma, NULL);
    for (int i = 0; i < 40; i++) {
      lzs_entry e[GROUP_MAX];
      for (int k = 0; k < group_size(last + 1); k++) {
        e[k] = a_reading(3, k);
        e[k].happened_min = BASE_MIN + last + 1;
      }
      if (lzs_append(fx.store, e, (size_t)group_size(last + 1), NULL) != LZS_OK)
        break;
      last++;
    }
    lzs_close(fx.store); // so that cuts also hit the folding in of the log
    fx.store = NULL;
    if (power_disk_is_off())
      break;
  }
  ck_assert(power_disk_is_off());
  return last;
}

typedef struct {
  int64_t group;
  int in_group;
  bool bad;
} found;

static bool
look(void *ctx, const lzs_entry *entry)
{
  found *f = ctx;
  if (f->in_group == group_size(f->group)) {
    f->group++;
    f->in_group = 0;
  }
  f->bad |= entry->happened_min != BASE_MIN + f->group || entry->v[2].r != f->in_group;
  f->in_group++;
  return true;
}

// NULL if all is well, else what is not.
static const char *
inspect(int64_t acknowledged, int64_t *last)
{
  lzs_verify_result v;
  found f = {.group = 0, .in_group = group_size(0)};
  if (lzs_open(fx.file, &fx.options, &fx.store, &fx.error) != LZS_OK)
    return "it does not open";
  const char *wrong = NULL;
  if (lzs_verify(fx.store, &v, &fx.error) != LZS_OK)
    wrong = "it does not verify";
  else if (lzs_read(fx.store, 4, look, &f, &fx.error) != LZS_OK || f.bad)
    wrong = "entries are not as written";
  else if (f.in_group != group_size(f.group))
    wrong = "a group is there by half";
  else if (f.group < acknowledged)
    wrong = "an acknowledged group is lost";
  *last = f.group;
  lzs_close(fx.store);
  fx.store = NULL;
  return wrong;
}

typedef struct {
  int cuts, bad, unsaid;
  const char *first;
} tally;

static tally
cut_often(int cuts, const char *pragma)
{
  tally t = {.cuts = cuts};
  int64_t last = 0;
  for (int cut = 0; cut < cuts; cut++) {
    if (cut % LIVES == 0) {
      power_disk_put(fx.file, base, base_size);
      last = 0;
    }
    int64_t acknowledged = live(last, pragma);
    power_disk_restart();
    const char *wrong = inspect(acknowledged, &last);
    t.unsaid += wrong == NULL && last > acknowledged;
    if (wrong == NULL)
      continue;
    if (t.bad++ == 0)
      t.first = wrong;
    power_disk_put(fx.file, base, base_size);
    last = 0;
  }
  return t;
}

static const lzs_place places[] = {LZS_PLACE_LOCAL, LZS_PLACE_NETWORK};

START_TEST(no_cut_loses_anything)
{
  const char *wanted = getenv("LAZARET_CUTS");
  fx.options.place = places[_i];
  tally t = cut_often(wanted != NULL ? atoi(wanted) : CUTS, "PRAGMA wal_autocheckpoint = 12");
  printf("%s: %d cuts, %d with loss, %ld sectors lost or torn; %d cuts fell between commit and "
         "answer\n",
         _i == 0 ? "write-ahead log" : "rollback journal", t.cuts, t.bad, power_disk_lost(),
         t.unsaid);
  ck_assert_msg(t.bad == 0, "%d of %d cuts: %s (%s)", t.bad, t.cuts, t.first, fx.error.detail);
  ck_assert_int_gt(power_disk_lost(), t.cuts);
}
END_TEST

START_TEST(without_syncs_losses_are_seen)
{
  fx.options.place = places[_i];
  tally t = cut_often(60, "PRAGMA wal_autocheckpoint = 12; PRAGMA synchronous = OFF");
  ck_assert_int_gt(t.bad, 10);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("power loss");
  TCase *t = tcase_create("cuts");
  tcase_set_timeout(t, 280);
  tcase_add_checked_fixture(t, setup, teardown);
  tcase_add_loop_test(t, no_cut_loses_anything, 0, 2);
  tcase_add_loop_test(t, without_syncs_losses_are_seen, 0, 2);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return run_suite(suite());
}
