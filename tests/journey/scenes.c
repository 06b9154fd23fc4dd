// SPDX-License-Identifier: GPL-3.0-or-later
// See scenes.h.
#include "scenes.h"

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

Ctl *
scene_conflict(void)
{
  static const char copper[] =
      "[phase 1]\nname=Hold\nkind=hold\nplace=stay\nmin_credit_min=20160\nsighting_to=1\n"
      "rise_per_day=0.2\nrise_steps=3\n[phase 1 band 1]\nanalyte=copper\nform=amine\n"
      "side=at_or_above\nworks=0.45\ntarget=0.5\nplan=0.6\nharm=0.8\ngap_min=960\n";
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
