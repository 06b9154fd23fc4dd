// SPDX-License-Identifier: GPL-3.0-or-later
// Contacts of a sighting: a spot on day ten of observation, worked by hand, and random histories
// against a map of who stood where in every minute, drawn from the independent replay. That
// contacts are lots that shared water, nets or reach within the look-back is the definition in
// lzq_contacts.h; the look-back of 14 days is common practice, no source.
#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "credit_run.h"
#include "oracle_parts.h"
#include "oracle.h"
#include "random_station.h"

enum { DAYS = 10, HOUR = 60, DAY = LZQ_DAY };

// --- by hand

static lzb_station station;
static lzq_minute spot;

static void
observe(lzb_station *s)
{
  lzb_init(s);
  for (int i = 0; i < 5; i++)
    lzb_add_system(s, 1000, LZQ_ROLE_FINISHING);
  for (int i = 0; i < 9; i++)
    lzb_add_lot(s);
  lzb_add_protocol(s);
  lzb_add_phase(s, LZQ_PHASE_OBSERVE)->quiet_min = 14 * DAY;
  s->utc_offset_min = 120;
  spot = lzb_at(s, 2027, 6, 18, 9, 0);
}

static const lzq_contacts *
contacts_of(uint32_t system, lzq_minute at, const uint32_t *neighbours, uint32_t n)
{
  const lzq_credit *credit = run_known(&station, UINT64_MAX, at + DAY);
  const lzq_contacts *found = NULL;
  lzq_fault fault = {0};
  const lzq_contact_query query = {system, at, neighbours, n};
  ck_assert_int_eq(
      lzq_contacts_make(&station.snapshot, credit, &query, &credit_arena, &found, &fault), LZQ_OK);
  return found;
}

static const lzq_contact *
contact(const lzq_contacts *all, uint32_t lot, lzq_contact_how how)
{
  for (size_t i = 0; i < all->n; i++)
    if (all->items[i].lot == lot && all->items[i].how == how)
      return &all->items[i];
  return NULL;
}

// 24 fish since 8 June in water 0, and a spot on 18 June. Lot 1 came with lot 0 and left on the
// 12th; lot 2 left on 3 June, before the look-back; lot 3 has no course; lot 4 was with lot 0 in
// water 1 until the 8th; lot 5 came there after lot 0 had left.
START_TEST(spot_on_day_ten)
{
  observe(&station);
  const lzq_minute came = spot - DAYS * DAY;
  lzb_receive(&station, spot - 30 * DAY, 2, 0, 5);
  lzb_receive(&station, spot - 20 * DAY, 0, 1, 24);
  lzb_receive(&station, spot - 20 * DAY, 4, 1, 8);
  lzb_move(&station, spot - 15 * DAY, 2, 2);
  lzb_move(&station, came, 0, 0);
  lzb_receive(&station, came, 1, 0, 10);
  lzb_receive(&station, came + DAY, 5, 1, 6);
  lzb_receive(&station, came + 2 * DAY, 3, 0, 4);
  lzb_course(&station, came, 0, 0);
  lzb_course(&station, came, 1, 0);
  lzb_move(&station, came + 4 * DAY, 1, 3);
  lzb_act(&station, LZQ_REC_RELEASE, spot - DAY, 1);
  lzb_sight(&station, spot, 0);
  const lzq_contacts *found = contacts_of(0, spot, NULL, 0);
  ck_assert_int_eq(found->from, spot - 14 * DAY);
  ck_assert_uint_eq(found->n, 4);
  const lzq_contact *own = contact(found, 0, LZQ_CONTACT_WATER);
  ck_assert(own && own->from == came && own->to == spot && !own->uncoursed);
  const lzq_contact *bare = contact(found, 3, LZQ_CONTACT_WATER);
  ck_assert(bare && bare->uncoursed && bare->from == came + 2 * DAY);
  const lzq_contact *left = contact(found, 1, LZQ_CONTACT_MOVED_OUT);
  ck_assert(left && left->to == came + 4 * DAY && left->released && left->system_now == LZQ_NONE);
  const lzq_contact *former = contact(found, 4, LZQ_CONTACT_FORMER);
  ck_assert(former && former->system == 1 && former->from == spot - 14 * DAY && former->to == came);
  ck_assert_uint_eq(former->system_now, 1);
}
END_TEST

