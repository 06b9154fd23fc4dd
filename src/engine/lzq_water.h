// SPDX-License-Identifier: GPL-3.0-or-later
// The record fed to the estimators: one bank for each water and analyte, whatever kind of model it
// needs. Copper and dosed medicines decay (lzq_estimate.h), salinity and temperature do not
// (lzq_trend.h).
//
// A bank is a plain value and may be kept as a checkpoint: feed it the records after its `at`, in
// the order in which they act. What one record does:
//   reading: judged and taken; a method that cannot see the copper's form, and (in lzq_waters_feed)
//   an
//            instrument between its last good check and a failed one, say nothing
//   dose, change, top-up: exact steps with their own uncertainty, with the volume in force
//   carbon or resin switched on: what decays here is unknown until it is read
// Water without a record is not known. The first dose into it starts from zero, the first reading
// from itself. Readings of another instrument than the first count on the first one's scale, with
// its gain as doubt. Praziquantel vanishes faster at each repeat (Thomas et al. 2016, PeerJ
// 4:e1857: undetectable after 8, 2 and 2 days in marine systems): each dose begins with that prior.
#ifndef LZQ_WATER_H
#define LZQ_WATER_H

#include "lzq_arena.h"
#include "lzq_estimate.h"
#include "lzq_forecast.h"
#include "lzq_history.h"
#include "lzq_trend.h"

typedef struct {
  uint32_t system;
  uint8_t analyte;     // lzq_analyte
  uint8_t form;        // of the last copper dose, LZQ_FORM_NONE before one
  bool known;          // something has been said about this water
  lzq_minute at;       // of the last record fed
  double c_ref;        // middle of the band; set point of a temperature
  double volume_l;     // in force
  uint32_t instrument; // whose scale this is; LZQ_NONE before a reading
  uint32_t doses;
  lzq_suspect suspect; // of salinity and temperature
  lzq_bank bank;
  lzq_salt_level salt;
  lzq_local_level level;
} lzq_water_bank;

// An empty bank. c_ref above 0 (middle of the band or target; a set point in °C for temperature).
// LZQ_BAD_INPUT for a system out of range or an analyte that no model fits (pH, ammonia ...).
lzq_status lzq_water_begin(lzq_water_bank *water, const lzq_snapshot *snapshot, uint32_t system,
                           lzq_analyte analyte, double c_ref);

// One record; another system's or analyte's does nothing. Returns what a reading was found to be
// (LZQ_READ_TAKEN for everything else).
lzq_read_verdict lzq_water_feed(lzq_water_bank *water, const lzq_snapshot *snapshot,
                                const lzq_record *record);

// The reading with the error that its instrument has so long after its last good check
// (lzq_error_growth); checked_at LZQ_LONG_AGO = never checked. What a bank is fed.
lzq_record lzq_water_aged(const lzq_record *reading, const lzq_snapshot *snapshot,
                          lzq_minute checked_at);

// Feeds n banks (at most one for a pair of system and analyte) from a history in one pass, each
// from the first record after its `at`, leaving out readings of instruments that failed a check,
// and aged since the last good one.
// O(records + systems).
lzq_status lzq_waters_feed(lzq_water_bank *waters, uint32_t n, const lzq_snapshot *snapshot,
                           const lzq_history *history, lzq_arena *arena);

// What a reading of this water would be found to be at its minute, without taking it.
lzq_read_verdict lzq_water_judge(const lzq_water_bank *water, const lzq_snapshot *snapshot,
                                 const lzq_record *reading);

// The bank at a minute not before the last record, nothing done meanwhile; at an earlier minute the
// bank itself. Its `at` is that minute: for walking ahead in steps.
lzq_water_bank lzq_water_ahead(const lzq_water_bank *water, lzq_minute at);

typedef struct {
  bool known;
  double mean, low, high;   // 80 % interval, what is truly there
  double loss_per_h;        // NAN where nothing decays
  bool loss_learnt;         // lzq_bank_knows_loss; else it is what is usually assumed
  double evaporation_l_day; // learnt, salinity only; NAN else
  lzq_learnt_volume volume; // learnt from doses; volume_l NAN where there is none
} lzq_water_estimate;

// At a minute not before the last record: predicted on with nothing done.
lzq_water_estimate lzq_water_at(const lzq_water_bank *water, lzq_minute at);

// When the level leaves across `edge` (downwards, or upwards with `above`), hours after `at`.
// below_now is the chance that it lies beyond the edge at `at`. A medicine does not rise by itself.
lzq_exit lzq_water_exit(const lzq_water_bank *water, lzq_minute at, double edge, bool above);

// Hours after `at` until the chance of that reaches p; INFINITY = not within LZQ_HORIZON_H.
double lzq_water_reaches(const lzq_water_bank *water, lzq_minute at, double edge, bool above,
                         double p);

// Chance that it has been beyond the edge at some minute from `at` until `until`, nothing done and
// nothing read meanwhile (steps of 2 h). NAN where nothing is known.
double lzq_water_chance(const lzq_water_bank *water, lzq_minute at, double edge, bool above,
                        lzq_minute until);

#endif
