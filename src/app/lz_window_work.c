// SPDX-License-Identifier: GPL-3.0-or-later
// What takes long beside the window, one at a time: the bar says how far it is, and a press stops
// it with nothing half-made. A station file copied and checked is how a back-up is made and how one
// is brought back.
#include <glib/gi18n.h>

#include "lz_long_work.h"
#include "lz_station_jobs.h"
#include "lz_window_private.h"

static void
on_done(GObject *object, GAsyncResult *result, gpointer data)
{
  LzWindow *self = LZ_WINDOW(object);
  g_autoptr(GError) error = NULL;
  g_autofree void *made = lz_long_work_finish(result, &error);
  LzWindowWorked worked = self->worked;
  g_clear_object(&self->back_up_wish);
  if (self->stack) // else it was closed meanwhile
    worked(self, made, error, lz_long_work_wish(result));
}

bool
lz_window_work(LzWindow *self, LzLongJob job, gpointer wish, GDestroyNotify free_wish,
               const char *doing, LzWindowWorked worked)
{
  g_return_val_if_fail(LZ_IS_WINDOW(self), false);
  if (self->back_up_wish) {
    lz_window_notice(self, _("Something else is still running; stop it, or wait for it."));
    free_wish(wish);
    return false;
  }
  self->worked = worked;
  self->back_up_wish = g_cancellable_new();
  lz_window_notice(self, doing);
  lz_long_work_start(G_OBJECT(self), job, wish, free_wish, self->back_up_bar, self->back_up_wish,
                     on_done);
  return true;
}

typedef struct {
  LzStationWish *files;
  LzWindowCopied done;
  gpointer data;
} Copy;

static void
copy_free(gpointer data)
{
  Copy *copy = data;
  lz_station_wish_free(copy->files);
  g_free(copy);
}

static gpointer
copy_job(gpointer wish, LzProgress hear, gpointer hearer, GError **error)
{
  return lz_job_copy(((Copy *)wish)->files, hear, hearer, error);
}

static void
on_copied(LzWindow *self, gpointer made, const GError *error, gpointer wish)
{
  const Copy *copy = wish;
  copy->done(self, copy->files->other, error, copy->data);
}

void
lz_window_copy(LzWindow *self, const char *from, const char *to, const char *doing,
               LzWindowCopied done, gpointer data)
{
  Copy *copy = g_new0(Copy, 1);
  *copy = (Copy){lz_station_wish_new_for(from, to), done, data};
  lz_window_work(self, copy_job, copy, copy_free, doing, on_copied);
}
