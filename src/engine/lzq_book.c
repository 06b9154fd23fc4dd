// SPDX-License-Identifier: GPL-3.0-or-later
// What a new record changes: which record holds for a fact from now on, in which list it acts, and
// which waters must be looked at again. What was taken off the end is undone first, from a copy of
// the last records.
#include "lzq_book.h"

#include <string.h>

#include "lzq_book_work.h"
#include "lzq_model_check.h"

// The records that can be read: the first n in the snapshot, those behind them only in the tail.
typedef struct {
  const lzq_record *records;
  size_t n;
} known;

static const lzq_record *
known_at(const lzq_book *book, const known *k, uint32_t index)
{
  return index < k->n ? &k->records[index] : &book->tail[index % LZQ_BOOK_TAIL];
}

// --- lists

static bool
is_of_water(uint8_t kind)
{
  return kind >= LZQ_REC_VOLUME && kind <= LZQ_REC_GEAR && kind != LZQ_REC_CHECK;
}

static lzq_list *
list_of(lzq_book *book, const lzq_record *record)
{
  if (record->kind == LZQ_REC_CHECK)
    return &book->checks;
  if (record->kind == LZQ_REC_FEED)
    return &book->feeds[record->lot];
  return is_of_water(record->kind) ? &book->waters[record->system].facts : &book->deeds;
}

// Something that acts at that minute changed.
static void
stale(lzq_book_water *water, lzq_minute at)
{
  if (at < water->stale_from)
    water->stale_from = at;
}

static void
all_stale(lzq_book *book)
{
  for (uint32_t i = 0; i < book->setup.n_systems; i++)
    stale(&book->waters[i], LZQ_LONG_AGO);
}

// Where fish come to stay.
static lzq_book_water *
place_of(lzq_book *book, const lzq_record *record)
{
  if ((record->kind != LZQ_REC_RECEIVE && record->kind != LZQ_REC_MOVE) || record->tank == LZQ_NONE)
    return NULL;
  return &book->waters[book->setup.tanks[record->tank].system];
}

// A reading that confirms another was put in place or lifted: the other is worth more or less by
// that. One that is not taken yet makes its water stale when it is; `index` is the last that was.
static void
tie(lzq_book *book, const known *k, uint32_t index, const lzq_record *record)
{
  if (record->kind != LZQ_REC_READING || !record->confirms)
    return;
  book->tied_made = false;
  const size_t first = lzq_record_find(k->records, k->n, record->confirms);
  if (first >= k->n || first > index || k->records[first].corrects)
    return;
  const uint32_t holder = book->entries[first].holder;
  if (holder == LZQ_NONE || k->records[first].kind != LZQ_REC_READING)
    return;
  const lzq_record *other = known_at(book, k, holder);
  stale(&book->waters[other->system], other->at);
}

// --- a record that holds, or no longer does

static lzq_fact
fact_of(const lzq_mark *mark, const lzq_record *record)
{
  if (record->kind == LZQ_REC_READING)
    return (lzq_fact){.mark = *mark,
                      .amount = record->value,
                      .extra = record->error,
                      .id = record->corrects ? record->corrects : record->id};
  return (lzq_fact){.mark = *mark,
                    .amount = record->amount,
                    .extra = record->new_copper,
                    .new_salinity = record->new_salinity};
}

static lzq_mark
mark_of(const lzq_record *record, uint32_t first, uint32_t holder)
{
  uint8_t which = record->form;
  if (record->kind == LZQ_REC_GEAR || record->kind == LZQ_REC_STATE)
    which = record->kind == LZQ_REC_GEAR ? record->gear : record->state;
  return (lzq_mark){.at = record->at,
                    .first = first,
                    .holder = holder,
                    .kind = record->kind,
                    .analyte = record->analyte,
                    .which = which,
                    .flags = (uint8_t)((record->suspect ? LZQ_FACT_SUSPECT : 0) |
                                       (record->ok ? LZQ_FACT_OK : 0) |
                                       (record->drip ? LZQ_FACT_DRIP : 0)),
                    .instrument = record->instrument};
}

// What the list of that kind keeps of a record.
static void
fill(void *place, const lzq_mark *mark, const lzq_record *record)
{
  if (record->kind == LZQ_REC_FEED)
    *(lzq_feed *)place = (lzq_feed){.mark = *mark, .amount = record->amount, .day = record->day};
  else if (is_of_water(record->kind) || record->kind == LZQ_REC_CHECK)
    *(lzq_fact *)place = fact_of(mark, record);
  else
    ((lzq_deed *)place)->record = *record;
}

