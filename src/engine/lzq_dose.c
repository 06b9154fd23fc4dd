// SPDX-License-Identifier: GPL-3.0-or-later
// Doses into a system, and doses that put back what a change takes out.
#include "lzq_dose.h"

#include <math.h>

#include "lzq_balance.h"

void
lzq_working_add(lzq_working *working, lzq_line_code code, double n0, double n1, double n2,
                double n3)
{
  if (working->n == LZQ_MAX_LINES) {
    working->cut = true;
    return;
  }
  working->lines[working->n++] = (lzq_line){code, {n0, n1, n2, n3}};
}

static bool
is_amount(double value)
{
  return isfinite(value) && value >= 0.0;
}

static bool
is_stock(lzq_stock stock)
{
  return isfinite(stock.strength_mg_ml) && stock.strength_mg_ml > 0.0 &&
         (unsigned)stock.as < LZQ_N_AS;
}

static lzq_dose
empty_dose(double level)
{
  return (lzq_dose){
      .level_before = level, .level_between = NAN, .level_after = level, .new_water_level = NAN};
}

// mg of the analyte -> mg as labelled -> mL, each with its line
static void
from_stock(lzq_dose *dose, lzq_stock stock)
{
  dose->label_mg = lzq_to_label(stock.as, dose->amount_mg);
  if (stock.as != LZQ_AS_ITSELF)
    lzq_working_add(&dose->working, LZQ_LINE_AS_LABEL, dose->amount_mg, lzq_share_of(stock.as),
                    dose->label_mg, 0);
  dose->amount_ml = dose->label_mg / stock.strength_mg_ml;
  lzq_working_add(&dose->working, LZQ_LINE_STOCK, dose->label_mg, stock.strength_mg_ml,
                  dose->amount_ml, 0);
}

lzq_status
lzq_dose_replace(double volume_l, double level, double target, double litres, bool drip,
                 double new_level, lzq_stock stock, lzq_dose_where where, lzq_dose *out)
{
  *out = empty_dose(level);
  if (!(volume_l > 0.0) || !isfinite(volume_l) || !(litres > 0.0) || !isfinite(litres) ||
      (!drip && litres > volume_l) || !is_amount(level) || !is_amount(target) ||
      !is_amount(new_level) || !is_stock(stock))
    return LZQ_BAD_INPUT;
  lzq_working *working = &out->working;
  double share = lzq_changed_share(litres, volume_l, drip);
  double dipped = lzq_after_change(level, share, new_level);
  out->level_between = dipped;
  lzq_working_add(working, drip ? LZQ_LINE_SHARE_DRIP : LZQ_LINE_SHARE, litres, volume_l, share, 0);
  lzq_working_add(working, LZQ_LINE_AFTER_CHANGE, level, share, new_level, dipped);
  if (dipped >= target - LZQ_EDGE) {
    out->level_after = dipped;
    lzq_working_add(working, LZQ_LINE_NONE_NEEDED, dipped, target, 0, 0);
    return LZQ_OK;
  }
  if (where == LZQ_INTO_NEW_WATER) {
    double needed = (target - level * (1.0 - share)) / share;
    out->amount_mg = litres * (needed - new_level);
    out->new_water_level = needed;
    out->with_litres = litres;
    lzq_working_add(working, LZQ_LINE_MASS_IN_NEW, litres, needed, new_level, out->amount_mg);
    from_stock(out, stock);
    out->level_after = lzq_after_change(level, share, needed);
    lzq_working_add(working, LZQ_LINE_AFTER_CHANGE, level, share, needed, out->level_after);
  } else {
    out->amount_mg = volume_l * (target - dipped);
    lzq_working_add(working, LZQ_LINE_MASS_RAISE, volume_l, target, dipped, out->amount_mg);
    from_stock(out, stock);
    out->level_after = lzq_after_dose(dipped, out->amount_mg, volume_l);
    lzq_working_add(working, LZQ_LINE_AFTER_DOSE, dipped, out->amount_mg, volume_l,
                    out->level_after);
  }
  return LZQ_OK;
}

lzq_status
lzq_dose_raise(double volume_l, double level, double target, lzq_stock stock, lzq_dose *out)
{
  *out = empty_dose(level);
  if (!(volume_l > 0.0) || !isfinite(volume_l) || !is_amount(level) || !is_amount(target) ||
      !is_stock(stock))
    return LZQ_BAD_INPUT;
  if (level >= target - LZQ_EDGE) {
    lzq_working_add(&out->working, LZQ_LINE_NONE_NEEDED, level, target, 0, 0);
    return LZQ_OK;
  }
  out->amount_mg = volume_l * (target - level);
  lzq_working_add(&out->working, LZQ_LINE_MASS_RAISE, volume_l, target, level, out->amount_mg);
  from_stock(out, stock);
  out->level_after = lzq_after_dose(level, out->amount_mg, volume_l);
  lzq_working_add(&out->working, LZQ_LINE_AFTER_DOSE, level, out->amount_mg, volume_l,
                  out->level_after);
  return LZQ_OK;
}

