// SPDX-License-Identifier: GPL-3.0-or-later
// The shifts' routine in the demo: tests at both slots, steps of a rise, top-ups, weekly changes
// with the copper put back, salinity down and up, feeding, checks of instruments. One evening test
// of Blue-2 is missed (day -20), and one dose there was far too large (day -22) and is brought down
// by a water change.
#include "lz_demo_private.h"

#include <math.h>

static const char *const morning[] = {"TA", "JR"};
static const char *const evening[] = {"IO", "JR", "TA"};

// Rises: first day of three, and the last day with copper in the water.
static const struct {
  int water, rise, until;
} copper_runs[] = {{BLUE_1, -58, -39}, {BLUE_2, -28, -10}, {BLUE_1, -24, 9}, {BLUE_2, -4, 9}};

// Returns what the instrument showed.
static double
test(LzDemo *demo, int w, int64_t at, const char *who, const char *analyte)
{
  LzDemoWater *water = &demo->water[w];
  double value;
  lz_demo_water_pass(water, at, demo->rand);
  if (analyte[0] == 'c') {
    value = lz_demo_read(water->copper, 0.004, 0.01, demo->rand);
    lz_demo_act(demo, at, who, "reading", "system", water->name, "analyte", "copper", "value",
                lz_demo_num(value, 2), "unit", "mg/L", "instrument", "P1", NULL);
  } else if (analyte[0] == 's') {
    value = lz_demo_read(water->salinity, 0.05, 0.1, demo->rand);
    lz_demo_act(demo, at, who, "reading", "system", water->name, "analyte", "salinity", "value",
                lz_demo_num(value, 1), "instrument", "M1", NULL);
  } else if (analyte[0] == 't') {
    value = lz_demo_read(water->temperature, 0.1, 0.1, demo->rand);
    lz_demo_act(demo, at, who, "reading", "system", water->name, "analyte", "temperature", "value",
                lz_demo_num(value, 1), "unit", "C", "instrument", "T1", NULL);
  } else {
    value = lz_demo_read(0.15, 0.08, 0.1, demo->rand);
    lz_demo_act(demo, at, who, "reading", "system", water->name, "analyte", "ammonia", "value",
                lz_demo_num(value, 1), "unit", "mg/L", "instrument", "K2", NULL);
  }
  return value;
}

static LzCommand *
dose(LzDemo *demo, int w, int64_t at, const char *who, double ml, gboolean in_new_water)
{
  LzDemoWater *water = &demo->water[w];
  ml = round(ml * 10) / 10;
  if (ml < 0.5 || at > demo->now)
    return NULL;
  lz_demo_water_pass(water, at, demo->rand);
  lz_demo_water_dose(water, ml * 5.0);
  return lz_demo_act(demo, at, who, "dose", "system", water->name, "bottle", "C-14", "amount_ml",
                     lz_demo_num(ml, 1), "in_new_water", in_new_water ? "yes" : "no", NULL);
}

static void
change(LzDemo *demo, int w, int64_t at, const char *who, double litres, double new_salinity)
{
  LzDemoWater *water = &demo->water[w];
  if (at > demo->now)
    return;
  litres = round(litres);
  new_salinity = round(new_salinity * 10) / 10;
  lz_demo_water_pass(water, at, demo->rand);
  lz_demo_water_change(water, litres, 0, new_salinity);
  lz_demo_act(demo, at, who, "change", "system", water->name, "litres", lz_demo_num(litres, 0),
              "new_copper", "0", "new_salinity", lz_demo_num(new_salinity, 1), "disposal",
              "treated waste tank", NULL);
}

// One step of three: fresh water down to 21.4, copper up to 0.50, a confirming test an hour later.
static void
rise_step(LzDemo *demo, int w, int day, int step)
{
  static const double target[] = {0.17, 0.34, 0.505}, salinity[] = {29.2, 25.0, 21.4};
  LzDemoWater *water = &demo->water[w];
  int64_t at = lz_demo_at(demo, day, step == 2 ? 8 : 9, 30);
  if (at > demo->now)
    return;
  lz_demo_water_pass(water, at, demo->rand);
  double litres = water->volume_l * (1 - salinity[step] / water->salinity);
  double left = water->copper * (1 - litres / water->volume_l);
  if (step > 0)
    test(demo, w, at - 75, "TA", "copper");
  change(demo, w, at, "TA", litres, 0);
  dose(demo, w, at, "TA", (target[step] - left) * water->volume_l / 5.0, TRUE);
  test(demo, w, at + 90, "TA", "copper");
  test(demo, w, at + 92, "TA", "salinity");
}

