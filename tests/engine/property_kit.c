// SPDX-License-Identifier: GPL-3.0-or-later
// Drawing, changing and asking about histories for the tests of properties.
#include "property_kit.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

lzt_history before, after;
lzt_prng prng;
uint64_t first_seed = 77001, stations = 1500;

answer was, is;

void
ask(answer *a, const lzt_history *history)
{
  lzq_fault fault = {0};
  lzq_arena_free(&a->arena);
  lzq_arena_init(&a->arena, lzq_allocator_libc(), 0);
  lzq_status status = lzq_snapshot_check(&history->snap, &fault);
  ck_assert_msg(status == LZQ_OK, "refused: %s of %d, %u", fault.field, (int)fault.what,
                fault.index);
  status = lzq_credit_run(&history->snap, history->known_id, history->until, &a->arena, &a->credit,
                          &fault);
  ck_assert_msg(status == LZQ_OK, "%s", lzq_status_name(status));
}

void
copy_station(void)
{
  after = before;
  lzt_history_bind(&after);
}

void
strip(lzt_history *history, uint32_t kinds)
{
  size_t kept = 0;
  for (size_t i = 0; i < history->snap.n_records; i++)
    if (!(kinds & 1u << history->records[i].kind))
      history->records[kept++] = history->records[i];
  history->snap.n_records = kept;
}

void
draw_station(uint64_t seed, uint32_t without)
{
  lzt_prng_seed(&prng, seed);
  lzt_wish wish = lzt_wish_ordinary(&prng);
  wish.corrections = false;
  lzt_random_station(seed, &wish, &before);
  before.known_id = UINT64_MAX;
  for (uint32_t i = 0; i < before.snap.n_protocols; i++) {
    lzq_phase *phases = &before.phases[before.protocols[i].first_phase];
    for (uint32_t k = 0; k < before.protocols[i].n_phases; k++) {
      if (k && phases[k].sighting_to < phases[k - 1].sighting_to)
        phases[k].sighting_to = phases[k - 1].sighting_to;
      phases[k].late_tolerance_min = 0;
      if (phases[k].place == LZQ_PLACE_NEXT_CLEAN)
        phases[k].place = LZQ_PLACE_STAY;
      for (uint32_t b = 0; b < phases[k].n_bands; b++)
        phases[k].bands[b].side = LZQ_AT_OR_ABOVE;
    }
  }
  for (size_t i = 0; i < before.snap.n_records; i++)
    before.records[i].keep = false;
  strip(&before, without | BIT(LZQ_REC_ACCEPT));
}

lzq_record *
some_record(lzt_history *history, lzq_record_kind kind)
{
  lzq_record *found = NULL;
  int seen = 0;
  for (size_t i = 0; i < history->snap.n_records; i++)
    if (history->records[i].kind == kind && lzt_prng_range(&prng, 0, seen++) == 0)
      found = &history->records[i];
  return found;
}

lzq_record *
enter(lzt_history *history, lzq_record_kind kind, lzq_minute at)
{
  size_t n = history->snap.n_records++;
  lzq_record *r = &history->records[n];
  *r = (lzq_record){.id = n ? history->records[n - 1].id + 1 : 1,
                    .kind = (uint8_t)kind,
                    .at = at,
                    .lot = LZQ_NONE,
                    .tank = LZQ_NONE,
                    .error = NAN,
                    .new_copper = NAN,
                    .new_salinity = NAN};
  return r;
}

lzq_minute
some_minute(const lzt_history *history)
{
  return lzt_prng_range(&prng, history->records[0].at, history->until);
}

int
run_properties(const char *name, const property *properties, size_t n)
{
  Suite *suite = suite_create(name);
  if (getenv("LZ_SEED"))
    first_seed = strtoull(getenv("LZ_SEED"), NULL, 10);
  if (getenv("LZ_STATIONS"))
    stations = strtoull(getenv("LZ_STATIONS"), NULL, 10);
  for (size_t i = 0; i < n; i++) {
    TCase *tcase = tcase_create(properties[i].name);
    tcase_set_timeout(tcase, 0);
    tcase_add_test(tcase, properties[i].test);
    suite_add_tcase(suite, tcase);
  }
  printf("%" PRIu64 " stations for each property, from seed %" PRIu64 "\n", stations, first_seed);
  fflush(stdout);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
