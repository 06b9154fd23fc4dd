// SPDX-License-Identifier: GPL-3.0-or-later
// Records of a snapshot: each names only what exists, and only with numbers that can be meant.
#include "lzq_model_check.h"

// What a record of each kind must name. Fields that its kind does not name are not looked at.
enum {
  NEEDS_SYSTEM = 1,
  NEEDS_LOT = 2,
  NEEDS_TANK = 4,
  MAY_TANK = 8, // or none
  MAY_LOT = 16,
  NEEDS_OTHER = 32,
  NEEDS_HEADS = 64,
  NEEDS_AMOUNT = 128,
  NEEDS_PHASE = 256,
};

static const uint16_t needs[LZQ_N_RECORD_KINDS] = {
    [LZQ_REC_RECEIVE] = NEEDS_LOT | MAY_TANK | NEEDS_HEADS,
    [LZQ_REC_VOLUME] = NEEDS_SYSTEM | NEEDS_AMOUNT,
    [LZQ_REC_STATE] = NEEDS_SYSTEM,
    [LZQ_REC_CHECK] = 0,
    [LZQ_REC_READING] = NEEDS_SYSTEM,
    [LZQ_REC_CHANGE] = NEEDS_SYSTEM | NEEDS_AMOUNT,
    [LZQ_REC_TOPUP] = NEEDS_SYSTEM | NEEDS_AMOUNT,
    [LZQ_REC_DOSE] = NEEDS_SYSTEM | NEEDS_AMOUNT,
    [LZQ_REC_GEAR] = NEEDS_SYSTEM,
    [LZQ_REC_SIGHTING] = NEEDS_SYSTEM | MAY_LOT | MAY_TANK | NEEDS_HEADS,
    [LZQ_REC_COUNT] = NEEDS_LOT | NEEDS_HEADS,
    [LZQ_REC_DEATH] = NEEDS_LOT | NEEDS_HEADS,
    [LZQ_REC_FEED] = NEEDS_LOT | NEEDS_AMOUNT,
    [LZQ_REC_SIGN] = NEEDS_LOT | NEEDS_PHASE,
    [LZQ_REC_ACCEPT] = NEEDS_LOT | NEEDS_PHASE | NEEDS_AMOUNT,
    [LZQ_REC_ACCEPT_OPEN] = NEEDS_LOT,
    [LZQ_REC_SPLIT] = NEEDS_LOT | NEEDS_OTHER | NEEDS_HEADS,
    [LZQ_REC_MOVE] = NEEDS_LOT | NEEDS_TANK,
    [LZQ_REC_MERGE] = NEEDS_LOT | NEEDS_OTHER,
    [LZQ_REC_STOP] = NEEDS_LOT,
    [LZQ_REC_COURSE] = NEEDS_LOT | NEEDS_PHASE,
    [LZQ_REC_RELEASE] = NEEDS_LOT,
    [LZQ_REC_BATH] = NEEDS_LOT,
    [LZQ_REC_SCRAPE] = NEEDS_LOT,
};

static const char *
index_fault(const lzq_snapshot *snapshot, const lzq_record *record, double *value)
{
  const uint16_t need = needs[record->kind];
  if ((need & NEEDS_SYSTEM) && record->system >= snapshot->n_systems)
    return *value = record->system, "system";
  if (((need & NEEDS_LOT) || ((need & MAY_LOT) && record->lot != LZQ_NONE)) &&
      record->lot >= snapshot->n_lots)
    return *value = record->lot, "lot";
  if (((need & NEEDS_TANK) || ((need & MAY_TANK) && record->tank != LZQ_NONE)) &&
      record->tank >= snapshot->n_tanks)
    return *value = record->tank, "tank";
  if ((need & NEEDS_OTHER) && (record->other >= snapshot->n_lots || record->other == record->lot))
    return *value = record->other, "other";
  if ((need & NEEDS_HEADS) && record->heads < 0)
    return *value = record->heads, "heads";
  if ((need & NEEDS_AMOUNT) && !lzq_number_ok(record->amount))
    return *value = record->amount, "amount";
  if ((need & NEEDS_PHASE) && record->phase >= LZQ_MAX_PHASES)
    return *value = record->phase, "phase";
  return NULL;
}

static const char *
reading_fault(const lzq_snapshot *snapshot, const lzq_record *record, double *value)
{
  if (record->analyte >= LZQ_N_ANALYTES)
    return *value = record->analyte, "analyte";
  if (record->instrument != LZQ_NONE && record->instrument >= snapshot->n_instruments)
    return *value = record->instrument, "instrument";
  if (!isfinite(record->value))
    return *value = record->value, "value";
  if (!lzq_number_or_none(record->error))
    return *value = record->error, "error";
  return NULL;
}

