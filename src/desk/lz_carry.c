// SPDX-License-Identifier: GPL-3.0-or-later
// Levels carried through the record of one water: see lz_carry.h. The arithmetic is
// lzq_balance.h's.
#include "lz_banks.h"
#include "lz_carry_private.h"

#include <lzq_balance.h>
#include <lzq_gate.h>
#include <lzq_new_water.h>
#include <math.h>

static const lzq_record *
record_at(const LzModel *m, uint32_t index)
{
  return &g_array_index(m->records, lzq_record, index);
}

gboolean
lz_carry_concerns(const lzq_record *r, lzq_analyte analyte)
{
  if (r->kind == LZQ_REC_READING || r->kind == LZQ_REC_DOSE)
    return r->analyte == analyte;
  return r->kind != LZQ_REC_GEAR || (r->ok && lzq_gear_takes_out(r->gear, analyte));
}

void
lz_carry_put(GArray *out, LzModel *m, uint32_t index)
{
  guint low = out->len;
  if (low && lz_model_by_acting(&g_array_index(out, uint32_t, low - 1), &index, m) > 0) {
    guint high = low - 1;
    for (low = 0; low < high;) {
      const guint middle = low + (high - low) / 2;
      if (lz_model_by_acting(&g_array_index(out, uint32_t, middle), &index, m) > 0)
        high = middle;
      else
        low = middle + 1;
    }
  }
  g_array_insert_val(out, low, index);
}

static gboolean
is_of(const lzq_record *r, int64_t entry)
{
  const uint64_t first = r->corrects ? r->corrects : r->id;
  return entry != 0 && (int64_t)(first / LZ_RECORDS_PER_ENTRY) == entry;
}

static GArray *
records_of(LzModel *m, uint32_t system, lzq_analyte analyte, lzq_minute until, int64_t without)
{
  GArray *out = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  if (system >= m->of_water->len)
    return out;
  const GArray *all = m->of_water->pdata[system];
  for (guint i = 0; i < all->len; i++) {
    uint32_t index = g_array_index(all, uint32_t, i);
    const lzq_record *r = record_at(m, index);
    if (r->at <= until && lz_carry_concerns(r, analyte) && !is_of(r, without) &&
        lz_model_record_holds(m, index))
      lz_carry_put(out, m, index);
  }
  return out;
}

// `form` of the last dose; before one, what the courses there ask for (as lzq_credit.h has it).
static gboolean
sees_form(const LzModel *m, const lzq_record *r, lzq_form form)
{
  const uint32_t all = (1u << LZQ_N_FORMS) - 1;
  if (r->analyte != LZQ_COPPER || r->instrument >= m->instruments->len)
    return TRUE;
  uint32_t sees = g_array_index(m->instruments, lzq_instrument, r->instrument).sees_forms;
  if (form == LZQ_FORM_NONE && (sees & all) != all)
    form = lz_banks_form(m, r->system);
  return form == LZQ_FORM_NONE || (sees & (1u << form)) != 0;
}

static gboolean
in_doubt(const LzTrust *trust, const lzq_record *r)
{
  return r->suspect || !lz_trust_reading(trust, r->instrument, r->at);
}

static double
after_change(const lzq_record *r, lzq_analyte analyte, double level, double volume)
{
  double share = lzq_changed_share(r->amount, volume, r->drip);
  double fresh = 0; // unknown copper in new water is zero
  if (analyte == LZQ_SALINITY)
    fresh = r->new_salinity; // unknown salinity is unknown until read
  else if (analyte == LZQ_COPPER && isfinite(r->new_copper))
    fresh = r->new_copper;
  return lzq_after_change(level, share, fresh);
}

// The same of what may be there at the most.
static double
most_after(const lzq_record *r, lzq_analyte analyte, const LzCarryStep *step)
{
  if (r->kind == LZQ_REC_READING)
    return step->good ? r->value : step->most;
  if (r->kind == LZQ_REC_CHANGE && lzq_analyte_carried(analyte))
    return after_change(r, analyte, step->most, step->volume_l);
  if (r->kind == LZQ_REC_DOSE)
    return lzq_after_dose(step->most, step->mg, step->volume_l);
  return step->most;
}

// The same of a reading in doubt, which is right until another has spoken. Carbon took none of it.
static double
doubt_after(const lzq_record *r, lzq_analyte analyte, const LzCarryStep *step)
{
  const double doubt = step->doubt, volume = step->volume_l;
  if (r->kind == LZQ_REC_CHANGE && lzq_analyte_carried(analyte))
    return after_change(r, analyte, doubt, volume);
  if (r->kind == LZQ_REC_TOPUP && lzq_analyte_carried(analyte))
    return lzq_after_topup(doubt, volume, r->amount, analyte == LZQ_SALINITY ? r->new_salinity : 0);
  return r->kind == LZQ_REC_DOSE ? lzq_after_dose(doubt, step->mg, volume) : doubt;
}

