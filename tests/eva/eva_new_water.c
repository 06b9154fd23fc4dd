// SPDX-License-Identifier: GPL-3.0-or-later
// Driver for Frama-C's Eva: doses in new water, taken in any order of acts of any analyte, with
// minutes within the bound of lzq_snapshot_check and any amounts.
#include "lzq_new_water.h"

volatile double any_double;
volatile int any_int;
volatile unsigned any_unsigned;
volatile long long any_minute;

double
expm1(double x)
{
  (void)x;
  return any_double; // Eva has no model of it: any result at all
}

static bool
any_flag(void)
{
  return any_int ? true : false;
}

static lzq_minute
within_bound(void)
{
  const lzq_minute bound = (lzq_minute)1 << 40, minute = any_minute;
  return minute < -bound ? -bound : minute > bound ? bound : minute;
}

int
main(void)
{
  lzq_new_water waits;
  lzq_new_water_begin(&waits);
  while (any_flag()) {
    const uint8_t analyte = (uint8_t)(any_unsigned % LZQ_N_ANALYTES);
    const lzq_minute at = within_bound();
    switch (any_int) {
    case 0: lzq_new_water_dose(&waits, analyte, at, any_double, any_flag()); break;
    case 1: lzq_new_water_change(&waits, at); break;
    case 2: lzq_new_water_let_in(&waits, analyte); break;
    default: lzq_new_water_over(&waits, analyte); break;
    }
  }
  lzq_brought_in(any_double, any_double, any_double, any_flag());
  lzq_dosed_before(within_bound(), (uint8_t)(any_unsigned % LZQ_N_RECORD_KINDS));
  return 0;
}