// A slot of a treated water: test, and in the morning top up what was lost.
static void
hold_slot(LzDemo *demo, int w, int day, gboolean late_shift)
{
  LzDemoWater *water = &demo->water[w];
  const char *who = late_shift ? evening[(guint)(day + 90) % 3] : morning[(guint)(day + 90) % 2];
  int64_t at = lz_demo_at(demo, day, late_shift ? 17 : 7, late_shift ? 5 : 35) +
               g_rand_int_range(demo->rand, 0, 12);
  if (w == BLUE_2 && day == -20 && late_shift)
    return; // the missed test
  double shown = test(demo, w, at, who, "copper");
  test(demo, w, at + 2, who, "salinity");
  gboolean change_day = (day + 60) % 7 == (w == BLUE_1 ? 3 : 5);
  if (late_shift)
    return;
  if (change_day) {
    double litres = water->volume_l * 0.15;
    int64_t then = lz_demo_at(demo, day, 10, 0);
    change(demo, w, then, who, litres, 21.4);
    dose(demo, w, then, who, (0.5 - 0.85 * shown) * water->volume_l / 5.0, TRUE);
  } else if (shown < 0.475 && !(w == BLUE_2 && day == -22)) {
    dose(demo, w, lz_demo_at(demo, day, 9, 30), who, (0.5 - water->copper) * water->volume_l / 5.0,
         FALSE);
  }
}

// Day -22: the jug was filled to the wrong line, about nine times what was asked and written; the
// evening test of that day found it, the repeat agreed, and a water change brought it down.
static void
overdose(LzDemo *demo)
{
  LzDemoWater *water = &demo->water[BLUE_2];
  int64_t found = lz_demo_at(demo, -22, 15, 0);
  double asked = MAX((0.5 - water->copper) * water->volume_l / 5.0, 5);
  dose(demo, BLUE_2, lz_demo_at(demo, -22, 9, 40), "TA", asked, FALSE);
  lz_demo_water_dose(water, (0.74 - water->copper) * water->volume_l);
  test(demo, BLUE_2, found, "IO", "copper");
  test(demo, BLUE_2, found + 10, "IO", "copper");
  lz_demo_act(
      demo, found + 12, "IO", "note", "system", "Blue-2", "words",
      "The jug was filled to the wrong line this morning; about nine times the dose went in.",
      NULL);
  change(demo, BLUE_2, found + 20, "IO", 0.3 * water->volume_l, 21.4);
  test(demo, BLUE_2, found + 85, "IO", "copper");
}

static void
copper_routine(LzDemo *demo, int day)
{
  for (gsize i = 0; i < G_N_ELEMENTS(copper_runs); i++) {
    int w = copper_runs[i].water, since = day - copper_runs[i].rise;
    if (since < 0 || day > copper_runs[i].until)
      continue;
    if (since < 3) {
      rise_step(demo, w, day, since);
      hold_slot(demo, w, day, TRUE);
      continue;
    }
    hold_slot(demo, w, day, FALSE);
    if (w == BLUE_2 && day == -22)
      overdose(demo);
    hold_slot(demo, w, day, TRUE);
  }
  // Emptied of fish: new salt water, copper gone, before the next shipment.
  if (day == -37 || day == -36 || day == -8 || day == -7)
    change(demo, day < -20 ? BLUE_1 : BLUE_2, lz_demo_at(demo, day, 13, 0), "JR",
           0.98 * demo->water[day < -20 ? BLUE_1 : BLUE_2].volume_l, 34);
  if (day == -36 || day == -7) {
    test(demo, day < -20 ? BLUE_1 : BLUE_2, lz_demo_at(demo, day, 17, 20), "JR", "salinity");
    test(demo, day < -20 ? BLUE_1 : BLUE_2, lz_demo_at(demo, day, 17, 24), "JR", "copper");
  }
}

// Green-1 is brought down before fish come out of copper, and up again in five daily steps.
static void
finishing_routine(LzDemo *demo, int day)
{
  static const double up[] = {24.2, 27.0, 29.7, 32.2, 34.0};
  LzDemoWater *water = &demo->water[GREEN_1];
  int64_t at = lz_demo_at(demo, day, 10, 0);
  test(demo, GREEN_1, lz_demo_at(demo, day, 8, 5), "TA", "salinity");
  for (int run = 0; run < 2; run++) {
    int moved = run == 0 ? -39 : -10;
    if (day >= moved - 3 && day < moved) {
      double goal = (const double[]){29.2, 25.0, 21.4}[day - moved + 3];
      change(demo, GREEN_1, at, "JR", water->volume_l * (1 - goal / water->salinity), 0);
    } else if (day > moved && day <= moved + 5) {
      double goal = up[day - moved - 1];
      // Salt water of 40 mixed beforehand, so that no step needs more than a third of the water.
      change(demo, GREEN_1, at, "JR",
             water->volume_l * (goal - water->salinity) / (40 - water->salinity), 40);
      test(demo, GREEN_1, at + 45, "JR", "salinity");
    }
  }
}

