// SPDX-License-Identifier: GPL-3.0-or-later
// The check that every other engine call relies on: no index out of its array, no number that is
// not one, nothing out of order. Set-up here, records in lzq_model_records.c.
#include "lzq_model_check.h"

bool
lzq_analyte_carried(lzq_analyte analyte)
{
  switch (analyte) {
  case LZQ_COPPER:
  case LZQ_SALINITY:
  case LZQ_PRAZIQUANTEL:
  case LZQ_CHLOROQUINE:
  case LZQ_FORMALIN:
  case LZQ_PEROXIDE: return true;
  default: return false;
  }
}

uint32_t
lzq_bottle_pick(const lzq_bottle *bottles, uint32_t n, lzq_analyte analyte, lzq_form form,
                lzq_minute now)
{
  uint32_t spent = LZQ_NONE;
  for (uint32_t i = n; i-- > 0;) {
    const lzq_bottle *bottle = &bottles[i];
    bool fits = analyte != LZQ_COPPER || form == LZQ_FORM_NONE || bottle->form == form;
    if (bottle->analyte != analyte || !fits ||
        (bottle->expires_at != 0 && now >= bottle->expires_at))
      continue;
    if (!bottle->spent)
      return i;
    if (spent == LZQ_NONE)
      spent = i;
  }
  return spent;
}

bool
lzq_gear_takes_out(lzq_gear gear, lzq_analyte analyte)
{
  return (gear == LZQ_GEAR_CARBON || gear == LZQ_GEAR_RESIN) && lzq_analyte_carried(analyte) &&
         analyte != LZQ_SALINITY;
}

double
lzq_copper_free(const lzq_phase *phase)
{
  return phase->tol_copper_free > 0 ? phase->tol_copper_free : LZQ_NONE_LEFT;
}

bool
lzq_phase_gives(const lzq_phase *phase)
{
  if (phase->kind == LZQ_PHASE_BATH)
    return phase->bath_min > 0;
  bool has_band = false;
  for (uint32_t b = 0; b < phase->n_bands; b++)
    has_band = has_band || phase->bands[b].analyte == phase->medicine;
  return phase->kind == LZQ_PHASE_MEDICATE && phase->dose_level > 0 && !has_band;
}

bool
lzq_phase_doses(const lzq_phase *phase)
{
  return phase->kind == LZQ_PHASE_MEDICATE && lzq_phase_gives(phase);
}

// Every level that earns in `a` earns in `b`, on readings no older.
static bool
band_serves(const lzq_band *a, const lzq_band *b)
{
  if (a->analyte != b->analyte || a->form != b->form || a->side != b->side ||
      a->gap_min > b->gap_min || (b->error_inside && !a->error_inside))
    return false;
  switch (b->side) {
  case LZQ_AT_OR_BELOW: return a->works <= b->works;
  case LZQ_BETWEEN: return a->works >= b->works && a->works_high <= b->works_high;
  default: return a->works >= b->works;
  }
}

static bool
bands_serve(const lzq_phase *earned, const lzq_phase *asked)
{
  for (uint32_t b = 0; b < asked->n_bands; b++) {
    bool served = false;
    for (uint32_t a = 0; a < earned->n_bands && !served; a++)
      served = band_serves(&earned->bands[a], &asked->bands[b]);
    if (!served)
      return false;
  }
  return true;
}

// An end that is NaN or 0 is open.
static bool
warmth_serves(const lzq_phase *earned, const lzq_phase *asked)
{
  return (!(asked->warm_from > 0) || earned->warm_from >= asked->warm_from) &&
         (!(asked->warm_to > 0) || (earned->warm_to > 0 && earned->warm_to <= asked->warm_to));
}

// What was given: the same medicine, as strong, in a bath as long.
static bool
medicine_serves(const lzq_phase *earned, const lzq_phase *asked)
{
  const bool as_strong = !(asked->dose_level > 0) || earned->dose_level >= asked->dose_level;
  return earned->medicine == asked->medicine && as_strong && earned->bath_min >= asked->bath_min &&
         lzq_phase_gives(earned) == lzq_phase_gives(asked);
}

