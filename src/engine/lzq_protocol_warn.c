// SPDX-License-Identifier: GPL-3.0-or-later
// What is possible in a protocol but unusual or dangerous, each with the published or
// common-practice limit that it passes. A station may keep it: a veterinarian decides.
#include <math.h>

#include "lzq_protocol_work.h"

typedef struct {
  lzq_analyte analyte;
  lzq_form form;
  double most;
} lzq_limit;

static const lzq_limit limits[] = {
    {LZQ_COPPER, LZQ_FORM_IONIC, 0.21},     // Zec, Hadfield and Hungerford 2021
    {LZQ_COPPER, LZQ_FORM_AMINE, 0.60},     // common practice, no source
    {LZQ_COPPER, LZQ_FORM_CHELATED, 2.5},   // common practice, no source
    {LZQ_PRAZIQUANTEL, LZQ_FORM_NONE, 2.0}, // Thomas 2016
    {LZQ_FORMALIN, LZQ_FORM_NONE, 250},     // short bath, Francis-Floyd VM061
    {LZQ_CHLOROQUINE, LZQ_FORM_NONE, 15},   // value from memory
    {LZQ_PEROXIDE, LZQ_FORM_NONE, 100}, // stops nitrification within a day, Schwartz et al. 2000
};

static const double low_salinity = 10.0;      // Colorni 1985; Yanong FA164
static const double copper_low_salinity = 16; // below it copper and low salinity together: stop
static const double usual_rise_day = 0.2; // complexed copper to 0.50 in three days, common practice
static const int64_t short_hold = 14LL * LZQ_DAY; // common practice, no source

static void
level_high(lzq_findings *all, const char *field, double level, lzq_analyte analyte, lzq_form form)
{
  for (size_t i = 0; i < sizeof limits / sizeof *limits; i++) {
    double most = limits[i].most;
    if (limits[i].analyte != analyte || (analyte == LZQ_COPPER && limits[i].form != form))
      continue;
    if (form == LZQ_FORM_IONIC && all->context->copper_limit > 0)
      most = fmin(most, all->context->copper_limit);
    if (isfinite(level) && level > most + LZQ_EDGE)
      lzq_finding_add(all, LZQ_FINDING_LEVEL_HIGH, field, level, most, analyte, form);
  }
}

double
lzq_published_limit(lzq_analyte analyte, lzq_form form)
{
  for (size_t i = 0; i < sizeof limits / sizeof *limits; i++)
    if (limits[i].analyte == analyte && (analyte != LZQ_COPPER || limits[i].form == form))
      return limits[i].most;
  return NAN;
}

bool
lzq_levels_exclude(lzq_analyte medicine, double lowest, double highest)
{
  return highest > fmax(lowest, lzq_published_limit(medicine, LZQ_FORM_NONE)) + LZQ_EDGE;
}

static int32_t
longest_test_gap(const lzq_protocol_context *context)
{
  int64_t longest = 0;
  lzq_minute before = LZQ_LONG_AGO;
  for (uint32_t i = 0; i < context->n_slots; i++) {
    if (!context->slots[i].test)
      continue;
    if (before != LZQ_LONG_AGO && context->slots[i].at - before > longest)
      longest = context->slots[i].at - before;
    before = context->slots[i].at;
  }
  return longest > INT32_MAX ? INT32_MAX : (int32_t)longest;
}

static void
warn_band(lzq_findings *all, const lzq_band *band)
{
  bool doses = band->side != LZQ_AT_OR_BELOW;
  if (doses && band->analyte != LZQ_SALINITY) {
    level_high(all, "target", band->target, band->analyte, band->form);
    if (isfinite(band->plan) && band->plan > band->target)
      level_high(all, "plan", band->plan, band->analyte, band->form);
    if (!isfinite(band->harm) && lzq_analyte_carried(band->analyte))
      lzq_finding_add(all, LZQ_FINDING_NO_HARM_EDGE, "harm", band->analyte, 0, 0, 0);
  }
  if (band->analyte == LZQ_SALINITY && band->target < low_salinity - LZQ_EDGE)
    lzq_finding_add(all, LZQ_FINDING_LEVEL_LOW, "target", band->target, low_salinity, LZQ_SALINITY,
                    0);
  int32_t gap = longest_test_gap(all->context);
  if (gap > 0 && band->gap_min < gap)
    lzq_finding_add(all, LZQ_FINDING_GAP_SHORT, "gap_min", band->gap_min, gap, 0, 0);
  else if (gap > 0 && band->gap_min < gap + 5)
    lzq_finding_add(all, LZQ_FINDING_GAP_NO_SLACK, "gap_min", band->gap_min, gap, 0, 0);
}

static const lzq_band *
band_of(const lzq_phase *phase, lzq_analyte analyte, bool dosed)
{
  for (uint32_t i = 0; i < phase->n_bands; i++)
    if (phase->bands[i].analyte == analyte && (!dosed || phase->bands[i].side != LZQ_AT_OR_BELOW))
      return &phase->bands[i];
  return NULL;
}

static bool
holds(const lzq_phase *phase, lzq_analyte analyte)
{
  bool dose = phase->kind == LZQ_PHASE_MEDICATE || phase->kind == LZQ_PHASE_BATH;
  return band_of(phase, analyte, true) ||
         (dose && phase->medicine == analyte && phase->dose_level > 0);
}

