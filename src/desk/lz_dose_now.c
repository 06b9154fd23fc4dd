// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_dose_now.h. It is the plan's next act on that analyte, if its limits of pace leave room
// for it at this minute. What hinders a dose of copper the adviser says first.
#include "lz_dose_now.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "lz_check.h"
#include "lz_format.h"
#include "lz_words.h"

void
lz_dose_now_clear(LzDoseNow *answer)
{
  g_clear_pointer(&answer->why, g_free);
}

static gboolean
moves(const lzq_task *task, uint32_t system, lzq_analyte analyte)
{
  return task->system == system && task->analyte == analyte &&
         (task->kind == LZQ_TASK_DOSE || task->kind == LZQ_TASK_SALT ||
          task->kind == LZQ_TASK_CHANGE);
}

static const lzq_task *
next_act(const lzq_plan *plan, uint32_t system, lzq_analyte analyte)
{
  for (uint32_t i = 0; plan && i < plan->n_tasks; i++)
    if (moves(&plan->tasks[i], system, analyte))
      return &plan->tasks[i];
  return NULL;
}

// A reading that has to confirm the last step first.
static gboolean
waits_for_reading(const lzq_plan *plan, uint32_t system, lzq_analyte analyte, lzq_minute now)
{
  for (uint32_t i = 0; i < plan->n_tasks; i++) {
    const lzq_task *task = &plan->tasks[i];
    if (task->kind == LZQ_TASK_TEST && task->system == system && task->analyte == analyte &&
        task->because.code == LZQ_BECAUSE_TEST_CONFIRMS && task->state != LZQ_TASK_WAITS &&
        task->at <= now)
      return TRUE;
  }
  return FALSE;
}

// --- gates

static LzCommand *
command_of(LzDesk *desk, uint32_t system, lzq_analyte analyte, const LzDoseNow *out)
{
  LzCommand *command = lz_command_build(out->kind == LZQ_TASK_CHANGE ? "change" : "dose", "system",
                                        lz_desk_name(desk, "system", system), NULL);
  if (out->kind == LZQ_TASK_CHANGE) {
    lz_command_set_number(command, "litres", out->amount);
    if (isfinite(out->new_salinity))
      lz_command_set_number(command, "new_salinity", out->new_salinity);
    return command;
  }
  if (out->kind == LZQ_TASK_SALT) {
    lz_command_set_number(command, "salt_kg", out->amount);
  } else if (out->bottle == LZQ_NONE) {
    const lzs_kind_spec *spec = lzs_kind_find("dose");
    g_auto(GStrv) words = g_strsplit(spec->fields[lzs_kind_field(spec, "analyte")].words, "|", -1);
    lz_command_set(command, "analyte", words[analyte]);
    lz_command_set_number(command, "amount_mg", out->amount * 1000);
  } else {
    lz_command_set(command, "bottle", lz_desk_name(desk, "bottle", out->bottle));
    lz_command_set_number(command, "amount_ml", out->amount);
    lz_command_set_number(command, "check_ml", out->amount);
  }
  if (out->new_water_l > 0)
    lz_command_set(command, "in_new_water", "yes");
  return command;
}

static void
say(LzDoseNow *out, const char *words)
{
  char *all = out->why ? g_strconcat(out->why, "; ", words, NULL) : g_strdup(words);
  g_free(out->why);
  out->why = all;
}

static void
hold_against_gates(LzDesk *desk, uint32_t system, lzq_analyte analyte, LzDoseNow *out)
{
  g_autoptr(LzCommand) command = command_of(desk, system, analyte, out);
  g_autoptr(GError) stopped = NULL;
  if (!lz_check_gates(desk, command, &stopped)) {
    out->give = FALSE;
    out->amount = NAN;
    g_clear_pointer(&out->why, g_free);
    out->why = g_strdelimit(g_strdup(stopped->message), "\n", ' ');
    return;
  }
  for (const char *const *note = lz_command_notes(command); *note; note++)
    say(out, *note);
}