static void
take_reading(const LzModel *m, const LzTrust *trust, const lzq_record *r, lzq_form form,
             LzCarryStep *step)
{
  const gboolean sees = sees_form(m, r, form), doubted = in_doubt(trust, r);
  step->good = sees && !doubted;
  if (step->good)
    step->doubt = NAN;
  else if (sees)
    step->doubt = fmax(step->doubt, r->value); // of NAN and a number, the number
}

static void
act(const LzModel *m, const LzTrust *trust, const lzq_record *r, lzq_analyte analyte,
    lzq_form *form, LzCarryStep *step)
{
  double level = step->before;
  step->doubt = doubt_after(r, analyte, step);
  switch ((lzq_record_kind)r->kind) {
  case LZQ_REC_VOLUME: step->volume_l = r->amount; break;
  case LZQ_REC_READING:
    take_reading(m, trust, r, *form, step);
    level = step->good ? r->value : level;
    break;
  case LZQ_REC_CHANGE:
    if (lzq_analyte_carried(analyte))
      level = after_change(r, analyte, level, step->volume_l);
    break;
  case LZQ_REC_TOPUP:
    if (lzq_analyte_carried(analyte))
      level = lzq_after_topup(level, step->volume_l, r->amount,
                              analyte == LZQ_SALINITY ? r->new_salinity : 0);
    break;
  case LZQ_REC_DOSE:
    *form = (lzq_form)r->form;
    level = lzq_after_dose(level, step->mg, step->volume_l);
    break;
  case LZQ_REC_GEAR: level = NAN; break; // carbon or resin in: unknown until read
  default: break;
  }
  step->after = level;
  step->most = most_after(r, analyte, step);
}

typedef struct {
  LzModel *m;
  const LzTrust *trust;
  lzq_analyte analyte;
  lzq_form form;
  lzq_new_water new_water;
  LzCarryStep last; // what is known after the steps so far
  GArray *steps, *held;
} Walk;

static void
step_on(Walk *w, uint32_t index, lzq_minute at, double mg, gboolean waits)
{
  const lzq_record *r = record_at(w->m, index);
  LzCarryStep step = {.at = at,
                      .record = index,
                      .kind = r->kind,
                      .before = w->last.after,
                      .after = w->last.after,
                      .most = w->last.most,
                      .doubt = w->last.doubt,
                      .volume_l = w->last.volume_l,
                      .mg = mg,
                      .waits = waits};
  if (!waits)
    act(w->m, w->trust, r, w->analyte, &w->form, &step);
  w->last = step;
  g_array_append_val(w->steps, step);
}

// What waited comes in: with a change, or because it has waited for long enough.
static void
let_in(Walk *w, lzq_minute at, const lzq_record *change)
{
  for (guint i = 0; i < w->held->len; i++) {
    const uint32_t index = g_array_index(w->held, uint32_t, i);
    const double mg = record_at(w->m, index)->amount;
    step_on(w, index, at,
            change ? lzq_brought_in(mg, change->amount, w->last.volume_l, change->drip) : mg,
            FALSE);
  }
  g_array_set_size(w->held, 0);
}

static void
stop_waiting(Walk *w, lzq_minute by)
{
  const lzq_minute over = lzq_new_water_over(&w->new_water, (uint8_t)w->analyte);
  if (over > by || over == LZQ_NEVER)
    return;
  lzq_new_water_let_in(&w->new_water, (uint8_t)w->analyte);
  let_in(w, over, NULL);
}

static void
take(Walk *w, uint32_t index)
{
  const lzq_record *r = record_at(w->m, index);
  stop_waiting(w, lzq_dosed_before(r->at, r->kind));
  if (r->kind == LZQ_REC_DOSE) {
    const gboolean waits = lzq_new_water_dose(&w->new_water, r->analyte, r->at, r->amount, r->drip);
    if (waits)
      g_array_append_val(w->held, index);
    step_on(w, index, r->at, r->amount, waits);
    return;
  }
  step_on(w, index, r->at, 0, FALSE);
  if (r->kind == LZQ_REC_CHANGE && r->amount > 0) {
    lzq_new_water_change(&w->new_water, r->at);
    let_in(w, r->at, r);
  }
}

GArray *
lz_carry_walk(LzModel *m, const LzTrust *trust, lzq_analyte analyte, const GArray *records,
              guint from, double volume, lzq_minute until)
{
  g_autoptr(GArray) held = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  Walk w = {.m = m,
            .trust = trust,
            .analyte = analyte,
            .form = LZQ_FORM_NONE,
            .last = {.after = NAN, .doubt = NAN, .volume_l = volume},
            .steps = g_array_sized_new(FALSE, TRUE, sizeof(LzCarryStep), records->len - from),
            .held = held};
  lzq_new_water_begin(&w.new_water);
  for (guint i = from; i < records->len; i++)
    take(&w, g_array_index(records, uint32_t, i));
  stop_waiting(&w, until);
  return w.steps;
}

