// SPDX-License-Identifier: GPL-3.0-or-later
// Amounts for baths, disinfection and medicated feed.
#include "lzq_bath.h"

#include <math.h>

#include "lzq_model.h"

static bool
is_amount(double value)
{
  return isfinite(value) && value >= 0.0;
}

static bool
is_positive(double value)
{
  return isfinite(value) && value > 0.0;
}

static lzq_status
refuse(lzq_amount *out)
{
  *out = (lzq_amount){.amount = NAN, .active_mg = NAN};
  return LZQ_BAD_INPUT;
}

bool
lzq_formalin_strength_ok(double strength_mg_ml)
{
  return strength_mg_ml >= LZQ_FORMALIN_LEAST && strength_mg_ml <= LZQ_FORMALIN_DENSEST;
}

bool
lzq_formalin_is_thin(double strength_mg_ml)
{
  return strength_mg_ml >= LZQ_FORMALIN_THINNEST && strength_mg_ml <= LZQ_FORMALIN_THIN;
}

double
lzq_measure_down(double exact, double step)
{
  double per_unit = round(1.0 / step); // 0.2 has no exact double, 5 has
  return per_unit > 0.0 ? floor(exact * per_unit + LZQ_EDGE) / per_unit : exact;
}

lzq_status
lzq_bath_formalin(double volume_l, double level, lzq_ppm ppm, lzq_amount *out)
{
  if (!is_positive(volume_l) || !is_amount(level))
    return refuse(out);
  *out = (lzq_amount){0};
  if (ppm == LZQ_PPM_VOLUME) {
    out->amount = volume_l * level / 1000.0;
    out->active_mg = out->amount * LZQ_FORMALIN_DENSITY * 1000.0;
    lzq_working_add(&out->working, LZQ_LINE_VOLUME_PART, volume_l, level, out->amount, 0);
    return LZQ_OK;
  }
  out->active_mg = volume_l * level;
  out->amount = out->active_mg / LZQ_FORMALIN_DENSITY / 1000.0;
  lzq_working_add(&out->working, LZQ_LINE_MASS, volume_l, level, out->active_mg, 0);
  lzq_working_add(&out->working, LZQ_LINE_DENSITY, out->active_mg, LZQ_FORMALIN_DENSITY,
                  out->amount, 0);
  return LZQ_OK;
}

lzq_status
lzq_bath_formalin_flow(double flow_l_min, double minutes, double level_ul_l, lzq_amount *out)
{
  if (!is_positive(flow_l_min) || !is_positive(minutes))
    return refuse(out);
  return lzq_bath_formalin(flow_l_min * minutes, level_ul_l, LZQ_PPM_VOLUME, out);
}

lzq_status
lzq_bath_liquid(double volume_l, double level_mg_l, double strength_mg_ml, lzq_amount *out)
{
  if (!is_positive(volume_l) || !is_amount(level_mg_l) || !is_positive(strength_mg_ml))
    return refuse(out);
  *out = (lzq_amount){.active_mg = volume_l * level_mg_l};
  out->amount = out->active_mg / strength_mg_ml;
  lzq_working_add(&out->working, LZQ_LINE_MASS, volume_l, level_mg_l, out->active_mg, 0);
  lzq_working_add(&out->working, LZQ_LINE_STOCK, out->active_mg, strength_mg_ml, out->amount, 0);
  return LZQ_OK;
}

double
lzq_available_chlorine_g_l(double percent_ww, double density_g_ml)
{
  return lzq_from_label(LZQ_AS_SODIUM_HYPOCHLORITE,
                        lzq_g_l_from_percent_ww(percent_ww, density_g_ml));
}

lzq_status
lzq_neutralise(double volume_l, double level_mg_l, double ratio, lzq_amount *out)
{
  if (!is_positive(volume_l) || !is_amount(level_mg_l) || !is_positive(ratio))
    return refuse(out);
  double chlorine = volume_l * level_mg_l;
  *out = (lzq_amount){.active_mg = chlorine * ratio};
  out->amount = out->active_mg / 1000.0;
  lzq_working_add(&out->working, LZQ_LINE_MASS, volume_l, level_mg_l, chlorine, 0);
  lzq_working_add(&out->working, LZQ_LINE_RATIO, chlorine, ratio, out->active_mg, 0);
  return LZQ_OK;
}

