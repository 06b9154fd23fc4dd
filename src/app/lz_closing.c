// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_closing.h.
#include "lz_closing.h"

static GMutex lock;
static GCond ended;
static guint closing; // files that are being closed

static void
count(int change)
{
  g_mutex_lock(&lock);
  closing += (guint)change;
  g_cond_broadcast(&ended);
  g_mutex_unlock(&lock);
}

static void
run(GTask *task, gpointer source, gpointer desk, GCancellable *cancellable)
{
  lz_desk_close(desk);
  count(-1);
  g_task_return_boolean(task, TRUE);
}

static void
on_closed(GObject *source, GAsyncResult *result, gpointer application)
{
  if (application)
    g_application_release(application);
}

void
lz_closing_begin(LzDesk *desk)
{
  GApplication *application = g_application_get_default();
  lz_desk_leave(desk);
  if (!lz_desk_closes_slowly(desk)) {
    lz_desk_close(desk);
    g_object_unref(desk);
    return;
  }
  if (application)
    g_application_hold(application);
  count(1);
  g_autoptr(GTask) task = g_task_new(NULL, NULL, on_closed, application);
  g_task_set_task_data(task, desk, g_object_unref);
  g_task_run_in_thread(task, run);
}

void
lz_closing_wait(void)
{
  g_mutex_lock(&lock);
  while (closing)
    g_cond_wait(&ended, &lock);
  g_mutex_unlock(&lock);
}
