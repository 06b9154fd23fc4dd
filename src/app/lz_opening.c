// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_opening.h. The thread opens the desk and touches it no more; whoever is last lets go of
// what they share.
#include "lz_opening.h"

#ifdef __GLIBC__
#include <malloc.h>
#endif

#include "lz_closing.h"

#define READ_SHARE 0.8 // the rest is the copy

struct _LzOpening {
  gatomicrefcount refs; // of the main thread and the one that opens
  char *path;
  LzClock *clock;
  GApplication *application; // it stays as long as the thread runs
  gint stopped, permille;    // atomic
  double from;               // the thread's: how far it was when the file was opened again
  GMutex lock;
  GCond changed;
  bool ended; // what follows is the main thread's from then on
  LzDesk *desk;
  GError *error;
};

static void
unref(LzOpening *self)
{
  if (!g_atomic_ref_count_dec(&self->refs))
    return;
  g_clear_pointer(&self->clock, lz_clock_unref);
  g_clear_error(&self->error);
  g_mutex_clear(&self->lock);
  g_cond_clear(&self->changed);
  g_free(self->path);
  g_free(self);
}

static gboolean
hear(gpointer data, double share)
{
  LzOpening *self = data;
  const gint permille = (gint)(self->from * 1000 + (1 - self->from) * READ_SHARE * 1000 * share);
  g_atomic_int_set(&self->permille, permille);
  return !g_atomic_int_get(&self->stopped);
}

static gboolean
on_ended(gpointer application)
{
  if (application)
    g_application_release(application);
  return G_SOURCE_REMOVE;
}

// A file that was read whole is closed, which writes this PC's copy, and opened by that.
static LzDesk *
open_lightly(LzOpening *self, GError **error)
{
  const LzDeskOptions options = {.clock = self->clock, .progress = hear, .hearer = self};
  LzDesk *desk = lz_desk_open(self->path, &options, error);
  if (!desk || !lz_desk_is_heavy(desk))
    return desk;
  lz_desk_close(desk);
  g_object_unref(desk);
#ifdef __GLIBC__
  malloc_trim(0); // what lay in many small pieces goes back to the system
#endif
  self->from = READ_SHARE;
  return lz_desk_open(self->path, &options, error);
}

static gpointer
run(gpointer data)
{
  LzOpening *self = data;
  GError *error = NULL;
  lz_closing_wait();
  LzDesk *desk = open_lightly(self, &error);
  g_mutex_lock(&self->lock);
  if (!g_atomic_int_get(&self->stopped))
    self->desk = g_steal_pointer(&desk);
  self->error = error;
  self->ended = true;
  g_cond_signal(&self->changed);
  g_mutex_unlock(&self->lock);
  g_clear_object(&desk); // stopped when it was open already
  g_idle_add(on_ended, self->application);
  unref(self);
  return NULL;
}

LzOpening *
lz_opening_new(const char *path, LzClock *clock)
{
  LzOpening *self = g_new0(LzOpening, 1);
  g_atomic_ref_count_init(&self->refs);
  g_atomic_ref_count_inc(&self->refs);
  self->path = g_strdup(path);
  self->clock = clock ? lz_clock_ref(clock) : NULL;
  self->application = g_application_get_default();
  g_mutex_init(&self->lock);
  g_cond_init(&self->changed);
  if (self->application)
    g_application_hold(self->application);
  GThread *thread = g_thread_try_new("open", run, self, NULL);
  if (thread)
    g_thread_unref(thread);
  else
    run(self);
  return self;
}

const char *
lz_opening_path(const LzOpening *self)
{
  return self->path;
}

double
lz_opening_share(const LzOpening *self)
{
  return g_atomic_int_get(&self->permille) / 1000.0;
}

bool
lz_opening_wait(LzOpening *self, int most_ms)
{
  const gint64 until = g_get_monotonic_time() + most_ms * G_TIME_SPAN_MILLISECOND;
  g_mutex_lock(&self->lock);
  while (!self->ended && g_cond_wait_until(&self->changed, &self->lock, until))
    ;
  const bool ended = self->ended;
  g_mutex_unlock(&self->lock);
  return ended;
}

LzDesk *
lz_opening_take(LzOpening *self, GError **error)
{
  g_return_val_if_fail(lz_opening_wait(self, 0), NULL);
  if (self->error)
    g_propagate_error(error, g_steal_pointer(&self->error));
  if (self->desk)
    lz_desk_watch(self->desk);
  return g_steal_pointer(&self->desk);
}

void
lz_opening_free(LzOpening *self)
{
  g_mutex_lock(&self->lock);
  LzDesk *desk = g_steal_pointer(&self->desk);
  g_atomic_int_set(&self->stopped, 1);
  g_mutex_unlock(&self->lock);
  if (desk)
    lz_closing_begin(desk);
  unref(self);
}
