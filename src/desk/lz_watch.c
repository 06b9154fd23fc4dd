// SPDX-License-Identifier: GPL-3.0-or-later
// Noticing what others do: the file's version is polled twice a second, which costs one page read
// and works on every file system, where a monitor alone would miss writes over a network or lose
// them in a burst.
#include "lz_desk_private.h"

#define POLL_MS 400

static gboolean
poll_file(gpointer data)
{
  LzDesk *desk = data;
  g_autoptr(GError) cannot = NULL;
  int n = lz_desk_pull(desk, &cannot);
  if (n < 0)
    g_debug("%s: %s", desk->path, cannot->message); // busy: the next poll reads it
  if (n > 0) {
    g_object_ref(desk); // a handler may let go of it
    lz_desk_foreign(desk, (guint)n);
    lz_desk_refresh(desk);
    g_object_unref(desk);
  }
  return G_SOURCE_CONTINUE;
}

// Credit runs by the minute: what is due changes without anybody's act.
static gboolean
pass_minute(gpointer data)
{
  LzDesk *desk = data;
  if (!desk->no_plan && lz_clock_now(desk->clock) != desk->now)
    lz_desk_replan(desk);
  return G_SOURCE_CONTINUE;
}

void
lz_desk_start_watch(LzDesk *desk)
{
  desk->poll_source = g_timeout_add(POLL_MS, poll_file, desk);
  desk->minute_source = g_timeout_add_seconds(5, pass_minute, desk);
}

void
lz_desk_stop_watch(LzDesk *desk)
{
  g_clear_handle_id(&desk->poll_source, g_source_remove);
  g_clear_handle_id(&desk->minute_source, g_source_remove);
}