static double
thiosulfate_pentahydrate(void)
{
  double water = 2.0 * LZQ_MASS_H + LZQ_MASS_O;
  return 2.0 * LZQ_MASS_NA + 2.0 * LZQ_MASS_S + 3.0 * LZQ_MASS_O + 5.0 * water;
}

double
lzq_thiosulfate_to_tetrathionate(void)
{
  return 2.0 * thiosulfate_pentahydrate() / (2.0 * LZQ_MASS_CL);
}

double
lzq_thiosulfate_to_sulfate(void)
{
  return thiosulfate_pentahydrate() / (4.0 * 2.0 * LZQ_MASS_CL);
}

lzq_bath_limit
lzq_bath_formalin_check(double level_mg_l, double t_c, double minutes, bool air_on)
{
  if (!(level_mg_l <= LZQ_FORMALIN_MOST))
    return LZQ_BATH_TOO_STRONG;
  if (level_mg_l > LZQ_FORMALIN_WARM && !(t_c <= 21.0))
    return LZQ_BATH_TOO_STRONG_WARM;
  if (!(minutes <= 60.0))
    return LZQ_BATH_TOO_LONG;
  return air_on ? LZQ_BATH_KEEPS : LZQ_BATH_NO_AIR;
}

lzq_status
lzq_feed_medicate(const lzq_group *groups, uint32_t n_groups, double mg_kg_day, double ration,
                  double active_share, lzq_feed_dose *out)
{
  *out = (lzq_feed_dose){.biomass_kg = NAN};
  if (n_groups == 0 || !is_amount(mg_kg_day) || !is_positive(ration) ||
      !is_positive(active_share) || active_share > 1.0)
    return LZQ_BAD_INPUT;
  double grams = 0.0;
  for (uint32_t i = 0; i < n_groups; i++) {
    if (!is_amount(groups[i].heads) || !is_positive(groups[i].mean_mass_g))
      return LZQ_BAD_INPUT;
    double mass = groups[i].heads * groups[i].mean_mass_g;
    lzq_working_add(&out->working, LZQ_LINE_BIOMASS, groups[i].heads, groups[i].mean_mass_g, mass,
                    0);
    grams += mass;
  }
  double kg = out->biomass_kg = grams / 1000.0;
  if (n_groups > 1)
    lzq_working_add(&out->working, LZQ_LINE_BIOMASS_SUM, n_groups, kg, 0, 0);
  out->drug_mg_day = kg * mg_kg_day;
  out->feed_kg_day = kg * ration;
  out->rate_mg_kg_feed = mg_kg_day / ration;
  out->product_mg_day = out->drug_mg_day / active_share;
  lzq_working_add(&out->working, LZQ_LINE_FEED_DRUG, kg, mg_kg_day, out->drug_mg_day, 0);
  lzq_working_add(&out->working, LZQ_LINE_FEED_RATION, kg, ration, out->feed_kg_day, 0);
  lzq_working_add(&out->working, LZQ_LINE_FEED_RATE, out->drug_mg_day, out->feed_kg_day,
                  out->rate_mg_kg_feed, 0);
  if (active_share < 1.0)
    lzq_working_add(&out->working, LZQ_LINE_PRODUCT, out->drug_mg_day, active_share,
                    out->product_mg_day, 0);
  return LZQ_OK;
}

double
lzq_bath_level(const lzq_phase *phase, double t_c)
{
  if (phase->medicine != LZQ_FORMALIN || isnan(phase->dose_level))
    return phase->dose_level;
  const double level = fmin(phase->dose_level, LZQ_FORMALIN_MOST);
  const bool warm =
      lzq_bath_formalin_check(level, t_c, phase->bath_min, true) == LZQ_BATH_TOO_STRONG_WARM;
  return warm ? LZQ_FORMALIN_WARM : level;
}

#define ENOUGH 0.9

lzq_bath_verdict
lzq_bath_counts(const lzq_phase *phase, const lzq_record *bath)
{
  if (phase->kind != LZQ_PHASE_BATH || !lzq_phase_gives(phase) || bath->analyte != phase->medicine)
    return LZQ_BATH_OTHER;
  if (!bath->ok)
    return LZQ_BATH_STOPPED;
  if (bath->value < ENOUGH * phase->bath_min)
    return LZQ_BATH_SHORT;
  const double level = lzq_bath_level(phase, bath->error);
  return level > 0 && !(bath->amount >= ENOUGH * level) ? LZQ_BATH_WEAK : LZQ_BATH_COUNTS;
}
