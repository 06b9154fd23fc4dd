// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE demo: the invented demo station, up to now or to another time.
#include "lzc.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include <lz_demo.h>
#include <lz_setup.h>

int
lzc_demo(const char *path, int argc, char **argv)
{
  int status = LZC_DONE, seed = 1;
  g_autofree char *at = NULL;
  GError *error = NULL;
  GOptionEntry entries[] = {{"seed", 0, 0, G_OPTION_ARG_INT, &seed,
                             N_("another story of the same kind (default: 1)"), N_("N")},
                            {"at", 0, 0, G_OPTION_ARG_STRING, &at,
                             N_("the story up to this time (default: up to now)"), N_("TIME")},
                            {NULL}};
  if (!lzc_options("demo", "", _("Makes the demo station. Everything in it is invented."), entries,
                   &argc, &argv, &status))
    return status;
  if (argc > 1)
    return lzc_wrong(_("“%s” is not understood. Accepted: options only."), argv[1]);
  g_autoptr(LzClock) clock = at ? lz_setup_clock(at, &error) : NULL;
  if (error)
    return lzc_fail(error);
  LzDeskOptions options = {.clock = clock};
  g_autoptr(LzDesk) desk = lz_demo_make(path, (guint)seed, &options, &error);
  if (!desk)
    return lzc_fail(error);
  const lzq_snapshot *s = lz_desk_snapshot(desk);
  printf(_("Made %s: %u systems, %u tanks, %u lots. All of it is invented.\n"), path, s->n_systems,
         s->n_tanks, s->n_lots);
  return LZC_DONE;
}
