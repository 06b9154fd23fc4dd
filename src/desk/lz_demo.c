// SPDX-License-Identifier: GPL-3.0-or-later
// Tells the demo's story day by day through the desk's own commands, so that the demo is made by
// the same rules as a real record. What happens when is in lz_demo_story.c and lz_demo_routine.c.
#include "lz_demo_private.h"

#include <glib/gstdio.h>
#include <stdarg.h>

#include "lz_setup.h"

int64_t
lz_demo_at(const LzDemo *demo, int day, int hour, int minute)
{
  return demo->midnight[day - DEMO_FIRST_DAY] + hour * 60 + minute;
}

void
lz_demo_add(LzDemo *demo, int64_t at, LzCommand *command)
{
  LzDemoAct act = {at, demo->day->len, command};
  g_array_append_val(demo->day, act);
}

LzCommand *
lz_demo_act(LzDemo *demo, int64_t at, const char *who, const char *kind, ...)
{
  const char *field;
  va_list args;
  if (at > demo->now)
    return NULL;
  LzCommand *command = lz_command_new(kind);
  lz_command_set_at(command, at);
  lz_command_set_actor(command, who);
  lz_command_set_as_written(command, TRUE);
  va_start(args, kind);
  while ((field = va_arg(args, const char *)))
    lz_command_set(command, field, va_arg(args, const char *));
  va_end(args);
  lz_demo_add(demo, at, command);
  return command;
}

const char *
lz_demo_num(double value, int decimals)
{
  static char texts[16][32];
  static guint next;
  char *text = texts[next++ % G_N_ELEMENTS(texts)];
  char format[16];
  g_snprintf(format, sizeof format, "%%.%df", decimals);
  return g_ascii_formatd(text, 32, format, value);
}

static int
by_time(gconstpointer a, gconstpointer b)
{
  const LzDemoAct *x = a, *y = b;
  return x->at != y->at ? (x->at > y->at) - (x->at < y->at)
                        : (x->place > y->place) - (x->place < y->place);
}

// One transaction a day, its acts in the order in which they happened.
static gboolean
submit_day(LzDemo *demo, GError **error)
{
  g_autoptr(GPtrArray) commands = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  g_array_sort(demo->day, by_time);
  for (guint i = 0; i < demo->day->len; i++)
    g_ptr_array_add(commands, g_array_index(demo->day, LzDemoAct, i).command);
  g_array_set_size(demo->day, 0);
  return commands->len == 0 ||
         lz_desk_submit(demo->desk, (LzCommand *const *)commands->pdata, commands->len, error);
}

static gboolean
tell_everything(LzDemo *demo, GError **error)
{
  if (!lz_demo_set_up(demo, error))
    return FALSE;
  for (int day = DEMO_FIRST_DAY; day <= 0; day++) {
    lz_demo_tell(demo, day);
    lz_demo_routine(demo, day);
    if (!submit_day(demo, error)) {
      g_prefix_error(error, "Day %d of the story: ", day);
      return FALSE;
    }
  }
  return TRUE;
}

LzDesk *
lz_demo_make(const char *path, guint seed, const LzDeskOptions *options, GError **error)
{
  LzDeskOptions quiet = options ? *options : (LzDeskOptions){0};
  quiet.no_plan = TRUE;
  quiet.watch = FALSE;
  g_autoptr(LzDesk) desk = lz_desk_create(path, &quiet, error);
  if (!desk)
    return NULL;
  g_autofree char *zone_name = lz_setup_local_zone();
  g_autoptr(LzZone) zone = lz_zone_new(zone_name, error);
  if (!zone)
    return NULL;
  LzDemo demo = {.desk = desk,
                 .rand = g_rand_new_with_seed(seed),
                 .zone = zone_name,
                 .now = lz_clock_now(lz_desk_clock(desk)),
                 .day = g_array_new(FALSE, FALSE, sizeof(LzDemoAct))};
  int32_t today = lz_zone_day(zone, demo.now);
  for (int day = DEMO_FIRST_DAY; day <= 1; day++)
    demo.midnight[day - DEMO_FIRST_DAY] = lz_zone_day_start(zone, today + day);
  gboolean ok = tell_everything(&demo, error);
  g_rand_free(demo.rand);
  for (guint i = 0; i < demo.day->len; i++)
    lz_command_free(g_array_index(demo.day, LzDemoAct, i).command);
  g_array_unref(demo.day);
  g_clear_object(&desk);
  if (!ok)
    g_unlink(path);
  return ok ? lz_desk_open(path, options, error) : NULL;
}