static bool
lapse_serves(const lzq_phase *earned, const lzq_phase *asked)
{
  return asked->lapse_min < 0 ||
         (earned->lapse_min >= 0 && earned->lapse_min <= asked->lapse_min &&
          (earned->lapse == asked->lapse || earned->lapse == LZQ_LAPSE_RESTART));
}

bool
lzq_phase_serves(const lzq_phase *earned, const lzq_phase *asked)
{
  const bool same_place = earned->place == asked->place &&
                          (asked->place != LZQ_PLACE_ROLE || earned->role == asked->role);
  return earned->kind == asked->kind && same_place && bands_serve(earned, asked) &&
         warmth_serves(earned, asked) && medicine_serves(earned, asked) &&
         lapse_serves(earned, asked);
}

static bool
share_ok(double share)
{
  return lzq_number_ok(share) && share <= 1;
}

static lzq_status
check_station(const lzq_station *station, lzq_fault *fault)
{
  const char *field = NULL;
  double value = NAN;
  if (!share_ok(station->missed_share))
    field = "missed_share", value = station->missed_share;
  else if (!lzq_duration_ok(station->accept_max_min))
    field = "accept_max_min", value = (double)station->accept_max_min;
  else if (!lzq_duration_ok(station->contact_days))
    field = "contact_days", value = (double)station->contact_days;
  else if (!lzq_number_or_none(station->copper_limit))
    field = "copper_limit", value = station->copper_limit;
  return field ? lzq_fault_set(fault, LZQ_FAULT_ARGUMENT, 0, 0, field, value) : LZQ_OK;
}

static lzq_status
check_systems(const lzq_snapshot *snapshot, lzq_fault *fault)
{
  for (uint32_t i = 0; i < snapshot->n_systems; i++) {
    const lzq_system *system = &snapshot->systems[i];
    const char *field = NULL;
    double value = NAN;
    if (!lzq_number_ok(system->volume_l) || system->volume_l <= 0)
      field = "volume_l", value = system->volume_l;
    else if ((uint32_t)system->role >= LZQ_N_ROLES)
      field = "role", value = system->role;
    else if (system->mixing_min < 0)
      field = "mixing_min", value = system->mixing_min;
    else if (!share_ok(system->max_change_day))
      field = "max_change_day", value = system->max_change_day;
    else if (!lzq_number_or_none(system->source_salinity))
      field = "source_salinity", value = system->source_salinity;
    if (field)
      return lzq_fault_set(fault, LZQ_FAULT_SYSTEM, i, 0, field, value);
  }
  for (uint32_t i = 0; i < snapshot->n_tanks; i++) {
    const lzq_tank *tank = &snapshot->tanks[i];
    if (tank->system >= snapshot->n_systems)
      return lzq_fault_set(fault, LZQ_FAULT_TANK, i, 0, "system", tank->system);
    if (!lzq_number_ok(tank->volume_l))
      return lzq_fault_set(fault, LZQ_FAULT_TANK, i, 0, "volume_l", tank->volume_l);
  }
  return LZQ_OK;
}

