// SPDX-License-Identifier: GPL-3.0-or-later
// What a lot ate. Feeds are most of what is done to lots, and few courses ask for them: they stand
// in a list for each lot, act when the lot is next looked at, and become meals that parts share
// only where something asks.
#include "lzq_sort.h"
#include "lzq_walk.h"

static const lzq_feed *
feed_at(const lzq_list *feeds, size_t i)
{
  return (const lzq_feed *)lzq_list_at(feeds, i);
}

static const lzq_list *
feeds_of(const lzq_walk *walk, const lzq_lot_walk *lot)
{
  return &walk->book->feeds[lot - walk->lots];
}

// Whether a phase of its course ends by what it ate.
static bool
course_asks(const lzq_walk *walk, const lzq_lot_walk *lot)
{
  if (!lzq_walk_active(lot))
    return false;
  const lzq_protocol *protocol = &walk->snapshot->protocols[lot->stage.protocol];
  for (uint32_t p = 0; p < protocol->n_phases; p++)
    if (walk->snapshot->phases[protocol->first_phase + p].eating_days > 0)
      return true;
  return false;
}

// Days of eating since the phase began, up to `most`.
static int32_t
count_eaten(const lzq_walk *walk, const lzq_lot_walk *lot, int32_t most)
{
  const lzq_phase *phase = lzq_walk_phase(walk, lot);
  int32_t days[LZQ_MAX_EATING_DAYS];
  int32_t n = 0;
  for (const lzq_meal *meal = lot->meals; meal && n < most; meal = meal->older) {
    if (meal->feed->mark.at < lot->stage.start)
      break;
    bool counts = meal->feed->amount >= phase->eaten_share;
    for (int32_t i = 0; i < n && counts; i++)
      counts = days[i] != meal->feed->day;
    if (counts)
      days[n++] = meal->feed->day;
  }
  return n;
}

int32_t
lzq_feeds_eaten(const lzq_walk *walk, const lzq_lot_walk *lot)
{
  return count_eaten(walk, lot, LZQ_MAX_EATING_DAYS);
}

void
lzq_feeds_recount(const lzq_walk *walk, lzq_lot_walk *lot)
{
  lot->stage.eaten_days = count_eaten(walk, lot, lzq_walk_phase(walk, lot)->eating_days);
}

void
lzq_feeds_note(lzq_walk *walk, lzq_lot_walk *lot)
{
  const lzq_list *feeds = feeds_of(walk, lot);
  for (; lot->noted < lot->fed; lot->noted++) {
    lzq_meal *made = LZQ_NEW(walk->arena, lzq_meal, 1);
    if (!made) {
      walk->no_memory = true;
      return;
    }
    *made = (lzq_meal){.older = lot->meals, .feed = feed_at(feeds, lot->noted)};
    lot->meals = made;
  }
}

static void
ignore(lzq_walk *walk, const lzq_lot_walk *lot, const lzq_feed *feed)
{
  const lzq_record *first = &walk->snapshot->records[feed->mark.first];
  const lzq_record record = {.id = first->id,
                             .at = feed->mark.at,
                             .lot = (uint32_t)(lot - walk->lots),
                             .other = LZQ_NONE,
                             .kind = LZQ_REC_FEED};
  lzq_acts_ignore(walk, &record, LZQ_IGNORED_NOT_HERE);
}

// One by one, since the phase may end between two.
static void
eat(lzq_walk *walk, lzq_lot_walk *lot, size_t end)
{
  const lzq_list *feeds = feeds_of(walk, lot);
  while (lot->fed < end && !walk->no_memory) {
    lzq_walk_to(walk, lot, feed_at(feeds, lot->fed)->mark.at);
    lot->fed++;
    lzq_feeds_note(walk, lot);
    const int32_t asked = lzq_walk_active(lot) ? lzq_walk_phase(walk, lot)->eating_days : 0;
    if (lot->stage.eaten_days < asked)
      lot->stage.eaten_days = count_eaten(walk, lot, asked);
  }
}

void
lzq_feeds_act(lzq_walk *walk, lzq_lot_walk *lot, const lzq_mark *mark)
{
  const lzq_list *feeds = feeds_of(walk, lot);
  const size_t end = lzq_list_before(feeds, lot->fed, mark);
  if (end == lot->fed)
    return;
  if (!lzq_walk_may_act(lot, LZQ_REC_FEED)) {
    lzq_feeds_note(walk, lot);
    for (; lot->fed < end && !walk->no_memory; lot->fed++)
      ignore(walk, lot, feed_at(feeds, lot->fed));
    lot->noted = lot->fed;
  } else if (course_asks(walk, lot)) {
    lzq_feeds_note(walk, lot);
    eat(walk, lot, end);
  } else {
    lot->fed = end;
  }
}
