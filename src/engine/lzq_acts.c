// SPDX-License-Identifier: GPL-3.0-or-later
// What a record does to a lot: where it stands, how many fish it has, which course it is on.
#include "lzq_sort.h"
#include "lzq_walk.h"

static const lzq_record *
act_at(const lzq_walk *walk, size_t i)
{
  return &((const lzq_deed *)lzq_list_at(&walk->book->deeds, i))->record;
}

static bool
gone(const lzq_lot_walk *lot)
{
  return lot->released || lot->merged || lot->dead;
}

static void
receive(lzq_walk *walk, lzq_lot_walk *lot, const lzq_record *record)
{
  if (lot->received_at == LZQ_NEVER)
    lot->received_at = record->at;
  lzq_place_put(walk, lot, record->tank, record->at);
  lzq_place_heads(walk, lot, record->heads, record->at);
}

// --- sightings

// A lot without a course, in the minute of a sighting in `system`.
static void
list_uncoursed(lzq_walk *walk, lzq_lot_walk *lot, uint32_t system, lzq_minute at)
{
  if (lot->listed_at == at || lot->last_sighting == at || lot->received_at == LZQ_NEVER)
    return;
  lzq_uncoursed *list = lzq_grow(walk->arena, walk->uncoursed, walk->n_uncoursed,
                                 &walk->uncoursed_capacity, sizeof *list);
  if (!list) {
    walk->no_memory = true;
    return;
  }
  walk->uncoursed = list;
  list[walk->n_uncoursed++] = (lzq_uncoursed){at, (uint32_t)(lot - walk->lots), system};
  lot->listed_at = at;
}

static void
set_back(lzq_walk *walk, lzq_lot_walk *lot, uint32_t system, lzq_minute at)
{
  if (gone(lot) || lot->last_sighting == at)
    return;
  if (!lot->has_course) {
    list_uncoursed(walk, lot, system, at);
    return;
  }
  const uint32_t protocol = lot->stage.protocol;
  const uint32_t back = lzq_walk_phase(walk, lot)->sighting_to;
  if (lot->served) {
    lot->served = false;
    lzq_place_clear(walk, lot, at, false);
  } else {
    lzq_visit_close(walk, lot, at, LZQ_LEFT_SIGHTING);
  }
  lot->last_sighting = at;
  lzq_visit_begin(walk, lot, protocol, back, at);
}

// To the minute of act i.
static lzq_lot_walk *
bring(lzq_walk *walk, uint32_t index, size_t i)
{
  const lzq_mark *mark = lzq_list_at(&walk->book->deeds, i);
  lzq_feeds_act(walk, &walk->lots[index], mark);
  lzq_walk_to(walk, &walk->lots[index], mark->at);
  return &walk->lots[index];
}

// All sightings of one minute: they reach the lots in the water, and those that will move into it
// in that same minute. Returns the index behind them.
static size_t
apply_sightings(lzq_walk *walk, size_t i)
{
  const size_t n = walk->book->deeds.n;
  const size_t first = i;
  const lzq_minute at = act_at(walk, i)->at;
  for (; i < n && act_at(walk, i)->at == at && act_at(walk, i)->kind == LZQ_REC_SIGHTING; i++) {
    const uint32_t system = act_at(walk, i)->system;
    if (walk->sighted_at[system] == at)
      continue;
    walk->sighted_at[system] = at;
    for (uint32_t l = walk->first_in[system]; l != LZQ_NONE; l = walk->lots[l].next) {
      set_back(walk, bring(walk, l, first), system, at);
    }
  }
  for (size_t j = i; j < n && act_at(walk, j)->at == at; j++) {
    const lzq_record *act = act_at(walk, j);
    if (act->kind != LZQ_REC_MOVE)
      continue;
    const uint32_t system = walk->snapshot->tanks[act->tank].system;
    if (walk->sighted_at[system] == at)
      set_back(walk, bring(walk, act->lot, first), system, at);
  }
  return i;
}

// --- acts of the second half of a minute

static lzq_minute
earlier(lzq_minute a, lzq_minute b)
{
  return a < b ? a : b;
}

