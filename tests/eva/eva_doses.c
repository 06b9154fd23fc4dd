// SPDX-License-Identifier: GPL-3.0-or-later
// Driver for Frama-C's Eva: every public function of the mass balance, the doses and the gate,
// called with any numbers at all (NaN and infinities too), any flag and any name of an enum, also
// wrong ones.
#include "lzq_balance.h"
#include "lzq_dose.h"
#include "lzq_gate.h"

volatile double any_double;
volatile int any_int;
volatile unsigned any_unsigned;
volatile long long any_minute;

// Eva has no model of these: any result at all.
double
expm1(double x)
{
  (void)x;
  return any_double;
}

double
log1p(double x)
{
  (void)x;
  return any_double;
}

double
nearbyint(double x)
{
  (void)x;
  return any_double;
}

static bool
any_flag(void)
{
  return any_int ? true : false;
}

static void
balance(void)
{
  double amounts[8], levels[8];
  for (int i = 0; i < 8; i++) {
    amounts[i] = any_double;
    levels[i] = any_double;
  }
  const unsigned n = any_unsigned % 9;
  lzq_mixture(amounts, levels, n);
  lzq_litres_for_share(any_double, any_double, any_flag());
  lzq_after_loss(any_double, any_double, any_double);
  lzq_after_evaporation(any_double, any_double, any_double);
  lzq_after_topup(any_double, any_double, any_double, any_double);
  lzq_loss_rate(any_double, any_double, any_double);
}

static lzq_salinity_way
any_way(void)
{
  return (lzq_salinity_way){.from = any_double,
                            .to = any_double,
                            .new_salinity = any_double,
                            .volume_l = any_double,
                            .max_step = any_double,
                            .max_day = any_double,
                            .gap_min = any_int,
                            .steps = any_unsigned,
                            .copper = any_double,
                            .copper_target = any_double,
                            .mix_factor = any_double};
}

static void
steps(void)
{
  lzq_steps out;
  lzq_salinity_way way = any_way();
  lzq_bring_down(any_double, any_double, any_double, any_double, any_double, &out);
  lzq_salinity_down(&way, &out);
  lzq_salinity_up_by_change(&way, &out);
  lzq_salinity_up_by_salt(&way, &out);
}

static void
doses(void)
{
  const lzq_stock stock = {any_double, (lzq_as)any_int};
  lzq_dose dose;
  double levels[8];
  lzq_dose_replace(any_double, any_double, any_double, any_double, any_flag(), any_double, stock,
                   (lzq_dose_where)any_int, &dose);
  lzq_dose_measure(&dose, any_double, (lzq_tool){any_double, any_double});
  lzq_dose_raise(any_double, any_double, any_double, stock, &dose);
  lzq_dose_lower(any_double, any_double, any_double, any_double, any_double, &dose);
  lzq_rise_levels(any_double, any_double, any_double, levels, any_unsigned % 9);
  lzq_volume_from_rise(any_double, any_double, any_double);
  lzq_dose_predict(any_double, any_double, any_double, stock);
  lzq_measure_out(any_double, (lzq_tool){any_double, any_double});
}

static void
gate(void)
{
  const lzq_dose_request request = {any_double, any_double, any_double,
                                    any_double, any_double, any_flag()};
  lzq_dose_verdict(&request);
  lzq_reading_closes_dose(any_minute, any_minute, any_int);
}

void
main(void)
{
  balance();
  steps();
  doses();
  gate();
}
