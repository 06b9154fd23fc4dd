// SPDX-License-Identifier: GPL-3.0-or-later
// The shift handover: one page on a normal day, read aloud in the order of its blocks. What was
// done or seen is in lzr_handover_facts.c.
#include "lzr_handover.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include <lz_chart_data.h>
#include <lz_format.h>
#include <lz_words.h>

#define MATTERS_MOST 4
#define CHANGES_MOST 40 // more lines than a page has room for

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
  case LZ_MARK_DOUBT: return _("may harm: test again at once");
  }
  return "";
}

// The same where only a word or two have room.
static const char *
mark_short(LzMark mark)
{
  switch (mark) {
  case LZ_MARK_IN_BAND: return C_("short", "in band");
  case LZ_MARK_EDGE: return _("edge");
  case LZ_MARK_UNREAD: return _("unread");
  case LZ_MARK_HARM: return _("harms");
  case LZ_MARK_DOUBT: return _("may harm");
  default: return lzr_mark_word(mark);
  }
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
  case LZ_MARK_DOUBT:
  case LZ_MARK_OLD:
  case LZ_MARK_UNREAD: return info->has_band[a] && info->lots > 0;
  default: return FALSE;
  }
}

// Lots released too early, and whatever else the record shows that somebody must look at.
static void
matters(LzrBuild *build)
{
  GListModel *rows = lz_desk_matters(build->desk);
  guint n = g_list_model_get_n_items(rows);
  for (guint i = 0; i < MIN(n, MATTERS_MOST); i++) {
    g_autoptr(LzMatterRow) row = g_list_model_get_item(rows, i);
    const LzMatterInfo *info = lz_matter_row_info(row);
    const char *to = *info->customer ? lzr_printf(build, _(", at %s"), info->customer) : "";
    lzr_line(build, LZD_TASK_CONFLICT,
             *info->code ? lzr_printf(build, _("Lot %1$s%2$s:"), info->code, to) : NULL,
             info->what);
  }
  if (n > MATTERS_MOST)
    lzr_line(build, LZD_MARK_NONE, NULL, lzr_printf(build, _("and %u more."), n - MATTERS_MOST));
}

static void
out_of_range(LzrBuild *build)
{
  GListModel *systems = lz_desk_systems(build->desk);
  lzr_heading(build, "1", _("Out of range now"), _("what it is, what to do"));
  for (guint i = 0; i < g_list_model_get_n_items(systems); i++) {
    g_autoptr(LzSystemRow) row = g_list_model_get_item(systems, i);
    const LzSystemInfo *info = lz_system_row_info(row);
    for (int a = 0; a < 2; a++)
      if (is_alarm(info, a)) {
        const char *bold =
            lzr_printf(build, "%s %s%s%s, %s.", info->name,
                       a == 0 ? lz_words_analyte(analytes[a]) : "", a == 0 ? " " : "",
                       lzr_level(build, analytes[a], info->level[a]), lzr_mark_word(info->mark[a]));
        lzr_line(build, lzr_band_mark(info->mark[a]), bold, what_to_do(build, info->index));
      }
    if (info->why)
      lzr_line(build, LZD_TASK_CONFLICT, lzr_printf(build, "%s.", info->name), info->why);
  }
  matters(build);
  lzr_none(build, _("Nothing."));
}

const LzLotInfo *
lzr_slowest_lot(LzDesk *desk, uint32_t system)
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

// Copper doses of this station day, with initials; NULL = none.
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
    g_string_append_printf(text, "%s%s, %s", text->len ? "\n" : "", ml,
                           lz_desk_person_initials(desk, lz_entry_who(dose)));
  }
  return text->len ? lzr_keep(build, g_strdup(text->str)) : NULL;
}

// Of what this sheet tells the level of a water: what its fish ask for; where they ask for nothing,
// of copper that somebody gave all the same.
static gboolean
is_told(const LzSystemInfo *info, int a)
{
  return info->has_band[a] || (a == 0 && !info->has_band[1] && info->read_at[0] != LZQ_LONG_AGO);
}

