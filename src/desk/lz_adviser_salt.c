// SPDX-License-Identifier: GPL-3.0-or-later
// Salinity down in equal ratios, up in equal rises: litres or kilograms of each step, and the
// copper that each takes out and that is put back. The arithmetic is lzq_balance.h's.
#include <glib/gi18n-lib.h>
#include <lzq_balance.h>
#include <lzq_protocol.h>
#include <math.h>

#include "lz_adviser_private.h"
#include "lz_advice.h"
#include "lz_carry.h"
#include "lz_format.h"

#define STEP_FALL  6.0       // largest single step where nothing says: common practice, no source
#define STEP_APART (12 * 60) // what lies closer is one step to the gates: house rule, no source

static lzq_salinity_way
way_of(const LzAdvising *a, gboolean down)
{
  const LzSalinityPace pace = a->ask->system == LZQ_NONE
                                  ? (LzSalinityPace){NAN, NAN, NAN}
                                  : lz_advice_salinity_pace(a->desk, a->ask->system, a->desk->now);
  const double usual = down ? LZQ_USUAL_SALINITY_FALL : LZQ_USUAL_SALINITY_RISE;
  const double day = down ? pace.fall_day : pace.rise_day;
  lzq_salinity_way way = {
      .from = a->level,
      .to = a->ask->target,
      .new_salinity = isnan(a->ask->new_level) ? (down ? 0 : 35) : a->ask->new_level,
      .volume_l = a->volume,
      .max_step = a->ask->step,
      .max_day = isnan(day) ? usual : day,
      .gap_min = isnan(a->ask->step_hours) ? STEP_APART : (int32_t)lround(a->ask->step_hours * 60),
      .copper = NAN,
      .copper_target = a->ask->copper_target};
  if (isnan(way.max_step))
    way.max_step = pace.step;
  if (isnan(way.max_step))
    way.max_step = down ? STEP_FALL : LZQ_USUAL_SALINITY_RISE;
  if (a->ask->system < a->desk->model->systems->len) {
    g_autoptr(GArray) steps =
        lz_carry_now(a->desk->model, a->ask->system, LZQ_COPPER, a->desk->now);
    way.copper = lz_carry_level(steps);
  }
  return way;
}

static void
add_copper(LzAdvising *a, const lzq_step *s, const lzq_stock *stock)
{
  if (!isfinite(s->copper_dose_mg) || !(s->copper_dose_mg > 0))
    return;
  g_autofree char *out = lz_format_short(s->copper_out_mg, 1),
                  *dose = lz_format_short(s->copper_dose_mg, 1);
  g_autofree char *how = g_strdup_printf(_("%s mg out, %s mg back"), out, dose);
  g_autofree char *value =
      stock ? lz_format_amount(lzq_to_label(stock->as, s->copper_dose_mg) / stock->strength_mg_ml,
                               LZQ_UNIT_ML)
            : g_strconcat(dose, " mg", NULL);
  lz_working_add(a->out->lines, _("Copper put back"), how, value, FALSE);
}

static void
add_steps(LzAdvising *a, const lzq_steps *steps, const lzq_stock *stock)
{
  for (uint32_t i = 0; i < steps->n; i++) {
    const lzq_step *s = &steps->steps[i];
    g_autofree char *after = lz_format_duration(s->after_min);
    g_autofree char *what =
        s->after_min > 0
            ? g_strdup_printf(_("Step %1$u of %2$u, no sooner than %3$s after the first"), i + 1,
                              steps->n, after)
            : g_strdup_printf(_("Step %u of %u"), i + 1, steps->n);
    g_autofree char *from = lz_format_short(s->level_before, 2),
                    *to = lz_format_short(s->level_after, 2);
    g_autofree char *share = lz_format_short(100 * s->share, 1);
    g_autofree char *litres = lz_format_short(a->volume, 1);
    g_autofree char *how = s->salt_kg > 0
                               ? g_strdup_printf("(%s − %s) × %s L ÷ 1000", to, from, litres)
                               : g_strdup_printf("%s → %s, %s %%", from, to, share);
    g_autofree char *value = s->salt_kg > 0 ? lz_format_amount(s->salt_kg, LZQ_UNIT_KG)
                                            : lz_format_amount(s->litres, LZQ_UNIT_L);
    lz_working_add(a->out->lines, what, how, value, TRUE);
    add_copper(a, s, stock);
  }
  g_autofree char *sum = steps->salt_kg > 0 ? lz_format_amount(steps->salt_kg, LZQ_UNIT_KG)
                                            : lz_format_amount(steps->litres, LZQ_UNIT_L);
  lz_working_add(a->out->lines, _("In all"), "", sum, FALSE);
  a->out->amount =
      steps->n ? (steps->salt_kg > 0 ? steps->steps[0].salt_kg : steps->steps[0].litres) : 0;
  a->out->unit = steps->salt_kg > 0 ? LZQ_UNIT_KG : LZQ_UNIT_L;
}

static gboolean
answer(LzAdvising *a, const lzq_salinity_way *way, lzq_status status, const lzq_steps *steps,
       GError **error)
{
  lzq_stock stock = {0};
  LzQuestion copper = *a->ask;
  copper.analyte = LZQ_COPPER;
  LzAdvising of_copper = *a;
  of_copper.ask = &copper;
  if (lz_advising_failed(status, error))
    return FALSE;
  gboolean dosed =
      isfinite(way->copper) && way->copper > 0 && lz_advising_stock(&of_copper, &stock, NULL);
  add_steps(a, steps, dosed ? &stock : NULL);
  return TRUE;
}

gboolean
lz_adviser_freshen(LzAdvising *a, GError **error)
{
  lzq_steps steps = {0};
  if (!lz_advising_needs(a, "target", a->ask->target, error))
    return FALSE;
  lzq_salinity_way way = way_of(a, TRUE);
  if (!answer(a, &way, lzq_salinity_down(&way, &steps), &steps, error))
    return FALSE;
  lz_advising_caution(a, _("Fresh water is free of chlorine and of the same temperature; pH is "
                           "watched, since buffer goes out with the salt."));
  return TRUE;
}

gboolean
lz_adviser_salt(LzAdvising *a, GError **error)
{
  lzq_steps steps = {0};
  if (!lz_advising_needs(a, "target", a->ask->target, error))
    return FALSE;
  lzq_salinity_way way = way_of(a, FALSE);
  lzq_status status = a->ask->by_change ? lzq_salinity_up_by_change(&way, &steps)
                                        : lzq_salinity_up_by_salt(&way, &steps);
  if (!answer(a, &way, status, &steps, error))
    return FALSE;
  if (!a->ask->by_change)
    lz_advising_caution(a, _("Salt is dissolved in water of the system first, never poured onto "
                             "fish; moisture in it makes the rise smaller: read it afterwards."));
  return TRUE;
}
