// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_new_water.h.
#include "lz_new_water.h"

static gboolean
went_into_new_water(const LzModel *m, const LzCarryStep *step)
{
  const lzq_record *r = &g_array_index(m->records, lzq_record, step->record);
  const LzEntry *entry = lz_model_entry(m, (int64_t)(r->id / LZ_RECORDS_PER_ENTRY));
  return entry && lz_entry_int(entry, "in_new_water") != 0;
}

// A change of the same minute has brought it in: the order of acts within one is not theirs.
LzNewWater
lz_new_water(LzModel *m, const GArray *steps, lzq_minute at)
{
  LzNewWater out = {0, LZQ_NEVER};
  lzq_minute since = at - LZQ_DAY;
  for (guint i = 0; i < steps->len; i++) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    if (step->kind == LZQ_REC_CHANGE)
      since = MAX(since, step->at);
  }
  for (guint i = steps->len; i-- > 0;) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    if (step->at <= since)
      break;
    if (step->kind == LZQ_REC_DOSE && went_into_new_water(m, step)) {
      out.mg += g_array_index(m->records, lzq_record, step->record).amount;
      out.at = step->at;
    }
  }
  return out;
}
