// SPDX-License-Identifier: GPL-3.0-or-later
// Results do not depend on where time begins, nor on the order of entry of records that have
// nothing to do with each other; the same input gives the same bytes; and no lot is shown as
// releasable whose record, as entered at that minute, does not satisfy the definition.
#include <inttypes.h>
#include <stdio.h>

#include "oracle.h"
#include "property_kit.h"

static lzq_minute
moved(lzq_minute minute, lzq_minute by)
{
  return minute == LZQ_NEVER || minute == LZQ_LONG_AGO ? minute : minute + by;
}

static void
same_but_for(uint64_t seed, lzq_minute by, const char *what)
{
  ask(&was, &before);
  ask(&is, &after);
  for (uint32_t i = 0; i < before.snap.n_lots; i++) {
    const lzq_lot_credit *a = &was.credit->lots[i], *b = &is.credit->lots[i];
#define SAME(condition)                                                                            \
  ck_assert_msg(condition, "seed %" PRIu64 ", %s: lot %u: %s", seed, what, i, #condition)
    SAME(a->n_visits == b->n_visits);
    SAME(a->n_spans == b->n_spans);
    SAME(moved(a->served_at, by) == b->served_at);
    SAME(moved(a->releasable_at, by) == b->releasable_at);
    SAME(a->credit_min == b->credit_min && a->open_min == b->open_min);
    for (uint32_t k = 0; k < a->n_visits; k++) {
      SAME(moved(a->visits[k].start, by) == b->visits[k].start);
      SAME(moved(a->visits[k].end, by) == b->visits[k].end);
      SAME(moved(a->visits[k].firm_at, by) == b->visits[k].firm_at);
      SAME(a->visits[k].credit_min == b->visits[k].credit_min);
    }
    for (uint32_t k = 0; k < a->n_spans; k++) {
      SAME(moved(a->spans[k].from, by) == b->spans[k].from);
      SAME(a->spans[k].why == b->spans[k].why && a->spans[k].firm == b->spans[k].firm);
    }
  }
}

START_TEST(all_times_moved)
{
  for (uint64_t seed = first_seed; seed < first_seed + stations; seed++) {
    lzt_prng_seed(&prng, seed);
    lzt_wish wish = lzt_wish_ordinary(&prng);
    lzt_random_station(seed, &wish, &before);
    copy_station();
    lzq_minute by = lzt_prng_range(&prng, -20000000, 20000000);
    for (size_t i = 0; i < after.snap.n_records; i++)
      after.records[i].at += by;
    after.until += by;
    same_but_for(seed, by, "all times moved");
  }
}
END_TEST

// Records of one minute, kind and water (or lot, or instrument) act in the order of entry.
static bool
order_matters(const lzq_record *a, const lzq_record *b)
{
  if (a->at != b->at || a->kind != b->kind)
    return false;
  const bool of_water =
      a->kind >= LZQ_REC_VOLUME && a->kind <= LZQ_REC_GEAR && a->kind != LZQ_REC_CHECK;
  return !of_water || a->system == b->system;
}

START_TEST(entered_in_another_order)
{
  for (uint64_t seed = first_seed; seed < first_seed + stations; seed++) {
    draw_station(seed, 0);
    copy_station();
    uint64_t place[LZT_MOST_RECORDS + 1] = {0};
    size_t n = after.snap.n_records;
    for (size_t i = 0; i < 4 * n; i++) {
      size_t j = (size_t)lzt_prng_range(&prng, 0, (int64_t)n - 2);
      lzq_record *r = &after.records[j], swap = r[0];
      if (order_matters(&r[0], &r[1]))
        continue;
      r[0] = r[1];
      r[1] = swap;
    }
    for (size_t i = 0; i < n; i++)
      place[after.records[i].id] = i + 1;
    for (size_t i = 0; i < n; i++) {
      after.records[i].id = i + 1;
      after.records[i].confirms = place[after.records[i].confirms];
    }
    same_but_for(seed, 0, "entered in another order");
  }
}
END_TEST

START_TEST(same_input_same_bytes)
{
  for (uint64_t seed = first_seed; seed < first_seed + stations; seed++) {
    lzt_prng_seed(&prng, seed);
    lzt_wish wish = lzt_wish_ordinary(&prng);
    lzt_random_station(seed, &wish, &before);
    copy_station();
    ask(&was, &before);
    ask(&is, &after);
    for (uint32_t i = 0; i < before.snap.n_lots; i++) {
      const lzq_lot_credit *a = &was.credit->lots[i], *b = &is.credit->lots[i];
      ck_assert_uint_eq(a->n_visits, b->n_visits);
      ck_assert_uint_eq(a->n_spans, b->n_spans);
      if (a->n_visits)
        ck_assert_mem_eq(a->visits, b->visits, a->n_visits * sizeof *a->visits);
      if (a->n_spans)
        ck_assert_mem_eq(a->spans, b->spans, a->n_spans * sizeof *a->spans);
    }
  }
}
END_TEST

// A lot shown as releasable at a minute, by what was entered until then, has served by the oracle
// too.
START_TEST(none_goes_before_its_time)
{
  int shown = 0;
  for (uint64_t seed = first_seed; seed < first_seed + stations; seed++) {
    lzt_prng_seed(&prng, seed);
    lzt_wish wish = lzt_wish_ordinary(&prng);
    lzt_random_station(seed, &wish, &before);
    before.until = some_minute(&before);
    before.known_id = (uint64_t)lzt_prng_range(&prng, 1, (int64_t)before.snap.n_records);
    ask(&was, &before);
    lzt_oracle *oracle = lzt_oracle_run(&before.snap, before.known_id, before.until);
    for (uint32_t i = 0; i < before.snap.n_lots; i++) {
      if (was.credit->lots[i].releasable_at > before.until)
        continue;
      const lzq_lot_credit *lot = &oracle->lots[i].sum;
      shown++;
      ck_assert_msg((lot->served || lot->released) && lot->releasable_at <= before.until,
                    "seed %" PRIu64 ": lot %u shown as releasable", seed, i);
    }
    lzt_oracle_free(oracle);
  }
  ck_assert_int_gt(shown, 0);
}
END_TEST

int
main(void)
{
  const property all[] = {
      {"moved", all_times_moved},
      {"order", entered_in_another_order},
      {"same", same_input_same_bytes},
      {"release", none_goes_before_its_time},
  };
  return run_properties("invariance", all, sizeof all / sizeof *all);
}
