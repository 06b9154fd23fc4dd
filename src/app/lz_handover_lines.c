// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_handover_lines.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <lz_rows.h>
#include <lz_words.h>
#include <string.h>

#include "lz_lookup.h"

#define NEXT_SHOWN 3

static void
say_tasks(LzDesk *desk, GPtrArray *lines, gboolean urgent)
{
  GListModel *tasks = lz_desk_tasks(desk);
  guint next = 0;
  for (guint i = 0; i < g_list_model_get_n_items(tasks); i++) {
    g_autoptr(LzTaskRow) row = g_list_model_get_item(tasks, i);
    const LzTaskInfo *info = lz_task_row_info(row);
    lzq_task_state state = info->task->state;
    gboolean first = state == LZQ_TASK_LATE || state == LZQ_TASK_BLOCKED;
    if (first != urgent || (!urgent && next++ >= NEXT_SHOWN))
      continue;
    const char *word = state == LZQ_TASK_LATE      ? _("Late")
                       : state == LZQ_TASK_BLOCKED ? _("Blocked")
                                                   : _("Next");
    g_autofree char *what =
        *info->amount ? g_strdup_printf("%s %s", info->what, info->amount) : g_strdup(info->what);
    // Translators: late, blocked or next; where; what and how much; by when; why
    g_ptr_array_add(lines, g_strdup_printf(_("%1$s: %2$s, %3$s, by %4$s: %5$s"), word, info->where,
                                           what, info->when, info->why));
  }
}

static void
say_water(LzDesk *desk, GPtrArray *lines)
{
  static const lzq_analyte analytes[2] = {LZQ_COPPER, LZQ_SALINITY};
  GListModel *systems = lz_desk_systems(desk);
  for (guint i = 0; i < g_list_model_get_n_items(systems); i++) {
    g_autoptr(LzSystemRow) row = g_list_model_get_item(systems, i);
    const LzSystemInfo *info = lz_system_row_info(row);
    for (int a = 0; a < 2; a++) {
      LzMark mark = info->mark[a];
      if (!info->has_band[a] || mark == LZ_MARK_NONE || mark == LZ_MARK_IN_BAND)
        continue;
      g_autofree char *level = lz_format_level(analytes[a], info->level[a]);
      // Translators: system; copper or salinity; level; high, low, old, never read ...
      g_ptr_array_add(lines,
                      g_strdup_printf(_("%1$s: %2$s %3$s, %4$s."), info->name,
                                      lz_words_analyte(analytes[a]), level, lz_band_word(mark)));
    }
    if (info->open_dose_at == LZQ_LONG_AGO)
      continue;
    g_autofree char *when = lz_format_time(lz_desk_zone(desk), info->open_dose_at);
    g_ptr_array_add(lines, g_strdup_printf(_("%1$s: dosed %2$s, not read since: no second dose "
                                             "before a reading."),
                                           info->name, when));
  }
}

static void
say_seen(LzDesk *desk, GPtrArray *lines)
{
  static const char *const kinds[] = {"sighting", "scrape", "death", "stop"};
  lzq_minute now = lz_desk_now(desk);
  for (size_t k = 0; k < G_N_ELEMENTS(kinds); k++) {
    g_autoptr(GPtrArray) facts = lz_desk_facts(desk, kinds[k], now - 1440, now + 1);
    for (guint i = 0; i < facts->len; i++) {
      LzEntry *entry = g_ptr_array_index(facts, i);
      g_autofree char *words = lz_words_entry(desk, entry);
      g_autofree char *when = lz_format_clock(lz_desk_zone(desk), lz_entry_at(entry));
      g_ptr_array_add(lines, g_strdup_printf("%s %s: %s", when, lz_words_kind(kinds[k]), words));
    }
  }
}

GPtrArray *
lz_handover_lines(LzDesk *desk)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func(g_free);
  say_tasks(desk, lines, TRUE);
  say_water(desk, lines);
  say_seen(desk, lines);
  if (lines->len == 0)
    g_ptr_array_add(lines, g_strdup(_("Nothing is late, blocked, out of its band or seen.")));
  say_tasks(desk, lines, FALSE);
  return lines;
}
