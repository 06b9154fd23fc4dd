// SPDX-License-Identifier: GPL-3.0-or-later
#include "full_station.h"

#include <check.h>

#define FIRST_DAY 1
#define LAST_DAY  9

static void
set_up(Ctl *c, int systems, int lots)
{
  g_autoptr(GString) s = g_string_new("name,volume_l,role\r\n");
  g_autoptr(GString) t = g_string_new("system,number\r\n");
  int tanks = (lots + systems - 1) / systems;
  for (int i = 1; i <= systems; i++) {
    g_string_append_printf(s, "Blue-%d,1800,treatment\r\n", i);
    for (int n = 1; n <= tanks; n++)
      g_string_append_printf(t, "Blue-%d,%d\r\n", i, n);
  }
  ctl_import(c, "systems", s->str);
  ctl_import(c, "tanks", t->str);
  g_free(ctl(c, 0,
             "record bottle name=C-14 analyte=copper form=amine strength=5.00 "
             "strength_as=metal batch=26-118 expiry=2027-05-31 volume_ml=400 "
             "reorder_ml=500"));
  g_free(ctl(c, 0, "record instrument name=P1 method=photometer sees=all error_abs=0.01"));
  g_free(ctl(c, 0, "record instrument name=M1 method=conductivity error_abs=0.2"));
}

// Skimmer on, everything that takes copper out of the water out of it.
static void
gear(Ctl *c, int systems)
{
  static const char *const off[] = {"uv", "carbon", "resin"};
  g_autoptr(GString) g = g_string_new("happened,system,gear,on\r\n");
  for (int i = 1; i <= systems; i++) {
    g_string_append_printf(g, "2027-03-01 05:00,Blue-%d,skimmer,yes\r\n", i);
    for (guint k = 0; k < G_N_ELEMENTS(off); k++)
      g_string_append_printf(g, "2027-03-01 05:00,Blue-%d,%s,no\r\n", i, off[k]);
  }
  ctl_import(c, "gears", g->str);
}

static void
stock(Ctl *c, int systems, int lots)
{
  g_autoptr(GString) l = g_string_new("happened,code,tank,heads,invoiced\r\n");
  g_autoptr(GString) k = g_string_new("happened,lot,protocol\r\n");
  for (int i = 0; i < lots; i++) {
    g_string_append_printf(l, "2027-03-01 06:00,%04d,Blue-%d/%d,12,12\r\n", 401 + i,
                           1 + i % systems, 1 + i / systems);
    g_string_append_printf(k, "2027-03-01 06:05,%04d,Complexed copper with lowered salinity\r\n",
                           401 + i);
  }
  ctl_import(c, "lots", l->str);
  ctl_import(c, "courses", k->str);
}

static void
readings(Ctl *c, int systems)
{
  g_autoptr(GString) r = g_string_new("happened,system,analyte,value,instrument\r\n");
  static const char *const clocks[] = {"07:30", "17:00"};
  for (int day = FIRST_DAY; day <= LAST_DAY; day++)
    for (int half = 0; half < 2; half++)
      for (int i = 1; i <= systems; i++) {
        gboolean last = day == LAST_DAY && half == 1;
        double copper = last && i == 1   ? 0.412
                        : last && i == 2 ? 0.655
                        : last && i == 3 ? 0.4
                                         : 0.5;
        g_string_append_printf(r, "2027-03-%02d %s,Blue-%d,copper,%.3f,P1\r\n", day, clocks[half],
                               i, copper);
        g_string_append_printf(r, "2027-03-%02d %s,Blue-%d,salinity,21.4,M1\r\n", day, clocks[half],
                               i);
      }
  ctl_import(c, "readings", r->str);
}

Ctl *
full_station(int systems, int lots)
{
  Ctl *c = ctl_new();
  ctl_station(c, NULL);
  g_free(ctl(c, 0, "protocol --who MK complexed-copper-low-salinity"));
  set_up(c, systems, lots);
  gear(c, systems);
  stock(c, systems, lots);
  readings(c, systems);
  return c;
}

Ctl *
bare_station(const char *system, const char *lot, const char *species)
{
  Ctl *c = ctl_new();
  ctl_station(c, NULL);
  g_free(ctl(c, 0, "protocol --who MK complexed-copper-low-salinity"));
  g_free(ctl(c, 0, "record system name='%s' volume_l=1800 role=treatment", system));
  g_free(ctl(c, 0, "record tank system='%s' number=1", system));
  g_free(ctl(c, 0, "record species name='%s'", species));
  g_free(ctl(c, 0, "record shipment --happened '2027-03-01 05:00' code=S-1 expected_heads=30"));
  g_free(ctl(c, 0,
             "record lot --happened '2027-03-01 06:00' code='%s' tank='%s/1' heads=28 invoiced=30 "
             "dead_on_arrival=1 shipment=S-1 species='%s'",
             lot, system, species));
  g_free(ctl(c, 0,
             "record course --happened '2027-03-01 06:05' lot='%s' protocol='Complexed copper "
             "with lowered salinity'",
             lot));
  return c;
}
