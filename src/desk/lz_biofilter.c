// SPDX-License-Identifier: GPL-3.0-or-later
// Proof from the record: doses of ammonium and changes by exact mass balance, food by what the lots
// that stand here now ate. See lz_biofilter.h.
#include "lz_biofilter.h"

#include <lzq_balance.h>
#include <lzq_biofilter.h>
#include <math.h>

#include "lz_carry.h"
#include "lz_desk_private.h"

#define PROOF_DAYS  60
#define HARMED_DAYS 7

// Since when each lot stands in this water; LZQ_NEVER = it does not now.
static lzq_minute *
standing_since(LzModel *m, uint32_t system, lzq_minute at)
{
  lzq_minute *since = g_new(lzq_minute, m->lots->len + 1);
  for (guint i = 0; i <= m->lots->len; i++)
    since[i] = LZQ_NEVER;
  for (guint k = 0; k < m->stands->len; k++) {
    const uint32_t i = g_array_index(m->stands, uint32_t, k);
    const lzq_record *r = &g_array_index(m->records, lzq_record, i);
    if ((r->kind != LZQ_REC_RECEIVE && r->kind != LZQ_REC_MOVE) || r->lot >= m->lots->len ||
        r->tank >= m->tanks->len || r->at > at || !lz_model_record_holds(m, i))
      continue;
    gboolean here = g_array_index(m->tanks, lzq_tank, r->tank).system == system;
    since[r->lot] = here ? MIN(since[r->lot], r->at) : LZQ_NEVER;
  }
  return since;
}

typedef struct {
  lzq_minute at;
  double mg;
} Fed;

static GArray *
fed_here(LzDesk *desk, uint32_t system, lzq_minute at)
{
  GArray *out = g_array_new(FALSE, FALSE, sizeof(Fed));
  g_autofree lzq_minute *since = standing_since(desk->model, system, at);
  g_autoptr(GPtrArray) feeds =
      lz_desk_facts(desk, "feed", at - (lzq_minute)PROOF_DAYS * LZQ_DAY, at + 1);
  for (guint i = 0; i < feeds->len; i++) {
    const LzEntry *entry = feeds->pdata[i];
    uint32_t lot = lz_model_index(desk->model, LZS_LOT, lz_entry_int(entry, "lot"));
    double grams = lz_entry_number(entry, "grams");
    if (lot == LZQ_NONE || !(grams > 0) || lz_entry_at(entry) < since[lot])
      continue;
    double eaten = lz_entry_number(entry, "eaten_share");
    Fed fed = {lz_entry_at(entry), lzq_food_nitrogen_mg(grams * eaten, LZ_FOOD_PROTEIN)};
    g_array_append_val(out, fed);
  }
  return out;
}

static double
fed_between(const GArray *fed, lzq_minute from, lzq_minute until)
{
  double sum = 0;
  for (guint i = 0; i < fed->len; i++) {
    const Fed *f = &g_array_index(fed, Fed, i);
    sum += f->at > from && f->at <= until ? f->mg : 0;
  }
  return sum;
}

LzProof
lz_biofilter_proof(LzDesk *desk, uint32_t system, lzq_minute at)
{
  LzModel *m = desk->model;
  LzProof best = {0, LZQ_LONG_AGO};
  const lzq_minute begin = at - (lzq_minute)PROOF_DAYS * LZQ_DAY;
  g_autoptr(GArray) steps = lz_carry_since(m, system, LZQ_AMMONIA, begin, at);
  g_autoptr(GArray) fed = fed_here(desk, system, at);
  double level = NAN;
  lzq_minute from = LZQ_LONG_AGO;
  for (guint i = 0; i < steps->len; i++) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    const lzq_record *r = &g_array_index(m->records, lzq_record, step->record);
    if (step->at < begin)
      continue;
    if (step->kind == LZQ_REC_CHANGE) {
      level = lzq_after_change(level, lzq_changed_share(r->amount, step->volume_l, r->drip), 0);
    } else if (step->kind == LZQ_REC_DOSE) {
      level = lzq_after_dose(level, step->mg, step->volume_l);
    } else if (step->kind == LZQ_REC_READING && step->good) {
      double hours = from == LZQ_LONG_AGO ? 0 : (double)(step->at - from) / 60;
      double mg = lzq_biofilter_proven(level, r->value, step->volume_l,
                                       fed_between(fed, from, step->at), hours);
      if (mg > best.mg_day)
        best = (LzProof){mg, step->at};
      level = r->value;
      from = step->at;
    }
  }
  return best;
}

// What was ever dosed, bit 1u << analyte. Of most of what harms nothing was: then its record need
// not be walked.
static uint32_t
ever_dosed(const LzModel *m, uint32_t system)
{
  uint32_t dosed = 0;
  const GArray *own = system < m->of_water->len ? m->of_water->pdata[system] : NULL;
  for (guint i = own ? own->len : 0; i-- > 0;) {
    const lzq_record *r = &g_array_index(m->records, lzq_record, g_array_index(own, uint32_t, i));
    if (r->kind == LZQ_REC_DOSE)
      dosed |= 1u << r->analyte;
  }
  return dosed;
}

lzq_minute
lz_biofilter_harmed(LzDesk *desk, uint32_t system, lzq_minute since, lzq_minute at)
{
  static const lzq_analyte harmful[] = {LZQ_FORMALIN, LZQ_PEROXIDE, LZQ_CHLOROQUINE, LZQ_CHLORINE};
  lzq_minute last = LZQ_LONG_AGO;
  const uint32_t dosed = ever_dosed(desk->model, system);
  for (gsize h = 0; h < G_N_ELEMENTS(harmful); h++) {
    if (!(dosed & (1u << harmful[h])))
      continue;
    g_autoptr(GArray) steps = lz_carry(desk->model, system, harmful[h], at);
    for (guint i = 0; i < steps->len; i++) {
      const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
      if (step->kind == LZQ_REC_DOSE && !step->waits && step->at >= since &&
          step->at > at - (lzq_minute)HARMED_DAYS * LZQ_DAY)
        last = MAX(last, step->at);
    }
  }
  return last;
}
