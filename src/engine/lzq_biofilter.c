// SPDX-License-Identifier: GPL-3.0-or-later
// Nitrogen gone between two readings.
#include "lzq_biofilter.h"

#include <math.h>

double
lzq_biofilter_proven(double carried_mg_l, double read_mg_l, double volume_l, double given_mg,
                     double hours)
{
  if (!(hours >= LZQ_PROOF_LEAST_H && hours <= LZQ_PROOF_MOST_H))
    return 0.0;
  double gone = (carried_mg_l - read_mg_l) * volume_l + given_mg;
  return isfinite(gone) && gone > 0.0 ? gone * 24.0 / hours : 0.0;
}

double
lzq_food_nitrogen_mg(double food_g, double protein)
{
  return 1000.0 * food_g * protein * LZQ_FOOD_N;
}

double
lzq_food_for_nitrogen_g(double nitrogen_mg, double protein)
{
  return nitrogen_mg / (1000.0 * protein * LZQ_FOOD_N);
}
