// SPDX-License-Identifier: GPL-3.0-or-later
// A customer's plan for their own tank, worked out for its true volume and their medicine, in plain
// words. Levels are those of the station's protocol for it ("At home"), else the common practice
// that the protocol's file states; amounts come from the engine's dose adviser.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include <lz_format.h>
#include <lz_words.h>
#include <lzq_dose.h>

#include "lzr_take_home.h"

typedef struct {
  double works, target, plan, harm; // mg/L as copper, amine-complexed
  int steps, hold_days, watch_days;
  lzq_form form;
  uint32_t protocol; // that the plan follows phase by phase, LZQ_NONE = the usual course
} Course;

static const Course usual = {0.45, 0.50, 0.60,           0.80,    3,
                             14,   7,    LZQ_FORM_AMINE, LZQ_NONE}; // common practice, no source

// The copper band of a phase into the course.
static void
take_band(Course *course, const lzq_phase *phase)
{
  for (uint32_t b = 0; b < phase->n_bands; b++)
    if (phase->bands[b].analyte == LZQ_COPPER && phase->kind == LZQ_PHASE_HOLD) {
      const lzq_band *band = &phase->bands[b];
      course->works = band->works;
      course->target = isnan(band->target) ? course->target : band->target;
      course->plan = isnan(band->plan) ? course->plan : band->plan;
      course->harm = isnan(band->harm) ? course->harm : band->harm;
    }
}

static Course
course_of(LzrBuild *build)
{
  const lzq_snapshot *snapshot = lz_desk_snapshot(build->desk);
  Course course = usual;
  if ((course.protocol = lzr_home_protocol(build->desk, build->options)) != LZQ_NONE) {
    const lzq_band *band = lzr_home_band(build->desk, course.protocol);
    if (band) {
      course.form = band->form;
      course.works = band->works;
      course.target = isnan(band->target) ? band->works : band->target;
      course.plan = isnan(band->plan) ? course.target : band->plan;
      course.harm = isnan(band->harm) ? course.plan : band->harm;
    }
    return course;
  }
  for (uint32_t p = 0; p < snapshot->n_protocols; p++) {
    const lzq_protocol *protocol = &snapshot->protocols[p];
    if (!g_str_has_prefix(lz_desk_name(build->desk, "protocol", p), "At home"))
      continue;
    for (uint32_t i = 0; i < protocol->n_phases; i++) {
      const lzq_phase *phase = &snapshot->phases[protocol->first_phase + i];
      take_band(&course, phase);
      if (phase->kind == LZQ_PHASE_RISE && phase->rise_steps > 0)
        course.steps = phase->rise_steps;
      if (phase->kind == LZQ_PHASE_HOLD && phase->min_credit_min > 0)
        course.hold_days = (int)(phase->min_credit_min / LZQ_DAY);
      if (phase->kind == LZQ_PHASE_OBSERVE && phase->min_elapsed_min > 0)
        course.watch_days = (int)(phase->min_elapsed_min / LZQ_DAY);
    }
  }
  return course;
}

double
lzr_home_dose_ml(const LzrOptions *o, double from, double to)
{
  lzq_dose dose;
  lzq_stock stock = {.strength_mg_ml = o->strength_mg_ml, .as = LZQ_AS_ITSELF};
  if (lzq_dose_raise(o->volume_l, from, to, stock, &dose) != LZQ_OK)
    return NAN;
  return dose.amount_ml;
}

const char *
lzr_home_ml(LzrBuild *build, double amount)
{
  return lzr_keep(build, lz_format_amount(amount, LZQ_UNIT_ML));
}

const char *
lzr_home_level(LzrBuild *build, double value)
{
  return lzr_keep(build, lz_format_number(value, 2));
}

const char *
lzr_home_number(LzrBuild *build, double value, int decimals)
{
  return lzr_keep(build, lz_format_short(value, decimals));
}

// What the protocol's file warns of, as its author wrote it.
static const char *
caution_of(LzrBuild *build, uint32_t protocol)
{
  int64_t id = lz_desk_id(build->desk, "protocol", protocol);
  LzEntry *entry = lz_desk_entity(build->desk, "protocol", id);
  return lzr_or(entry ? lz_entry_text(entry, "caution") : NULL, "");
}

