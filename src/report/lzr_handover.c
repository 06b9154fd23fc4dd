// SPDX-License-Identifier: GPL-3.0-or-later
// The shift handover: one page on a normal day, read aloud in the order of its blocks. What was
// done or seen is in lzr_handover_facts.c.
#include "lzr_handover.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include <lz_format.h>
#include <lz_words.h>

static const lzq_analyte analytes[2] = {LZQ_COPPER, LZQ_SALINITY};

lzq_minute
lzr_shift_start(LzrBuild *build)
{
  lzq_minute now = lz_desk_now(build->desk);
  if (build->options->from)
    return build->options->from;
  g_autoptr(GPtrArray) before = lz_desk_facts(build->desk, "handover", now - LZQ_DAY, now);
  return before->len ? lz_entry_at(before->pdata[before->len - 1]) : now - 12 * 60;
}

static const char *
level_text(LzrBuild *build, int a, double level)
{
  const char *unit = lz_words_analyte_unit(analytes[a]);
  g_autofree char *number = lz_format_level(analytes[a], level);
  return lzr_printf(build, "%s%s%s", number, *unit ? " " : "", unit);
}

const char *
lzr_mark_word(LzMark mark)
{
  switch (mark) {
  case LZ_MARK_NONE: return "";
  case LZ_MARK_IN_BAND: return _("in band");
  case LZ_MARK_EDGE: return _("at the edge");
  case LZ_MARK_HIGH: return _("high");
  case LZ_MARK_LOW: return _("low");
  case LZ_MARK_OLD: return _("old");
  case LZ_MARK_UNREAD: return _("never read");
  case LZ_MARK_HARM: return _("harms: change water now");
  }
  return "";
}

// First thing to do about a water: its first task of a kind that answers.
static const char *
what_to_do(LzrBuild *build, uint32_t system)
{
  const lzq_plan *plan = lz_desk_plan(build->desk);
  for (uint32_t i = 0; plan && i < plan->n_tasks; i++) {
    const lzq_task *task = &plan->tasks[i];
    if (task->system != system || task->state == LZQ_TASK_BLOCKED)
      continue;
    if (task->kind != LZQ_TASK_CHANGE && task->kind != LZQ_TASK_DOSE && task->kind != LZQ_TASK_TEST)
      continue;
    g_autofree char *what = lz_words_task(build->desk, task);
    g_autofree char *amount = lz_words_task_amount(build->desk, task);
    g_autofree char *when = lz_format_when(lz_desk_zone(build->desk), task->at, plan->now);
    return lzr_printf(build, "%s%s%s, %s.", what, *amount ? ": " : "", amount, when);
  }
  return "";
}

static gboolean
is_alarm(const LzSystemInfo *info, int a)
{
  switch (info->mark[a]) {
  case LZ_MARK_HIGH:
  case LZ_MARK_LOW:
  case LZ_MARK_HARM:
  case LZ_MARK_OLD:
  case LZ_MARK_UNREAD: return info->has_band[a] && info->lots > 0;
  default: return FALSE;
  }
}

static void
out_of_range(LzrBuild *build)
{
  guint shown = 0;
  GListModel *systems = lz_desk_systems(build->desk);
  lzd_sheet_heading(build->page, "1", _("Out of range now"), _("what it is, what to do"));
  for (guint i = 0; i < g_list_model_get_n_items(systems); i++) {
    g_autoptr(LzSystemRow) row = g_list_model_get_item(systems, i);
    const LzSystemInfo *info = lz_system_row_info(row);
    for (int a = 0; a < 2; a++)
      if (is_alarm(info, a)) {
        const char *bold =
            lzr_printf(build, "%s %s %s, %s.", info->name, lz_words_analyte(analytes[a]),
                       level_text(build, a, info->level[a]), lzr_mark_word(info->mark[a]));
        lzr_line(build, lzr_band_mark(info->mark[a]), bold, what_to_do(build, info->index));
        shown++;
      }
    if (info->why) {
      lzr_line(build, LZD_TASK_CONFLICT, lzr_printf(build, "%s.", info->name), info->why);
      shown++;
    }
  }
  if (!shown)
    lzr_line(build, LZD_MARK_NONE, NULL, _("Nothing."));
}

// Protocol and credit of the lot that is furthest behind in that water.
static const LzLotInfo *
slowest_lot(LzDesk *desk, uint32_t system)
{
  const LzLotInfo *slowest = NULL;
  GListModel *lots = lz_desk_lots(desk);
  for (guint i = 0; i < g_list_model_get_n_items(lots); i++) {
    g_autoptr(LzLotRow) row = g_list_model_get_item(lots, i);
    const LzLotInfo *info = lz_lot_row_info(row);
    if (!info->living || info->released || info->system != system || !info->has_course)
      continue;
    if (!slowest || info->phase_index < slowest->phase_index ||
        (info->phase_index == slowest->phase_index && info->credit_min < slowest->credit_min))
      slowest = info;
  }
  return slowest;
}