// The course as it stands becomes the other part's own.
static void
copy_course(lzq_walk *walk, const lzq_lot_walk *from, lzq_lot_walk *to)
{
  lzq_visit_fold(to);
  if (from->ends && !to->ends)
    to->ends = LZQ_NEW(walk->arena, lzq_minute, LZQ_MAX_PHASES);
  walk->no_memory = walk->no_memory || (from->ends && !to->ends);
  to->has_course = from->has_course;
  to->served = from->served;
  to->served_at = from->served_at;
  to->served_firm = from->served_firm;
  to->free_since = from->free_since;
  to->last_phase_start = from->last_phase_start;
  to->earlier = from->earlier;
  to->last_sighting = from->last_sighting;
  to->last_given = from->last_given;
  to->stage = from->stage;
  to->meals = from->meals;
  to->signs = from->signs;
  for (uint32_t p = 0; to->ends && from->ends && p < LZQ_MAX_PHASES; p++)
    to->ends[p] = from->ends[p];
  if (lzq_walk_active(to))
    lzq_visit_open(walk, to);
  else if (to->served)
    lzq_visit_copy(walk, from, to);
}

void
lzq_acts_ignore(lzq_walk *walk, const lzq_record *record, lzq_ignored_why why)
{
  lzq_ignored *list =
      lzq_grow(walk->arena, walk->ignored, walk->n_ignored, &walk->ignored_capacity, sizeof *list);
  if (!list) {
    walk->no_memory = true;
    return;
  }
  walk->ignored = list;
  const bool two = record->kind == LZQ_REC_SPLIT || record->kind == LZQ_REC_MERGE;
  list[walk->n_ignored++] = (lzq_ignored){
      .entry = record->corrects ? record->corrects : record->id,
      .at = record->at,
      .lot = record->lot,
      .other = two ? record->other : LZQ_NONE,
      .kind = record->kind,
      .why = (uint8_t)why,
  };
}

static void
split(lzq_walk *walk, lzq_lot_walk *lot, lzq_lot_walk *part, const lzq_record *record)
{
  const lzq_minute at = record->at;
  if (part->received_at != LZQ_NEVER || part->system != LZQ_NONE || part->has_course ||
      gone(part)) {
    lzq_acts_ignore(walk, record, LZQ_IGNORED_PART_TAKEN); // that lot is already another one
    return;
  }
  lzq_visit_fold(lot);
  part->received_at = lot->received_at;
  lzq_place_put(walk, part, lot->tank, at);
  copy_course(walk, lot, part);
  part->clear_since = lot->clear_since;
  part->was_clear_since = lot->was_clear_since;
  part->unclear_at = lot->unclear_at;
  part->held = lot->held;
  part->stays = lot->stays;
  if (lzq_walk_present(lot))
    lzq_place_add_stay(walk, part, lot->system, lot->stay_from, at);
  // As a lot of its own it can be let go from now on only.
  part->free_since = lzq_latest(part->free_since, at);
  lzq_visit_share_bath(lot, part, record->heads);
  lzq_place_heads(walk, part, record->heads, at);
  lzq_place_heads(walk, lot, (int64_t)lot->heads - record->heads, at);
}

// Its last dose or bath that was given once.
static lzq_minute
last_given(const lzq_lot_walk *lot)
{
  const lzq_minute now = lot->stage.given_at;
  return now == LZQ_NEVER ? lot->last_given : lzq_latest(lot->last_given, now);
}

