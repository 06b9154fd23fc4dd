// SPDX-License-Identifier: GPL-3.0-or-later
// What must hold of every history: no change to the worse brings a phase or a release forward;
// dates do not depend on where time begins, nor on the order of entry of records that have nothing
// to do with each other; the same input gives the same answer. LZ_STATIONS=n draws n stations for
// each, LZ_SEED=s begins elsewhere.
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "property_kit.h"

static void
never_earlier(uint64_t seed, const char *what)
{
  ask(&was, &before);
  ask(&is, &after);
  for (uint32_t i = 0; i < before.snap.n_lots; i++)
    ck_assert_msg(is.credit->lots[i].served_at >= was.credit->lots[i].served_at,
                  "seed %" PRIu64 ", %s: lot %u served at %" PRId64 ", before at %" PRId64, seed,
                  what, i, is.credit->lots[i].served_at, was.credit->lots[i].served_at);
}

START_TEST(one_more_sighting)
{
  for (uint64_t seed = first_seed; seed < first_seed + stations; seed++) {
    draw_station(seed, 0);
    copy_station();
    enter(&after, LZQ_REC_SIGHTING, some_minute(&after))->system =
        (uint32_t)lzt_prng_range(&prng, 0, after.snap.n_systems - 1);
    never_earlier(seed, "one more sighting");
  }
}
END_TEST

START_TEST(one_more_lot_in_the_water)
{
  for (uint64_t seed = first_seed; seed < first_seed + stations; seed++) {
    draw_station(seed, 0);
    before.snap.station.last_in = true;
    copy_station();
    uint32_t lot = after.snap.n_lots++;
    lzq_record *r = enter(&after, LZQ_REC_RECEIVE, some_minute(&after));
    r->lot = lot;
    r->heads = 3;
    r->tank = (uint32_t)lzt_prng_range(&prng, 0, after.snap.n_tanks - 1);
    if (lzt_prng_chance(&prng, 0.7)) {
      lzq_minute at = r->at;
      enter(&after, LZQ_REC_COURSE, at)->lot = lot;
    }
    never_earlier(seed, "one more lot");
    for (uint32_t i = 0; i < before.snap.n_lots; i++)
      ck_assert_msg(is.credit->lots[i].releasable_at >= was.credit->lots[i].releasable_at,
                    "seed %" PRIu64 ": lot %u may go earlier", seed, i);
  }
}
END_TEST

START_TEST(a_reading_less_effective)
{
  for (uint64_t seed = first_seed; seed < first_seed + stations; seed++) {
    draw_station(seed, 0);
    copy_station();
    lzq_record *r = some_record(&after, LZQ_REC_READING);
    if (!r)
      continue;
    r->value -= lzt_prng_real(&prng, 0, 0.3) * r->value;
    never_earlier(seed, "a reading less effective");
  }
}
END_TEST

// Effective for every band of its analyte, whatever the error.
static bool
effective_for_all(const lzt_history *history, const lzq_record *r)
{
  for (uint32_t i = 0; i < history->snap.n_phases; i++)
    for (uint32_t b = 0; b < history->phases[i].n_bands; b++)
      if (history->phases[i].bands[b].analyte == r->analyte &&
          !(r->value * 0.9 - 0.1 >= history->phases[i].bands[b].works ||
            (!history->phases[i].bands[b].error_inside &&
             r->value >= history->phases[i].bands[b].works)))
        return false;
  return true;
}

START_TEST(an_effective_reading_removed)
{
  for (uint64_t seed = first_seed; seed < first_seed + stations; seed++) {
    draw_station(seed, WATER_EVENTS);
    copy_station();
    lzq_record *r = some_record(&after, LZQ_REC_READING);
    if (!r || r->confirms || !effective_for_all(&after, r))
      continue;
    memmove(r, r + 1, (size_t)(after.records + --after.snap.n_records - r) * sizeof *r);
    never_earlier(seed, "an effective reading removed");
  }
}
END_TEST

START_TEST(an_instrument_fails_its_check)
{
  for (uint64_t seed = first_seed; seed < first_seed + stations; seed++) {
    draw_station(seed, WATER_EVENTS);
    copy_station();
    lzq_record *r = some_record(&after, LZQ_REC_CHECK);
    if (r) {
      r->ok = false;
    } else {
      r = enter(&after, LZQ_REC_CHECK, some_minute(&after));
      r->instrument = 0;
    }
    never_earlier(seed, "an instrument failed");
  }
}
END_TEST

static void
split_and_merge(lzq_minute apart, lzq_minute together, uint32_t lot)
{
  uint32_t part = after.snap.n_lots++;
  lzq_record *r = enter(&after, LZQ_REC_SPLIT, apart);
  r->lot = lot;
  r->other = part;
  r->heads = 1;
  r = enter(&after, LZQ_REC_MERGE, together);
  r->lot = part;
  r->other = lot;
}

static bool
quiet_between(const lzt_history *history, lzq_minute from, lzq_minute to)
{
  for (size_t i = 0; i < history->snap.n_records; i++)
    if (history->records[i].kind >= LZQ_REC_COUNT && history->records[i].at >= from &&
        history->records[i].at <= to)
      return false;
  return true;
}

START_TEST(split_and_merged_again)
{
  int same = 0;
  for (uint64_t seed = first_seed; seed < first_seed + 2 * stations; seed++) {
    draw_station(seed, BIT(LZQ_REC_DEATH) | BIT(LZQ_REC_COUNT));
    for (size_t i = 0; i < before.snap.n_records; i++)
      before.records[i].heads *= 100; // so that no part is the last fish
    copy_station();
    lzq_minute apart = some_minute(&after);
    lzq_minute together = lzt_prng_range(&prng, apart, after.until);
    if (seed % 2)
      together = apart + (together - apart) / 16;
    split_and_merge(apart, together, (uint32_t)lzt_prng_range(&prng, 0, before.snap.n_lots - 1));
    never_earlier(seed, "split and merged");
    if (!quiet_between(&before, apart, together))
      continue;
    same++;
    for (uint32_t i = 0; i < before.snap.n_lots; i++) {
      ck_assert_msg(is.credit->lots[i].served_at == was.credit->lots[i].served_at &&
                        is.credit->lots[i].credit_min == was.credit->lots[i].credit_min &&
                        is.credit->lots[i].firm_at == was.credit->lots[i].firm_at,
                    "seed %" PRIu64 ": lot %u changed by a split", seed, i);
    }
  }
  ck_assert_int_gt(same, 10);
  printf("of them split and merged without anything between: %d\n", same);
}
END_TEST

int
main(void)
{
  const property all[] = {
      {"sighting", one_more_sighting},
      {"lot", one_more_lot_in_the_water},
      {"less effective", a_reading_less_effective},
      {"removed", an_effective_reading_removed},
      {"failed check", an_instrument_fails_its_check},
      {"split", split_and_merged_again},
  };
  return run_properties("properties", all, sizeof all / sizeof *all);
}