// A plan by a protocol: which, for what water, with which medicine, and its cautions.
static void
before_protocol(LzrBuild *build, const Course *course)
{
  const LzrOptions *o = build->options;
  gboolean copper = lzr_home_copper(build->desk, course->protocol);
  const char *names[] = {_("Your tank"), _("Course"), _("Medicine"), _("Aim"), _("Never above")};
  const char *values[5] = {lzr_printf(build, _("%s L of water, without rock and sand"),
                                      lzr_home_number(build, o->volume_l, 1)),
                           lz_desk_name(build->desk, "protocol", course->protocol)};
  if (copper) {
    const char *form = lz_words_form(course->form);
    values[2] = lzr_printf(build, _("%1$s copper, %2$s mg of copper in 1 mL"), form,
                           lzr_home_number(build, o->strength_mg_ml, 3));
    values[3] = lzr_printf(
        build, _("%1$s mg/L of copper, at least %2$s, by a test kit that reads %3$s copper"),
        lzr_home_level(build, course->target), lzr_home_level(build, course->works), form);
    values[4] =
        lzr_printf(build, _("%1$s mg/L. At %2$s change water at once"),
                   lzr_home_level(build, course->plan), lzr_home_level(build, course->harm));
  }
  lzd_sheet_facts(build->page, NULL, names, values, copper ? 5 : 2);
  lzd_sheet_warning(
      build->page, LZD_TASK_BLOCKED, _("Before you begin"),
      lzr_printf(build, "%s %s", caution_of(build, course->protocol),
                 copper
                     ? _("These amounts are for copper of exactly this form and strength: ionic, "
                         "amine-complexed and chelated copper work and kill at other levels. "
                         "Keep it from children.")
                     : _("Ask us or a veterinarian before you add anything else.")));
}

static void
before(LzrBuild *build, const Course *course)
{
  const LzrOptions *o = build->options;
  const char *names[] = {_("Your tank"), _("Medicine"), _("Aim"), _("Never above")};
  const char *values[] = {
      lzr_printf(build, _("%s L of water, without rock and sand"),
                 lzr_home_number(build, o->volume_l, 1)),
      lzr_printf(build, _("amine-complexed copper, %s mg of copper in 1 mL"),
                 lzr_home_number(build, o->strength_mg_ml, 3)),
      lzr_printf(build, _("%1$s mg/L of copper, at least %2$s, by a test kit for complexed copper"),
                 lzr_home_level(build, course->target), lzr_home_level(build, course->works)),
      lzr_printf(build, _("%1$s mg/L. At %2$s change water at once"),
                 lzr_home_level(build, course->plan), lzr_home_level(build, course->harm)),
  };
  lzd_sheet_facts(build->page, NULL, names, values, G_N_ELEMENTS(names));
  lzd_sheet_warning(
      build->page, LZD_TASK_BLOCKED, _("Check the label first"),
      _("These amounts are for amine-complexed copper of exactly this strength. Ionic and chelated "
        "copper work and kill at other levels: do not use this sheet for them. Copper kills "
        "shrimps, snails and corals and harms sharks, rays, seahorses and pipefish. No carbon, "
        "resin or UV, and no dechlorinator or ammonia binder with it. Keep it from children."));
}

void
lzr_home_step(LzrBuild *build, const char *day, const char *what, const char *amount)
{
  lzd_cell cells[] = {
      {.text = day, .bold = true}, {.text = what}, {.text = amount, .bold = true}, {.text = NULL}};
  lzd_sheet_tick_row(build->page, cells, G_N_ELEMENTS(cells));
}

