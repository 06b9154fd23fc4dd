// SPDX-License-Identifier: GPL-3.0-or-later
// Private to the engine: the parts of lzq_snapshot_check, and what counts as a number here.
#ifndef LZQ_MODEL_CHECK_H
#define LZQ_MODEL_CHECK_H

#include <math.h>

#include "lzq_model.h"

// Minutes and durations stay within two million years, so that sums of a few cannot overflow.
#define LZQ_MINUTE_BOUND ((lzq_minute)1 << 40)

static inline bool
lzq_minute_ok(lzq_minute at)
{
  return at >= -LZQ_MINUTE_BOUND && at <= LZQ_MINUTE_BOUND;
}

static inline bool
lzq_duration_ok(int64_t minutes)
{
  return minutes >= 0 && minutes <= LZQ_MINUTE_BOUND;
}

// A finite number that is not negative.
static inline bool
lzq_number_ok(double value)
{
  return isfinite(value) && value >= 0;
}

// The same, or NAN for "none".
static inline bool
lzq_number_or_none(double value)
{
  return isnan(value) || lzq_number_ok(value);
}

// All but the records.
lzq_status lzq_setup_check(const lzq_snapshot *snapshot, lzq_fault *fault);
lzq_status lzq_check_protocols(const lzq_snapshot *snapshot, lzq_fault *fault);
// The records from index `from` on; those before have been checked against this set-up.
lzq_status lzq_check_records(const lzq_snapshot *snapshot, size_t from, lzq_fault *fault);
// Index of the record with this id among n whose ids rise; n = there is none.
size_t lzq_record_find(const lzq_record *records, size_t n, uint64_t id);

#endif