// Who leaves in the minute of the spot is in the water; who left a minute before is a contact; who
// left in the first minute of the look-back is one, a minute earlier is none.
START_TEST(edges_of_time)
{
  observe(&station);
  const lzq_minute leaves[] = {spot, spot - 1, spot - 14 * DAY, spot - 14 * DAY - 1};
  for (uint32_t lot = 0; lot < 4; lot++) {
    lzb_receive(&station, spot - 40 * DAY, lot, 0, 5);
    lzb_move(&station, leaves[lot], lot, 1);
  }
  lzb_receive(&station, spot - DAY, 4, 2, 5);
  lzb_move(&station, spot, 4, 0);
  lzb_move(&station, spot, 4, 3); // through it within one minute
  lzb_sight(&station, spot, 0);
  const lzq_contacts *found = contacts_of(0, spot, NULL, 0);
  ck_assert_ptr_nonnull(contact(found, 0, LZQ_CONTACT_WATER));
  ck_assert_ptr_nonnull(contact(found, 4, LZQ_CONTACT_WATER));
  ck_assert_ptr_nonnull(contact(found, 1, LZQ_CONTACT_MOVED_OUT));
  const lzq_contact *edge = contact(found, 2, LZQ_CONTACT_MOVED_OUT);
  ck_assert(edge && edge->from == edge->to && edge->to == spot - 14 * DAY);
  ck_assert_ptr_null(contact(found, 3, LZQ_CONTACT_MOVED_OUT));
}
END_TEST

START_TEST(nets_and_neighbours)
{
  observe(&station);
  for (uint32_t lot = 0; lot < 4; lot++)
    lzb_receive(&station, spot - DAY, lot, lot, 5);
  station.systems[0].net_set = station.systems[2].net_set = 7;
  station.systems[1].net_set = 8;
  const uint32_t near[] = {3};
  const lzq_contacts *found = contacts_of(0, spot, near, 1);
  ck_assert_uint_eq(found->n, 3);
  ck_assert_ptr_nonnull(contact(found, 2, LZQ_CONTACT_NET));
  ck_assert_ptr_nonnull(contact(found, 3, LZQ_CONTACT_NEIGHBOUR));
  station.systems[0].net_set = station.systems[2].net_set = 0; // its own nets each
  ck_assert_uint_eq(contacts_of(0, spot, NULL, 0)->n, 1);
}
END_TEST

// A part has been where the whole was; a lot that merged into another is found as that other.
START_TEST(contacts_follow_the_fish)
{
  observe(&station);
  lzb_receive(&station, spot - 9 * DAY, 0, 0, 10);
  lzb_receive(&station, spot - 9 * DAY, 1, 1, 10);
  lzb_receive(&station, spot - 9 * DAY, 2, 2, 10);
  lzb_move(&station, spot - 5 * DAY, 0, 1);
  lzq_record *split = lzb_act(&station, LZQ_REC_SPLIT, spot - 4 * DAY, 0);
  split->other = 3;
  split->heads = 4;
  lzb_act(&station, LZQ_REC_MERGE, spot - 3 * DAY, 0)->other = 2;
  const lzq_contacts *found = contacts_of(0, spot, NULL, 0);
  ck_assert_uint_eq(found->n, 2);
  ck_assert_ptr_nonnull(contact(found, 3, LZQ_CONTACT_MOVED_OUT));
  const lzq_contact *both = contact(found, 2, LZQ_CONTACT_MOVED_OUT);
  ck_assert(both && both->from == spot - 9 * DAY && both->to == spot - 5 * DAY);
}
END_TEST

START_TEST(what_is_refused)
{
  observe(&station);
  const lzq_credit *credit = run_known(&station, UINT64_MAX, spot);
  const uint32_t near[] = {0, 5};
  const lzq_contact_query queries[] = {
      {5, spot, NULL, 0}, {0, spot + 1, NULL, 0}, {0, spot, near, 2}, {0, LZQ_LONG_AGO, NULL, 0}};
  static const char *const fields[] = {"system", "at", "neighbours", "at"};
  for (size_t i = 0; i < 4; i++) {
    lzq_fault fault = {0};
    const lzq_contacts *found = NULL;
    ck_assert_int_eq(
        lzq_contacts_make(&station.snapshot, credit, &queries[i], &credit_arena, &found, &fault),
        LZQ_BAD_INPUT);
    ck_assert_ptr_null(found);
    ck_assert_str_eq(fault.field, fields[i]);
  }
}
END_TEST

// --- against a map of every minute

enum { LOTS = 6, WATERS = 5, MINUTES = 12 * DAY };

