// SPDX-License-Identifier: GPL-3.0-or-later
// Draws how a history was entered: late, out of order, and corrected.
#include "random_records.h"

// A correction of some entry so far: a void, another minute, another value.
void
lzt_draw_correction(lzt_prng *p, lzt_history *h)
{
  lzq_record *first = &h->records[lzt_prng_range(p, 0, (int64_t)h->snap.n_records - 1)];
  if (first->corrects)
    return;
  lzq_record *r = &h->records[h->snap.n_records++];
  *r = *first;
  r->id = h->snap.n_records;
  r->corrects = first->id;
  r->voided = lzt_prng_chance(p, 0.3) && first->kind != LZQ_REC_RECEIVE;
  if (lzt_prng_chance(p, 0.5) && first->kind != LZQ_REC_RECEIVE)
    r->at += lzt_prng_range(p, -120, 120);
  if (r->kind == LZQ_REC_READING && lzt_prng_chance(p, 0.5))
    r->value *= lzt_prng_real(p, 0.9, 1.1);
  if (r->kind == LZQ_REC_READING && lzt_prng_chance(p, 0.2))
    r->suspect = !r->suspect;
}

// Entered later than it happened: neighbours in the order of entry change places.
void
lzt_disturb(lzt_prng *p, lzt_history *h)
{
  lzq_record *records = h->records;
  uint64_t place[LZT_MOST_RECORDS + 1];
  size_t n = h->snap.n_records;
  for (size_t i = 0; i + 1 < n; i++) {
    size_t j = (size_t)lzt_prng_range(p, (int64_t)i, (int64_t)(i + 4 < n ? i + 4 : n - 1));
    lzq_record swap = records[i];
    if (lzt_prng_chance(p, 0.7))
      continue;
    records[i] = records[j];
    records[j] = swap;
  }
  for (size_t i = 0; i < n; i++)
    place[records[i].id] = i + 1;
  for (size_t i = 0; i < n; i++) {
    records[i].id = i + 1;
    records[i].confirms = records[i].confirms ? place[records[i].confirms] : 0;
  }
}
