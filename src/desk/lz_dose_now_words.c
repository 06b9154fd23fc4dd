// SPDX-License-Identifier: GPL-3.0-or-later
// What is to be added now, in words, and the working beside it.
#include <glib/gi18n-lib.h>
#include <lzq_dose.h>
#include <math.h>

#include "lz_adviser.h"
#include "lz_carry.h"
#include "lz_desk_private.h"
#include "lz_dose_now.h"
#include "lz_format.h"
#include "lz_words.h"

char *
lz_dose_now_words(LzDesk *desk, lzq_analyte analyte, const LzDoseNow *answer)
{
  if (!answer->give)
    return g_strdup(answer->why);
  g_autofree char *amount = lz_format_amount(answer->amount, answer->unit);
  g_autofree char *level = lz_format_level(analyte, answer->level_after);
  const char *unit = lz_words_analyte_unit(analyte), *gap = *unit ? " " : "";
  GString *out = g_string_new(NULL);
  if (answer->kind == LZQ_TASK_CHANGE && answer->new_salinity == 0)
    g_string_append_printf(out, _("to change now: %s, with fresh water"), amount);
  else if (answer->kind == LZQ_TASK_CHANGE)
    g_string_append_printf(out, _("to change now: %s"), amount);
  else if (answer->kind == LZQ_TASK_SALT)
    g_string_append_printf(out, _("to add now: %s of salt"), amount);
  else
    g_string_append_printf(out, _("to add now: %1$s of %2$s"), amount,
                           answer->bottle == LZQ_NONE
                               ? lz_words_analyte(analyte)
                               : lz_desk_name(desk, "bottle", answer->bottle));
  if (answer->new_water_l > 0) {
    g_autofree char *litres = lz_format_amount(answer->new_water_l, LZQ_UNIT_L);
    g_string_append_printf(out, _(" into the %s of new water"), litres);
  }
  if (!isnan(answer->level_after))
    g_string_append_printf(out, _(", %1$s%2$s%3$s after it"), level, gap, unit);
  return g_string_free(out, FALSE);
}

// Out of a bottle: the adviser's way from level to level. What an earlier dose left is not always
// known; then the rise alone is worked out.
static GPtrArray *
working_bottle(LzDesk *desk, uint32_t system, lzq_analyte analyte, const LzDoseNow *answer,
               double volume)
{
  LzQuestion ask;
  lz_question_init(&ask, LZ_QUESTION_RAISE);
  ask.system = system;
  ask.analyte = analyte;
  ask.bottle = answer->bottle;
  ask.level = isnan(answer->level_before) ? 0 : answer->level_before;
  ask.target = ask.level + answer->mg / volume;
  ask.step = 0; // one step already
  g_autoptr(LzAnswer) out = lz_desk_answer(desk, &ask, NULL);
  return out ? g_ptr_array_ref(out->lines) : lz_working_new();
}

static GPtrArray *
working_weighed(lzq_analyte analyte, const LzDoseNow *answer, double volume)
{
  GPtrArray *lines = lz_working_new();
  lzq_working working = {.n = 0};
  lzq_working_add(&working, LZQ_LINE_MASS, volume, answer->mg / volume, answer->mg, 0);
  lz_working_append(lines, &working, lz_words_analyte_unit(analyte), "g");
  g_autofree char *grams = lz_format_amount(answer->amount, LZQ_UNIT_G);
  lz_working_add(lines, _("To weigh out"), "", grams, TRUE);
  return lines;
}

GPtrArray *
lz_dose_now_working(LzDesk *desk, uint32_t system, lzq_analyte analyte, const LzDoseNow *answer)
{
  double volume = lz_carry_volume(desk->model, system, desk->now);
  if (!answer->give)
    return lz_working_new();
  if (answer->kind == LZQ_TASK_DOSE && !(answer->new_water_l > 0)) {
    if (!(volume > 0) || !(answer->mg > 0))
      return lz_working_new();
    return answer->bottle == LZQ_NONE ? working_weighed(analyte, answer, volume)
                                      : working_bottle(desk, system, analyte, answer, volume);
  }
  lzq_task task = {.kind = answer->kind,
                   .system = system,
                   .analyte = (uint8_t)analyte,
                   .amount = answer->amount,
                   .level_before = answer->level_before,
                   .level_after = answer->level_after,
                   .with_change_l = answer->new_water_l,
                   .new_salinity = answer->new_salinity};
  return lz_working_task(desk, &task);
}

const char *
lz_dose_now_caution(lzq_analyte analyte, const LzDoseNow *answer)
{
  if (answer->kind == LZQ_TASK_SALT)
    return _("Salt is dissolved in water of the system first, never poured onto "
             "fish; moisture in it makes the rise smaller: read it afterwards.");
  if (answer->kind == LZQ_TASK_CHANGE)
    return answer->new_salinity == 0
               ? _("Fresh water is free of chlorine and of the same temperature; pH is "
                   "watched, since buffer goes out with the salt.")
               : _("The new water matches in temperature, pH and salinity.");
  if (analyte == LZQ_COPPER)
    return _("Copper kills invertebrates, and fish when overdosed: gloves, measure twice. Local "
             "rules and a veterinarian decide.");
  return _("Medicine: gloves, measure twice, air in the water. The label, local rules and a "
           "veterinarian decide.");
}