static lzq_status
check_supplies(const lzq_snapshot *snapshot, lzq_fault *fault)
{
  for (uint32_t i = 0; i < snapshot->n_instruments; i++) {
    const lzq_instrument *instrument = &snapshot->instruments[i];
    if (!lzq_number_ok(instrument->error_abs))
      return lzq_fault_set(fault, LZQ_FAULT_INSTRUMENT, i, 0, "error_abs", instrument->error_abs);
    if (instrument->check_days < 0)
      return lzq_fault_set(fault, LZQ_FAULT_INSTRUMENT, i, 0, "check_days", instrument->check_days);
    if (!lzq_number_ok(instrument->error_rel))
      return lzq_fault_set(fault, LZQ_FAULT_INSTRUMENT, i, 0, "error_rel", instrument->error_rel);
    if (!lzq_number_ok(instrument->resolution))
      return lzq_fault_set(fault, LZQ_FAULT_INSTRUMENT, i, 0, "resolution", instrument->resolution);
  }
  for (uint32_t i = 0; i < snapshot->n_bottles; i++) {
    const lzq_bottle *bottle = &snapshot->bottles[i];
    if ((uint32_t)bottle->analyte >= LZQ_N_ANALYTES)
      return lzq_fault_set(fault, LZQ_FAULT_BOTTLE, i, 0, "analyte", bottle->analyte);
    if ((uint32_t)bottle->form >= LZQ_N_FORMS)
      return lzq_fault_set(fault, LZQ_FAULT_BOTTLE, i, 0, "form", bottle->form);
    if (!lzq_number_ok(bottle->strength_mg_ml) || bottle->strength_mg_ml <= 0)
      return lzq_fault_set(fault, LZQ_FAULT_BOTTLE, i, 0, "strength_mg_ml", bottle->strength_mg_ml);
  }
  for (uint32_t i = 0; i < snapshot->n_lots; i++)
    if (!lzq_number_or_none(snapshot->lots[i].mean_mass_g))
      return lzq_fault_set(fault, LZQ_FAULT_LOT, i, 0, "mean_mass_g",
                           snapshot->lots[i].mean_mass_g);
  return LZQ_OK;
}

static lzq_status
check_lists(const lzq_snapshot *snapshot, lzq_fault *fault)
{
  const struct {
    const void *items;
    size_t n;
    const char *field;
  } lists[] = {
      {snapshot->systems, snapshot->n_systems, "systems"},
      {snapshot->tanks, snapshot->n_tanks, "tanks"},
      {snapshot->instruments, snapshot->n_instruments, "instruments"},
      {snapshot->bottles, snapshot->n_bottles, "bottles"},
      {snapshot->phases, snapshot->n_phases, "phases"},
      {snapshot->protocols, snapshot->n_protocols, "protocols"},
      {snapshot->lots, snapshot->n_lots, "lots"},
      {snapshot->records, snapshot->n_records, "records"},
      {snapshot->slots, snapshot->n_slots, "slots"},
  };
  for (size_t i = 0; i < sizeof lists / sizeof *lists; i++)
    if (!lists[i].items && lists[i].n)
      return lzq_fault_set(fault, LZQ_FAULT_ARGUMENT, 0, 0, lists[i].field, NAN);
  return LZQ_OK;
}

static lzq_status
check_slots(const lzq_snapshot *snapshot, lzq_fault *fault)
{
  for (uint32_t i = 0; i < snapshot->n_slots; i++) {
    lzq_minute at = snapshot->slots[i].at;
    if (!lzq_minute_ok(at) || (i && at <= snapshot->slots[i - 1].at))
      return lzq_fault_set(fault, LZQ_FAULT_SLOT, i, 0, "at", (double)at);
  }
  return LZQ_OK;
}

lzq_status
lzq_setup_check(const lzq_snapshot *snapshot, lzq_fault *fault)
{
  static lzq_status (*const checks[])(const lzq_snapshot *, lzq_fault *) = {
      check_lists, check_systems, check_supplies, lzq_check_protocols, check_slots,
  };
  if (fault)
    *fault = (lzq_fault){.field = "", .value = NAN};
  lzq_status status = check_station(&snapshot->station, fault);
  for (size_t i = 0; i < sizeof checks / sizeof *checks && status == LZQ_OK; i++)
    status = checks[i](snapshot, fault);
  return status;
}

lzq_status
lzq_snapshot_check(const lzq_snapshot *snapshot, lzq_fault *fault)
{
  const lzq_status status = lzq_setup_check(snapshot, fault);
  return status == LZQ_OK ? lzq_check_records(snapshot, 0, fault) : status;
}