// The course, and below it which day of it this is and how much of its phase is served.
static const char *
course_words(LzrBuild *build, const LzLotInfo *lot)
{
  if (!lot)
    return NULL;
  const char *version = strrchr(lot->protocol, '/');
  g_autofree char *name =
      g_strndup(lot->protocol, version ? (gsize)(version - lot->protocol) : strlen(lot->protocol));
  if (lot->served)
    return lzr_printf(build, "%s\n%s", name, _("served"));
  const int day = lz_lot_course_day(build->desk, lot->index);
  if (lot->needed_min <= 0)
    return lzr_printf(build, _("%1$s\nday %2$d · %3$s"), name, day, lot->phase);
  return lzr_printf(build, _("%1$s\nday %2$d · %3$s: %4$s of %5$s"), name, day, lot->phase,
                    lzr_duration_short(build, lot->credit_min),
                    lzr_duration_short(build, lot->needed_min));
}

const char *
lzr_handover_clock(LzrBuild *build, lzq_minute at)
{
  LzZone *zone = lz_desk_zone(build->desk);
  if (at == LZQ_NEVER)
    return "";
  if (at == LZQ_LONG_AGO || lz_zone_day(zone, at) == lz_zone_day(zone, lz_desk_now(build->desk)))
    return lzr_short_time(build, at);
  LzLocal l = lz_zone_local(zone, at);
  return lzr_printf(build, "%02d-%02d\u00a0%02d:%02d", l.month, l.day, l.hour, l.minute);
}

// What was given today; below it what is in the water since, by mass balance, where something was
// done after the last reading.
static const char *
given_words(LzrBuild *build, const LzSystemInfo *info)
{
  const char *dosed = dosed_today(build, info->index), *words = dosed ? dosed : _("none given");
  for (int a = 0; a < 2; a++) {
    g_autofree char *read = lz_format_level(analytes[a], info->read[a]);
    g_autofree char *now = lz_format_level(analytes[a], info->level[a]);
    if (is_told(info, a) && info->read_at[a] != LZQ_LONG_AGO && !g_str_equal(read, now))
      words = lzr_printf(build, _("%1$s\nnow %2$s"), words, now);
  }
  return words;
}

// One water in one row; copper over salinity where it has both bands.
static void
water_row(LzrBuild *build, const LzSystemInfo *info)
{
  const LzLotInfo *lot = lzr_slowest_lot(build->desk, info->index);
  const char *level = "", *at = "", *words = "";
  const gboolean late = info->late_test != LZQ_NEVER;
  lzd_mark marks[2] = {LZD_MARK_NONE, LZD_MARK_NONE};
  guint n = 0;
  for (int a = 0; a < 2; a++)
    if (is_told(info, a)) {
      const char *line = n ? "\n" : "";
      level =
          lzr_printf(build, "%s%s%s", level, line, lzr_level(build, analytes[a], info->read[a]));
      at = lzr_printf(build, "%s%s%s", at, line, lzr_handover_clock(build, info->read_at[a]));
      words = lzr_printf(build, "%s%s%s", words, line, mark_short(info->mark[a]));
      marks[n++] = lzr_band_mark(info->mark[a]);
    }
  lzd_cell cells[] = {
      {.text = info->name, .bold = true, .basin = true, .water = lzr_water(info)},
      {.text = info->lots ? course_words(build, lot) : _("no fish in it")},
      {.text = level, .bold = true},
      {.text = at},
      {.text = words, .mark = marks[0], .mark2 = marks[1]},
      {.text = late ? lzr_printf(build, _("late %s"), lzr_handover_clock(build, info->late_test))
                    : lzr_handover_clock(build, info->next_test),
       .bold = true},
      {.text = given_words(build, info)},
  };
  lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
}

static void
water_under_treatment(LzrBuild *build)
{
  lzd_column columns[] = {{_("system"), 54, LZD_START},
                          {_("course and time served"), 0, LZD_START},
                          {_("last reading"), 72, LZD_START},
                          {_("at"), 62, LZD_START},
                          {NULL, 58, LZD_START},
                          {_("next test"), 62, LZD_START},
                          {_("dose today"), 62, LZD_END}};
  GListModel *systems = lz_desk_systems(build->desk);
  g_autoptr(GString) dosed = g_string_new(NULL);
  guint shown = 0;
  lzr_heading(build, "2", _("Water under treatment"), NULL);
  for (guint i = 0; i < g_list_model_get_n_items(systems); i++) {
    g_autoptr(LzSystemRow) row = g_list_model_get_item(systems, i);
    const LzSystemInfo *info = lz_system_row_info(row);
    const gboolean banded = info->lots > 0 && (info->has_band[0] || info->has_band[1]);
    if (!banded && !dosed_today(build, info->index))
      continue;
    if (!shown++) {
      lzr_begin(build);
      lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), true);
    }
    water_row(build, info);
    if (info->open_dose_at != LZQ_LONG_AGO)
      g_string_append_printf(dosed, "%s%s", dosed->len ? ", " : "", info->name);
  }
  lzd_sheet_end_table(build->page);
  lzr_none(build, _("None."));
  if (dosed->len)
    lzr_line(build, LZD_MARK_NONE,
             lzr_printf(build,
                        _("Dosed and not yet tested: %s. No second dose without a new reading."),
                        dosed->str),
             NULL);
  if (shown && build->density <= 1)
    lzr_copper_charts(build);
}