// Green-2 stands ready at the salinity of treated water for the lots of Blue-1.
static void
spare_routine(LzDemo *demo, int day)
{
  static const double down[] = {29.2, 25.0, 21.4};
  LzDemoWater *water = &demo->water[GREEN_2];
  if (day >= -9 && day < -6)
    change(demo, GREEN_2, lz_demo_at(demo, day, 11, 30), "JR",
           water->volume_l * (1 - down[day + 9] / water->salinity), 0);
  test(demo, GREEN_2, lz_demo_at(demo, day, 12, 40), "JR", "salinity");
  if (day == -6 || day % 7 == 0)
    test(demo, GREEN_2, lz_demo_at(demo, day, 12, 44), "JR", "copper");
}

// Red-1: salinity alone, 34 down to 13.4 in steps of at most 6, two a day at most.
static void
red_routine(LzDemo *demo, int day)
{
  static const double down[] = {28.5, 23.5, 18.5, 13.4};
  LzDemoWater *water = &demo->water[RED_1];
  int step = day + 4;
  if (day < -4)
    return;
  test(demo, RED_1, lz_demo_at(demo, day, 7, 50), "TA", "salinity");
  if (step < 4) {
    int64_t at = lz_demo_at(demo, day, 11, 0);
    change(demo, RED_1, at, "TA", water->volume_l * (1 - down[step] / water->salinity), 0);
    test(demo, RED_1, at + 40, "TA", "salinity");
  }
  test(demo, RED_1, lz_demo_at(demo, day, 17, 15), "JR", "salinity");
}

static void
feed(LzDemo *demo, int day)
{
  static const struct {
    int first, last, from, until;
  } groups[] = {{301, 306, -58, -27}, {307, 311, -28, 0}, {312, 312, -30, 0},
                {313, 318, -24, 0},   {319, 323, -4, 0},  {324, 325, 0, 0}};
  for (gsize g = 0; g < G_N_ELEMENTS(groups); g++)
    if (day >= groups[g].from && day <= groups[g].until)
      for (int n = groups[g].first; n <= groups[g].last; n++) {
        g_autofree char *lot = g_strdup_printf("%04d", n);
        double share = 0.70 + 0.05 * g_rand_int_range(demo->rand, 1, 7);
        lz_demo_act(demo, lz_demo_at(demo, day, 8, 30) + n % 20, morning[(guint)(day + 91) % 2],
                    "feed", "lot", lot, "food", "frozen mysis", "grams", lz_demo_num(2 + n % 5, 0),
                    "eaten_share", lz_demo_num(share, 2), NULL);
      }
}

void
lz_demo_routine(LzDemo *demo, int day)
{
  if ((day + 60) % 7 == 1) {
    lz_demo_act(demo, lz_demo_at(demo, day, 7, 5), "IO", "check", "instrument", "P1", "ok", "yes",
                "standard", "0.50 mg/L standard", "expected", "0.5", "found", "0.5", NULL);
    lz_demo_act(demo, lz_demo_at(demo, day, 7, 8), "IO", "check", "instrument", "M1", "ok", "yes",
                "standard", "53.0 mS/cm at 25 degrees", "expected", "34.95", "found", "35.0", NULL);
  }
  if ((day + 60) % 28 == 1) {
    lz_demo_act(demo, lz_demo_at(demo, day, 7, 11), "IO", "check", "instrument", "T1", "ok", "yes",
                "standard", "reference thermometer", "expected", "25.0", "found", "25.1", NULL);
    lz_demo_act(demo, lz_demo_at(demo, day, 7, 14), "IO", "check", "instrument", "K2", "ok", "yes",
                "standard", "0.50 mg/L standard", "expected", "0.5", "found", "0.5", NULL);
  }
  for (int w = 0; w < N_WATERS; w++)
    test(demo, w, lz_demo_at(demo, day, 7, 20) + w, morning[(guint)(day + 90) % 2], "temperature");
  if (day == -59 || day == -29 || day == -25 || day == -5 || day >= -1)
    test(demo, DOCK_1, lz_demo_at(demo, day, 16, 30), "JR", "ammonia");
  copper_routine(demo, day);
  finishing_routine(demo, day);
  spare_routine(demo, day);
  red_routine(demo, day);
  feed(demo, day);
}
