// SPDX-License-Identifier: GPL-3.0-or-later
// Fluence from absorbance, geometry and flow.
#include "lzq_uv.h"

#include <math.h>

#define LN10 2.302585092994045684
#define PI   3.14159265358979323846

double
lzq_uv_absorbance(double transmittance_1cm)
{
  return -log10(transmittance_1cm);
}

double
lzq_uv_water_factor(double absorbance_cm, double depth_cm)
{
  double x = absorbance_cm * depth_cm * LN10;
  return x > 0.0 ? -expm1(-x) / x : 1.0;
}

double
lzq_uv_beam(double e0_mw_cm2, double petri_factor, double distance_cm, double depth_cm,
            double absorbance_cm, double seconds)
{
  const double reflected = 0.025;
  return e0_mw_cm2 * petri_factor * (1.0 - reflected) * distance_cm / (distance_cm + depth_cm) *
         lzq_uv_water_factor(absorbance_cm, depth_cm) * seconds;
}

double
lzq_uv_annulus(double power_w, double length_cm, double r1_cm, double r2_cm, double absorbance_cm)
{
  double depth = r2_cm - r1_cm;
  return power_w * depth * lzq_uv_water_factor(absorbance_cm, depth) /
         (PI * (r2_cm * r2_cm - r1_cm * r1_cm) * length_cm);
}

double
lzq_uv_pass(double power_w, double length_cm, double r1_cm, double r2_cm, double absorbance_cm,
            double flow_ml_s)
{
  double volume_ml = PI * (r2_cm * r2_cm - r1_cm * r1_cm) * length_cm;
  double mean_mw_cm2 = 1000.0 * lzq_uv_annulus(power_w, length_cm, r1_cm, r2_cm, absorbance_cm);
  return mean_mw_cm2 * volume_ml / flow_ml_s;
}

double
lzq_uv_delivered(double rated_mj_cm2, double lamp_share, double sleeve_share, double rated_flow,
                 double flow)
{
  return rated_mj_cm2 * lamp_share * sleeve_share * rated_flow / flow;
}
