// SPDX-License-Identifier: GPL-3.0-or-later
// pKa of ammonium on the NBS and on the total scale.
#include "lzq_ammonia.h"

#include <math.h>
#include <stdbool.h>

static bool
inside(double value, double low, double high)
{
  return value >= low && value <= high;
}

static lzq_status
refuse(double *out)
{
  *out = NAN;
  return LZQ_OUT_OF_RANGE;
}

static double
ionic_strength(double s)
{
  return 19.9273 * s / (1000.0 - 1.005109 * s);
}

// Clegg & Whitfield (1995) eq. 18, mol/kg of water
static double
clegg_whitfield(double s, double kelvin)
{
  double root = sqrt(kelvin), s15 = s * sqrt(s);
  return 9.244605 - 2729.33 * (1.0 / 298.15 - 1.0 / kelvin) +
         (0.04203362 - 11.24742 / kelvin) * pow(s, 0.25) +
         (-13.6416 + 1.176949 * root - 0.02860785 * kelvin + 545.4834 / kelvin) * sqrt(s) +
         (-0.1462507 + 0.0090226468 * root - 0.0001471361 * kelvin + 10.5425 / kelvin) * s15 +
         (0.004669309 - 0.0001691742 * root - 0.5677934 / kelvin) * s * s +
         (-2.354039e-5 + 0.009698623 / kelvin) * s * s15;
}

lzq_status
lzq_ammonia_pka(double salinity, double t_c, lzq_ph_scale scale, double *out)
{
  if (scale == LZQ_PH_NBS) {
    if (!inside(salinity, 5.0, 40.0) || !inside(t_c, 0.0, 40.0))
      return refuse(out);
    *out = 9.350 + 0.0324 * (25.0 - t_c) + 0.116 * (ionic_strength(salinity) - 0.701);
    return LZQ_OK;
  }
  if (!inside(salinity, 0.0, 40.0) || !inside(t_c, -2.0, 40.0))
    return refuse(out);
  *out = clegg_whitfield(salinity, t_c + 273.15) - log10(1.0 - 0.001005 * salinity);
  return LZQ_OK;
}

lzq_status
lzq_ammonia_pka_fresh(double t_c, double *out)
{
  if (!inside(t_c, 0.0, 30.0))
    return refuse(out);
  *out = 0.09018 + 2729.92 / (273.15 + t_c);
  return LZQ_OK;
}

double
lzq_ammonia_share(double pka, double ph)
{
  return 1.0 / (1.0 + pow(10.0, pka - ph));
}

lzq_status
lzq_ammonia_unionised(double tan_mg_l, double salinity, double t_c, double ph, lzq_ph_scale scale,
                      double *out)
{
  double pka;
  if (!(tan_mg_l >= 0.0) || !inside(ph, 4.0, 11.0) ||
      lzq_ammonia_pka(salinity, t_c, scale, &pka) != LZQ_OK)
    return refuse(out);
  *out = tan_mg_l * lzq_ammonia_share(pka, ph);
  return LZQ_OK;
}
