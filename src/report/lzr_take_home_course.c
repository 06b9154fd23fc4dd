// SPDX-License-Identifier: GPL-3.0-or-later
// A customer's plan by a protocol of the station that a person may carry on at home: its phases one
// after the other, in days, with amounts for the tank's true volume. Levels, steps and days are the
// protocol's own; amounts are exact mass balance: mg = litres x rise, and a share of 1 - to/from
// replaced by fresh water brings salinity down.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include <lz_error.h>
#include <lz_format.h>
#include <lz_words.h>
#include <lzq_dose.h>

#include "lzr_take_home.h"

#define SEA          34.0 // salinity of a customer's tank before anything is done; trade practice
#define FRESH_STEP   6.0  // largest fall of a day where the protocol names none
#define MOST_CHANGES 6    // rows for one phase

uint32_t
lzr_home_protocol(LzDesk *desk, const LzrOptions *options)
{
  return options->protocol ? lz_desk_index(desk, "protocol", options->protocol) : LZQ_NONE;
}

static const lzq_protocol *
protocol_of(LzDesk *desk, uint32_t index)
{
  return &lz_desk_snapshot(desk)->protocols[index];
}

static const lzq_phase *
phase_of(LzDesk *desk, uint32_t protocol, uint32_t i)
{
  return &lz_desk_snapshot(desk)->phases[protocol_of(desk, protocol)->first_phase + i];
}

// Why a phase cannot be served at home, NULL if it can.
static const char *
refusal(const lzq_phase *phase)
{
  gboolean doses = phase->kind == LZQ_PHASE_MEDICATE;
  if (phase->sign == LZQ_SIGN_VET)
    return _("a veterinarian must order it and sign for it");
  if (phase->kind == LZQ_PHASE_BATH || phase->medicine == LZQ_FORMALIN)
    return _("a bath needs somebody who stays, and its medicine a trained hand");
  if (phase->kind == LZQ_PHASE_TRANSFER || phase->kind == LZQ_PHASE_DISINFECT)
    return _("it needs a second system, dried or disinfected in between");
  if (doses && phase->medicine != LZQ_PRAZIQUANTEL)
    return _("its medicine is given on prescription only");
  if (doses && phase->n_bands > 0)
    return _("two medicines in one water need somebody who watches after each dose");
  if (phase->kind == LZQ_PHASE_FEED && phase->dose_level > 0)
    return _("medicated feed is given on prescription only");
  return NULL;
}

gboolean
lzr_home_check(LzDesk *desk, uint32_t protocol, GError **error)
{
  for (uint32_t i = 0; i < protocol_of(desk, protocol)->n_phases; i++) {
    const char *why = refusal(phase_of(desk, protocol, i));
    if (!why)
      continue;
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
                _("“%1$s” is not for a customer's tank: %2$s. Accepted: copper, lowered salinity, "
                  "praziquantel, feed and observation."),
                lz_desk_name(desk, "protocol", protocol), why);
    return FALSE;
  }
  return TRUE;
}

static const lzq_band *
band_of(const lzq_phase *phase, lzq_analyte analyte)
{
  for (uint32_t b = 0; b < phase->n_bands; b++)
    if (phase->bands[b].analyte == analyte)
      return &phase->bands[b];
  return NULL;
}

// "Days 4 to 17", and on to the day after.
static const char *
span_words(LzrHome *home, int64_t minutes)
{
  int first = home->day, n = (int)MAX(1, (minutes + LZQ_DAY - 1) / LZQ_DAY);
  home->day += n;
  return n == 1 ? lzr_printf(home->build, _("Day %d"), first)
                : lzr_printf(home->build, _("Days %1$d to %2$d"), first, first + n - 1);
}

static const char *
salinity(LzrHome *home, double value)
{
  return lzr_keep(home->build, lz_format_level(LZQ_SALINITY, value));
}

// Salinity down by at most `most` a day: some water replaced by fresh water.
static void
lower(LzrHome *home, const lzq_band *band, double most)
{
  double fall = most > 0 ? most : FRESH_STEP;
  for (int i = 0; i < MOST_CHANGES && home->salinity > band->target + 0.05; i++) {
    double to = MAX(band->target, home->salinity - fall);
    double litres = home->build->options->volume_l * (1 - to / home->salinity);
    lzr_home_step(home->build, span_words(home, LZQ_DAY),
                  lzr_printf(home->build,
                             _("Replace this much water by fresh water of the same temperature, "
                               "slowly: salinity from %1$s to %2$s. Never below %3$s"),
                             salinity(home, home->salinity), salinity(home, to),
                             salinity(home, isnan(band->plan) ? to : band->plan)),
                  lzr_keep(home->build, lz_format_amount(litres, LZQ_UNIT_L)));
    home->salinity = to;
  }
}

static void
raise_salinity(LzrHome *home, const lzq_phase *phase, const lzq_band *band)
{
  double most = phase->salinity_rise_day > 0 ? phase->salinity_rise_day : 3;
  double rise = MAX(0, band->target - home->salinity);
  lzr_home_step(
      home->build, span_words(home, (int64_t)ceil(rise / most) * LZQ_DAY),
      lzr_printf(home->build,
                 _("Salinity back up to %1$s, by at most %2$s a day, with salt water. Test daily"),
                 salinity(home, band->target), salinity(home, most)),
      NULL);
  home->salinity = MAX(home->salinity, band->target);
}

