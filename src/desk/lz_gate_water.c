// SPDX-License-Identifier: GPL-3.0-or-later
// The gates in front of new water and of salt: how much at once, and how far salinity goes.
#include <glib/gi18n-lib.h>
#include <lzq_balance.h>
#include <math.h>

#include "lz_carry.h"
#include "lz_format.h"
#include "lz_gate_medicine.h"
#include "lz_new_water.h"

// A reading or a sum of what was dosed is as good as this: house rule, no source.
#define AS_DOSED 0.8

// As it is judged: without the entry that this one corrects.
static GArray *
salinity_of(LzDraft *d, uint32_t water)
{
  return lz_carry_met(d->model, water, LZQ_SALINITY, d->entry.happened_min, d->entry.corrects);
}

// g/L is taken as practical salinity.
void
lz_gate_salt(LzDraft *d, uint32_t water, double kg)
{
  g_autoptr(GArray) steps = salinity_of(d, water);
  const double volume = lz_carry_volume(d->model, water, d->entry.happened_min);
  g_autofree char *typed = lz_format_amount(kg, LZQ_UNIT_KG);
  g_autofree char *what = g_strdup_printf("salt_kg: %s", typed);
  lz_gate_salinity(d, water, steps, lzq_after_dose(lz_carry_level(steps), kg * 1000, volume), what);
}

double
lz_gate_new_litres(LzDraft *d, uint32_t water, lzq_analyte analyte)
{
  const lzq_plan *plan = d->live ? lz_desk_plan(d->desk) : NULL;
  for (uint32_t i = 0; plan && i < plan->n_tasks; i++) {
    const lzq_task *t = &plan->tasks[i];
    if (t->kind == LZQ_TASK_DOSE && t->system == water && t->analyte == analyte)
      return t->with_change_l > 0 ? t->with_change_l : 0;
  }
  return 0;
}

static void
gate_new_water(LzDraft *d, uint32_t water, double volume, double litres, gboolean drip)
{
  g_autoptr(GArray) steps = salinity_of(d, water);
  double after = lzq_after_change(lz_carry_level(steps), lzq_changed_share(litres, volume, drip),
                                  lz_draft_number(d, "new_salinity"));
  g_autofree char *typed = lz_format_amount(litres, LZQ_UNIT_L);
  g_autofree char *what = g_strdup_printf("litres: %s", typed);
  lz_gate_salinity(d, water, steps, after, what);
}

// The copper that a dose brought into this new water, entered with the change once more.
static void
gate_twice(LzDraft *d, const LzEntity *system, double litres)
{
  const double typed = lz_draft_number(d, "new_copper");
  const lzq_minute at = d->entry.happened_min;
  g_autoptr(GArray) steps =
      lz_carry_without(d->model, system->index, LZQ_COPPER, at, d->entry.corrects);
  const LzNewWater in = lz_new_water(steps);
  if (!(in.mg > 0) || !(litres > 0) || !(typed >= AS_DOSED * in.mg / litres))
    return;
  g_autofree char *given = lz_format_short(in.mg, 1), *level = lz_format_short(typed, 3);
  g_autofree char *when = lz_format_time(d->model->zone, in.at);
  lz_gate_stop(d, LZ_GATED_COUNTED_TWICE,
               g_strdup_printf(_("new_copper: %1$s mg/L holds the %2$s mg that went into the new "
                                 "water of %3$s at %4$s, and they are on record"),
                               level, given, system->label, when));
}

void
lz_gate_change(LzDraft *d)
{
  const LzEntity *system = lz_model_entity(d->model, lz_draft_ref(d, "system"));
  double volume = lz_carry_volume(d->model, system->index, d->entry.happened_min);
  double litres = lz_draft_number(d, "litres");
  gboolean drip = lz_draft_yes(d, "drip");
  if (!drip && litres > volume * (1 + 1e-9)) {
    g_autofree char *typed = lz_format_amount(litres, LZQ_UNIT_L),
                    *most = lz_format_amount(volume, LZQ_UNIT_L);
    lz_gate_refuse(d, LZ_GATED_TOO_MUCH_WATER,
                   _("litres: %s is more than %s holds; accepted is at most %s, or drip"), typed,
                   system->label, most);
    return;
  }
  gate_new_water(d, system->index, volume, litres, drip);
  gate_twice(d, system, litres);
  double most = g_array_index(d->model->systems, lzq_system, system->index).max_change_day;
  if (litres > most * volume * (1 + 1e-9)) {
    g_autofree char *words = lz_format_amount(most * volume, LZQ_UNIT_L);
    lz_command_note(d->command,
                    g_strdup_printf(_("more than the largest change of a day here, %s"), words));
  }
}

// Salt in what is topped up; fresh water takes the place of what went into the air.
void
lz_gate_topup(LzDraft *d)
{
  const uint32_t water = lz_model_entity(d->model, lz_draft_ref(d, "system"))->index;
  const double litres = lz_draft_number(d, "litres"), salinity = lz_draft_number(d, "new_salinity");
  if (!(salinity > 0))
    return;
  g_autoptr(GArray) steps = salinity_of(d, water);
  const double volume = lz_carry_volume(d->model, water, d->entry.happened_min);
  g_autofree char *typed = lz_format_amount(litres, LZQ_UNIT_L);
  g_autofree char *what = g_strdup_printf("litres: %s", typed);
  lz_gate_salinity(d, water, steps,
                   lzq_after_topup(lz_carry_level(steps), volume, litres, salinity), what);
}
