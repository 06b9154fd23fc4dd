// SPDX-License-Identifier: GPL-3.0-or-later
// Mass balance told the way staff do it: what is in the water, what is wanted, the difference, and
// that divided by the strength on the bottle.
#include "lz_working.h"

#include <glib/gi18n.h>
#include <lz_desk.h>
#include <lz_format.h>
#include <lz_words.h>
#include <math.h>

#include "lz_lookup.h"

static void
line_free(gpointer data)
{
  LzWorkingLine *line = data;
  g_free(line->what);
  g_free(line->how);
  g_free(line->value);
  g_free(line);
}

// Takes all three strings.
static void
add(GPtrArray *lines, char *what, char *how, char *value, gboolean result)
{
  LzWorkingLine *line = g_new0(LzWorkingLine, 1);
  *line = (LzWorkingLine){what, how, value, result};
  g_ptr_array_add(lines, line);
}

static char *
with_unit(double value, int decimals, const char *unit)
{
  g_autofree char *number = lz_format_short(value, decimals);
  return g_strdup_printf("%s\u202F%s", number, unit);
}

static char *
level_times_litres(double level, double litres)
{
  g_autofree char *l = lz_format_level(LZQ_COPPER, level);
  g_autofree char *v = lz_format_short(litres, 1);
  return g_strdup_printf("%s mg/L × %s L", l, v);
}

static double
volume_of(LzDesk *desk, uint32_t system)
{
  const LzSystemInfo *info = lz_lookup_system(desk, system);
  return info ? info->volume_l : NAN;
}

GPtrArray *
lz_working_dose(LzDesk *desk, const LzDoseAdvice *advice)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func(line_free);
  double volume = volume_of(desk, advice->system);
  if (!advice->possible || isnan(volume) || !(advice->ml > 0))
    return lines;
  double before = advice->change_l > 0 ? advice->level_changed : advice->level_before;
  const lzq_snapshot *snapshot = lz_desk_snapshot(desk);
  double strength = advice->bottle < snapshot->n_bottles
                        ? snapshot->bottles[advice->bottle].strength_mg_ml
                        : advice->mg / advice->ml;
  if (advice->change_l > 0)
    add(lines, g_strdup(_("New water, copper-free")), NULL, with_unit(advice->change_l, 1, "L"),
        FALSE);
  add(lines, g_strdup(advice->change_l > 0 ? _("Left in the water") : _("Now in the water")),
      level_times_litres(before, volume), with_unit(before * volume, 1, "mg"), FALSE);
  add(lines, g_strdup(_("Wanted after")), level_times_litres(advice->level_after, volume),
      with_unit(advice->level_after * volume, 1, "mg"), FALSE);
  add(lines, g_strdup(_("To add")), NULL, with_unit(advice->mg, 1, "mg"), FALSE);
  g_autofree char *mg = lz_format_short(advice->mg, 1);
  g_autofree char *per_ml = lz_format_number(strength, 2);
  add(lines, g_strdup_printf(_("Bottle %s"), lz_desk_name(desk, "bottle", advice->bottle)),
      g_strdup_printf("%s ÷ %s mg/mL", mg, per_ml), lz_format_amount(advice->ml, LZQ_UNIT_ML),
      TRUE);
  return lines;
}

static GPtrArray *
working_change(LzDesk *desk, const lzq_task *task)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func(line_free);
  double volume = volume_of(desk, task->system);
  if (isnan(volume) || !(task->amount > 0))
    return lines;
  add(lines, g_strdup(_("Net volume")), NULL, with_unit(volume, 1, "L"), FALSE);
  if (!isnan(task->level_before))
    add(lines, g_strdup_printf(_("%s now"), lz_words_analyte(task->analyte)), NULL,
        lz_format_level(task->analyte, task->level_before), FALSE);
  if (!isnan(task->level_after))
    add(lines, g_strdup_printf(_("%s after"), lz_words_analyte(task->analyte)), NULL,
        lz_format_level(task->analyte, task->level_after), FALSE);
  if (!isnan(task->new_salinity))
    add(lines, g_strdup(_("New water")), NULL,
        task->new_salinity < 0.5 ? g_strdup(_("fresh"))
                                 : lz_format_level(LZQ_SALINITY, task->new_salinity),
        FALSE);
  add(lines, g_strdup(_("Out and in")), with_unit(100 * task->amount / volume, 1, "%"),
      lz_format_amount(task->amount, LZQ_UNIT_L), TRUE);
  return lines;
}

GPtrArray *
lz_working_task(LzDesk *desk, const lzq_task *task)
{
  if (task->kind == LZQ_TASK_DOSE && task->analyte == LZQ_COPPER) {
    LzDoseAdvice advice = lz_desk_advise_dose(desk, task->system, task->with_change_l);
    return lz_working_dose(desk, &advice);
  }
  if (task->kind == LZQ_TASK_CHANGE)
    return working_change(desk, task);
  return g_ptr_array_new_with_free_func(line_free);
}

char *
lz_working_spoken(GPtrArray *lines)
{
  GString *out = g_string_new(NULL);
  for (guint i = 0; i < lines->len; i++) {
    const LzWorkingLine *line = g_ptr_array_index(lines, i);
    g_string_append_printf(out, "%s%s %s %s", i ? "; " : "", line->what, line->how ? line->how : "",
                           line->value);
  }
  return g_string_free(out, FALSE);
}
