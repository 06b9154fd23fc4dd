// SPDX-License-Identifier: GPL-3.0-or-later
// Zero and slope of an instrument from its standards.
#include "lzq_calibrate.h"

#include <math.h>

lzq_status
lzq_calibrate(const lzq_standard *standards, uint32_t n, lzq_calibration *out)
{
  *out = (lzq_calibration){.zero = NAN, .slope = NAN, .slope_alone = NAN, .worst = NAN};
  double truth = 0.0, reading = 0.0;
  for (uint32_t i = 0; i < n; i++) {
    truth += standards[i].truth / n;
    reading += standards[i].reading / n;
  }
  if (n == 0 || !isfinite(truth) || !isfinite(reading))
    return LZQ_BAD_INPUT;
  double square = 0.0, product = 0.0;
  for (uint32_t i = 0; i < n; i++) {
    double off = standards[i].truth - truth;
    square += off * off;
    product += off * (standards[i].reading - reading);
  }
  out->told_apart = square > 1e-12 * (1.0 + truth * truth);
  out->slope = out->told_apart ? product / square : 1.0;
  out->zero = reading - out->slope * truth;
  out->slope_alone = out->told_apart ? out->slope : truth != 0.0 ? reading / truth : (double)NAN;
  out->worst = 0.0;
  for (uint32_t i = 0; i < n; i++)
    out->worst =
        fmax(out->worst, fabs(standards[i].reading - out->zero - out->slope * standards[i].truth));
  return out->slope > 0.0 ? LZQ_OK : LZQ_OUT_OF_RANGE;
}

lzq_corrected
lzq_calibrated(const lzq_calibration *calibration, double reading)
{
  double value = (reading - calibration->zero) / calibration->slope;
  lzq_corrected out = {value, value, value};
  if (calibration->told_apart || !(calibration->slope_alone > 0.0))
    return out;
  double scaled = reading / calibration->slope_alone;
  out.low = fmin(value, scaled);
  out.high = fmax(value, scaled);
  return out;
}

double
lzq_error_growth(double days_since_check, int32_t check_days)
{
  const double good_for = check_days > 0 ? check_days : 14.0, slow = 30.0, most = 3.0;
  if (!isfinite(days_since_check) || days_since_check <= good_for)
    return 1.0;
  return fmin(hypot(1.0, (days_since_check - good_for) / slow), most);
}
