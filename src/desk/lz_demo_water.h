// SPDX-License-Identifier: GPL-3.0-or-later
// The invented truth behind the demo: what its waters really hold, which nobody in the story knows
// exactly.
#ifndef LZ_DEMO_WATER_H
#define LZ_DEMO_WATER_H

#include <glib.h>
#include <stdint.h>

typedef struct {
  const char *name;
  double volume_l;
  double copper, salinity, temperature; // true, now
  double loss_per_hour;                 // first-order loss of copper
  int64_t at;                           // minute up to which it is true
} LzDemoWater;

// Lets time pass: copper is lost, a little water evaporates and is topped up, temperature wanders.
void lz_demo_water_pass(LzDemoWater *water, int64_t to, GRand *rand);
void lz_demo_water_dose(LzDemoWater *water, double mg);
void lz_demo_water_change(LzDemoWater *water, double litres, double new_copper,
                          double new_salinity);

// What an instrument shows: noise of that standard deviation, rounded to its resolution.
double lz_demo_read(double truth, double sd, double resolution, GRand *rand);
// A normal deviate (Box and Muller 1958).
double lz_demo_normal(GRand *rand);

#endif
