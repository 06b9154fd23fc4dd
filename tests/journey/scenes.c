// SPDX-License-Identifier: GPL-3.0-or-later
// See scenes.h.
#include "scenes.h"

#include <stdlib.h>

static const char hold[] = "[phase 1]\nname=Hold\nkind=hold\nplace=stay\nmin_credit_min=43200\n"
                           "sighting_to=1\n";
static const char watch[] = "[phase %d]\nname=Watch\nkind=observe\nplace=stay\n"
                            "min_elapsed_min=20160\nquiet_min=20160\nsighting_to=1\n";
static const char wait_for[] =
    "[phase %d]\nname=%s\nkind=wait\nplace=stay\nmin_elapsed_min=%d\nsighting_to=1\n";

static void
protocol(Ctl *c, const char *name, const char *phases)
{
  g_autofree char *file = g_build_filename(c->folder, "scene.protocol", NULL);
  g_autofree char *text = g_strdup_printf(
      "[protocol]\nname=%s\nversion=1\nsource=invented for a test\n%s", name, phases);
  ck_assert(g_file_set_contents(file, text, -1, NULL));
  g_free(ctl(c, 0, "protocol --who MK '%s'", file));
}

static void
add_system(Ctl *c, const char *name, int tanks, const char *role)
{
  g_free(ctl(c, 0, "record system name=%s volume_l=1000 role=%s", name, role));
  for (int tank = 1; tank <= tanks; tank++)
    g_free(ctl(c, 0, "record tank system=%s number=%d", name, tank));
}

static void
receive(Ctl *c, const char *at, const char *code, const char *tank, int heads, const char *course)
{
  g_free(ctl(c, 0, "record lot --happened '%s' code=%s tank=%s heads=%d", at, code, tank, heads));
  g_free(ctl(c, 0, "record course --happened '%s' lot=%s protocol='%s'", at, code, course));
}

Ctl *
scene_shared_water(void)
{
  Ctl *c = ctl_new();
  ctl_station(c, "last_in=yes");
  add_system(c, "Coral-3", 3, "finishing");
  add_system(c, "Coral-4", 2, "finishing");
  protocol(c, "Thirty days", hold);
  receive(c, "2027-05-01 09:00", "A", "Coral-3/1", 140, "Thirty days");
  return c;
}

Ctl *
scene_observation(void)
{
  Ctl *c = ctl_new();
  g_autoptr(GString) text = g_string_new(NULL);
  ctl_station(c, NULL);
  add_system(c, "Pearl-2", 3, "finishing");
  add_system(c, "Pearl-3", 2, "finishing");
  g_string_printf(text, watch, 1);
  protocol(c, "Fourteen days", text->str);
  g_string_printf(text, wait_for, 1, "Rise", 4 * 1440);
  g_string_append_printf(text, wait_for, 2, "Hold", 21 * 1440);
  g_string_append_printf(text, wait_for, 3, "Copper out", 1440);
  g_string_append_printf(text, watch, 4);
  protocol(c, "Treat in place", text->str);
  g_string_printf(text, wait_for, 1, "Transfers", 12 * 1440);
  g_string_append_printf(text, watch, 2);
  protocol(c, "Four transfers", text->str);
  receive(c, "2027-06-08 09:00", "P", "Pearl-2/1", 24, "Fourteen days");
  receive(c, "2027-06-08 09:00", "Q", "Pearl-2/2", 10, "Fourteen days");
  receive(c, "2027-06-08 09:00", "N", "Pearl-2/3", 12, "Fourteen days");
  g_free(ctl(c, 0, "record move --happened '2027-06-15 09:00' lot=N tank=Pearl-3/1"));
  return c;
}

static const char copper[] =
    "[phase 1]\nname=Hold\nkind=hold\nplace=stay\nmin_credit_min=20160\nsighting_to=1\n"
    "rise_per_day=0.2\nrise_steps=3\n[phase 1 band 1]\nanalyte=copper\nform=amine\n"
    "side=at_or_above\nworks=0.45\ntarget=0.5\nplan=0.6\nharm=0.8\ngap_min=960\n";

static void
read_copper(Ctl *c, const char *at, const char *value)
{
  g_free(ctl(c, 0,
             "record reading --happened '%s' system=Blue-1 analyte=copper value=%s instrument=P1",
             at, value));
}

static Ctl *
copper_station(const char *options)
{
  Ctl *c = ctl_new();
  ctl_station(c, options);
  add_system(c, "Blue-1", 2, "treatment");
  g_free(ctl(c, 0, "record bottle name=C-14 analyte=copper form=amine strength=5"));
  g_free(ctl(c, 0, "record instrument name=P1 method=photometer sees=all error_abs=0.01"));
  return c;
}

Ctl *
scene_hold(void)
{
  Ctl *c = copper_station(NULL);
  protocol(c, "In copper", copper);
  receive(c, "2027-03-03 08:00", "A", "Blue-1/1", 30, "In copper");
  read_copper(c, "2027-03-03 09:00", "0.50");
  return c;
}

Ctl *
scene_left_short(void)
{
  static const char day[] =
      "[phase 1]\nname=Hold\nkind=hold\nplace=role\nrole=treatment\nmin_credit_min=1440\n"
      "sighting_to=1\n[phase 1 band 1]\nanalyte=copper\nform=amine\nside=at_or_above\n"
      "works=0.45\ntarget=0.5\nplan=0.6\nharm=0.8\ngap_min=960\n"
      "[phase 2]\nname=Watch\nkind=observe\nplace=role\nrole=finishing\nmin_elapsed_min=2880\n"
      "quiet_min=2880\nsighting_to=1\n";
  Ctl *c = copper_station("accept_max_min=720");
  add_system(c, "Gold-1", 2, "finishing");
  protocol(c, "One day", day);
  receive(c, "2027-03-01 08:00", "A", "Blue-1/1", 30, "One day");
  read_copper(c, "2027-03-01 08:00", "0.50");
  read_copper(c, "2027-03-01 20:00", "0.50");
  g_autofree char *last = ctl(c, 0,
                              "record reading --happened '2027-03-02 08:00' system=Blue-1 "
                              "analyte=copper value=0.50 instrument=P1");
  g_free(ctl(c, 0, "record move --happened '2027-03-02 09:00' lot=A tank=Gold-1/1"));
  g_free(ctl(c, 0,
             "record reading --corrects %d --reason misread --happened '2027-03-02 08:00' "
             "system=Blue-1 analyte=copper value=0.40 instrument=P1",
             atoi(last + 1)));
  return c;
}

Ctl *
scene_conflict(void)
{
  static const char without[] =
      "[phase 1]\nname=Rest\nkind=hold\nplace=stay\nmin_credit_min=20160\nsighting_to=1\n"
      "[phase 1 band 1]\nanalyte=copper\nform=amine\nside=at_or_below\nworks=0.02\ntarget=0\n"
      "gap_min=960\n";
  Ctl *c = ctl_new();
  ctl_station(c, NULL);
  add_system(c, "Blue-1", 2, "treatment");
  add_system(c, "Blue-2", 2, "treatment");
  g_free(ctl(c, 0, "record bottle name=C-14 analyte=copper form=amine strength=5"));
  protocol(c, "In copper", copper);
  protocol(c, "Without copper", without);
  receive(c, "2027-03-01 09:00", "A", "Blue-1/1", 30, "In copper");
  receive(c, "2027-03-01 09:00", "B", "Blue-1/2", 20, "Without copper");
  return c;
}
