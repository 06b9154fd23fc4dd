// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE new: an empty station with its name, zone and test slots.
#include "lzc.h"

#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

#include <lz_setup.h>

int
lzc_new(const char *path, int argc, char **argv)
{
  g_autofree char *name = NULL, *zone = NULL, *slots = NULL, *person = NULL, *initials = NULL;
  gboolean protocols = FALSE;
  int status = LZC_DONE;
  GOptionEntry entries[] = {
      {"name", 0, 0, G_OPTION_ARG_STRING, &name, N_("the station's name"), N_("NAME")},
      {"zone", 0, 0, G_OPTION_ARG_STRING, &zone, N_("IANA time zone (default: this machine's)"),
       N_("ZONE")},
      {"slots", 0, 0, G_OPTION_ARG_STRING, &slots, N_("test slots (default: 07:30 17:00)"),
       N_("TIMES")},
      {"person", 0, 0, G_OPTION_ARG_STRING, &person, N_("name of the first person, a lead"),
       N_("NAME")},
      {"initials", 0, 0, G_OPTION_ARG_STRING, &initials, N_("that person's two letters"), N_("XY")},
      {"protocols", 0, 0, G_OPTION_ARG_NONE, &protocols, N_("bring in every shipped protocol"),
       NULL},
      {NULL}};
  if (!lzc_options("new", "", _("Makes a station file."), entries, &argc, &argv, &status))
    return status;
  if (argc > 1)
    return lzc_wrong(_("“%s” is not understood. Accepted: options only."), argv[1]);
  GError *error = NULL;
  LzSetup setup = {.station = name ? name : _("Station"),
                   .zone = zone,
                   .slots = slots,
                   .person = person,
                   .initials = initials,
                   .protocols = protocols};
  LzDeskOptions options = {0};
  g_autoptr(LzDesk) desk = lz_setup_new_station(path, &setup, &options, &error);
  if (!desk)
    return lzc_fail(error);
  printf(_("Made %s: %s, %s.\n"), path, lz_desk_station_name(desk),
         lz_zone_name(lz_desk_zone(desk)));
  return LZC_DONE;
}