static bool
put(lzq_book *book, const lzq_record *record, uint32_t first, uint32_t holder)
{
  const lzq_mark mark = mark_of(record, first, holder);
  lzq_list *list = list_of(book, record);
  void *place = lzq_list_push(list, &mark, &book->allocator);
  if (!place)
    return false;
  fill(place, &mark, record);
  if (record->kind == LZQ_REC_READING && record->confirms) {
    lzq_tie *made = lzq_list_push(&book->ties, &mark, &book->allocator);
    if (!made)
      return false;
    made->id = record->confirms;
  }
  if (record->kind == LZQ_REC_CHECK) {
    // A good check after all that is known says nothing of what was read before it.
    if (!record->ok || record->at <= book->last_at)
      all_stale(book);
    book->checks_made = false;
  } else if (is_of_water(record->kind)) {
    stale(&book->waters[record->system], record->at);
  }
  lzq_book_water *water = place_of(book, record);
  if (water && record->at < water->first_stay)
    water->first_stay = record->at;
  if (record->at > book->last_at)
    book->last_at = record->at;
  return true;
}

static void
lift(lzq_book *book, const lzq_record *record)
{
  list_of(book, record)->has_dead = true;
  book->ties.has_dead =
      book->ties.has_dead || (record->kind == LZQ_REC_READING && record->confirms);
  book->lifted = true;
  if (record->kind == LZQ_REC_CHECK) {
    all_stale(book);
    book->checks_made = false;
  } else if (is_of_water(record->kind)) {
    stale(&book->waters[record->system], record->at);
  }
}

// --- following

static bool
take(lzq_book *book, const known *k, uint32_t index)
{
  const lzq_record *record = &k->records[index];
  const uint32_t holds = record->voided || record->at > book->until ? LZQ_NONE : index;
  uint32_t first = index;
  book->entries[index] = (lzq_entry){.holder = LZQ_NONE};
  if (record->corrects) {
    first = (uint32_t)lzq_record_find(k->records, index, record->corrects);
    const uint32_t before = book->entries[first].holder;
    book->entries[index] = (lzq_entry){.holder = before, .first = first};
    if (before != LZQ_NONE) {
      lift(book, &k->records[before]);
      tie(book, k, index, &k->records[before]);
    }
  }
  book->entries[first].holder = holds;
  if (holds == LZQ_NONE)
    return true;
  tie(book, k, index, record);
  return put(book, record, first, index);
}

// Record `index`, the last one, is no more.
static bool
undo(lzq_book *book, const known *k, uint32_t index)
{
  const lzq_record *record = &book->tail[index % LZQ_BOOK_TAIL];
  const lzq_entry entry = book->entries[index];
  const uint32_t first = record->corrects ? entry.first : index;
  if (book->entries[first].holder == index) {
    lift(book, record);
    tie(book, k, index, record);
  }
  const uint32_t before = record->corrects ? entry.holder : LZQ_NONE;
  book->entries[first].holder = before;
  if (before == LZQ_NONE)
    return true;
  const lzq_record *again = known_at(book, k, before);
  tie(book, k, index, again);
  return put(book, again, first, before);
}

// Byte by byte: a NaN equals itself, and padding that differs only costs a book begun anew.
static bool
alike(const lzq_record *a, const lzq_record *b)
{
  return memcmp(a, b, sizeof *a) == 0; // NOLINT(bugprone-suspicious-memory-comparison)
}

// How many of the records that the book has are those of the snapshot; 0 = begin anew.
static size_t
common_with(const lzq_book *book, const lzq_snapshot *snapshot)
{
  if (!lzq_book_fits(book, snapshot))
    return 0;
  const size_t kept = book->n > LZQ_BOOK_TAIL ? book->n - LZQ_BOOK_TAIL : 0;
  size_t common = kept;
  while (common < book->n && common < snapshot->n_records &&
         alike(&book->tail[common % LZQ_BOOK_TAIL], &snapshot->records[common]))
    common++;
  return common > kept ? common : 0;
}

