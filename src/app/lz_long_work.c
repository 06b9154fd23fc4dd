// SPDX-License-Identifier: GPL-3.0-or-later
// Verification and back-up beside the window: see lz_long_work.h.
#include "lz_long_work.h"

#define LOOK_MS 100

typedef struct {
  char *path, *copy;
  GtkProgressBar *bar;
  GCancellable *stop;
  GAsyncReadyCallback done;
  gint percent; // written by the thread
  guint look;
} Work;

static void
work_free(gpointer data)
{
  Work *work = data;
  g_clear_object(&work->bar);
  g_clear_object(&work->stop);
  g_free(work->path);
  g_free(work->copy);
  g_free(work);
}

static gboolean
hear(gpointer data, double share)
{
  Work *work = data;
  g_atomic_int_set(&work->percent, (gint)(100 * share));
  return !g_cancellable_is_cancelled(work->stop);
}

static void
run(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Work *work = data;
  GError *error = NULL;
  LzVerify *found = g_new0(LzVerify, 1);
  LzDeskOptions options = {.read_only = TRUE, .no_plan = TRUE};
  g_autoptr(LzDesk) desk = lz_desk_open(work->path, &options, &error);
  if (desk)
    lz_desk_set_progress(desk, hear, work);
  if (desk && (work->copy ? lz_desk_backup(desk, work->copy, &error)
                          : lz_desk_verify(desk, found, &error))) {
    g_task_return_pointer(task, found, g_free);
    return;
  }
  g_free(found);
  g_task_return_error(task, error);
}

static gboolean
on_look(gpointer data)
{
  Work *work = data;
  gtk_progress_bar_set_fraction(work->bar, g_atomic_int_get(&work->percent) / 100.0);
  return G_SOURCE_CONTINUE;
}

static void
on_done(GObject *owner, GAsyncResult *result, gpointer data)
{
  Work *work = g_task_get_task_data(G_TASK(result));
  g_clear_handle_id(&work->look, g_source_remove);
  gtk_widget_set_visible(GTK_WIDGET(work->bar), FALSE);
  work->done(owner, result, NULL);
}

void
lz_long_work_start(GObject *owner, const char *path, const char *copy, GtkProgressBar *bar,
                   GCancellable *stop, GAsyncReadyCallback done)
{
  Work *work = g_new0(Work, 1);
  g_autoptr(GTask) task = g_task_new(owner, NULL, on_done, NULL);
  work->path = g_strdup(path);
  work->copy = g_strdup(copy);
  work->bar = g_object_ref(bar);
  work->stop = g_object_ref(stop);
  work->done = done;
  work->look = g_timeout_add(LOOK_MS, on_look, work);
  gtk_progress_bar_set_fraction(bar, 0);
  gtk_widget_set_visible(GTK_WIDGET(bar), TRUE);
  g_task_set_task_data(task, work, work_free);
  g_task_run_in_thread(task, run);
}

LzVerify *
lz_long_work_finish(GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer(G_TASK(result), error);
}
