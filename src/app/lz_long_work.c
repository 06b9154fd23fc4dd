// SPDX-License-Identifier: GPL-3.0-or-later
// A job beside the window, and its bar: see lz_long_work.h.
#include "lz_long_work.h"

#define LOOK_MS 100

typedef struct {
  LzLongJob job;
  gpointer wish;
  GDestroyNotify free_wish;
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
  if (work->free_wish)
    work->free_wish(work->wish);
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
  gpointer made = work->job(work->wish, hear, work, &error);
  if (made)
    g_task_return_pointer(task, made, g_free);
  else
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
lz_long_work_start(GObject *owner, LzLongJob job, gpointer wish, GDestroyNotify free_wish,
                   GtkProgressBar *bar, GCancellable *stop, GAsyncReadyCallback done)
{
  Work *work = g_new0(Work, 1);
  g_autoptr(GTask) task = g_task_new(owner, NULL, on_done, NULL);
  *work = (Work){.job = job, .wish = wish, .free_wish = free_wish, .done = done};
  work->bar = g_object_ref(bar);
  work->stop = g_object_ref(stop);
  work->look = g_timeout_add(LOOK_MS, on_look, work);
  gtk_progress_bar_set_fraction(bar, 0);
  gtk_widget_set_visible(GTK_WIDGET(bar), TRUE);
  g_task_set_task_data(task, work, work_free);
  g_task_run_in_thread(task, run);
}

gpointer
lz_long_work_finish(GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer(G_TASK(result), error);
}

gpointer
lz_long_work_wish(GAsyncResult *result)
{
  const Work *work = g_task_get_task_data(G_TASK(result));
  return work->wish;
}
