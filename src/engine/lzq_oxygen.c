// SPDX-License-Identifier: GPL-3.0-or-later
// Benson & Krause (1984) with pressure.
#include "lzq_oxygen.h"

#include <math.h>

double
lzq_vapour_pressure_atm(double salinity, double t_c)
{
  double kelvin = t_c + 273.15, r = 373.16 / kelvin, q = kelvin / 373.16;
  double exponent = 18.1973 * (1.0 - r) + 3.1813e-7 * (1.0 - exp(26.1205 * (1.0 - q))) -
                    0.018726 * (1.0 - exp(8.03945 * (1.0 - r))) + 5.02802 * log(r);
  return (1.0 - 0.000537 * salinity) * exp(exponent);
}

lzq_status
lzq_oxygen_saturation(double salinity, double t_c, double pressure_atm, double *out)
{
  *out = NAN;
  if (!(salinity >= 0.0 && salinity <= 40.0) || !(t_c >= 0.0 && t_c <= 40.0) ||
      !(pressure_atm >= 0.5 && pressure_atm <= 1.1))
    return LZQ_OUT_OF_RANGE;
  double i = 1.0 / (t_c + 273.15);
  double fresh =
      -139.34411 + i * (1.575701e5 + i * (-6.642308e7 + i * (1.243800e10 - i * 8.621949e11)));
  double c = exp(fresh - salinity * (0.017674 + i * (-10.754 + i * 2140.7)));
  double theta = 0.000975 + t_c * (-1.426e-5 + t_c * 6.436e-8);
  double u = lzq_vapour_pressure_atm(salinity, t_c), p = pressure_atm;
  *out = c * p * (1.0 - u / p) * (1.0 - theta * p) / ((1.0 - u) * (1.0 - theta));
  return LZQ_OK;
}

lzq_status
lzq_oxygen_share(double oxygen_mg_l, double salinity, double t_c, double pressure_atm, double *out)
{
  lzq_status status = lzq_oxygen_saturation(salinity, t_c, pressure_atm, out);
  if (status == LZQ_OK)
    *out = oxygen_mg_l / *out;
  return status;
}

double
lzq_pressure_at_height_atm(double metres)
{
  return pow(1.0 - 0.0065 * metres / 288.15, 5.25588);
}