// The worse of both courses.
static void
merge_courses(lzq_walk *walk, lzq_lot_walk *lot, lzq_lot_walk *other, lzq_minute at)
{
  const uint32_t a = lot->served ? LZQ_MAX_PHASES : lot->stage.phase;
  const uint32_t b = other->served ? LZQ_MAX_PHASES : other->stage.phase;
  // Whom either has met in its last phase holds both: else fish could go earlier by merging.
  const lzq_minute look_from =
      earlier(lzq_place_looks_back_to(walk, lot), lzq_place_looks_back_to(walk, other));
  const lzq_minute given = lzq_latest(last_given(lot), last_given(other));
  const lzq_minute from = lzq_latest(lot->stage.course_from, other->stage.course_from);
  const lzq_minute due = earlier(lot->served ? LZQ_NEVER : lzq_visit_next_due(walk, lot),
                                 other->served ? LZQ_NEVER : lzq_visit_next_due(walk, other));
  for (uint32_t p = 0; p < LZQ_MAX_PHASES; p++)
    lot->ends[p] = other->ends[p] = lzq_latest(lot->ends[p], other->ends[p]);
  if (a < b) {
    if (lzq_walk_active(other))
      lzq_visit_close(walk, other, at, LZQ_LEFT_STOPPED);
    const lzq_minute sighting = other->last_sighting;
    lzq_visit_fold(lot);
    copy_course(walk, lot, other);
    other->last_sighting = sighting;
    lzq_place_clear(walk, other, at, false);
  } else if (a == b && lot->served) {
    other->served_at = lzq_latest(lot->served_at, other->served_at);
    other->served_firm = lzq_latest(lot->served_firm, other->served_firm);
    walk->visits[other->visit].visit.firm_at = other->served_firm;
    if (other->accepted_visits == other->n_visits)
      other->accepted_visits--; // its last visit may wait again
    other->free_since = lzq_latest(other->free_since, other->served_at);
    if (lot->served_firm > at) // what was confirmed before now held nothing up
      other->free_since = lzq_latest(other->free_since, lot->served_firm);
    lzq_place_look_back(walk, lot, other, at);
  } else if (a == b) {
    lzq_visit_worsen(walk, lot, other);
  }
  other->last_given = given;
  other->stage.course_from = from;
  if (lzq_walk_active(other))
    lzq_visit_owe(walk, other, due);
  other->stage.look_from = look_from;
  if (lzq_walk_active(other))
    lzq_visit_give_up(walk, other, at);
}

static void
merge(lzq_walk *walk, lzq_lot_walk *lot, lzq_lot_walk *other, const lzq_record *record)
{
  const lzq_minute at = record->at;
  if (gone(other) || other->received_at == LZQ_NEVER) {
    lzq_acts_ignore(walk, record, LZQ_IGNORED_OTHER_NOT_HERE);
    return;
  }
  if (lot->has_course != other->has_course ||
      (lot->has_course && lot->stage.protocol != other->stage.protocol)) {
    lzq_acts_ignore(walk, record, LZQ_IGNORED_OTHER_COURSE);
    return;
  }
  if (lot->has_course)
    merge_courses(walk, lot, other, at);
  other->last_sighting = lzq_latest(lot->last_sighting, other->last_sighting);
  lzq_place_inherit(walk, lot, other, at);
  const int64_t heads = (int64_t)other->heads + lot->heads;
  lzq_place_depart(walk, lot, at, LZQ_LEFT_STOPPED);
  lot->merged = true;
  lot->merged_into = record->other;
  lot->has_course = false;
  lot->heads = 0;
  lzq_place_heads(walk, other, heads, at);
}

static void
stop(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute at)
{
  if (lzq_walk_active(lot))
    lzq_visit_close(walk, lot, at, LZQ_LEFT_STOPPED);
  lzq_visit_fold(lot);
  lot->has_course = lot->served = false;
  lzq_place_clear(walk, lot, at, false);
}

static void
course(lzq_walk *walk, lzq_lot_walk *lot, const lzq_record *record)
{
  const lzq_snapshot *s = walk->snapshot;
  const uint32_t asked = s->protocols[record->protocol].first_phase + record->phase;
  const bool keep = record->keep && lzq_walk_active(lot) &&
                    lzq_phase_serves(lzq_walk_phase(walk, lot), &s->phases[asked]);
  // Kept credit that was earned after an end that still waits, waits with it.
  const lzq_minute firm = lzq_visit_ends(lot);
  const lzq_minute due = keep ? lzq_visit_due(walk, lot) : LZQ_NEVER;
  stop(walk, lot, record->at);
  lzq_feeds_note(walk, lot);
  lot->has_course = true;
  for (uint32_t p = 0; lot->ends && p < LZQ_MAX_PHASES; p++)
    lot->ends[p] = LZQ_LONG_AGO;
  if (!keep) {
    lzq_visit_begin(walk, lot, record->protocol, record->phase, record->at);
    return;
  }
  lot->stage.protocol = record->protocol;
  lot->stage.phase = record->phase;
  lot->stage.firm = lzq_latest(lot->stage.firm, firm);
  lzq_visit_owe(walk, lot, due);
  lzq_visit_recall(walk, lot);
  lzq_visit_open(walk, lot);
}

