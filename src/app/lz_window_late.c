// SPDX-License-Identifier: GPL-3.0-or-later
// What became late while nobody looked at this window is told by the desktop, once for each time
// the number rises; it goes away when nothing is late.
#include <glib/gi18n.h>
#include <lz_rows.h>

#include "lz_window_private.h"

static guint
count_late(LzDesk *desk, char **first)
{
  GListModel *tasks = lz_desk_tasks(desk);
  guint late = 0;
  for (guint i = 0; i < g_list_model_get_n_items(tasks); i++) {
    g_autoptr(LzTaskRow) row = g_list_model_get_item(tasks, i);
    const LzTaskInfo *info = lz_task_row_info(row);
    if (info->task->state != LZQ_TASK_LATE)
      continue;
    if (late++ == 0)
      *first = g_strdup_printf("%s: %s %s", info->where, info->what, info->amount);
  }
  return late;
}

void
lz_window_tell_late(LzWindow *self)
{
  GtkApplication *application = gtk_window_get_application(GTK_WINDOW(self));
  g_autofree char *first = NULL;
  guint late = self->desk ? count_late(self->desk, &first) : 0;
  guint before = self->told_late;
  self->told_late = late;
  // without a session bus there is nobody to tell
  if (!application || !g_application_get_dbus_connection(G_APPLICATION(application)))
    return;
  if (late == 0)
    g_application_withdraw_notification(G_APPLICATION(application), "late");
  if (late <= before || gtk_window_is_active(GTK_WINDOW(self)))
    return;
  g_autofree char *title =
      g_strdup_printf(ngettext("%u line is late", "%u lines are late", late), late);
  g_autoptr(GNotification) notification = g_notification_new(title);
  g_notification_set_body(notification, first);
  g_notification_set_priority(notification, G_NOTIFICATION_PRIORITY_HIGH);
  g_application_send_notification(G_APPLICATION(application), "late", notification);
}
