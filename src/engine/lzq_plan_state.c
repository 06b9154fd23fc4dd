// SPDX-License-Identifier: GPL-3.0-or-later
// The waters as the record leaves them at `now`, and of the lots what the credit does not say: when
// they were last fed, what they ate, whether their phase is signed off, when they were scraped.
#include "lzq_plan_work.h"

// The phase that a lot is in, and since when; NULL = in none.
static const lzq_phase *
phase_of(const lzq_work *work, uint32_t lot, lzq_minute *start)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  if (!credit->has_course || credit->served || credit->n_visits == 0)
    return NULL;
  *start = credit->visits[credit->n_visits - 1].start;
  return &work->snap->phases[work->snap->protocols[credit->protocol].first_phase + credit->phase];
}

// What the plan needs of a lot and the credit does not say: when it was last fed, and its eaten
// days since the current phase began.
static void
take_feeds(lzq_work *work, uint32_t lot)
{
  const lzq_list *feeds = &work->book->feeds[lot];
  lzq_minute start;
  const lzq_phase *phase = phase_of(work, lot, &start);
  work->fed_on[lot] =
      feeds->n ? ((const lzq_feed *)lzq_list_at(feeds, feeds->n - 1))->day : INT32_MIN;
  if (!phase)
    return;
  int32_t last_day = 0;
  for (size_t i = lzq_list_before(feeds, 0, &(lzq_mark){.at = start}); i < feeds->n; i++) {
    const lzq_feed *feed = (const lzq_feed *)lzq_list_at(feeds, i);
    if (feed->amount >= phase->eaten_share - LZQ_EDGE &&
        (work->eaten[lot] == 0 || last_day != feed->day)) {
      work->eaten[lot]++;
      last_day = feed->day;
    }
  }
}

static void
take_sign(lzq_work *work, const lzq_record *r)
{
  lzq_minute start;
  const lzq_phase *phase = phase_of(work, r->lot, &start);
  if (phase && r->at >= start && (r->ok || phase->sign == LZQ_SIGN_PERSON))
    work->signed_off[r->lot] = true;
}

static void
take_deeds(lzq_work *work)
{
  const lzq_list *deeds = &work->book->deeds;
  for (size_t i = 0; i < deeds->n; i++) {
    const lzq_deed *deed = (const lzq_deed *)lzq_list_at(deeds, i);
    const lzq_record *record = &deed->record;
    if (record->kind == LZQ_REC_RECEIVE || record->kind >= LZQ_REC_DEATH)
      lzq_turn_note(work, record, &deed->mark);
    if (record->kind == LZQ_REC_SIGN)
      take_sign(work, record);
    else if (record->kind == LZQ_REC_SCRAPE)
      work->scraped_at[record->lot] = record->at;
    else if (record->kind == LZQ_REC_SIGHTING)
      work->waters[record->system].sighting_at = record->at;
  }
  for (uint32_t lot = 0; lot < work->snap->n_lots; lot++) {
    lzq_turn_fed(work, lot, NULL);
    take_feeds(work, lot);
  }
}

lzq_status
lzq_state_make(lzq_work *work)
{
  const lzq_snapshot *snap = work->snap;
  work->waters = LZQ_NEW(work->arena, lzq_water_state, snap->n_systems);
  work->where = LZQ_NEW(work->arena, uint32_t, snap->n_lots);
  work->eaten = LZQ_NEW(work->arena, int32_t, snap->n_lots);
  work->fed = LZQ_NEW(work->arena, size_t, snap->n_lots);
  work->fed_on = LZQ_NEW(work->arena, int32_t, snap->n_lots);
  work->signed_off = LZQ_NEW(work->arena, bool, snap->n_lots);
  work->scraped_at = LZQ_NEW(work->arena, lzq_minute, snap->n_lots);
  if (!work->where || !work->waters || !work->eaten || !work->fed || !work->fed_on ||
      !work->signed_off || !work->scraped_at)
    return LZQ_NO_MEMORY;
  for (uint32_t i = 0; i < snap->n_systems; i++)
    if (!lzq_book_state(work->book, i, work->now, &work->waters[i]))
      return LZQ_NO_MEMORY;
  for (uint32_t lot = 0; lot < snap->n_lots; lot++) {
    work->where[lot] = LZQ_NONE;
    work->scraped_at[lot] = LZQ_LONG_AGO;
  }
  take_deeds(work);
  return LZQ_OK;
}