// Copper doses of this station day, with initials; or "none given".
static const char *
dosed_today(LzrBuild *build, uint32_t system)
{
  LzDesk *desk = build->desk;
  lzq_minute now = lz_desk_now(desk);
  lzq_minute begin = lz_zone_day_start(lz_desk_zone(desk), lz_zone_day(lz_desk_zone(desk), now));
  g_autoptr(GPtrArray) doses = lz_desk_facts(desk, "dose", begin, now + 1);
  g_autoptr(GString) text = g_string_new(NULL);
  for (guint i = 0; i < doses->len; i++) {
    LzEntry *dose = doses->pdata[i];
    if (lz_desk_index(desk, "system", lz_entry_int(dose, "system")) != system ||
        !lz_entry_has(dose, "amount_ml"))
      continue;
    g_autofree char *ml = lz_format_amount(lz_entry_number(dose, "amount_ml"), LZQ_UNIT_ML);
    g_string_append_printf(text, "%s%s, %s", text->len ? "; " : "", ml,
                           lz_desk_person_initials(desk, lz_entry_who(dose)));
  }
  return text->len ? lzr_keep(build, g_strdup(text->str)) : _("none given");
}

static void
water_row(LzrBuild *build, const LzSystemInfo *info, int a, gboolean first)
{
  LzZone *zone = lz_desk_zone(build->desk);
  const LzLotInfo *lot = slowest_lot(build->desk, info->index);
  g_autofree char *credit = lz_format_duration(lot ? lot->credit_min : 0);
  g_autofree char *needed = lz_format_duration(lot ? lot->needed_min : 0);
  const char *served = !lot                  ? ""
                       : lot->needed_min > 0 ? lzr_printf(build, _("%s of %s"), credit, needed)
                                             : lzr_printf(build, "%s", lot->phase);
  const char *read =
      info->read_at[a] == LZQ_LONG_AGO
          ? ""
          : lzr_keep(build, lz_format_when(zone, info->read_at[a], lz_desk_now(build->desk)));
  const char *next =
      info->next_test == LZQ_NEVER
          ? ""
          : lzr_keep(build, lz_format_when(zone, info->next_test, lz_desk_now(build->desk)));
  lzd_cell cells[] = {
      {.text = first ? info->name : NULL, .bold = true, .basin = first, .water = lzr_water(info)},
      {.text = first && lot ? lot->protocol : NULL},
      {.text = first ? served : NULL},
      {.text = level_text(build, a, info->level[a]), .bold = true},
      {.text = read},
      {.text = lzr_mark_word(info->mark[a]), .mark = lzr_band_mark(info->mark[a])},
      {.text = first ? next : NULL, .bold = true},
      {.text = a == 0 ? dosed_today(build, info->index) : NULL},
  };
  lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
}

static void
water_under_treatment(LzrBuild *build)
{
  lzd_column columns[] = {{_("system"), 56, LZD_START},    {_("course"), 0, LZD_START},
                          {_("served"), 76, LZD_START},    {_("last reading"), 54, LZD_START},
                          {NULL, 62, LZD_START},           {NULL, 62, LZD_START},
                          {_("next test"), 68, LZD_START}, {_("dose today"), 66, LZD_END}};
  GListModel *systems = lz_desk_systems(build->desk);
  gboolean any_dose = FALSE;
  lzd_sheet_heading(build->page, "2", _("Water under treatment"), NULL);
  lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), true);
  for (guint i = 0; i < g_list_model_get_n_items(systems); i++) {
    g_autoptr(LzSystemRow) row = g_list_model_get_item(systems, i);
    const LzSystemInfo *info = lz_system_row_info(row);
    gboolean first = TRUE;
    for (int a = 0; a < 2; a++)
      if (info->has_band[a] && info->lots > 0) {
        water_row(build, info, a, first);
        first = FALSE;
      }
    any_dose |= info->open_dose_at != LZQ_LONG_AGO;
  }
  lzd_sheet_end_table(build->page);
  if (any_dose)
    lzr_line(build, LZD_MARK_NONE,
             _("A dose is not yet tested: no second dose without a new reading."), NULL);
}