static void
days(LzrBuild *build, const Course *course)
{
  lzd_column columns[] = {{_("day"), 104, LZD_START},
                          {_("what to do"), 0, LZD_START},
                          {C_("amount", "add"), 62, LZD_END},
                          {_("read, date"), 100, LZD_START}};
  int first_hold = course->steps + 1, last_hold = course->steps + course->hold_days;
  lzr_heading(build, NULL, _("Day by day"), NULL);
  lzr_begin(build);
  lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), false);
  if (course->protocol != LZQ_NONE) {
    lzr_home_days(build, course->protocol);
    lzd_sheet_end_table(build->page);
    return;
  }
  for (int i = 0; i < course->steps; i++) {
    double from = course->target * i / course->steps, to = course->target * (i + 1) / course->steps;
    lzr_home_step(build, lzr_printf(build, _("Day %d"), i + 1),
                  lzr_printf(build,
                             _("Test. If it reads at most %1$s, add this slowly where the water "
                               "moves; it should read about %2$s next day"),
                             lzr_home_level(build, from + 0.05), lzr_home_level(build, to)),
                  lzr_home_ml(build, lzr_home_dose_ml(build->options, from, to)));
  }
  lzr_home_step(
      build, lzr_printf(build, _("Days %1$d to %2$d"), first_hold, last_hold),
      lzr_printf(build,
                 _("Test every day. Below %s: top up by the table below. A day below does "
                   "not count: add it at the end"),
                 lzr_home_level(build, course->works)),
      NULL);
  lzr_home_step(
      build,
      lzr_printf(build, _("Days %1$d to %2$d"), last_hold + 1, last_hold + course->watch_days),
      _("Take the copper out by water changes and fresh carbon. Watch; one white spot: ask us"),
      NULL);
  lzd_sheet_end_table(build->page);
}

static void
top_ups(LzrBuild *build, const Course *course)
{
  static const double litres[] = {5, 10, 20};
  lzd_column columns[] = {{_("when"), 0, LZD_START}, {C_("amount", "add"), 90, LZD_END}};
  lzr_heading(build, NULL, _("How much to add"), _("one dose a day, and only after a test"));
  lzr_begin(build);
  lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), true);
  const double tenth = course->target / 10; // 0.05 mg/L of amine-complexed copper
  for (int i = 1; i <= 3; i++) {
    const double below = i * tenth;
    lzd_cell cells[] = {
        {.text = lzr_printf(build, _("it reads %s mg/L"),
                            lzr_home_level(build, course->target - below))},
        {.text = lzr_home_ml(
             build, lzr_home_dose_ml(build->options, course->target - below, course->target)),
         .bold = true}};
    lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
  }
  for (guint i = 0; i < G_N_ELEMENTS(litres); i++) {
    if (litres[i] >= build->options->volume_l)
      break;
    lzd_cell cells[] = {
        {.text = lzr_printf(build, _("you change %s L: mix into the new salt water first"),
                            lzr_home_number(build, litres[i], 0))},
        {.text = lzr_home_ml(build, litres[i] * course->target / build->options->strength_mg_ml),
         .bold = true}};
    lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
  }
  lzd_sheet_end_table(build->page);
}

static void
too_high(LzrBuild *build, const Course *course)
{
  lzq_dose change;
  if (lzq_dose_lower(build->options->volume_l, course->harm, course->target, 0, 0, &change) !=
      LZQ_OK)
    return;
  lzr_line(build, LZD_BAND_HIGH,
           lzr_printf(build, _("It reads %s mg/L or more, or fish gasp or lie down:"),
                      lzr_home_level(build, course->harm)),
           lzr_printf(build,
                      _("change %s L at once with matched salt water without copper, test "
                        "again, add nothing, and ring us."),
                      lzr_home_number(build, change.with_litres, 1)));
}

void
lzr_take_home(LzrBuild *build)
{
  const Course course = course_of(build);
  const LzLotInfo *lot =
      build->options->lot != LZQ_NONE ? lz_desk_lot_info(build->desk, build->options->lot) : NULL;
  const char *labels[] = {_("explained by"), _("taken by")};
  lzr_head(build, _("Plan for your tank"),
           lot ? lzr_printf(build, _("lot %1$s, %2$s"), lot->code, lot->species) : NULL);
  lzr_foot(build, _("A bare tank, a heater, hiding places."));
  gboolean copper = course.protocol == LZQ_NONE || lzr_home_copper(build->desk, course.protocol);
  if (course.protocol == LZQ_NONE)
    before(build, &course);
  else
    before_protocol(build, &course);
  days(build, &course);
  if (copper) {
    top_ups(build, &course);
    too_high(build, &course);
  }
  lzr_line(build, LZD_MARK_NONE, _("Mains power and salt water:"),
           _("drip loops, a residual-current breaker, plugs out before hands go in. Wear gloves; "
             "measure with a syringe kept for this alone; wash hands."));
  lzr_line(build, LZD_MARK_NONE, _("Salinity and temperature:"),
           _("match the new tank to the bag or our water before the fish go in; top up evaporated "
             "water with fresh water only."));
  lzd_sheet_to_foot(build->page);
  lzd_sheet_sign(build->page, labels, G_N_ELEMENTS(labels), true);
}