// Copper up in the protocol's steps, a day between them and never faster than it allows.
static void
rise(LzrHome *home, const lzq_phase *phase, const lzq_band *band)
{
  LzrBuild *build = home->build;
  int steps = MAX(1, phase->rise_steps);
  if (phase->rise_per_day > 0)
    steps = MAX(steps, (int)ceil(band->target / phase->rise_per_day - 1e-9));
  for (int i = 0; i < steps; i++) {
    double from = band->target * i / steps, to = band->target * (i + 1) / steps;
    lzr_home_step(build, span_words(home, LZQ_DAY),
                  lzr_printf(build,
                             _("Test. If it reads at most %1$s, add this slowly where the water "
                               "moves; it should read about %2$s next day"),
                             lzr_home_level(build, from + band->target / 10),
                             lzr_home_level(build, to)),
                  lzr_home_ml(build, lzr_home_dose_ml(build->options, from, to)));
  }
}

static void
medicate(LzrHome *home, const lzq_phase *phase)
{
  double g = home->build->options->volume_l * phase->dose_level / 1000;
  lzr_home_step(home->build, span_words(home, phase->min_elapsed_min),
                lzr_printf(home->build,
                           _("On the first of these days weigh praziquantel for %s mg/L, dissolve "
                             "as its label says, spread it. Strong air; carbon and UV off"),
                           lzr_home_number(home->build, phase->dose_level, 1)),
                lzr_keep(home->build, lz_format_amount(g, LZQ_UNIT_G)));
}

static void
hold(LzrHome *home, const lzq_phase *phase)
{
  LzrBuild *build = home->build;
  const lzq_band *copper = band_of(phase, LZQ_COPPER), *salt = band_of(phase, LZQ_SALINITY);
  const char *days = span_words(home, MAX(phase->min_credit_min, phase->min_elapsed_min));
  if (copper)
    lzr_home_step(build, days,
                  lzr_printf(build,
                             copper->form == LZQ_FORM_IONIC // common practice: it is lost fast
                                 ? _("Test twice a day. Below %s: top up by the table below. A day "
                                     "below does not count: add it at the end")
                                 : _("Test every day. Below %s: top up by the table below. A day "
                                     "below does not count: add it at the end"),
                             lzr_home_level(build, copper->works)),
                  NULL);
  if (salt)
    lzr_home_step(build, copper ? NULL : days,
                  lzr_printf(build,
                             _("Test salinity, pH and ammonia every day. Above %s does not count. "
                               "Top up what evaporates with fresh water"),
                             salinity(home, salt->works)),
                  NULL);
}

static void
watch(LzrHome *home, const lzq_phase *phase)
{
  int64_t days =
      MAX(MAX(phase->min_elapsed_min, phase->quiet_min), (int64_t)phase->eating_days * LZQ_DAY);
  lzr_home_step(home->build, span_words(home, days),
                phase->kind == LZQ_PHASE_FEED
                    ? _("Feed often and little, and write down what share is eaten. Look at every "
                        "fish daily; one white spot: ask us")
                    : _("Watch and feed well; look at every fish daily. One white spot: ask us, "
                        "and count from day one"),
                NULL);
}

// Where the station would move the fish into clean water, a customer has one tank.
static void
copper_out(LzrHome *home, int64_t minutes)
{
  lzr_home_step(home->build, span_words(home, minutes),
                _("Take the copper out by water changes and fresh carbon; test until none reads. "
                  "The new water has the salinity of the tank"),
                NULL);
  home->copper = FALSE;
}

// Salinity goes down before copper goes in: each change would take copper out again.
static void
phase_rows(LzrHome *home, const lzq_phase *phase)
{
  const lzq_band *copper = band_of(phase, LZQ_COPPER), *salt = band_of(phase, LZQ_SALINITY);
  if (home->copper && (phase->kind == LZQ_PHASE_RAISE || phase->kind == LZQ_PHASE_OBSERVE))
    copper_out(home, LZQ_DAY);
  switch (phase->kind) {
  case LZQ_PHASE_RISE:
  case LZQ_PHASE_LOWER:
    if (salt)
      lower(home, salt, MIN(phase->salinity_fall_day, phase->salinity_step));
    if (copper)
      rise(home, phase, copper);
    home->copper |= copper != NULL;
    break;
  case LZQ_PHASE_HOLD: hold(home, phase); break;
  case LZQ_PHASE_RAISE:
    if (salt)
      raise_salinity(home, phase, salt);
    break;
  case LZQ_PHASE_COPPER_OUT: copper_out(home, phase->min_elapsed_min); break;
  case LZQ_PHASE_MEDICATE: medicate(home, phase); break;
  default: watch(home, phase); break;
  }
}

void
lzr_home_days(LzrBuild *build, uint32_t protocol)
{
  LzrHome home = {.build = build, .day = 1, .salinity = SEA};
  for (uint32_t i = 0; i < protocol_of(build->desk, protocol)->n_phases; i++)
    phase_rows(&home, phase_of(build->desk, protocol, i));
}

const lzq_band *
lzr_home_band(LzDesk *desk, uint32_t protocol)
{
  for (uint32_t i = 0; i < protocol_of(desk, protocol)->n_phases; i++) {
    const lzq_band *band = band_of(phase_of(desk, protocol, i), LZQ_COPPER);
    if (band && band->side == LZQ_AT_OR_ABOVE)
      return band;
  }
  return NULL;
}

gboolean
lzr_home_copper(LzDesk *desk, uint32_t protocol)
{
  return lzr_home_band(desk, protocol) != NULL;
}
