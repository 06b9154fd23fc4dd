// SPDX-License-Identifier: GPL-3.0-or-later
// A station file copied and checked beside the window, which is how a back-up is made and how one
// is brought back: the bar says how far it is, and a press stops it with nothing half-made.
#include "lz_long_work.h"
#include "lz_window_private.h"

typedef struct {
  char *to;
  LzWindowCopied done;
  gpointer data;
} Copy;

static void
copy_free(Copy *copy)
{
  g_free(copy->to);
  g_free(copy);
}

static void
on_copied(GObject *object, GAsyncResult *result, gpointer data)
{
  LzWindow *self = LZ_WINDOW(object);
  g_autoptr(GError) error = NULL;
  g_autofree LzVerify *made = lz_long_work_finish(result, &error);
  Copy *copy = g_object_get_data(object, "copy");
  g_clear_object(&self->back_up_wish);
  if (self->stack) // else it was closed meanwhile
    copy->done(self, copy->to, error, copy->data);
}

void
lz_window_copy(LzWindow *self, const char *from, const char *to, const char *doing,
               LzWindowCopied done, gpointer data)
{
  g_return_if_fail(LZ_IS_WINDOW(self));
  if (self->back_up_wish) // one at a time; the bar tells of the other
    return;
  Copy *copy = g_new0(Copy, 1);
  *copy = (Copy){g_strdup(to), done, data};
  g_object_set_data_full(G_OBJECT(self), "copy", copy, (GDestroyNotify)copy_free);
  self->back_up_wish = g_cancellable_new();
  lz_window_notice(self, doing);
  lz_long_work_start(G_OBJECT(self), from, to, self->back_up_bar, self->back_up_wish, on_copied);
}
