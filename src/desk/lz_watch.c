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
  if (!lz_desk_take_in(desk, &cannot))
    g_debug("%s", cannot->message); // busy: the next poll reads it
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
