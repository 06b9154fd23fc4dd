// SPDX-License-Identifier: GPL-3.0-or-later
// Protocols of a snapshot: what would make a replay of them meaningless is refused here. Whether a
// protocol is wise (limits, rhythm, species) is another question, answered by its validation.
#include "lzq_model_check.h"

static bool
beyond(double edge, double from, bool above)
{
  return isnan(edge) || (isfinite(edge) && (above ? edge >= from : edge <= from));
}

// Name of the first field that breaks a rule, with its value; NULL = none.
static const char *
band_fault(const lzq_band *band, double *value)
{
  const bool above = band->side != LZQ_AT_OR_BELOW;
  const double far_edge = band->side == LZQ_BETWEEN ? band->works_high : band->works;
  if ((uint32_t)band->analyte >= LZQ_N_ANALYTES)
    return *value = band->analyte, "analyte";
  if ((uint32_t)band->form >= LZQ_N_FORMS)
    return *value = band->form, "form";
  if ((uint32_t)band->side > LZQ_BETWEEN)
    return *value = band->side, "side";
  if (!isfinite(band->works))
    return *value = band->works, "works";
  if (band->side == LZQ_BETWEEN && (!isfinite(far_edge) || far_edge < band->works))
    return *value = far_edge, "works_high";
  if (isinf(band->target))
    return *value = band->target, "target";
  if (!beyond(band->plan, far_edge, above))
    return *value = band->plan, "plan";
  if (!beyond(band->harm, isnan(band->plan) ? far_edge : band->plan, above))
    return *value = band->harm, "harm";
  if (band->gap_min < 0)
    return *value = band->gap_min, "gap_min";
  return NULL;
}

static const char *
phase_range_fault(const lzq_phase *phase, double *value)
{
  const struct {
    double value;
    const char *field;
  } numbers[] = {
      {phase->rise_per_day, "rise_per_day"},
      {phase->salinity_fall_day, "salinity_fall_day"},
      {phase->salinity_rise_day, "salinity_rise_day"},
      {phase->salinity_step, "salinity_step"},
      {phase->tol_copper, "tol_copper"},
      {phase->tol_salinity, "tol_salinity"},
      {phase->tol_temperature, "tol_temperature"},
      {phase->tol_ph, "tol_ph"},
      {phase->tol_copper_free, "tol_copper_free"},
      {phase->dose_level, "dose_level"},
      {phase->eaten_share, "eaten_share"},
      {phase->rise_steps, "rise_steps"},
      {phase->step_gap_min, "step_gap_min"},
      {phase->late_tolerance_min, "late_tolerance_min"},
      {phase->bath_min, "bath_min"},
      {phase->warm_from, "warm_from"},
      {phase->warm_to, "warm_to"},
      {phase->eating_days, "eating_days"},
  };
  for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
    if (!lzq_number_or_none(numbers[i].value))
      return *value = numbers[i].value, numbers[i].field;
  if (phase->eating_days > LZQ_MAX_EATING_DAYS)
    return *value = phase->eating_days, "eating_days";
  if (phase->eating_days && !(phase->eaten_share <= 1))
    return *value = phase->eaten_share, "eaten_share";
  return NULL;
}

static const char *
phase_fault(const lzq_phase *phase, double *value)
{
  const struct {
    uint32_t value, n;
    const char *field;
  } choices[] = {
      {phase->kind, LZQ_N_PHASE_KINDS, "kind"},
      {phase->place, LZQ_PLACE_NEXT_CLEAN + 1, "place"},
      {phase->role, LZQ_N_ROLES, "role"},
      {phase->n_bands, LZQ_MAX_BANDS + 1, "n_bands"},
      {phase->sign, LZQ_SIGN_VET + 1, "sign"},
      {phase->lapse, LZQ_LAPSE_RESTART + 1, "lapse"},
      {phase->medicine, LZQ_N_ANALYTES, "medicine"},
  };
  for (size_t i = 0; i < sizeof choices / sizeof *choices; i++)
    if (choices[i].value >= choices[i].n)
      return *value = choices[i].value, choices[i].field;
  if (!lzq_duration_ok(phase->min_elapsed_min))
    return *value = (double)phase->min_elapsed_min, "min_elapsed_min";
  if (!lzq_duration_ok(phase->min_credit_min))
    return *value = (double)phase->min_credit_min, "min_credit_min";
  if (!lzq_duration_ok(phase->quiet_min))
    return *value = (double)phase->quiet_min, "quiet_min";
  return phase_range_fault(phase, value);
}

static lzq_status
check_phase(const lzq_phase *phase, uint32_t index, lzq_fault *fault)
{
  double value = NAN;
  const char *field = phase_fault(phase, &value);
  if (field)
    return lzq_fault_set(fault, LZQ_FAULT_PHASE, index, index, field, value);
  for (uint32_t b = 0; b < phase->n_bands; b++) {
    field = band_fault(&phase->bands[b], &value);
    if (field)
      return lzq_fault_set(fault, LZQ_FAULT_BAND, b, index, field, value);
  }
  return LZQ_OK;
}

lzq_status
lzq_check_protocols(const lzq_snapshot *snapshot, lzq_fault *fault)
{
  for (uint32_t i = 0; i < snapshot->n_phases; i++) {
    lzq_status status = check_phase(&snapshot->phases[i], i, fault);
    if (status != LZQ_OK)
      return status;
  }
  for (uint32_t i = 0; i < snapshot->n_protocols; i++) {
    const lzq_protocol *protocol = &snapshot->protocols[i];
    if (protocol->n_phases < 1 || protocol->n_phases > LZQ_MAX_PHASES)
      return lzq_fault_set(fault, LZQ_FAULT_PROTOCOL, i, 0, "n_phases", protocol->n_phases);
    if (protocol->first_phase > snapshot->n_phases ||
        protocol->n_phases > snapshot->n_phases - protocol->first_phase)
      return lzq_fault_set(fault, LZQ_FAULT_PROTOCOL, i, 0, "first_phase", protocol->first_phase);
    for (uint32_t p = 0; p < protocol->n_phases; p++) {
      uint32_t index = protocol->first_phase + p;
      uint32_t back = snapshot->phases[index].sighting_to;
      if (back > p)
        return lzq_fault_set(fault, LZQ_FAULT_PHASE, index, index, "sighting_to", back);
    }
  }
  return LZQ_OK;
}
