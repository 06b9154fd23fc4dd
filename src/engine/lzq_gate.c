// SPDX-License-Identifier: GPL-3.0-or-later
// Verdicts on a dose that somebody means to give.
#include "lzq_gate.h"

#include <math.h>

static bool
near_factor(double ratio, double factor)
{
  return fabs(ratio / factor - 1.0) <= 0.1;
}

lzq_dose_answer
lzq_dose_verdict(const lzq_dose_request *request)
{
  double typed = request->typed_mg, computed = request->computed_mg;
  double level = isnan(request->level) ? 0.0 : request->level;
  lzq_dose_answer answer = {.ratio = NAN, .predicted = NAN};
  if (!isfinite(typed) || typed <= 0.0 || !(request->volume_l > 0.0)) {
    answer.code = LZQ_DOSE_REFUSED_INPUT;
    answer.refused = true;
    return answer;
  }
  answer.predicted = level + typed / request->volume_l;
  if (!isnan(computed))
    answer.ratio = computed > 0.0 ? typed / computed : INFINITY;
  answer.slip_of_ten = near_factor(answer.ratio, 10.0) || near_factor(answer.ratio, 0.1);
  // a hair for the rounding of the division: exactly five times is refused
  if (request->other_dose_open)
    answer.code = LZQ_DOSE_OPEN;
  else if (answer.ratio >= LZQ_SLIP_REFUSED * (1.0 - 1e-12))
    answer.code = LZQ_DOSE_REFUSED_SLIP;
  else if (answer.predicted >= request->harm - LZQ_EDGE)
    answer.code = LZQ_DOSE_REFUSED_HARM;
  else if (isnan(answer.ratio) || answer.ratio > LZQ_SLIP_SECOND * (1.0 + 1e-12))
    answer.code = LZQ_DOSE_SECOND_PERSON;
  else if (answer.ratio <= LZQ_SLIP_SMALL * (1.0 + 1e-12))
    answer.code = LZQ_DOSE_ASK_AGAIN;
  answer.refused = answer.code >= LZQ_DOSE_OPEN;
  return answer;
}

bool
lzq_reading_closes_dose(lzq_minute dosed_at, lzq_minute read_at, int32_t mixing_min)
{
  if (read_at < dosed_at)
    return false;
  // Unsigned: the difference of any two minutes fits.
  return mixing_min <= 0 || (uint64_t)read_at - (uint64_t)dosed_at >= (uint64_t)mixing_min;
}
