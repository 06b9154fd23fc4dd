// SPDX-License-Identifier: GPL-3.0-or-later
// Units at the edges: what people read and type, and the one unit of each kind that the engine
// uses. Canonical units: volume L, mass g, level mg/L, strength mg/mL, temperature °C, length cm.
// Specific gravity and conductivity are not units of salinity: see lzq_seawater.h.
//
// Every conversion is one linear map, so it round-trips to a few rounding errors (a property test).
// Factors are exact by definition: US gallon 231 cubic inches, inch 2.54 cm, imperial
// gallon 4.54609 L (UK Weights and Measures Act 1985, schedule 1), pound 453.59237 g (international
// yard and pound, 1959). Atomic masses: IUPAC Commission on Isotopic Abundances and Atomic Weights,
// abridged values of 2021.
#ifndef LZQ_UNITS_H
#define LZQ_UNITS_H

#include <stdbool.h>

#include "lzq_status.h"

typedef enum {
  LZQ_KIND_VOLUME,
  LZQ_KIND_MASS,
  LZQ_KIND_LEVEL,
  LZQ_KIND_STRENGTH,
  LZQ_KIND_TEMPERATURE,
  LZQ_N_KINDS
} lzq_kind;

typedef enum {
  LZQ_MEASURE_L,
  LZQ_MEASURE_ML,
  LZQ_MEASURE_M3,
  LZQ_MEASURE_US_GALLON,
  LZQ_MEASURE_IMPERIAL_GALLON,
  LZQ_MEASURE_US_FLUID_OUNCE,
  LZQ_MEASURE_CUBIC_FOOT,
  LZQ_MEASURE_G,
  LZQ_MEASURE_MG,
  LZQ_MEASURE_KG,
  LZQ_MEASURE_POUND,
  LZQ_MEASURE_OUNCE,
  LZQ_MEASURE_MG_L,
  LZQ_MEASURE_PPM, // as mg/L: mass in a volume of water, as water kits print it
  LZQ_MEASURE_UG_L,
  LZQ_MEASURE_G_M3,
  LZQ_MEASURE_MG_ML,
  LZQ_MEASURE_G_L,        // the same number as mg/mL
  LZQ_MEASURE_PERCENT_WV, // g in 100 mL
  LZQ_MEASURE_CELSIUS,
  LZQ_MEASURE_FAHRENHEIT,
  LZQ_MEASURE_KELVIN,
  LZQ_N_MEASURES
} lzq_measure;

lzq_kind lzq_measure_kind(lzq_measure measure);

// A short ASCII name ("L", "US gal", "degF"), never NULL.
const char *lzq_measure_name(lzq_measure measure);

// Into and out of the canonical unit of the measure's kind. NAN in, NAN out.
double lzq_to_canonical(lzq_measure measure, double value);
double lzq_from_canonical(lzq_measure measure, double value);

// Relative atomic masses (g/mol).
#define LZQ_MASS_H  1.008
#define LZQ_MASS_N  14.007
#define LZQ_MASS_O  15.999
#define LZQ_MASS_NA 22.990
#define LZQ_MASS_S  32.06
#define LZQ_MASS_CL 35.45
#define LZQ_MASS_CU 63.546

// What a label counts when it states a strength.
typedef enum {
  LZQ_AS_ITSELF,              // already as the analyte is counted (copper as Cu)
  LZQ_AS_COPPER_SULFATE_5H2O, // CuSO4.5H2O, 249.677 g/mol, 0.254513 of it copper
  LZQ_AS_COPPER_SULFATE,      // CuSO4, 159.602 g/mol
  LZQ_AS_SODIUM_HYPOCHLORITE, // NaOCl, counted as Cl2: 70.90 / 74.439
  LZQ_AS_AMMONIA,             // NH3, counted as N
  LZQ_AS_NITRITE,             // NO2, counted as N
  LZQ_AS_NITRATE,             // NO3, counted as N
  LZQ_N_AS
} lzq_as;

// How much of the analyte is in one unit of mass of what the label counts (above 0; 1 for itself).
double lzq_share_of(lzq_as as);

// Amounts or levels counted the one way and the other: mg of salt <-> mg of metal, and so on.
double lzq_from_label(lzq_as as, double labelled);
double lzq_to_label(lzq_as as, double counted);

// Grams in one litre of a solution sold by weight: percent w/w and density in g/mL (above 0).
double lzq_g_l_from_percent_ww(double percent, double density_g_ml);

#endif
