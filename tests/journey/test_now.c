// SPDX-License-Identifier: GPL-3.0-or-later
// What a water needs now, beside its chart: every analyte that the lots there ask for, with its
// working, and nothing where a gate says no. Stations invented.
// Down: 34 to 13.3 in five equal ratios (shipped protocol, steps of at most 6): 1,800 L x
// (1 - (13.3/34)^(1/5)) = 308.1 L of fresh water, 28.2 after it.
// Flukes: 2 mg/L (Thomas et al. 2016) x 1,000 L = 2,000 mg; / 50 mg/mL = 40 mL; weighed out 2 g.
#include "journey.h"

#define DATA g_getenv("LAZARET_DATA_DIR")

static Ctl *
station(const char *protocol, const char *name, const char *volume)
{
  Ctl *c = ctl_new();
  ctl_station(c, NULL);
  g_free(ctl(c, 0, "protocol --who MK '%s/protocols/%s'", DATA, protocol));
  g_free(ctl(c, 0, "record system name=Red-1 volume_l=%s role=treatment", volume));
  g_free(ctl(c, 0, "record instrument name=RX method=refractometer error_abs=0.3"));
  g_free(ctl(c, 0, "record tank system=Red-1 number=1"));
  g_free(ctl(c, 0, "record lot --happened '2027-03-01 08:00' code=0501 tank=Red-1/1 heads=20"));
  g_free(ctl(c, 0, "record course --happened '2027-03-01 08:00' lot=0501 protocol='%s'", name));
  return c;
}

#define CLOCK "2027-03-01T08:30+01:00"

static void
look(Stage *s)
{
  stage_keys(s, "F3");
  stage_wait(s, "What is in the water");
}

START_TEST(test_fresh_water_to_change)
{
  Ctl *c = station("lowered-salinity.protocol", "Lowered salinity alone", "1800");
  Stage *s = stage_start(c, CLOCK, NULL);
  look(s);
  stage_wait(s, "Salinity: nothing to add now");
  stage_wait(s, "test first"); // nobody has read it
  g_free(ctl(c, 0,
             "record reading --happened '2027-03-01 08:20' system=Red-1 analyte=salinity "
             "value=34 instrument=RX"));
  stage_reopen(s, CLOCK);
  look(s);
  stage_wait(s, "Salinity: to change now");
  stage_wait(s, "308 L");
  stage_wait(s, "with fresh water");
  stage_wait(s, "308.07 L ÷ 1\u202f800 L");
  stage_wait(s, "28.2");
  stage_wait(s, "free of chlorine");
  stage_end(s);
  ctl_free(c);
}
END_TEST

static void
flukes(const char *bottle, const char *amount, const char *of, const char *result)
{
  Ctl *c = station("flukes.protocol", "Flukes", "1000");
  static const char *const gear[] = {"uv", "carbon", "resin"};
  if (*bottle)
    g_free(ctl(c, 0, "record bottle name=P1 analyte=praziquantel strength=50"));
  Stage *s = stage_start(c, CLOCK, NULL);
  look(s);
  stage_wait(s, "Praziquantel: nothing to add now");
  stage_wait(s, "irst switch off or take out");
  for (int i = 0; i < 3; i++)
    g_free(
        ctl(c, 0, "record gear --happened '2027-03-01 08:12' system=Red-1 gear=%s on=no", gear[i]));
  stage_reopen(s, CLOCK);
  look(s);
  stage_wait(s, "Praziquantel: to add now");
  stage_wait(s, amount);
  stage_wait(s, of);
  stage_wait(s, result);
  stage_wait(s, "a veterinarian decide");
  stage_end(s);
  ctl_free(c);
}

START_TEST(test_medicine_from_a_bottle)
{
  flukes("P1", "40 mL", "of bottle P1", "2\u202f000 mg ÷ 50 mg/mL");
}
END_TEST

START_TEST(test_medicine_weighed_out)
{
  flukes("", "2.0 g", "of praziquantel", "1\u202f000 L × 2 mg/L");
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_fresh_water_to_change, test_medicine_from_a_bottle,
                                test_medicine_weighed_out, NULL};
  return journey_run("journey: what a water needs now", tests);
}