// One entry as it was made: what a correction says now, or what was taken back.
static const char *
change_words(LzrBuild *build, LzEntry *entry)
{
  if (!lz_entry_corrects(entry))
    return lzr_entry_line(build, entry);
  if (!lz_entry_voided(entry))
    return lzr_printf(build, _("Corrected: %s"), lzr_entry_line(build, entry));
  LzEntry *first = lz_desk_entry(build->desk, lz_entry_corrects(entry), NULL);
  const char *words = first ? lzr_printf(build, _("Taken back: %s"), lzr_entry_line(build, first))
                            : lzr_entry_line(build, entry);
  if (first)
    lz_entry_unref(first);
  return words;
}

// What was entered since this very sheet was given over, in the order of entry: what is corrected
// or told late changes the sheet as well, though it happened before. NULL = not given yet.
static GPtrArray *
entries_since(LzrBuild *build, lzq_minute *given)
{
  LzDesk *desk = build->desk;
  lzq_minute now = lz_desk_now(desk);
  int64_t sheet = 0;
  g_autoptr(GPtrArray) before = lz_desk_facts(desk, "handover", now - 7 * LZQ_DAY, now + 1);
  for (guint i = 0; build->options->number && i < before->len; i++)
    if (lz_entry_int(before->pdata[i], "sheet") == build->options->number) {
      sheet = lz_entry_id(before->pdata[i]);
      *given = lz_entry_at(before->pdata[i]);
    }
  GPtrArray *all = sheet ? lz_desk_entries(desk, NULL, sheet, 0, NULL) : NULL;
  for (guint i = all ? all->len : 0; i-- > 0;)
    if (lz_entry_at(all->pdata[i]) > now)
      g_ptr_array_remove_index(all, i);
  return all;
}

static void
since_given(LzrBuild *build)
{
  lzq_minute given = LZQ_LONG_AGO;
  g_autoptr(GPtrArray) since = entries_since(build, &given);
  if (!since)
    return;
  lzr_line(build, LZD_MARK_NONE, _("Reprint."),
           lzr_printf(build,
                      ngettext("%1$u entry since this sheet was given at %2$s.",
                               "%1$u entries since this sheet was given at %2$s.", since->len),
                      since->len, lzr_short_time(build, given)));
  LzrCut *cut = &build->cut[LZR_CUT_CHANGES];
  static const guint usual[LZR_DENSEST + 1] = {8, 8, 8, 8, 6, 2, 2};
  const guint most = cut->most ? cut->most : usual[build->density];
  cut->shown = MIN(since->len, most);
  cut->wanted = MIN(since->len, CHANGES_MOST);
  for (guint i = 0; i < cut->shown; i++)
    lzr_line(build, LZD_MARK_NONE, NULL, change_words(build, since->pdata[since->len - 1 - i]));
  if (since->len > most)
    lzr_line(build, LZD_MARK_NONE, NULL,
             lzr_printf(build, _("and %u more."), (guint)since->len - most));
}

void
lzr_handover(LzrBuild *build)
{
  const char *labels[] = {_("Given, read aloud"), _("Read back by")};
  lzr_head(build, _("Shift handover"), NULL);
  lzr_foot(build, _("What is written by pen is typed in with the time it was done."));
  since_given(build);
  out_of_range(build);
  water_under_treatment(build);
  lzr_handover_facts(build);
  lzr_not_started(build);
  lzr_handover_shelf(build);
  lzr_heading(build, "9", _("By pen"), NULL);
  lzr_begin(build);
  lzd_sheet_pen_lines(build->page, build->density < 4 ? 2 : 1);
  lzd_sheet_to_foot(build->page);
  lzd_sheet_sign(build->page, labels, G_N_ELEMENTS(labels), true);
}
