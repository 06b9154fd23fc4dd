// SPDX-License-Identifier: GPL-3.0-or-later
// The working of what the plan asks for: the same answers as the adviser's, with the plan's
// numbers.
#include <glib/gi18n-lib.h>
#include <lzq_balance.h>
#include <math.h>

#include "lz_adviser.h"
#include "lz_carry.h"
#include "lz_desk_private.h"
#include "lz_format.h"
#include "lz_words.h"

static GPtrArray *
lines_of(LzDesk *desk, const LzQuestion *ask)
{
  g_autoptr(LzAnswer) answer = lz_desk_answer(desk, ask, NULL);
  return answer ? g_ptr_array_ref(answer->lines) : lz_working_new();
}

GPtrArray *
lz_working_dose(LzDesk *desk, const LzDoseAdvice *advice)
{
  LzQuestion ask;
  if (!advice->possible || !(advice->ml > 0))
    return lz_working_new();
  lz_question_init(&ask, advice->change_l > 0 ? LZ_QUESTION_REPLACE : LZ_QUESTION_RAISE);
  ask.system = advice->system;
  ask.analyte = advice->analyte;
  ask.bottle = advice->bottle;
  ask.level = advice->level_before;
  ask.target = advice->target;
  ask.step = 0; // the advice is one step already
  ask.litres = advice->change_l;
  return lines_of(desk, &ask);
}

static GPtrArray *
working_change(LzDesk *desk, const lzq_task *task)
{
  GPtrArray *lines = lz_working_new();
  double volume = lz_carry_volume(desk->model, task->system, desk->now);
  double share = lzq_changed_share(task->amount, volume, false);
  lzq_working working = {.n = 0};
  if (!(volume > 0) || !(task->amount > 0))
    return lines;
  lzq_working_add(&working, LZQ_LINE_SHARE, task->amount, volume, share, 0);
  if (isfinite(task->level_before) && isfinite(task->level_after)) {
    double fresh = task->analyte == LZQ_SALINITY ? task->new_salinity : 0;
    if (isfinite(fresh))
      lzq_working_add(&working, LZQ_LINE_AFTER_CHANGE, task->level_before, share, fresh,
                      lzq_after_change(task->level_before, share, fresh));
  }
  lz_working_append(lines, &working, lz_words_analyte_unit(task->analyte), "L");
  g_autofree char *litres = lz_format_amount(task->amount, LZQ_UNIT_L);
  lz_working_add(lines, _("Out and in"), "", litres, TRUE);
  return lines;
}

static GPtrArray *
working_salt(LzDesk *desk, const lzq_task *task)
{
  LzQuestion ask;
  lz_question_init(&ask, LZ_QUESTION_SALT);
  ask.system = task->system;
  ask.analyte = LZQ_SALINITY;
  ask.level = task->level_before;
  ask.target = task->level_after;
  return lines_of(desk, &ask);
}

// A dose that waits for a test: from what that is expected to read, not from what is there now.
static GPtrArray *
working_expected(LzDesk *desk, const lzq_task *task)
{
  LzQuestion ask;
  lz_question_init(&ask, LZ_QUESTION_RAISE);
  ask.system = task->system;
  ask.analyte = (lzq_analyte)task->analyte;
  ask.bottle = task->bottle;
  ask.level = task->level_before;
  ask.target = ask.level + task->dose_mg / lz_carry_volume(desk->model, task->system, desk->now);
  ask.step = 0;
  ask.expected = TRUE;
  return lines_of(desk, &ask);
}

GPtrArray *
lz_working_task(LzDesk *desk, const lzq_task *task)
{
  const gboolean ahead = task->state == LZQ_TASK_WAITS && !(task->with_change_l > 0) &&
                         isfinite(task->level_before) && task->dose_mg > 0;
  if (task->kind == LZQ_TASK_DOSE && ahead)
    return working_expected(desk, task);
  if (task->kind == LZQ_TASK_DOSE) {
    LzDoseAdvice advice =
        lz_desk_advise_dose(desk, task->system, (lzq_analyte)task->analyte, task->with_change_l);
    return lz_working_dose(desk, &advice);
  }
  if (task->kind == LZQ_TASK_CHANGE)
    return working_change(desk, task);
  if (task->kind == LZQ_TASK_SALT && task->level_after > task->level_before)
    return working_salt(desk, task);
  return lz_working_new();
}

static void
add_level(GPtrArray *lines, const char *what, lzq_analyte analyte, double level)
{
  g_autofree char *text = lz_format_level(analyte, level);
  g_autofree char *value = g_strdup_printf("%s %s", text, lz_words_analyte_unit(analyte));
  if (!isnan(level))
    lz_working_add(lines, what, "", value, FALSE);
}

static void
add_strength(LzDesk *desk, GPtrArray *lines, uint32_t index)
{
  const LzEntity *bottle =
      index == LZQ_NONE ? NULL : lz_model_entity_at(desk->model, LZS_BOTTLE, index);
  if (!bottle)
    return;
  g_autofree char *strength = lz_format_short(lz_entry_number(bottle->now, "strength"), 3);
  gboolean salt = g_strcmp0(lz_entry_text(bottle->now, "strength_as"), "salt") == 0;
  g_autofree char *what = g_strdup_printf(_("Bottle %s"), bottle->label);
  gboolean metal = lz_entry_word(bottle->now, "analyte") == LZQ_COPPER;
  g_autofree char *value = salt    ? g_strdup_printf(_("%s mg of salt per mL"), strength)
                           : metal ? g_strdup_printf(_("%s mg of metal per mL"), strength)
                                   : g_strdup_printf("%s mg/mL", strength);
  lz_working_add(lines, what, "", value, FALSE);
}

GPtrArray *
lz_working_given(LzDesk *desk, const LzDoseAdvice *advice)
{
  GPtrArray *lines = lz_working_new();
  g_autofree char *volume =
      lz_format_amount(lz_carry_volume(desk->model, advice->system, desk->now), LZQ_UNIT_L);
  lz_working_add(lines, _("Net volume"), "", volume, FALSE);
  if (advice->change_l > 0) {
    g_autofree char *litres = lz_format_amount(advice->change_l, LZQ_UNIT_L);
    lz_working_add(lines, _("To be changed"), "", litres, FALSE);
  }
  add_level(lines, _("Level now"), advice->analyte, advice->level_before);
  add_level(lines, _("Wanted"), advice->analyte,
            isnan(advice->level_after) ? advice->target : advice->level_after);
  add_strength(desk, lines, advice->bottle);
  return lines;
}

GPtrArray *
lz_question_given(LzDesk *desk, const LzQuestion *ask)
{
  GPtrArray *lines = lz_working_new();
  if (isfinite(ask->volume_l)) {
    g_autofree char *litres = lz_format_amount(ask->volume_l, LZQ_UNIT_L);
    lz_working_add(lines, _("Vessel"), "", litres, FALSE);
  }
  if (isfinite(ask->target)) {
    g_autofree char *wanted = lz_format_short(ask->target, 1);
    g_autofree char *value = g_strdup_printf("%s mg/L", wanted);
    lz_working_add(lines, _("Wanted"), "", value, FALSE);
  }
  add_strength(desk, lines, ask->bottle);
  return lines;
}

char *
lz_working_spoken(GPtrArray *lines)
{
  GString *out = g_string_new(NULL);
  for (guint i = 0; i < lines->len; i++) {
    const LzWorkingLine *line = lines->pdata[i];
    g_string_append_printf(out, "%s%s%s%s %s", i ? "; " : "", line->what, *line->how ? " " : "",
                           line->how, line->value);
  }
  return g_string_free(out, FALSE);
}