static void
accept(const lzq_walk *walk, lzq_lot_walk *lot, const lzq_record *record)
{
  if (record->phase != lot->stage.phase)
    return;
  const double most = (double)walk->snapshot->station.accept_max_min;
  const double sum = (double)lot->stage.accepted_min + record->amount;
  lot->stage.accepted_min = (int64_t)(sum < most ? sum : most);
}

static void
apply_first_half(lzq_walk *walk, lzq_lot_walk *lot, const lzq_record *record)
{
  switch (record->kind) {
  case LZQ_REC_RECEIVE: receive(walk, lot, record); break;
  case LZQ_REC_COUNT: lzq_place_heads(walk, lot, record->heads, record->at); break;
  case LZQ_REC_DEATH:
    lzq_place_heads(walk, lot, (int64_t)lot->heads - record->heads, record->at);
    break;
  case LZQ_REC_SIGN: lzq_visit_sign(walk, lot, record); break;
  case LZQ_REC_ACCEPT_OPEN: lzq_visit_accept_open(walk, lot, record->at); break;
  default:
    if (lzq_walk_active(lot) && record->kind == LZQ_REC_ACCEPT)
      accept(walk, lot, record);
  }
}

static void
move(lzq_walk *walk, lzq_lot_walk *lot, const lzq_record *record)
{
  lzq_place_put(walk, lot, record->tank, record->at);
  if (walk->sighted_at[lot->system] == record->at)
    set_back(walk, lot, lot->system, record->at);
}

static void
apply_second_half(lzq_walk *walk, lzq_lot_walk *lot, lzq_lot_walk *other, const lzq_record *record)
{
  switch (record->kind) {
  case LZQ_REC_SPLIT: split(walk, lot, other, record); break;
  case LZQ_REC_MOVE: move(walk, lot, record); break;
  case LZQ_REC_MERGE: merge(walk, lot, other, record); break;
  case LZQ_REC_STOP: stop(walk, lot, record->at); break;
  case LZQ_REC_COURSE: course(walk, lot, record); break;
  case LZQ_REC_BATH: lzq_visit_bath(walk, lot, record); break;
  case LZQ_REC_RELEASE:
    lzq_place_depart(walk, lot, record->at, LZQ_LEFT_RELEASED);
    lot->released = true;
    lot->released_at = record->at;
    break;
  default: break;
  }
}

size_t
lzq_acts_apply(lzq_walk *walk, size_t i)
{
  const lzq_record *record = act_at(walk, i);
  if (record->kind == LZQ_REC_SIGHTING)
    return apply_sightings(walk, i);
  lzq_lot_walk *lot = bring(walk, record->lot, i);
  if (!lzq_walk_may_act(lot, record->kind)) {
    lzq_acts_ignore(walk, record, LZQ_IGNORED_NOT_HERE);
    return i + 1;
  }
  if (record->kind < LZQ_REC_SPLIT) {
    apply_first_half(walk, lot, record);
    return i + 1;
  }
  lzq_lot_walk *other = NULL;
  if (record->kind == LZQ_REC_SPLIT || record->kind == LZQ_REC_MERGE) {
    other = bring(walk, record->other, i);
    lzq_feeds_note(walk, lot);
    lzq_feeds_note(walk, other);
    if (other->settled_at != record->at)
      lzq_walk_settle(walk, other, false);
  }
  if (lot->settled_at != record->at)
    lzq_walk_settle(walk, lot, false);
  apply_second_half(walk, lot, other, record);
  return i + 1;
}
