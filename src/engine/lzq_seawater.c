// SPDX-License-Identifier: GPL-3.0-or-later
// Practical salinity and density (UNESCO 44), and their inverses by safeguarded Newton steps.
#include "lzq_seawater.h"

#include <math.h>
#include <stdbool.h>

#define KELVIN_SCALE 1.00024 // t68 = 1.00024 t90

double
lzq_t68_from_t90(double t90_c)
{
  return t90_c * KELVIN_SCALE;
}

double
lzq_t90_from_t68(double t68_c)
{
  return t68_c / KELVIN_SCALE;
}

static bool
inside(double value, double low, double high)
{
  return value >= low && value <= high; // false for NAN
}

static lzq_status
refuse(double *out)
{
  *out = NAN;
  return LZQ_OUT_OF_RANGE;
}

// eq 3: C(35,t,0) / C(35,15,0)
static double
ratio_of_temperature(double t)
{
  return 0.6766097 + t * (2.00564e-2 + t * (1.104259e-4 + t * (-6.9698e-7 + t * 1.0031e-9)));
}

// eqs 1 and 2: salinity of Rt given as its square root
static double
salinity_of_root(double x, double t)
{
  const double k = 0.0162;
  double base = 0.0080 + x * (-0.1692 + x * (25.3851 + x * (14.0941 + x * (-7.0261 + x * 2.7081))));
  double warm = 0.0005 + x * (-0.0056 + x * (-0.0066 + x * (-0.0375 + x * (0.0636 + x * -0.0144))));
  return base + (t - 15.0) / (1.0 + k * (t - 15.0)) * warm;
}

double
lzq_salinity_raw_t68(double ratio, double t68_c, double p_dbar)
{
  double t = t68_c, p = p_dbar;
  // eq 4: the effect of pressure on the ratio
  double up = p * (2.070e-5 + p * (-6.370e-10 + p * 3.989e-15));
  double down = 1.0 + t * (3.426e-2 + t * 4.464e-4) + (4.215e-1 - 3.107e-3 * t) * ratio;
  double rp = 1.0 + up / down;
  return salinity_of_root(sqrt(ratio / (rp * ratio_of_temperature(t))), t);
}

lzq_status
lzq_salinity_from_ratio_t68(double ratio, double t68_c, double p_dbar, double *out)
{
  if (!(ratio > 0.0) || !inside(t68_c, -2.0, 35.0) || !inside(p_dbar, 0.0, 10000.0))
    return refuse(out);
  *out = lzq_salinity_raw_t68(ratio, t68_c, p_dbar);
  return inside(*out, 2.0, 42.0) ? LZQ_OK : refuse(out);
}

lzq_status
lzq_salinity_from_conductivity(double c_ms_cm, double t_c, double *out)
{
  return lzq_salinity_from_ratio_t68(c_ms_cm / LZQ_C_35_15_0, lzq_t68_from_t90(t_c), 0.0, out);
}

lzq_status
lzq_conductivity_from_salinity(double salinity, double t_c, double *out_ms_cm)
{
  double t = lzq_t68_from_t90(t_c);
  if (!inside(salinity, 2.0, 42.0) || !inside(t, -2.0, 35.0))
    return refuse(out_ms_cm);
  // salinity rises steadily with the root of Rt, so halving the bracket cannot fail
  double low = 0.0, high = 1.5;
  for (int i = 0; i < 60; i++) {
    double middle = 0.5 * (low + high);
    if (salinity_of_root(middle, t) < salinity)
      low = middle;
    else
      high = middle;
  }
  double root = 0.5 * (low + high);
  *out_ms_cm = LZQ_C_35_15_0 * root * root * ratio_of_temperature(t);
  return LZQ_OK;
}

// eq 14: pure water at one atmosphere
static double
density_of_water(double t)
{
  return 999.842594 +
         t * (6.793952e-2 +
              t * (-9.095290e-3 + t * (1.001685e-4 + t * (-1.120083e-6 + t * 6.536332e-9))));
}

// eq 13: seawater at one atmosphere
static double
density_at_surface(double s, double t)
{
  double linear = 0.824493 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)));
  double root = -5.72466e-3 + t * (1.0227e-4 - t * 1.6546e-6);
  return density_of_water(t) + s * linear + s * sqrt(s) * root + 4.8314e-4 * s * s;
}

// eqs 15-19: secant bulk modulus, pressure in bar
static double
bulk_modulus(double s, double t, double bar)
{
  double s15 = s * sqrt(s);
  double k0 = 19652.21 + t * (148.4206 + t * (-2.327105 + t * (1.360477e-2 - t * 5.155288e-5))) +
              s * (54.6746 + t * (-0.603459 + t * (1.09987e-2 - t * 6.1670e-5))) +
              s15 * (7.944e-2 + t * (1.6483e-2 - t * 5.3009e-4));
  double a = 3.239908 + t * (1.43713e-3 + t * (1.16092e-4 - t * 5.77905e-7)) +
             s * (2.2838e-3 + t * (-1.0981e-5 - t * 1.6078e-6)) + 1.91075e-4 * s15;
  double b = 8.50935e-5 + t * (-6.12293e-6 + t * 5.2787e-8) +
             s * (-9.9348e-7 + t * (2.0816e-8 + t * 9.1697e-10));
  return k0 + bar * (a + bar * b);
}