GArray *
lz_carry(LzModel *m, uint32_t system, lzq_analyte analyte, lzq_minute until)
{
  return lz_carry_without(m, system, analyte, until, 0);
}

GArray *
lz_carry_without(LzModel *m, uint32_t system, lzq_analyte analyte, lzq_minute until, int64_t entry)
{
  g_autoptr(GArray) records = records_of(m, system, analyte, until, entry);
  g_autoptr(LzTrust) trust = lz_trust_new(m, until);
  double volume =
      system < m->systems->len ? g_array_index(m->systems, lzq_system, system).volume_l : NAN;
  return lz_carry_walk(m, trust, analyte, records, 0, volume, until);
}

lzq_minute
lz_carry_judged(LzModel *m, uint32_t system, lzq_analyte analyte, lzq_minute at, int64_t entry)
{
  g_autoptr(GArray) steps = lz_carry_without(m, system, analyte, LZQ_NEVER - 1, entry);
  const int32_t mixing = g_array_index(m->systems, lzq_system, system).mixing_min;
  lzq_minute judged = at;
  for (guint i = 0; i < steps->len; i++) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    if (record_at(m, step->record)->at < at) // also what waited then and came in since
      continue;
    if (step->kind == LZQ_REC_READING && step->good &&
        lzq_reading_closes_dose(at, step->at, mixing))
      return at;
    if (step->kind == LZQ_REC_DOSE || step->kind == LZQ_REC_CHANGE)
      judged = step->at;
  }
  return judged;
}

GArray *
lz_carry_met(LzModel *m, uint32_t system, lzq_analyte analyte, lzq_minute at, int64_t entry)
{
  return lz_carry_without(m, system, analyte, lz_carry_judged(m, system, analyte, at, entry),
                          entry);
}

double
lz_carry_level(const GArray *steps)
{
  return steps->len ? g_array_index(steps, LzCarryStep, steps->len - 1).after : NAN;
}

double
lz_carry_most(const GArray *steps)
{
  return steps->len ? g_array_index(steps, LzCarryStep, steps->len - 1).most : 0;
}

double
lz_carry_doubtful(const GArray *steps)
{
  return steps->len ? g_array_index(steps, LzCarryStep, steps->len - 1).doubt : NAN;
}

double
lz_carry_may_hold(const GArray *steps)
{
  const double level = lz_carry_level(steps);
  return fmax(isnan(level) ? lz_carry_most(steps) : level, lz_carry_doubtful(steps));
}

lzq_form
lz_carry_dosed_form(const LzModel *m, const GArray *steps)
{
  for (guint i = steps->len; i-- > 0;) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    if (step->kind == LZQ_REC_DOSE)
      return (lzq_form)record_at(m, step->record)->form;
  }
  return LZQ_FORM_NONE;
}

lzq_form
lz_carry_form(LzModel *m, uint32_t system, const GArray *steps)
{
  const lzq_form dosed = lz_carry_dosed_form(m, steps);
  return dosed != LZQ_FORM_NONE ? dosed : lz_banks_form(m, system);
}

double
lz_carry_volume(LzModel *m, uint32_t system, lzq_minute until)
{
  g_autoptr(GArray) steps = lz_carry_now(m, system, LZQ_COPPER, until);
  if (steps->len)
    return g_array_index(steps, LzCarryStep, steps->len - 1).volume_l;
  return system < m->systems->len ? g_array_index(m->systems, lzq_system, system).volume_l : NAN;
}

const LzCarryStep *
lz_carry_open_dose(LzModel *m, uint32_t system, const GArray *steps)
{
  int32_t mixing = g_array_index(m->systems, lzq_system, system).mixing_min;
  const LzCarryStep *open = NULL;
  for (guint i = 0; i < steps->len; i++) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    if (step->kind == LZQ_REC_DOSE)
      open = step;
    else if (open && step->kind == LZQ_REC_READING && step->good &&
             lzq_reading_closes_dose(open->at, step->at, mixing))
      open = NULL;
  }
  return open;
}

double
lz_carry_thinned(const LzCarryStep *step, double thinned)
{
  if (step->waits)
    return thinned;
  if (step->kind == LZQ_REC_DOSE || (step->kind == LZQ_REC_READING && step->good))
    return NAN;
  const gboolean thins = step->kind == LZQ_REC_CHANGE || step->kind == LZQ_REC_TOPUP;
  return thins && isnan(thinned) && step->after < step->before ? step->before : thinned;
}

double
lz_carry_before_changes(const GArray *steps)
{
  double before = NAN;
  for (guint i = 0; i < steps->len; i++)
    before = lz_carry_thinned(&g_array_index(steps, LzCarryStep, i), before);
  return before;
}
