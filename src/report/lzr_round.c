// SPDX-License-Identifier: GPL-3.0-or-later
// The round on paper, in walking order: to carry, tick and type in later in the same order. When
// something was done ("taken at") and when it is typed in are kept apart.
#include <glib/gi18n-lib.h>
#include <string.h>

#include <lz_format.h>
#include <lz_words.h>

#include "lzr_handover.h"

#define AHEAD (16 * 60) // the coming shift and the night after it

static void
begin_table(LzrBuild *build)
{
  lzd_column columns[] = {{_("where"), 112, LZD_START},        {_("what"), 0, LZD_START},
                          {_("amount"), 62, LZD_END},          {_("due"), 88, LZD_START},
                          {_("read or given"), 66, LZD_START}, {_("taken at, by"), 80, LZD_START}};
  lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), true);
}

static void
task_row(LzrBuild *build, const LzTaskInfo *info)
{
  gboolean late = info->task->state == LZQ_TASK_LATE;
  lzd_cell cells[] = {
      {.text = info->where, .bold = true},
      {.text = info->what},
      {.text = info->amount, .bold = true},
      {.text = late ? lzr_printf(build, _("late, %s"), info->when) : info->when,
       .mark = late ? LZD_TASK_LATE : LZD_MARK_NONE},
      {.text = strcmp(info->kind, "reading") == 0 || strcmp(info->kind, "dose") == 0 ? "........."
                                                                                     : NULL},
      {.text = NULL},
  };
  lzd_sheet_tick_row(build->page, cells, G_N_ELEMENTS(cells));
}

static void
blocked(LzrBuild *build, GListModel *tasks)
{
  const lzq_plan *plan = lz_desk_plan(build->desk);
  g_autoptr(GHashTable) told = g_hash_table_new(g_str_hash, g_str_equal);
  lzr_heading(build, NULL, _("Must not be done now"), NULL);
  for (guint i = 0; i < g_list_model_get_n_items(tasks); i++) {
    g_autoptr(LzTaskRow) row = g_list_model_get_item(tasks, i);
    const LzTaskInfo *info = lz_task_row_info(row);
    if (info->task->state != LZQ_TASK_BLOCKED || info->task->kind == LZQ_TASK_MOVE)
      continue;
    const char *what = lzr_printf(build, "%s, %s:", info->where, info->what);
    // the same at another time, for the same reason, is told once
    if (g_hash_table_add(told, (gpointer)lzr_printf(build, "%s %s", what, info->why)))
      lzr_line(build, LZD_TASK_BLOCKED, what, info->why);
  }
  if (plan)
    lzr_lots_stay(build, plan, G_MAXUINT);
  lzr_none(build, _("Nothing is blocked."));
}

void
lzr_round(LzrBuild *build)
{
  GListModel *tasks = lz_desk_tasks(build->desk);
  const char *labels[] = {_("Carried by"), _("Typed in by, date, time")};
  lzq_minute until =
      build->options->until ? build->options->until : lz_desk_now(build->desk) + AHEAD;
  guint shown = 0, later = 0;
  lzr_head(build, _("Round sheet"), NULL);
  lzr_foot(build, _("Write the time at which it was done; it is typed in with that time."));
  for (guint i = 0; i < g_list_model_get_n_items(tasks); i++) {
    g_autoptr(LzTaskRow) row = g_list_model_get_item(tasks, i);
    const LzTaskInfo *info = lz_task_row_info(row);
    if (info->task->state == LZQ_TASK_BLOCKED)
      continue;
    if (info->task->at > until) {
      later++;
      continue;
    }
    if (!shown++)
      begin_table(build);
    task_row(build, info);
  }
  lzd_sheet_end_table(build->page);
  if (!shown)
    lzr_line(build, LZD_MARK_NONE, NULL, _("Nothing is due."));
  if (later)
    lzr_line(build, LZD_MARK_NONE, NULL,
             lzr_printf(
                 build,
                 ngettext("%1$u line is due after %2$s.", "%1$u lines are due after %2$s.", later),
                 later, lzr_minute(build, until)));
  blocked(build, tasks);
  lzr_heading(build, NULL, _("Also done, seen or read"),
              _("what, where, how much, time, initials"));
  lzr_begin(build);
  lzd_sheet_pen_lines(build->page, build->density < LZR_LINE_FOR_NONE       ? 4
                                   : build->density < LZR_SMALLEST_TO_CARRY ? 2
                                                                            : 1);
  lzd_sheet_to_foot(build->page);
  lzd_sheet_sign(build->page, labels, G_N_ELEMENTS(labels), true);
}
