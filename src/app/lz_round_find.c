// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_round_find.h"

guint
lz_round_first_doable(GListModel *tasks)
{
  for (guint i = 0; i < g_list_model_get_n_items(tasks); i++) {
    g_autoptr(LzTaskRow) row = g_list_model_get_item(tasks, i);
    lzq_task_state state = lz_task_row_info(row)->task->state;
    if (state == LZQ_TASK_DUE || state == LZQ_TASK_LATE)
      return i;
  }
  return 0;
}

guint
lz_round_find(GListModel *tasks, const char *key)
{
  for (guint i = 0; key && i < g_list_model_get_n_items(tasks); i++) {
    g_autoptr(LzTaskRow) row = g_list_model_get_item(tasks, i);
    if (g_strcmp0(lz_row_key(LZ_ROW(row)), key) == 0)
      return i;
  }
  return GTK_INVALID_LIST_POSITION;
}

gboolean
lz_round_is_due(const lzq_task *task, lzq_minute now)
{
  return (task->state == LZQ_TASK_DUE || task->state == LZQ_TASK_LATE) && task->at <= now;
}
