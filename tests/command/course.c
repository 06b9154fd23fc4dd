// SPDX-License-Identifier: GPL-3.0-or-later
// See course.h.
#include "course.h"

Ctl *
course_station(void)
{
  Ctl *c = ctl_new();
  ctl_station(c, NULL);
  g_free(ctl(c, 0, "protocol --who MK complexed-copper-low-salinity"));
  g_free(ctl(c, 0, "record system name=Blue-2 volume_l=1800 role=treatment"));
  g_free(ctl(c, 0, "record system name=Blue-3 volume_l=1800 role=treatment"));
  g_free(ctl(c, 0, "record system name=Green-1 volume_l=1800 role=finishing"));
  g_free(ctl(c, 0, "record tank system=Blue-2 number=1"));
  g_free(ctl(c, 0, "record tank system=Blue-3 number=1"));
  g_free(ctl(c, 0, "record tank system=Green-1 number=1"));
  g_free(ctl(c, 0,
             "record bottle name=C-14 analyte=copper form=amine strength=5.00 strength_as=metal"));
  g_free(ctl(c, 0, "record instrument name=P1 method=photometer sees=all error_abs=0.01"));
  g_free(ctl(c, 0, "record instrument name=M1 method=conductivity error_abs=0.2"));
  g_free(ctl(c, 0, "record gear --happened '2027-03-01 07:00' system=Blue-2 gear=uv on=no"));
  g_free(ctl(c, 0, "record gear --happened '2027-03-01 07:00' system=Blue-2 gear=carbon on=no"));
  g_free(ctl(c, 0, "record gear --happened '2027-03-01 07:00' system=Blue-2 gear=resin on=no"));
  g_free(ctl(c, 0, "record gear --happened '2027-03-01 07:00' system=Blue-2 gear=skimmer on=yes"));
  g_free(ctl(c, 0, "record lot --happened '2027-03-01 09:00' code=0412 tank=Blue-2/1 heads=30"));
  g_free(ctl(c, 0,
             "record course --happened '2027-03-01 09:05' lot=0412 protocol='Complexed copper with "
             "lowered salinity'"));
  return c;
}

void
course_read(Ctl *c, const char *system, const char *at, double copper, double salinity)
{
  g_autofree char *csv = g_strdup_printf("happened,system,analyte,value,instrument\r\n"
                                         "%s,%s,copper,%.3f,P1\r\n%s,%s,salinity,%.2f,M1\r\n",
                                         at, system, copper, at, system, salinity);
  ctl_import(c, "readings", csv);
}

static void
step(Ctl *c, const char *day, const char *change, const char *read, double ml, double copper,
     double salinity)
{
  g_autofree char *at = g_strdup_printf("%s %s", day, read);
  g_free(ctl(
      c, 0, "record change --happened '%s %s' system=Blue-2 litres=257 new_salinity=0 new_copper=0",
      day, change));
  g_free(ctl(
      c, 0,
      "record dose --happened '%s %s' system=Blue-2 bottle=C-14 amount_ml=%.1f in_new_water=yes",
      day, change, ml));
  course_read(c, "Blue-2", at, copper, salinity);
}

// Fresh water 257 L on Tuesday and Wednesday 09:30 and Thursday 08:30: 34 to 29.15, 24.98, 21.42,
// followed by 61.2, 69.9, 75.1 mL of 5.00 mg/mL: 0.170, 0.340, 0.500.
void
course_rise(Ctl *c)
{
  course_read(c, "Blue-2", "2027-03-01 17:00", 0, 34);
  step(c, "2027-03-02", "09:30", "11:00", 61.2, 0.170, 29.15);
  step(c, "2027-03-03", "09:30", "11:00", 69.9, 0.340, 24.98);
  step(c, "2027-03-04", "08:30", "10:00", 75.1, 0.500, 21.42);
}

void
course_hold(Ctl *c)
{
  course_read(c, "Blue-2", "2027-03-04 17:00", 0.50, 21.42);
  course_read(c, "Blue-2", "2027-03-05 07:30", 0.50, 21.42);
  // Friday evening's test is missed
  course_read(c, "Blue-2", "2027-03-06 07:30", 0.50, 21.42);
  course_read(c, "Blue-3", "2027-03-06 07:30", 0.50, 21.42);
  g_free(ctl(c, 0, "record move --happened '2027-03-06 10:00' lot=0412 tank=Blue-3/1"));
  course_read(c, "Blue-3", "2027-03-06 17:00", 0.50, 21.42);
  // the water that was left speaks for the hours before the move
  course_read(c, "Blue-2", "2027-03-06 17:00", 0.50, 21.42);
  course_read(c, "Blue-3", "2027-03-07 07:30", 0.50, 21.42);
  g_free(ctl(c, 0,
             "record change --happened '2027-03-07 10:00' system=Blue-3 litres=270 "
             "new_salinity=21.42 new_copper=0"));
  // the 27.0 mL only at 15:00: 0.425 + 135 mg / 1,800 L = 0.500
  g_free(ctl(c, 0,
             "record dose --happened '2027-03-07 15:00' system=Blue-3 bottle=C-14 amount_ml=27.0"));
  course_read(c, "Blue-3", "2027-03-07 17:00", 0.50, 21.42);
  for (int day = 8; day <= 18; day++)
    for (int slot = 0; slot < 2; slot++) {
      g_autofree char *at = g_strdup_printf("2027-03-%02d %s", day, slot ? "17:00" : "07:30");
      course_read(c, "Blue-3", at, 0.50, 21.42);
    }
}