static void
warn_species(lzq_findings *all, const lzq_phase *phase)
{
  uint32_t traits = all->context->traits;
  const lzq_band *salt = band_of(phase, LZQ_SALINITY, false);
  if (holds(phase, LZQ_COPPER)) {
    for (uint32_t trait = LZQ_TRAIT_INVERTEBRATE; trait <= LZQ_TRAIT_COPPER_SENSITIVE; trait *= 2)
      if (traits & trait)
        lzq_finding_add(all, LZQ_FINDING_COPPER_SPECIES, "bands", trait, 0, 0, 0);
    if (traits & LZQ_TRAIT_COPPER_UNKNOWN)
      lzq_finding_add(all, LZQ_FINDING_COPPER_UNKNOWN, "bands", LZQ_TRAIT_COPPER_UNKNOWN, 0, 0, 0);
  }
  if (salt && salt->side == LZQ_AT_OR_BELOW && traits & LZQ_TRAIT_LOW_SALT_SENSITIVE)
    lzq_finding_add(all, LZQ_FINDING_LOW_SALT_SPECIES, "bands", LZQ_TRAIT_LOW_SALT_SENSITIVE, 0, 0,
                    0);
}

// Medicines that should not meet: each pair within one phase (value from memory, common practice:
// oxidisers and formalin with anything else; chloroquine with copper).
static void
warn_meet(lzq_findings *all, const lzq_phase *phase)
{
  static const lzq_analyte medicines[] = {LZQ_COPPER, LZQ_CHLOROQUINE, LZQ_FORMALIN, LZQ_PEROXIDE,
                                          LZQ_CHLORINE};
  const size_t n = sizeof medicines / sizeof *medicines;
  for (size_t i = 0; i < n; i++)
    for (size_t j = i + 1; j < n; j++)
      if (holds(phase, medicines[i]) && holds(phase, medicines[j]))
        lzq_finding_add(all, LZQ_FINDING_MEET, "medicine", medicines[i], medicines[j], 0, 0);
  const lzq_band *copper = band_of(phase, LZQ_COPPER, true);
  const lzq_band *salt = band_of(phase, LZQ_SALINITY, false);
  if (copper && salt && salt->target < copper_low_salinity)
    lzq_finding_add(all, LZQ_FINDING_MEET_LOW_SALT, "bands", copper->target, salt->target, 0, 0);
  static const lzq_gear fights[] = {LZQ_GEAR_CARBON, LZQ_GEAR_RESIN};
  for (size_t i = 0; copper && i < 2; i++)
    if (!((phase->gear_off >> fights[i]) & 1))
      lzq_finding_add(all, LZQ_FINDING_GEAR_FIGHTS, "gear_off", fights[i], 0, 0, 0);
}

static void
warn_rates(lzq_findings *all, const lzq_phase *phase)
{
  if (phase->rise_per_day > usual_rise_day + LZQ_EDGE && band_of(phase, LZQ_COPPER, true))
    lzq_finding_add(all, LZQ_FINDING_FAST_RISE, "rise_per_day", phase->rise_per_day, usual_rise_day,
                    0, 0);
  if (phase->salinity_fall_day > LZQ_USUAL_SALINITY_FALL + LZQ_EDGE)
    lzq_finding_add(all, LZQ_FINDING_FAST_SALINITY, "salinity_fall_day", phase->salinity_fall_day,
                    LZQ_USUAL_SALINITY_FALL, 0, 0);
  if (phase->salinity_rise_day > LZQ_USUAL_SALINITY_RISE + LZQ_EDGE)
    lzq_finding_add(all, LZQ_FINDING_FAST_SALINITY, "salinity_rise_day", phase->salinity_rise_day,
                    LZQ_USUAL_SALINITY_RISE, 0, 0);
  if (phase->kind == LZQ_PHASE_HOLD && phase->n_bands > 0 && phase->min_credit_min > 0 &&
      phase->min_credit_min < short_hold)
    lzq_finding_add(all, LZQ_FINDING_SHORT_HOLD, "min_credit_min", (double)phase->min_credit_min,
                    (double)short_hold, 0, 0);
  if (phase->kind == LZQ_PHASE_BATH && phase->medicine == LZQ_FORMALIN && phase->bath_min > 60)
    lzq_finding_add(all, LZQ_FINDING_BATH_LONG, "bath_min", phase->bath_min, 60, 0, 0);
  if ((phase->kind == LZQ_PHASE_BATH || phase->kind == LZQ_PHASE_MEDICATE) &&
      phase->medicine != LZQ_COPPER)
    level_high(all, "dose_level", phase->dose_level, phase->medicine, LZQ_FORM_NONE);
}

void
lzq_protocol_warn(lzq_findings *all, const lzq_phase *phases, uint32_t index)
{
  const lzq_phase *phase = &phases[index];
  for (all->band = 0; all->band < phase->n_bands; all->band++)
    warn_band(all, &phase->bands[all->band]);
  all->band = LZQ_NONE;
  warn_species(all, phase);
  warn_meet(all, phase);
  warn_rates(all, phase);
  // an earlier phase that goes back less far: then one more sighting can bring a release forward
  for (uint32_t i = 0; i < index; i++)
    if (phases[i].sighting_to > phase->sighting_to) {
      lzq_finding_add(all, LZQ_FINDING_SIGHTING_BACK, "sighting_to", phase->sighting_to,
                      phases[i].sighting_to, 0, 0);
      break;
    }
}
