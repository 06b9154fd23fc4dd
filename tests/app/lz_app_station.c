// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_app_station.h"

#include <check.h>
#include <glib/gstdio.h>
#include <lz_command.h>
#include <lz_demo.h>
#include <lz_setup.h>
#include <stdarg.h>

void
lz_app_station_open(LzAppStation *station)
{
  static const LzSetupSystem systems[] = {
      {.name = "Blue-1", .volume_l = 2400, .tanks = 4, .source_salinity = 34},
      {.name = "Blue-2", .volume_l = 1800, .tanks = 4, .source_salinity = 34},
      {.name = "Green-1", .volume_l = 900, .role = "finishing", .tanks = 2, .source_salinity = 34}};
  LzSetup setup = {.station = "Quay Street",
                   .zone = "Europe/Berlin",
                   .slots = "07:30 17:00",
                   .person = "Mira Kessel",
                   .initials = "MK",
                   .systems = systems,
                   .n_systems = G_N_ELEMENTS(systems),
                   .protocols = TRUE};
  g_autoptr(GError) error = NULL;
  station->folder = g_dir_make_tmp("lazaret-app-XXXXXX", NULL);
  station->clock = lz_clock_new_fixed(LZ_APP_NOW - 120);
  LzDeskOptions options = {.clock = station->clock, .pc_folder = station->folder};
  g_autofree char *path = g_build_filename(station->folder, "station.lazaret", NULL);
  station->desk = lz_setup_new_station(path, &setup, &options, &error);
  ck_assert_msg(station->desk != NULL, "%s", error ? error->message : "");
  lz_desk_set_actor(station->desk, lz_desk_find(station->desk, "person", "MK"));
  lz_app_submit(station, "instrument", "name", "P2", "method", "photometer", "sees", "all",
                "error_abs", "0.01", NULL);
  lz_app_submit(station, "bottle", "name", "C-14", "analyte", "copper", "form", "amine", "strength",
                "5", NULL);
  lz_clock_set(station->clock, LZ_APP_NOW);
  lz_desk_replan(station->desk);
}

void
lz_app_station_demo(LzAppStation *station)
{
  g_autoptr(GError) error = NULL;
  station->folder = g_dir_make_tmp("lazaret-app-XXXXXX", NULL);
  station->clock = lz_clock_new_fixed(LZ_APP_NOW);
  LzDeskOptions options = {.clock = station->clock, .pc_folder = station->folder};
  g_autofree char *path = g_build_filename(station->folder, "station.lazaret", NULL);
  station->desk = lz_demo_make(path, 1, &options, &error);
  ck_assert_msg(station->desk != NULL, "%s", error ? error->message : "");
}

void
lz_app_station_lot(LzAppStation *station)
{
  lz_clock_set(station->clock, LZ_APP_NOW - 60);
  lz_app_submit(station, "lot", "code", "0412", "tank", "Blue-2/1", "heads", "30", NULL);
  lz_app_submit(station, "course", "lot", "0412", "protocol",
                "Complexed copper with lowered salinity", NULL);
  lz_clock_set(station->clock, LZ_APP_NOW);
  lz_desk_replan(station->desk);
}

void
lz_app_submit(LzAppStation *station, const char *kind, ...)
{
  g_autoptr(LzCommand) command = lz_command_new(kind);
  g_autoptr(GError) error = NULL;
  va_list pairs;
  va_start(pairs, kind);
  for (const char *field = va_arg(pairs, const char *); field; field = va_arg(pairs, const char *))
    lz_command_set(command, field, va_arg(pairs, const char *));
  va_end(pairs);
  gboolean done = lz_desk_submit_one(station->desk, command, &error);
  ck_assert_msg(done, "%s: %s", kind, error ? error->message : "");
}

guint
lz_app_count(LzAppStation *station, const char *kind)
{
  g_autoptr(GPtrArray) facts = lz_desk_facts(station->desk, kind, LZQ_LONG_AGO + 1, LZQ_NEVER - 1);
  return facts->len;
}

void
lz_app_station_close(LzAppStation *station)
{
  if (station->desk)
    lz_desk_close(station->desk);
  g_clear_object(&station->desk);
  g_clear_pointer(&station->clock, lz_clock_unref);
  g_autoptr(GDir) dir = g_dir_open(station->folder, 0, NULL);
  for (const char *name = dir ? g_dir_read_name(dir) : NULL; name; name = g_dir_read_name(dir)) {
    g_autofree char *path = g_build_filename(station->folder, name, NULL);
    g_unlink(path);
  }
  g_rmdir(station->folder);
  g_clear_pointer(&station->folder, g_free);
}
