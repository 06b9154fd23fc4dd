// SPDX-License-Identifier: GPL-3.0-or-later
// Seawater: practical salinity, density, specific gravity, and what each instrument shows.
//
// Temperatures are ITS-90 °C (`t_c`), as thermometers of today read. The equations of 1978-1983
// want IPTS-68, t68 = 1.00024 t90 (Saunders 1990, WOCE Newsletter 10), and functions named _t68
// take it. The reference temperatures of hydrometer scales (60 °F, 20 °C ...) are older than ITS-90
// and are taken as IPTS-68.
//
// Sources: PSS-78 and EOS-80: Fofonoff & Millard (1983), Algorithms for computation of fundamental
// properties of seawater, UNESCO Technical Papers in Marine Science 44, eqs 1-6 and 13-20.
// Glass hydrometers: ISO 1768:1975, conventional cubic expansion 0.000025 per °C.
// Refractive index: Quan & Fry (1995), Applied Optics 34:3477-3480.
//
// Outside the range for which an equation was published a call answers LZQ_OUT_OF_RANGE and sets
// *out to NAN; so does an argument that is not finite.
#ifndef LZQ_SEAWATER_H
#define LZQ_SEAWATER_H

#include "lzq_status.h"

#define LZQ_C_35_15_0   42.914 // mS/cm, conductivity of S = 35 at 15 °C (IPTS-68) and p = 0
#define LZQ_GLASS_PER_C 25e-6  // cubic expansion of hydrometer glass

double lzq_t68_from_t90(double t90_c);
double lzq_t90_from_t68(double t68_c);

// Practical salinity of a conductivity ratio C(S,t,p)/C(35,15,0). p in dbar above one atmosphere.
// Ranges: S 2..42, t -2..35 °C (a result outside is refused). The extended form for S 0..42
// at 35..40 °C is not published as valid; the paper's own check at 40 °C is reached with
// lzq_salinity_raw_t68.
lzq_status lzq_salinity_from_ratio_t68(double ratio, double t68_c, double p_dbar, double *out);

// The bare polynomial without its range check, for check values only.
double lzq_salinity_raw_t68(double ratio, double t68_c, double p_dbar);

// From conductivity in mS/cm at one atmosphere, and its inverse. S 2..42, t -2..35 °C.
lzq_status lzq_salinity_from_conductivity(double c_ms_cm, double t_c, double *out);
lzq_status lzq_conductivity_from_salinity(double salinity, double t_c, double *out_ms_cm);

// Density, kg/m3. S 0..42, t -2..40 °C, p 0..10000 dbar (0 = one atmosphere).
lzq_status lzq_density_t68(double salinity, double t68_c, double p_dbar, double *out);
lzq_status lzq_density(double salinity, double t_c, double *out);

// Salinity of the water that has this density at t (one atmosphere): the inverse in S, within
// 1e-10.
lzq_status lzq_salinity_from_density(double density_kg_m3, double t_c, double *out);

// The mark on a specific gravity scale: water at t_of over pure water at t_ref; the glass is true
// at t_of.
typedef enum {
  LZQ_SG_60_60F, // 60/60 °F = 15.5556 °C (ISO/R 650:1968)
  LZQ_SG_20_20,
  LZQ_SG_25_25,
  LZQ_SG_20_4, // over pure water at 4 °C
  LZQ_N_SG_SCALES
} lzq_sg_scale;

double lzq_sg_scale_of_t68(lzq_sg_scale scale);  // temperature of the scale's glass, IPTS-68 °C
double lzq_sg_scale_ref_t68(lzq_sg_scale scale); // temperature of its pure water, IPTS-68 °C

// rho(S, t) / rho_w(t_ref), any pair of temperatures, both IPTS-68.
lzq_status lzq_sg_t68(double salinity, double t68_c, double t_ref_t68_c, double *out);

// Specific gravity at the scale's own temperature: what a corrected reading or a table means by
// "1.016".
lzq_status lzq_sg_from_salinity(double salinity, lzq_sg_scale scale, double *out);
lzq_status lzq_salinity_from_sg(double sg, lzq_sg_scale scale, double *out);

// What a glass hydrometer shows in water of t_c, and the salinity behind a reading:
// rho(S,t) = reading * rho_w(t_ref) * (1 - 25e-6 (t - t_of)). t 0..40 °C.
lzq_status lzq_hydrometer_reading(double salinity, double t_c, lzq_sg_scale scale, double *out);
lzq_status lzq_salinity_from_hydrometer(double reading, double t_c, lzq_sg_scale scale,
                                        double *out);

// Refractive index at one atmosphere and its inverse. Fit range S 0..35, t 0..30 °C, 400..700 nm;
// the sodium line is 589.3 nm. Salinity up to 42 is extrapolated linearly by no published source:
// refused.
#define LZQ_SODIUM_LINE_NM 589.3
lzq_status lzq_refractive_index(double salinity, double t_c, double wavelength_nm, double *out);
lzq_status lzq_salinity_from_refraction(double index, double t_c, double wavelength_nm,
                                        double *out);

#endif
