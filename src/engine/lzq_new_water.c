// SPDX-License-Identifier: GPL-3.0-or-later
#include "lzq_new_water.h"

#include "lzq_balance.h"

void
lzq_new_water_begin(lzq_new_water *waits)
{
  *waits = (lzq_new_water){.changed_at = LZQ_LONG_AGO};
  for (int a = 0; a < LZQ_N_ANALYTES; a++)
    waits->waits_at[a] = LZQ_LONG_AGO;
}

bool
lzq_new_water_dose(lzq_new_water *waits, uint8_t analyte, lzq_minute at, double mg, bool into)
{
  const lzq_minute changed = waits->changed_at;
  const bool ahead = changed == LZQ_LONG_AGO || at > changed + LZQ_AT_WORK_MIN ||
                     (waits->came[analyte] && at > changed);
  if (!into || !ahead || !(mg > 0) || analyte == LZQ_SALINITY ||
      !lzq_analyte_carried((lzq_analyte)analyte)) {
    waits->came[analyte] = true;
    return false;
  }
  waits->waits_at[analyte] = at;
  return true;
}

void
lzq_new_water_change(lzq_new_water *waits, lzq_minute at)
{
  waits->changed_at = at;
  for (int a = 0; a < LZQ_N_ANALYTES; a++) {
    waits->came[a] = waits->waits_at[a] != LZQ_LONG_AGO;
    waits->waits_at[a] = LZQ_LONG_AGO;
  }
}

lzq_minute
lzq_new_water_over(const lzq_new_water *waits, uint8_t analyte)
{
  const lzq_minute at = waits->waits_at[analyte];
  return at == LZQ_LONG_AGO ? LZQ_NEVER : at + LZQ_DAY;
}

void
lzq_new_water_let_in(lzq_new_water *waits, uint8_t analyte)
{
  waits->waits_at[analyte] = LZQ_LONG_AGO;
  waits->came[analyte] = true;
}

double
lzq_brought_in(double mg, double litres, double volume_l, bool drip)
{
  if (!drip && litres <= volume_l)
    return mg;
  return mg * lzq_changed_share(litres, volume_l, drip) * volume_l / litres;
}
