// SPDX-License-Identifier: GPL-3.0-or-later
// A new station in one transaction: its name and zone, the first person, its waters and tanks, the
// protocols.
#include "lz_setup.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <unistd.h>

#include "lz_protocol_file.h"

char *
lz_setup_local_zone(void)
{
  const char *tz = g_getenv("TZ");
  if (tz && *tz && *tz != ':' && strcmp(tz, "UTC") != 0) {
    g_autoptr(GTimeZone) zone = g_time_zone_new_identifier(tz);
    if (zone)
      return g_strdup(tz);
  }
  g_autofree char *text = NULL;
  if (g_file_get_contents("/etc/timezone", &text, NULL, NULL) && *g_strstrip(text)) {
    g_autoptr(GTimeZone) zone = g_time_zone_new_identifier(text);
    if (zone && strcmp(text, "Etc/UTC") != 0)
      return g_steal_pointer(&text);
  }
  g_autofree char *link = g_file_read_link("/etc/localtime", NULL);
  const char *name = link ? strstr(link, "zoneinfo/") : NULL;
  if (name && *(name + 9) && strcmp(name + 9, "Etc/UTC") != 0)
    return g_strdup(name + 9);
  return g_strdup("UTC");
}

static void
add(GPtrArray *out, LzCommand *command, const char *initials)
{
  lz_command_set_actor(command, initials);
  g_ptr_array_add(out, command);
}

static void
add_systems(const LzSetup *setup, GPtrArray *out)
{
  for (gsize i = 0; i < setup->n_systems; i++) {
    const LzSetupSystem *s = &setup->systems[i];
    LzCommand *system =
        lz_command_build("system", "name", s->name, "role", s->role ? s->role : "treatment", NULL);
    lz_command_set_number(system, "volume_l", s->volume_l);
    lz_command_set_number(system, "source_salinity",
                          isnan(s->source_salinity) ? 35 : s->source_salinity);
    add(out, system, setup->initials);
    for (int t = 1; t <= s->tanks; t++) {
      LzCommand *tank = lz_command_build("tank", "system", s->name, NULL);
      lz_command_set_number(tank, "number", t);
      lz_command_set_number(tank, "volume_l", s->volume_l / s->tanks);
      add(out, tank, setup->initials);
    }
  }
}

static gboolean
add_protocols(const LzSetup *setup, GPtrArray *out, GError **error)
{
  g_autoptr(GPtrArray) files = lz_protocol_files();
  for (guint i = 0; i < files->len; i++) {
    g_autoptr(GPtrArray) commands = lz_protocol_load(files->pdata[i], error);
    if (!commands)
      return FALSE;
    for (guint c = 0; c < commands->len; c++)
      add(out, lz_command_copy(commands->pdata[c]), setup->initials);
  }
  return TRUE;
}

gboolean
lz_setup_station(LzDesk *desk, const LzSetup *setup, GError **error)
{
  g_autoptr(GPtrArray) out = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  g_autofree char *zone = setup->zone ? g_strdup(setup->zone) : lz_setup_local_zone();
  add(out,
      lz_command_build("station", "name", setup->station, "zone", zone, "slots",
                       setup->slots ? setup->slots : "07:30 17:00", "last_in", "no",
                       "trust_unchecked", "yes", NULL),
      NULL);
  if (setup->initials)
    add(out,
        lz_command_build("person", "role", "lead", "name",
                         setup->person ? setup->person : setup->initials, "initials",
                         setup->initials, "active", "yes", NULL),
        NULL);
  add_systems(setup, out);
  if (setup->protocols && !add_protocols(setup, out, error))
    return FALSE;
  return lz_desk_submit(desk, (LzCommand *const *)out->pdata, out->len, error);
}

LzDesk *
lz_setup_new_station(const char *path, const LzSetup *setup, const LzDeskOptions *options,
                     GError **error)
{
  g_autoptr(LzDesk) desk = lz_desk_create(path, options, error);
  if (!desk)
    return NULL;
  if (lz_setup_station(desk, setup, error))
    return g_steal_pointer(&desk);
  lz_desk_close(desk);
  g_unlink(path); // made a moment ago, and holds nothing
  return NULL;
}

LzClock *
lz_setup_clock(const char *text, GError **error)
{
  g_autofree char *name = lz_setup_local_zone();
  g_autoptr(LzClock) real = lz_clock_new_real();
  g_autoptr(LzZone) zone = lz_zone_new(name, error);
  lzq_minute minute;
  return zone && lz_zone_parse(zone, text, lz_clock_now(real), &minute, error)
             ? lz_clock_new_fixed(minute)
             : NULL;
}

const char *
lz_setup_slots_help(void)
{
  return _("Where nobody is there: 07:30 17:00 except sun 17:00 2027-12-24");
}
