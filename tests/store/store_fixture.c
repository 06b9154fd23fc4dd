// SPDX-License-Identifier: GPL-3.0-or-later
// A folder, a clock and short ways to write entries, for the tests of the store.
#define _GNU_SOURCE
#include "store_fixture.h"

#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

fixture fx;

static int64_t
fixture_clock(void *ctx)
{
  return ((fixture *)ctx)->now_ms;
}

void
fixture_setup(void)
{
  memset(&fx, 0, sizeof fx);
  const char *tmp = getenv("TMPDIR");
  snprintf(fx.folder, sizeof fx.folder, "%.40s/lzs-XXXXXX", tmp != NULL ? tmp : "/tmp");
  ck_assert_ptr_nonnull(mkdtemp(fx.folder));
  snprintf(fx.file, sizeof fx.file, "%s/quay.lazaret", fx.folder);
  snprintf(fx.pc, sizeof fx.pc, "%s/pc", fx.folder);
  fx.now_ms = INT64_C(1773475200000); // 2026-03-14 08:00 UTC
  fx.options = (lzs_options){.pc_folder = fx.pc, .clock_ms = fixture_clock, .clock_ctx = &fx};
}

void
fixture_create(void)
{
  fixture_setup();
  assert_ok(lzs_create(fx.file, &fx.options, &fx.store, &fx.error));
}

void
fixture_reopen(void)
{
  lzs_close(fx.store);
  fx.store = NULL;
  assert_ok(lzs_open(fx.file, &fx.options, &fx.store, &fx.error));
}

static int
remove_one(const char *path, const struct stat *st, int type, struct FTW *walk)
{
  return remove(path);
}

void
fixture_teardown(void)
{
  lzs_close(fx.store);
  nftw(fx.folder, remove_one, 8, FTW_DEPTH | FTW_PHYS);
}

lzs_entry
entry_of(lzs_kind kind)
{
  lzs_entry entry = {.kind = kind, .happened_min = 29557920, .offset_min = 60};
  for (size_t i = 0; i < LZS_MAX_FIELDS; i++)
    entry.v[i].null = true;
  return entry;
}

static lzs_value *
value_of(lzs_entry *entry, const char *field)
{
  int at = lzs_kind_field(lzs_kind_get(entry->kind), field);
  ck_assert_msg(at >= 0, "no field %s", field);
  entry->v[at] = (lzs_value){.null = false};
  return &entry->v[at];
}

void
put_text(lzs_entry *entry, const char *field, const char *text)
{
  value_of(entry, field)->text = text;
}

void
put_int(lzs_entry *entry, const char *field, int64_t i)
{
  value_of(entry, field)->i = i;
}

void
put_real(lzs_entry *entry, const char *field, double r)
{
  value_of(entry, field)->r = r;
}

lzs_entry
a_station(void)
{
  lzs_entry entry = entry_of(LZS_STATION);
  put_text(&entry, "name", "Quay");
  put_text(&entry, "zone", "Europe/Berlin");
  return entry;
}

lzs_entry
a_person(const char *role)
{
  lzs_entry entry = entry_of(LZS_PERSON);
  put_text(&entry, "role", role);
  put_int(&entry, "active", 1);
  return entry;
}

lzs_entry
a_system(const char *name, double volume_l)
{
  lzs_entry entry = entry_of(LZS_SYSTEM);
  put_text(&entry, "name", name);
  put_real(&entry, "volume_l", volume_l);
  put_text(&entry, "role", "treatment");
  return entry;
}

lzs_entry
a_reading(int64_t system, double copper_mg_l)
{
  lzs_entry entry = entry_of(LZS_READING);
  entry.who = 2;
  put_int(&entry, "system", system);
  put_text(&entry, "analyte", "copper");
  put_real(&entry, "value", copper_mg_l);
  put_text(&entry, "typed", "0,48");
  put_text(&entry, "unit", "mg/L");
  return entry;
}

void
append_ok(lzs_entry *entries, size_t n)
{
  assert_ok(lzs_append(fx.store, entries, n, &fx.error));
}

void
append_small_station(void)
{
  lzs_entry e[4] = {a_station(), a_person("lead"), a_system("Blue-1", 800),
                    entry_of(LZS_INSTRUMENT)};
  put_text(&e[3], "name", "P1");
  put_text(&e[3], "method", "photometer");
  for (int i = 0; i < 4; i++)
    e[i].who = -2;
  append_ok(e, 4);
}

int
run_suite(Suite *suite)
{
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed > 0;
}
