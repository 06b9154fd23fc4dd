// SPDX-License-Identifier: GPL-3.0-or-later
// Simulated water of the demo station: exact mass balance with loss, read through noisy
// instruments.
#include "lz_demo_water.h"

#include <math.h>

double
lz_demo_normal(GRand *rand)
{
  double u = 1 - g_rand_double(rand), v = g_rand_double(rand);
  return sqrt(-2 * log(u)) * cos(2 * G_PI * v);
}

void
lz_demo_water_pass(LzDemoWater *water, int64_t to, GRand *rand)
{
  double hours = (double)(to - water->at) / 60.0;
  if (hours <= 0)
    return;
  water->copper *= exp(-water->loss_per_hour * hours);
  water->temperature += 0.05 * sqrt(hours) * lz_demo_normal(rand);
  water->temperature = 25 + 0.9 * (water->temperature - 25);
  water->at = to;
}

void
lz_demo_water_dose(LzDemoWater *water, double mg)
{
  water->copper += mg / water->volume_l;
}

void
lz_demo_water_change(LzDemoWater *water, double litres, double new_copper, double new_salinity)
{
  double f = MIN(litres / water->volume_l, 1);
  water->copper = water->copper * (1 - f) + new_copper * f;
  water->salinity = water->salinity * (1 - f) + new_salinity * f;
}

double
lz_demo_read(double truth, double sd, double resolution, GRand *rand)
{
  double value = truth + sd * lz_demo_normal(rand);
  return MAX(0, round(value / resolution) * resolution);
}
