// SPDX-License-Identifier: GPL-3.0-or-later
// What a water holds now by the estimator, with the limits that it states for itself, when it will
// leave its band if nothing is done, and the test that is worth most. The equations are the
// engine's (lzq_estimate.h, lzq_forecast.h, lzq_trend.h).
#ifndef LZ_ESTIMATE_H
#define LZ_ESTIMATE_H

#include "lz_desk.h"

typedef struct {
  gboolean known; // FALSE = nothing has been said about this water, all else is NAN or never
  double mean, low, high;   // 80 % interval of what is truly there
  double loss_per_h;        // NAN where nothing decays
  gboolean loss_learnt;     // from readings; else it is what is usually assumed
  double evaporation_l_day; // learnt, salinity only; NAN else
  // The volume that doses speak for; NAN without doses. Differs: off by more than a tenth and by
  // more than two of its standard deviations. The entered volume is never changed by it.
  double entered_l, volume_l, volume_sd_l;
  gboolean volume_differs;
  // Leaving the band in force now, if nothing is done: the minutes at which the chance reaches 10,
  // 50 and 90 %. LZQ_NEVER = not within 14 days, or no band.
  double edge;    // that is crossed; NAN = no band
  gboolean above; // upwards
  double beyond_now;
  lzq_minute exit_low, exit_likely, exit_high;
  // The minute at which that chance reaches what the station lets stand (unseen_exit, 10 % where it
  // says nothing).
  lzq_minute unseen_by;
  // The latest test slot before it, no later than the band's longest gap (at most 24 h) allows;
  // where even the next slot is later, that one, with `cannot_hold`. LZQ_NEVER = no band or no
  // slots.
  lzq_minute next_test;
  gboolean cannot_hold;
  // Beside it the fixed schedule, which tests at every slot: its next test, how many of its tests
  // the proposal spares until its own, and the chance of an exit that nobody has seen by each.
  lzq_minute fixed_test;
  int rounds_spared;
  double chance_at_test, chance_at_fixed; // NAN without a band
  // What brings the level back to the band's target at that test, if it reads `expected` there: mg.
  // NAN = the slot after it would do as well, or nothing is to be added.
  double expected, top_up_mg;
} LzEstimate;

// FALSE = no model fits this analyte, or there is no such system; *out then says nothing is known.
gboolean lz_desk_estimate(LzDesk *desk, uint32_t system, lzq_analyte analyte, lzq_minute at,
                          LzEstimate *out);

// One sentence when the doses speak for another volume, else NULL. Newly allocated.
char *lz_estimate_volume_words(LzDesk *desk, uint32_t system, const LzEstimate *estimate);
// When the level leaves its band, and which round must test: one sentence, or NULL without a band.
char *lz_estimate_exit_words(LzDesk *desk, const LzEstimate *estimate, lzq_minute at);

// A reading before it is entered, judged by the filter (3.5 sd of its own prediction).
typedef struct {
  gboolean odd;     // out of expectation: ask for a repeat
  double predicted; // NAN = nothing is known
  double sd;        // of the difference expected, NAN
} LzJudgement;

// instrument LZQ_NONE = the one that usually reads there; error NAN = the instrument's. A reading
// whose error nobody states cannot be judged, and is not odd.
LzJudgement lz_desk_judge_reading(LzDesk *desk, uint32_t system, lzq_analyte analyte, double value,
                                  double error, uint32_t instrument, lzq_minute at);

// --- checkpoints
// The estimators' states are kept in the station's file, outside the ledger, so that a year is not
// replayed at every start. This throws them away, there and here; they are made anew from the
// record and nothing changes by it.
void lz_desk_forget_checkpoints(LzDesk *desk);
// How often an estimator was made from the beginning of the record since the file was opened; for
// tests and benchmarks.
guint lz_desk_estimators_made(const LzDesk *desk);

#endif