static bool
settle(lzq_book *book)
{
  bool ok = lzq_list_settle(&book->deeds, book->entries, &book->allocator) &&
            lzq_list_settle(&book->checks, book->entries, &book->allocator) &&
            lzq_list_settle(&book->ties, book->entries, &book->allocator);
  for (uint32_t i = 0; ok && i < book->setup.n_systems; i++)
    ok = lzq_list_settle(&book->waters[i].facts, book->entries, &book->allocator);
  for (uint32_t i = 0; ok && i < book->n_feeds; i++)
    ok = lzq_list_settle(&book->feeds[i], book->entries, &book->allocator);
  return ok;
}

static lzq_minute
last_of(const lzq_list *list, lzq_minute last)
{
  return list->n && lzq_list_at(list, list->n - 1)->at > last ? lzq_list_at(list, list->n - 1)->at
                                                              : last;
}

// Something was taken off: what is kept of the whole lists is looked up again.
static void
look_up(lzq_book *book)
{
  book->lifted = false;
  book->last_at = last_of(&book->checks, last_of(&book->deeds, LZQ_LONG_AGO));
  for (uint32_t i = 0; i < book->setup.n_systems; i++) {
    lzq_book_water *water = &book->waters[i];
    book->last_at = last_of(&water->facts, book->last_at);
    water->first_stay = LZQ_NEVER;
  }
  for (uint32_t i = 0; i < book->n_feeds; i++)
    book->last_at = last_of(&book->feeds[i], book->last_at);
  for (size_t i = 0; i < book->deeds.n; i++) {
    const lzq_deed *deed = (const lzq_deed *)lzq_list_at(&book->deeds, i);
    lzq_book_water *water = place_of(book, &deed->record);
    if (water && deed->mark.at < water->first_stay)
      water->first_stay = deed->mark.at;
  }
}

static bool
make_room(lzq_book *book, const lzq_record *records, size_t from, size_t n)
{
  for (size_t i = from; i < n; i++)
    if (!records[i].voided)
      list_of(book, &records[i])->coming++;
  bool ok = lzq_list_reserve(&book->deeds, &book->allocator) &&
            lzq_list_reserve(&book->checks, &book->allocator);
  for (uint32_t i = 0; ok && i < book->setup.n_systems; i++)
    ok = lzq_list_reserve(&book->waters[i].facts, &book->allocator);
  for (uint32_t i = 0; ok && i < book->n_feeds; i++)
    ok = lzq_list_reserve(&book->feeds[i], &book->allocator);
  if (!ok || n <= book->entry_capacity)
    return ok;
  lzq_entry *entries =
      lzq_book_room(book, book->entries, n, &book->entry_capacity, sizeof *entries);
  if (!entries)
    return false;
  book->entries = entries;
  return true;
}

static bool
take_all(lzq_book *book, const lzq_snapshot *snapshot, size_t common)
{
  known k = {snapshot->records, common};
  bool ok = true;
  for (size_t i = book->n; ok && i-- > common;)
    ok = undo(book, &k, (uint32_t)i);
  if (ok && book->n > common)
    ok = settle(book); // what is undone must be out before its number is given again
  book->n = common;
  k.n = snapshot->n_records;
  ok = ok && lzq_book_lots(book, snapshot->n_lots) &&
       make_room(book, snapshot->records, common, snapshot->n_records);
  for (size_t i = common; ok && i < snapshot->n_records; i++)
    ok = take(book, &k, (uint32_t)i);
  if (!ok || !settle(book))
    return false;
  book->n = snapshot->n_records;
  for (size_t i = book->n > LZQ_BOOK_TAIL ? book->n - LZQ_BOOK_TAIL : 0; i < book->n; i++)
    book->tail[i % LZQ_BOOK_TAIL] = snapshot->records[i];
  if (book->lifted)
    look_up(book);
  return true;
}

lzq_status
lzq_book_follow(lzq_book *book, const lzq_snapshot *snapshot, lzq_fault *fault)
{
  lzq_status status = lzq_setup_check(snapshot, fault);
  if (status != LZQ_OK)
    return status;
  if (snapshot->n_records >= LZQ_NONE)
    return LZQ_NO_MEMORY;
  const size_t common = common_with(book, snapshot);
  status = lzq_check_records(snapshot, common, fault);
  if (status != LZQ_OK)
    return status;
  const bool anew = common == 0 && (book->n > 0 || !lzq_book_fits(book, snapshot));
  if ((!anew || lzq_book_begin(book, snapshot)) && take_all(book, snapshot, common))
    return LZQ_OK;
  lzq_book_clear(book);
  return LZQ_NO_MEMORY;
}