static const char *
dose_fault(const lzq_snapshot *snapshot, const lzq_record *record, double *value)
{
  if (record->analyte >= LZQ_N_ANALYTES)
    return *value = record->analyte, "analyte";
  if (record->form >= LZQ_N_FORMS)
    return *value = record->form, "form";
  if (record->bottle != LZQ_NONE && record->bottle >= snapshot->n_bottles)
    return *value = record->bottle, "bottle";
  return NULL;
}

static const char *
course_fault(const lzq_snapshot *snapshot, const lzq_record *record, double *value)
{
  if (record->protocol >= snapshot->n_protocols)
    return *value = record->protocol, "protocol";
  if (record->phase >= snapshot->protocols[record->protocol].n_phases)
    return *value = record->phase, "phase";
  return NULL;
}

// What only one kind has to say.
static const char *
kind_fault(const lzq_snapshot *snapshot, const lzq_record *record, double *value)
{
  switch (record->kind) {
  case LZQ_REC_VOLUME: return record->amount > 0 ? NULL : (*value = record->amount, "amount");
  case LZQ_REC_STATE:
    return record->state < LZQ_N_STATES ? NULL : (*value = record->state, "state");
  case LZQ_REC_CHECK:
    return record->instrument < snapshot->n_instruments
               ? NULL
               : (*value = record->instrument, "instrument");
  case LZQ_REC_READING: return reading_fault(snapshot, record, value);
  case LZQ_REC_CHANGE:
    if (!lzq_number_or_none(record->new_copper))
      return *value = record->new_copper, "new_copper";
    return lzq_number_or_none(record->new_salinity)
               ? NULL
               : (*value = record->new_salinity, "new_salinity");
  case LZQ_REC_TOPUP:
    return lzq_number_or_none(record->new_salinity)
               ? NULL
               : (*value = record->new_salinity, "new_salinity");
  case LZQ_REC_DOSE: return dose_fault(snapshot, record, value);
  case LZQ_REC_GEAR: return record->gear < LZQ_N_GEAR ? NULL : (*value = record->gear, "gear");
  case LZQ_REC_FEED: return record->amount <= 1 ? NULL : (*value = record->amount, "amount");
  case LZQ_REC_BATH:
    if (!lzq_number_ok(record->value))
      return *value = record->value, "value";
    if (!lzq_number_or_none(record->amount))
      return *value = record->amount, "amount";
    return record->analyte < LZQ_N_ANALYTES ? NULL : (*value = record->analyte, "analyte");
  case LZQ_REC_COURSE: return course_fault(snapshot, record, value);
  default: return NULL;
  }
}

size_t
lzq_record_find(const lzq_record *records, size_t n, uint64_t id)
{
  size_t low = 0, high = n;
  while (low < high) {
    size_t middle = low + (high - low) / 2;
    if (records[middle].id < id)
      low = middle + 1;
    else
      high = middle;
  }
  return low < n && records[low].id == id ? low : n;
}

static const char *
record_fault(const lzq_snapshot *snapshot, size_t i, double *value)
{
  const lzq_record *record = &snapshot->records[i];
  if (record->id == 0 || (i && record->id <= record[-1].id))
    return *value = (double)record->id, "id";
  if (record->kind >= LZQ_N_RECORD_KINDS)
    return *value = record->kind, "kind";
  if (record->voided && !record->corrects)
    return *value = 1, "voided";
  if (record->corrects) {
    const size_t first = lzq_record_find(snapshot->records, i, record->corrects);
    if (first >= i || snapshot->records[first].corrects)
      return *value = (double)record->corrects, "corrects";
    if (record->voided)
      return NULL; // nothing else of it is read
    if (snapshot->records[first].kind != record->kind)
      return *value = record->kind, "kind";
  }
  if (!lzq_minute_ok(record->at))
    return *value = (double)record->at, "at";
  const char *field = index_fault(snapshot, record, value);
  return field ? field : kind_fault(snapshot, record, value);
}

lzq_status
lzq_check_records(const lzq_snapshot *snapshot, size_t from, lzq_fault *fault)
{
  for (size_t i = from; i < snapshot->n_records; i++) {
    double value = NAN;
    const char *field = record_fault(snapshot, i, &value);
    if (field)
      return lzq_fault_set(fault, LZQ_FAULT_RECORD, (uint32_t)i, 0, field, value);
  }
  return LZQ_OK;
}
