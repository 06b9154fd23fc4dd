// SPDX-License-Identifier: GPL-3.0-or-later
// Baths, bleach and its neutraliser, and medicated feed: amounts with their working.
//
// These can hurt people. The program shows the usual cautions beside each (gloves, eye protection,
// air, never mix bleach with acid or ammonia, formalin exposure limits), and defers to the label,
// local rules and a veterinarian. Units: litres, mg/L, mL, g. Amounts of liquids in mL, of solids
// in g.
//
// Sources: formalin "ppm" as weight in volume of the 37 % solution, density 1.08 g/mL (Piper et al.
// 1982, Fish Hatchery Management, p. 276) or as uL/L (21 CFR 529.1030); limits 250 mg/L, 150 mg/L
// above 21 °C, at most 60 minutes (Francis-Floyd, UF/IFAS VM-77); peroxide 35 % w/w = 396.1 mg/mL
// (21 CFR 529.1150); thiosulfate: 2 Na2S2O3 + Cl2 -> Na2S4O6 + 2 NaCl.
#ifndef LZQ_BATH_H
#define LZQ_BATH_H

#include "lzq_dose.h"
#include "lzq_model.h"

#define LZQ_FORMALIN_DENSITY 1.08 // g/mL
// A strength of formalin counts the whole 37 % solution, never the formaldehyde in it, 400 mg/mL:
// by density 1,080 mg/mL, and no stock is far from it (the range: house rule, no source).
#define LZQ_FORMALIN_LEAST   1000.0 // mg/mL
#define LZQ_FORMALIN_DENSEST 1150.0
// Diluted, counted in the same way: "10 % formalin" is 108 mg/mL and 3.7 % formaldehyde. What is
// sold and fixed with lies between; numbers of formaldehyde in the whole solution (37, 370 to 410)
// do not.
#define LZQ_FORMALIN_THINNEST 50.0
#define LZQ_FORMALIN_THIN     300.0
#define LZQ_FORMALDEHYDE      37.0  // % in the whole solution
#define LZQ_FORMALIN_MOST     250.0 // mg/L
#define LZQ_FORMALIN_WARM     150.0 // mg/L, the most above 21 °C
#define LZQ_PEROXIDE_35       396.1 // mg/mL, 35 % w/w
#define LZQ_THIOSULFATE_RATIO 7.0   // mg pentahydrate per mg Cl2, printed; stoichiometric 7.0006
#define LZQ_THIOSULFATE_LOW   5.0   // printed practice, Standard Methods 23rd ed. as quoted
#define LZQ_THIOSULFATE_HIGH  7.4   // printed practice, Piper et al. 1982 p. 283

typedef enum {
  LZQ_PPM_WEIGHT, // mg of formalin in a litre: mL = V c / density
  LZQ_PPM_VOLUME, // uL of formalin in a litre: mL = V c / 1000
} lzq_ppm;

typedef struct {
  double amount;    // mL of liquid, or g of solid
  double active_mg; // of what acts
  lzq_working working;
} lzq_amount;

// All: LZQ_BAD_INPUT (amount NAN) where an argument is negative, not finite, or zero where it
// divides.

// Formalin for volume_l to `level` (mg/L or uL/L by `ppm`), in mL.
lzq_status lzq_bath_formalin(double volume_l, double level, lzq_ppm ppm, lzq_amount *out);

// Whether a strength can be that of formalin: counted as formaldehyde it would make a bath of 2.7
// times what was meant.
bool lzq_formalin_strength_ok(double strength_mg_ml);
// The same of one that was diluted, where whoever enters it says that it is formalin.
bool lzq_formalin_is_thin(double strength_mg_ml);

// The most of `exact` that hands can measure in whole steps: an amount at a published limit is
// rounded down, never beyond it.
double lzq_measure_down(double exact, double step);

// Formalin for an inflow kept at uL/L for some minutes: flow_l_min * minutes * level / 1000, in mL.
lzq_status lzq_bath_formalin_flow(double flow_l_min, double minutes, double level_ul_l,
                                  lzq_amount *out);

// Any liquid whose strength is known (peroxide, bleach as g/L available chlorine = mg/mL): mL = V c
// / strength.
lzq_status lzq_bath_liquid(double volume_l, double level_mg_l, double strength_mg_ml,
                           lzq_amount *out);

// Available chlorine, g/L, of bleach sold as percent NaOCl by weight, density in g/mL.
double lzq_available_chlorine_g_l(double percent_ww, double density_g_ml);

// Thiosulfate pentahydrate, g, that neutralises level_mg_l of chlorine in volume_l, at `ratio` mg
// per mg.
lzq_status lzq_neutralise(double volume_l, double level_mg_l, double ratio, lzq_amount *out);

// mg of thiosulfate pentahydrate per mg of chlorine from atomic masses: to tetrathionate or to
// sulfate.
double lzq_thiosulfate_to_tetrathionate(void);
double lzq_thiosulfate_to_sulfate(void);

// Whether a formalin bath keeps the published limits; the first that it breaks.
typedef enum {
  LZQ_BATH_KEEPS = 0,
  LZQ_BATH_TOO_STRONG,      // above 250 mg/L
  LZQ_BATH_TOO_STRONG_WARM, // above 150 mg/L in water warmer than 21 °C (or of unknown temperature)
  LZQ_BATH_TOO_LONG,        // more than 60 minutes
  LZQ_BATH_NO_AIR,          // 5 mg/L of formalin takes 1 mg/L of oxygen: air must be on
} lzq_bath_limit;
lzq_bath_limit lzq_bath_formalin_check(double level_mg_l, double t_c, double minutes, bool air_on);

// Whether a bath on record is one that a phase asks for: its medicine, not ended early, at least
// nine tenths of its minutes and of its strength (house rule, no source: what a clock and a syringe
// make of them). In water warmer than 21 °C, or not read, formalin need be no stronger than is
// published.
typedef enum {
  LZQ_BATH_COUNTS = 0,
  LZQ_BATH_OTHER,   // another medicine, or the phase asks for no bath
  LZQ_BATH_STOPPED, // ended early
  LZQ_BATH_SHORT,
  LZQ_BATH_WEAK, // or of a strength that nobody knows
} lzq_bath_verdict;
lzq_bath_verdict lzq_bath_counts(const lzq_phase *phase, const lzq_record *bath);
// mg/L that a bath of the phase needs in water of t_c (NAN = not read).
double lzq_bath_level(const lzq_phase *phase, double t_c);

// --- medicated feed
// -------------------------------------------------------------------------------

typedef struct {
  double heads;
  double mean_mass_g;
} lzq_group;

typedef struct {
  double biomass_kg;
  double drug_mg_day;    // active
  double product_mg_day; // drug / active share
  double feed_kg_day;
  double rate_mg_kg_feed; // active in feed
  lzq_working working;
} lzq_feed_dose;

// mg_kg_day of active substance per kg of fish and day, ration as share of body mass a day, active
// share of the product (0..1]. LZQ_BAD_INPUT on the first group without a known mass.
lzq_status lzq_feed_medicate(const lzq_group *groups, uint32_t n_groups, double mg_kg_day,
                             double ration, double active_share, lzq_feed_dose *out);

#endif
