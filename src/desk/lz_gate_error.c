// SPDX-License-Identifier: GPL-3.0-or-later
// A dose that was given in error. The gates refuse it beforehand; once it is in the water the
// ledger must hold it, whatever it was, since every date and every dose after it rests on what is
// there. It is kept with a reason by whoever reports it, and answered with an alarm.
#include <glib/gi18n-lib.h>
#include <lzq_balance.h>
#include <math.h>

#include "lz_format.h"
#include "lz_gate_medicine.h"
#include "lz_place.h"
#include "lz_words.h"

// The change that brings the level to `target`, the first one of a sequence; NAN = none does.
static double
change_down(const LzMedicineGate *g, double volume, double target, gboolean *more)
{
  const lzq_system *system = &g_array_index(g->draft->model->systems, lzq_system, g->system->index);
  lzq_steps steps = {.n = 0};
  lzq_bring_down(g->after, isnan(target) ? g->before : target, 0, volume, system->max_change_day,
                 &steps);
  *more = steps.n > 1;
  return steps.n ? steps.steps[0].litres : NAN;
}

// The lots there that must not meet it, "A, B"; NULL = none.
static char *
who_must_leave(const LzMedicineGate *g)
{
  const LzModel *m = g->draft->model;
  g_autoptr(GString) lots = g_string_new(NULL);
  for (uint32_t lot = 0; lot < m->lots->len; lot++) {
    LzPlace place = lz_place_of(g->draft->model, lot, g->draft->entry.happened_min);
    const LzEntity *entity = lz_model_entity_at(m, LZS_LOT, lot);
    if (place.system == g->system->index && lz_place_lives(&place) &&
        lz_gate_avoids(lz_model_species(m, entity), g->analyte))
      g_string_append_printf(lots, "%s%s", lots->len ? ", " : "", entity->label);
  }
  return lots->len ? g_string_free(g_steal_pointer(&lots), FALSE) : NULL;
}

static char *
alarm_of(const LzMedicineGate *g, const LzDoseAdvice *advice, double volume)
{
  gboolean more = FALSE;
  const gboolean harms = g->after >= advice->harm_edge - LZQ_EDGE;
  const double litres = change_down(g, volume, advice->target, &more);
  g_autofree char *after = lz_format_short(g->after, 4);
  g_autofree char *edge = lz_format_short(advice->harm_edge, 4);
  g_autofree char *leave = who_must_leave(g);
  g_autoptr(GString) s = g_string_new(NULL);
  if (leave)
    // Translators: system, level, medicine, lots
    g_string_append_printf(s,
                           _("ALARM: %1$s now holds %2$s mg/L of %3$s, and these must not meet it: "
                             "lot %4$s; move them out now"),
                           g->system->label, after, lz_words_analyte(g->analyte), leave);
  else if (harms)
    // Translators: system, level, level
    g_string_append_printf(s, _("ALARM: %1$s now holds %2$s mg/L, and %3$s mg/L is where it harms"),
                           g->system->label, after, edge);
  else
    // Translators: system, level
    g_string_append_printf(s, _("given in error: %1$s now holds %2$s mg/L"), g->system->label,
                           after);
  const double most = isnan(advice->plan_edge) ? advice->harm_edge : advice->plan_edge;
  const gboolean beyond = harms || leave || isnan(most) || g->after > most + LZQ_EDGE;
  if (isfinite(litres) && beyond) {
    g_autofree char *words = lz_format_amount(litres, LZQ_UNIT_L);
    g_string_append(s, "; ");
    g_string_append_printf(
        s,
        more ? _("change %s of water without it now, more every day until it is right, and test "
                 "after each")
             : _("change %s of water without it now, and test afterwards"),
        words);
  }
  return g_string_free(g_steal_pointer(&s), FALSE);
}

gboolean
lz_gate_in_error(const LzMedicineGate *g, const LzDoseAdvice *advice, double volume, GError **error)
{
  if (!g->draft->entry.reason)
    return lz_refuse(error, LZ_DESK_ERROR_NEEDS_REASON,
                     _("reason: a dose given in error needs a reason: what happened"));
  lz_command_note(g->draft->command, alarm_of(g, advice, volume));
  return TRUE;
}