static lzt_history history;
static bool stood[LOTS][WATERS][MINUTES]; // minutes from `first` on
static lzq_minute first;

static void
mark(uint32_t lot, uint32_t system, lzq_minute from, lzq_minute to)
{
  for (lzq_minute m = from; m <= to; m++)
    stood[lot][system][m - first] = true;
}

// The fish of `lot` are now (also) those of `other`.
static void
follow(uint32_t lot, uint32_t other)
{
  for (uint32_t s = 0; s < WATERS; s++)
    for (size_t m = 0; m < MINUTES; m++)
      stood[other][s][m] |= stood[lot][s][m];
}

static bool
here(const lzq_lot_credit *lot)
{
  return lot->received_at != LZQ_NEVER;
}

static bool
stands(const lzq_lot_credit *lot)
{
  return here(lot) && !lot->released && !lot->merged && !lot->dead && lot->system != LZQ_NONE;
}

// What one record of minute t did to where fish have been; was, is: before and after the minute.
static void
map_record(const lzq_record *r, const lzt_oracle *was, const lzt_oracle *is)
{
  const lzq_lot_credit *before = was && r->lot != LZQ_NONE ? &was->lots[r->lot].sum : NULL;
  const bool gone = before && (before->released || before->merged);
  if (r->kind == LZQ_REC_RECEIVE || r->kind == LZQ_REC_MOVE) {
    const lzq_lot_credit *now = &is->lots[r->lot].sum;
    const bool acts = r->kind == LZQ_REC_RECEIVE || (here(now) && !now->dead);
    if (acts && !gone && r->tank != LZQ_NONE)
      mark(r->lot, history.tanks[r->tank].system, r->at, r->at);
  } else if (r->kind == LZQ_REC_COUNT && before && before->dead && r->heads > 0) {
    mark(r->lot, before->system, r->at, r->at); // found again, where it may be moved from at once
  } else if (r->kind == LZQ_REC_SPLIT) {
    if (here(&is->lots[r->other].sum) && !(was && here(&was->lots[r->other].sum)))
      follow(r->lot, r->other);
  } else if (r->kind == LZQ_REC_MERGE) {
    if (is->lots[r->lot].sum.merged_into == r->other && !(before && before->merged))
      follow(r->lot, r->other);
  }
}

// Draws the map from the replay's answers after every minute in which something happened.
static void
draw_map(const lzt_known *known)
{
  lzt_oracle *was = NULL;
  memset(stood, 0, sizeof stood);
  first = known->events[0].r->at;
  for (size_t i = 0; i < known->n;) {
    const lzq_minute t = known->events[i].r->at;
    lzt_oracle *is = lzt_oracle_run(&history.snap, history.known_id, t);
    for (; i < known->n && known->events[i].r->at == t; i++)
      map_record(known->events[i].r, was, is);
    const lzq_minute next = i < known->n ? known->events[i].r->at : history.until;
    for (uint32_t l = 0; l < history.snap.n_lots; l++)
      if (stands(&is->lots[l].sum))
        mark(l, is->lots[l].sum.system, t, next);
    lzt_oracle_free(was);
    was = is;
  }
  lzt_oracle_free(was);
}

typedef struct {
  lzq_minute from, to; // from > to: none
} minutes;

// Minutes of the look-back in which the lot stood in that water; with `company`, only those in
// which a lot that is in water x in minute `at` did too.
static minutes
minutes_in(uint32_t lot, uint32_t system, lzq_minute from, lzq_minute at, bool company, uint32_t x)
{
  minutes found = {LZQ_NEVER, LZQ_LONG_AGO};
  for (lzq_minute m = from > first ? from : first; m <= at; m++) {
    bool counts = stood[lot][system][m - first];
    if (counts && company) {
      counts = false;
      for (uint32_t l = 0; l < history.snap.n_lots; l++)
        counts = counts || (stood[l][x][at - first] && stood[l][system][m - first]);
    }
    if (counts && found.from == LZQ_NEVER)
      found.from = m;
    if (counts)
      found.to = m;
  }
  return found;
}