lzq_status
lzq_density_t68(double salinity, double t68_c, double p_dbar, double *out)
{
  if (!inside(salinity, 0.0, 42.0) || !inside(t68_c, -2.0, 40.0) || !inside(p_dbar, 0.0, 10000.0))
    return refuse(out);
  double bar = p_dbar / 10.0;
  *out = density_at_surface(salinity, t68_c);
  if (bar > 0.0)
    *out /= 1.0 - bar / bulk_modulus(salinity, t68_c, bar);
  return LZQ_OK;
}

lzq_status
lzq_density(double salinity, double t_c, double *out)
{
  return lzq_density_t68(salinity, lzq_t68_from_t90(t_c), 0.0, out);
}

// Density at one atmosphere rises with salinity at every temperature from -2 to 40 °C.
static lzq_status
invert_density(double density, double t68, double *out)
{
  if (!inside(t68, -2.0, 40.0))
    return refuse(out);
  double low = 0.0, high = 42.0;
  // a hair of room, so that pure water read back is 0 and not refused
  if (!inside(density, density_at_surface(low, t68) - 1e-9, density_at_surface(high, t68) + 1e-9))
    return refuse(out);
  for (int i = 0; i < 60; i++) {
    double middle = 0.5 * (low + high);
    if (density_at_surface(middle, t68) < density)
      low = middle;
    else
      high = middle;
  }
  *out = 0.5 * (low + high);
  return LZQ_OK;
}

lzq_status
lzq_salinity_from_density(double density_kg_m3, double t_c, double *out)
{
  return invert_density(density_kg_m3, lzq_t68_from_t90(t_c), out);
}

#define SIXTY_F ((60.0 - 32.0) / 1.8)

double
lzq_sg_scale_of_t68(lzq_sg_scale scale)
{
  return scale == LZQ_SG_60_60F ? SIXTY_F : scale == LZQ_SG_25_25 ? 25.0 : 20.0;
}

double
lzq_sg_scale_ref_t68(lzq_sg_scale scale)
{
  return scale == LZQ_SG_20_4 ? 4.0 : lzq_sg_scale_of_t68(scale);
}

lzq_status
lzq_sg_t68(double salinity, double t68_c, double t_ref_t68_c, double *out)
{
  lzq_status status = lzq_density_t68(salinity, t68_c, 0.0, out);
  if (status != LZQ_OK)
    return status;
  if (!inside(t_ref_t68_c, -2.0, 40.0))
    return refuse(out);
  *out /= density_of_water(t_ref_t68_c);
  return LZQ_OK;
}

lzq_status
lzq_sg_from_salinity(double salinity, lzq_sg_scale scale, double *out)
{
  return lzq_sg_t68(salinity, lzq_sg_scale_of_t68(scale), lzq_sg_scale_ref_t68(scale), out);
}

lzq_status
lzq_salinity_from_sg(double sg, lzq_sg_scale scale, double *out)
{
  return invert_density(sg * density_of_water(lzq_sg_scale_ref_t68(scale)),
                        lzq_sg_scale_of_t68(scale), out);
}

// The float's volume grows with the water's warmth: a warm reading comes out a little low.
static double
glass(double t68, lzq_sg_scale scale)
{
  return 1.0 - LZQ_GLASS_PER_C * (t68 - lzq_sg_scale_of_t68(scale));
}

lzq_status
lzq_hydrometer_reading(double salinity, double t_c, lzq_sg_scale scale, double *out)
{
  double t68 = lzq_t68_from_t90(t_c);
  if (!inside(t68, 0.0, 40.0))
    return refuse(out);
  lzq_status status = lzq_sg_t68(salinity, t68, lzq_sg_scale_ref_t68(scale), out);
  if (status == LZQ_OK)
    *out /= glass(t68, scale);
  return status;
}

lzq_status
lzq_salinity_from_hydrometer(double reading, double t_c, lzq_sg_scale scale, double *out)
{
  double t68 = lzq_t68_from_t90(t_c);
  if (!inside(t68, 0.0, 40.0))
    return refuse(out);
  double pure = density_of_water(lzq_sg_scale_ref_t68(scale));
  return invert_density(reading * pure * glass(t68, scale), t68, out);
}

// The index is linear in salinity: index = fresh + slope * S.
static void
refraction_line(double t, double nm, double *fresh, double *slope)
{
  *slope = 1.779e-4 + t * (-1.05e-6 + t * 1.6e-8) + 0.01155 / nm;
  *fresh = 1.31405 - 2.02e-6 * t * t + (15.868 - 0.00423 * t) / nm - 4382.0 / (nm * nm) +
           1.1455e6 / (nm * nm * nm);
}

lzq_status
lzq_refractive_index(double salinity, double t_c, double wavelength_nm, double *out)
{
  if (!inside(salinity, 0.0, 35.0) || !inside(t_c, 0.0, 30.0) ||
      !inside(wavelength_nm, 400.0, 700.0))
    return refuse(out);
  double fresh, slope;
  refraction_line(t_c, wavelength_nm, &fresh, &slope);
  *out = fresh + slope * salinity;
  return LZQ_OK;
}

lzq_status
lzq_salinity_from_refraction(double index, double t_c, double wavelength_nm, double *out)
{
  if (!inside(t_c, 0.0, 30.0) || !inside(wavelength_nm, 400.0, 700.0))
    return refuse(out);
  double fresh, slope;
  refraction_line(t_c, wavelength_nm, &fresh, &slope);
  *out = (index - fresh) / slope;
  if (!inside(*out, -1e-9, 35.0 + 1e-9))
    return refuse(out);
  *out = fmin(fmax(*out, 0.0), 35.0);
  return LZQ_OK;
}