// Tasks of the coming shift that nobody has begun.
static void
not_started(LzrBuild *build)
{
  lzd_column columns[] = {{NULL, 70, LZD_START},
                          {NULL, 0, LZD_START},
                          {NULL, 62, LZD_END},
                          {NULL, 74, LZD_START},
                          {NULL, 80, LZD_START}};
  const lzq_plan *plan = lz_desk_plan(build->desk);
  guint shown = 0, more = 0;
  lzd_sheet_heading(build->page, "6", _("Not started: yours now"), _("tick, time, initials"));
  lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), false);
  for (uint32_t i = 0; plan && i < plan->n_tasks; i++) {
    const lzq_task *task = &plan->tasks[i];
    if (task->at > plan->now + 16 * 60 || task->state == LZQ_TASK_BLOCKED)
      continue;
    if (shown >= LZR_TASKS_MAX) {
      more++;
      continue;
    }
    const char *amount = lzr_keep(build, lz_words_task_amount(build->desk, task));
    lzd_cell cells[] = {
        {.text = lzr_keep(build, lz_words_task_where(build->desk, task)), .bold = true},
        {.text = lzr_keep(build, lz_words_task(build->desk, task))},
        {.text = amount, .bold = true},
        {.text =
             task->state == LZQ_TASK_LATE
                 ? _("late: first")
                 : lzr_keep(build, lz_format_when(lz_desk_zone(build->desk), task->at, plan->now)),
         .bold = true},
        {.text = NULL},
    };
    lzd_sheet_tick_row(build->page, cells, G_N_ELEMENTS(cells));
    shown++;
  }
  lzd_sheet_end_table(build->page);
  if (!shown)
    lzr_line(build, LZD_MARK_NONE, NULL, _("Nothing is due before the shift after this one."));
  if (more)
    lzr_line(build, LZD_MARK_NONE, NULL,
             lzr_printf(build,
                        ngettext("and %u more line on the round.",
                                 "and %u more lines on the round.", more),
                        more));
}

static void
shelf(LzrBuild *build)
{
  guint shown = 0;
  GListModel *instruments = lz_desk_instruments(build->desk),
             *bottles = lz_desk_bottles(build->desk);
  lzd_sheet_heading(build->page, "7", _("Instruments out of check"), NULL);
  for (guint i = 0; i < g_list_model_get_n_items(instruments); i++) {
    g_autoptr(LzInstrumentRow) row = g_list_model_get_item(instruments, i);
    const LzInstrumentInfo *info = lz_instrument_row_info(row);
    if (!info->ever_checked || info->ok)
      continue;
    g_autofree char *at = lz_format_time(lz_desk_zone(build->desk), info->checked_at);
    lzr_line(
        build, LZD_MARK_NONE, lzr_printf(build, "%s:", info->name),
        lzr_printf(build, _("failed %s; its readings since the last good check are suspect."), at));
    shown++;
  }
  if (!shown)
    lzr_line(build, LZD_MARK_NONE, NULL, _("None."));
  lzd_sheet_heading(build->page, "8", _("Stock below reorder"), NULL);
  shown = 0;
  for (guint i = 0; i < g_list_model_get_n_items(bottles); i++) {
    g_autoptr(LzBottleRow) row = g_list_model_get_item(bottles, i);
    const LzBottleInfo *info = lz_bottle_row_info(row);
    if (!info->low)
      continue;
    g_autofree char *left = lz_format_amount(info->left_ml, LZQ_UNIT_ML);
    lzr_line(build, LZD_MARK_NONE, lzr_printf(build, "%s:", info->name),
             lzr_printf(build, _("%s left."), left));
    shown++;
  }
  if (!shown)
    lzr_line(build, LZD_MARK_NONE, NULL, _("None."));
}

static void
head_and_foot(LzrBuild *build)
{
  LzZone *zone = lz_desk_zone(build->desk);
  lzq_minute now = lz_desk_now(build->desk);
  g_autofree char *date = lz_format_date(zone, now);
  g_autofree char *full = lz_format_full(zone, now);
  lzd_sheet_head(build->page, _("Shift handover"),
                 lzr_printf(build, "%s, %s", lz_desk_station_name(build->desk), date),
                 lzr_printf(build, _("Printed %s, page {page} of {pages}"), full),
                 lzr_printf(build, _("Data until %s"), full));
  lzd_sheet_foot(build->page,
                 _("What is written by pen is typed in with the time it was done. Local rules and "
                   "a veterinarian decide "
                   "on medicines."),
                 NULL);
}

void
lzr_handover(LzrBuild *build)
{
  const char *labels[] = {_("Given, read aloud"), _("Read back by")};
  head_and_foot(build);
  lzr_practice(build);
  out_of_range(build);
  water_under_treatment(build);
  lzr_handover_facts(build);
  not_started(build);
  shelf(build);
  lzd_sheet_heading(build->page, "9", _("By pen"), NULL);
  lzd_sheet_pen_lines(build->page, 2);
  lzd_sheet_to_foot(build->page);
  lzd_sheet_sign(build->page, labels, G_N_ELEMENTS(labels), true);
}