static void
expect(uint64_t seed, const lzq_contacts *all, size_t *next, uint32_t lot, uint32_t system,
       lzq_contact_how how, minutes time)
{
  if (time.from > time.to)
    return;
  const lzq_contact *one = *next < all->n ? &all->items[*next] : NULL;
  ck_assert_msg(one && one->lot == lot && one->system == system && one->how == how &&
                    one->from == time.from && one->to == time.to,
                "seed %" PRIu64 ": lot %u, water %u, how %d, %" PRId64 "..%" PRId64
                ": found %d %u %u %" PRId64 "..%" PRId64,
                seed, lot, system, how, time.from, time.to, one ? one->how : -1, one ? one->lot : 0,
                one ? one->system : 0, one ? one->from : 0, one ? one->to : 0);
  ++*next;
}

static size_t
compare(uint64_t seed, const lzq_credit *credit, const lzq_contacts *all,
        const lzq_contact_query *query)
{
  size_t next = 0;
  const uint32_t x = query->system;
  for (int how = 0; how < LZQ_N_CONTACT_HOWS; how++)
    for (uint32_t l = 0; l < history.snap.n_lots; l++)
      for (uint32_t s = 0; s < history.snap.n_systems; s++) {
        const bool in = stood[l][x][query->at - first];
        const bool net = history.systems[x].net_set && s != x &&
                         history.systems[s].net_set == history.systems[x].net_set;
        const bool near = query->n_neighbours && query->neighbours[0] == s && s != x;
        const bool wanted[LZQ_N_CONTACT_HOWS] = {s == x && in, s == x && !in, s != x && !in,
                                                 net && !in, near && !in};
        if (credit->lots[l].merged || !wanted[how])
          continue;
        expect(seed, all, &next, l, s, (lzq_contact_how)how,
               minutes_in(l, s, all->from, query->at, how == LZQ_CONTACT_FORMER, x));
      }
  ck_assert_msg(next == all->n, "seed %" PRIu64 ": %zu more", seed, all->n - next);
  return next;
}

START_TEST(agrees_with_a_map_of_every_minute)
{
  const char *text = getenv("LZ_HISTORIES");
  const uint64_t n = text ? strtoull(text, NULL, 10) : 300;
  size_t entries = 0;
  lzq_arena arena;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  for (uint64_t seed = 71000; seed < 71000 + n; seed++) {
    lzt_prng prng;
    lzt_prng_seed(&prng, seed);
    const lzt_wish wish = {.days = 3, .lots = LOTS, .waters = WATERS, .records = 50};
    lzt_random_station(seed, &wish, &history);
    history.snap.station.contact_days = lzt_prng_range(&prng, 0, 2);
    for (uint32_t i = 0; i < WATERS; i++)
      history.systems[i].net_set = (uint32_t)lzt_prng_range(&prng, 0, 2);
    lzt_known known = lzt_known_make(&history.snap, history.known_id, history.until);
    if (!known.n)
      continue;
    draw_map(&known);
    const lzq_credit *credit = NULL;
    const lzq_contacts *all = NULL;
    lzq_arena_reset(&arena);
    ck_assert_int_eq(
        lzq_credit_run(&history.snap, history.known_id, history.until, &arena, &credit, NULL),
        LZQ_OK);
    const uint32_t last = history.snap.n_systems - 1;
    const uint32_t near = (uint32_t)lzt_prng_range(&prng, 0, last);
    const size_t record = (size_t)lzt_prng_range(&prng, 0, (int64_t)known.n - 1);
    const lzq_contact_query query = {(uint32_t)lzt_prng_range(&prng, 0, last),
                                     known.events[record].r->at + lzt_prng_range(&prng, 0, 1),
                                     &near, (uint32_t)lzt_prng_range(&prng, 0, 1)};
    free(known.events);
    if (query.at > history.until)
      continue;
    ck_assert_int_eq(lzq_contacts_make(&history.snap, credit, &query, &arena, &all, NULL), LZQ_OK);
    entries += compare(seed, credit, all, &query);
  }
  lzq_arena_free(&arena);
  printf("contacts: %zu entries of %" PRIu64 " histories\n", entries, n);
  ck_assert_uint_gt(entries, n);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("contacts");
  TCase *tcase = tcase_create("contacts");
  tcase_set_timeout(tcase, 0);
  tcase_add_test(tcase, spot_on_day_ten);
  tcase_add_test(tcase, edges_of_time);
  tcase_add_test(tcase, nets_and_neighbours);
  tcase_add_test(tcase, contacts_follow_the_fish);
  tcase_add_test(tcase, what_is_refused);
  tcase_add_test(tcase, agrees_with_a_map_of_every_minute);
  suite_add_tcase(suite, tcase);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  const int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  lzq_arena_free(&credit_arena);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