// --- where the answer comes from

// What hinders a dose of copper. Without a plan, also the dose.
static void
of_adviser(LzDesk *desk, uint32_t system, gboolean alone, LzDoseNow *out)
{
  const lzq_analyte analyte = LZQ_COPPER;
  LzDoseAdvice advice = lz_desk_advise_dose(desk, system, analyte, 0);
  out->asked = TRUE;
  if (advice.why)
    say(out, advice.why);
  if (!alone || !advice.possible || !(advice.mg > 0))
    return;
  out->kind = LZQ_TASK_DOSE;
  out->bottle = advice.bottle;
  out->mg = advice.mg;
  out->level_before = advice.level_before;
  out->level_after = advice.level_after;
  if (advice.bottle != LZQ_NONE) {
    out->give = TRUE;
    out->unit = LZQ_UNIT_ML;
    out->amount = advice.ml;
  } else {
    const lzq_because none = {LZQ_BECAUSE_NO_BOTTLE, {analyte, 0, 0, 0}};
    g_autofree char *words = lz_words_because(desk, &none);
    say(out, words);
  }
}

static void
of_plan(LzDesk *desk, const lzq_plan *plan, uint32_t system, lzq_analyte analyte, LzDoseNow *out)
{
  const lzq_task *task = next_act(plan, system, analyte);
  if (!task)
    return;
  lzq_minute now = lz_desk_now(desk);
  out->asked = TRUE;
  g_autofree char *because = lz_words_because(desk, &task->because);
  if (task->state == LZQ_TASK_BLOCKED || task->state == LZQ_TASK_WAITS) {
    say(out, because);
  } else if (task->at > now) {
    const lzq_task *planned = next_act(lz_desk_plan(desk), system, analyte);
    g_autofree char *when =
        lz_format_when(lz_desk_zone(desk), planned ? planned->at : task->at, now);
    g_autofree char *words = g_strdup_printf(_("not yet: %1$s, %2$s"), when, because);
    say(out, words);
  } else if (analyte == LZQ_SALINITY && isnan(plan->waters[system].level[LZQ_SALINITY])) {
    say(out, _("the level is not known: test first")); // what the plan starts from is a guess
  } else if (waits_for_reading(plan, system, analyte, now)) {
    say(out, _("a reading has to confirm the last step first"));
  } else {
    out->give = TRUE;
    out->kind = task->kind;
    out->amount = task->amount;
    out->unit = task->unit;
    out->bottle = task->kind == LZQ_TASK_DOSE ? task->bottle : LZQ_NONE;
    out->mg = task->kind == LZQ_TASK_DOSE ? task->dose_mg : NAN;
    out->level_before = task->level_before;
    out->level_after = task->level_after;
    out->new_salinity = task->kind == LZQ_TASK_CHANGE ? task->new_salinity : NAN;
    out->new_water_l = task->kind == LZQ_TASK_DOSE ? task->with_change_l : 0;
    say(out, because);
  }
}

void
lz_desk_dose_now(LzDesk *desk, const lzq_plan *plan, uint32_t system, lzq_analyte analyte,
                 LzDoseNow *out)
{
  const lzq_plan *shown = lz_desk_plan(desk);
  *out = (LzDoseNow){.amount = NAN,
                     .bottle = LZQ_NONE,
                     .mg = NAN,
                     .level_before = NAN,
                     .level_after = NAN,
                     .new_salinity = NAN};
  if (analyte == LZQ_COPPER && shown && system < lz_desk_snapshot(desk)->n_systems &&
      shown->waters[system].has_band[LZQ_COPPER])
    of_adviser(desk, system, plan == NULL, out);
  if (!out->give && !out->why)
    of_plan(desk, plan, system, analyte, out);
  if (out->give)
    hold_against_gates(desk, system, analyte, out);
}