double
lzq_dose_predict(double volume_l, double level, double amount_ml, lzq_stock stock)
{
  double mg = lzq_from_label(stock.as, amount_ml * stock.strength_mg_ml);
  return lzq_after_dose(level, mg, volume_l);
}

// Rounded down, at most a million; below one and NAN: none. Counted and not converted, since what a
// conversion does with a number that does not fit is undefined.
static uint32_t
whole_number(double x)
{
  uint32_t n = 0;
  for (uint32_t bit = 1u << 19; bit; bit >>= 1)
    if (x >= n + bit)
      n += bit;
  return n > 1000000 ? 1000000 : n;
}

uint32_t
lzq_rise_levels(double level, double target, double max_step, double *levels, uint32_t cap)
{
  if (!isfinite(level) || !isfinite(target) || level >= target - LZQ_EDGE)
    return 0;
  double count = max_step > 0.0 ? ceil((target - level) / max_step - LZQ_EDGE) : 1.0;
  uint32_t n = count >= 1.0 ? whole_number(count) : 1; // NAN: one
  for (uint32_t i = 0; i < n && i < cap; i++)
    levels[i] = i + 1 == n ? target : level + (i + 1) * max_step;
  return n;
}

lzq_status
lzq_dose_lower(double volume_l, double level, double target, double new_level, double max_share_day,
               lzq_dose *out)
{
  *out = empty_dose(level);
  if (!(volume_l > 0.0) || !isfinite(volume_l) || !is_amount(level) || !is_amount(target) ||
      !is_amount(new_level))
    return LZQ_BAD_INPUT;
  if (level <= target + LZQ_EDGE) {
    lzq_working_add(&out->working, LZQ_LINE_NONE_NEEDED, level, target, 0, 0);
    return LZQ_OK;
  }
  if (new_level > target)
    return LZQ_OUT_OF_RANGE;
  lzq_steps steps;
  lzq_status status = lzq_bring_down(level, target, new_level, volume_l, max_share_day, &steps);
  if (status != LZQ_OK)
    return status;
  const lzq_step *first = &steps.steps[0];
  double needed = (level - target) / (level - new_level);
  lzq_working_add(&out->working, LZQ_LINE_SHARE_NEEDED, level, target, new_level, needed);
  if (steps.n > 1)
    lzq_working_add(&out->working, LZQ_LINE_SHARE_DAY, needed, max_share_day, steps.n, 0);
  lzq_working_add(&out->working, LZQ_LINE_LITRES, first->share, volume_l, first->litres, 0);
  lzq_working_add(&out->working, LZQ_LINE_AFTER_CHANGE, level, first->share, new_level,
                  first->level_after);
  out->amount_mg = (level - first->level_after) * volume_l;
  out->amount_ml = NAN;
  out->with_litres = first->litres;
  out->level_after = first->level_after;
  return LZQ_OK;
}

double
lzq_volume_from_rise(double amount_mg, double level_before, double level_after)
{
  double rise = level_after - level_before;
  return rise > 0.0 ? amount_mg / rise : NAN;
}

lzq_measured
lzq_measure_out(double exact, lzq_tool tool)
{
  lzq_measured out = {.exact = exact, .measured = NAN, .error = NAN, .too_coarse = true};
  if (!is_amount(exact) || !(tool.step > 0.0) || !isfinite(tool.step))
    return out;
  // Nobody fills a syringe a million times: the tool is the wrong one.
  out.full_times = tool.full > 0.0 ? whole_number(exact / tool.full + LZQ_EDGE) : 0;
  double whole = out.full_times;
  double rest = fmax(exact - whole * fmax(tool.full, 0.0), 0.0);
  double steps = tool.down ? floor(rest / tool.step + LZQ_EDGE) : nearbyint(rest / tool.step);
  out.last = steps * tool.step;
  out.measured = whole * fmax(tool.full, 0.0) + out.last;
  out.error = out.measured - exact;
  out.error_rel = exact > 0.0 ? out.error / exact : 0.0;
  out.reading_error = 0.5 * tool.step * (whole + (out.last > 0.0 ? 1.0 : 0.0));
  out.too_coarse = fabs(out.error_rel) > 0.1;
  return out;
}

lzq_measured
lzq_dose_measure(lzq_dose *dose, double exact, lzq_tool tool)
{
  lzq_measured out = lzq_measure_out(exact, tool);
  lzq_working_add(&dose->working, LZQ_LINE_TOOL, out.full_times, tool.full, out.last, out.measured);
  lzq_working_add(&dose->working, LZQ_LINE_TOOL_ERROR, out.measured, exact, out.error,
                  out.error_rel);
  return out;
}
