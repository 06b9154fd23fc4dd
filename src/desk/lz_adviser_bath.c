// SPDX-License-Identifier: GPL-3.0-or-later
// Work that can hurt people or fish: bleach, its neutraliser, baths. Levels and limits are
// published ones, each with its source; the cautions come with the answer, always.
#include <glib/gi18n-lib.h>
#include <lzq_bath.h>
#include <math.h>

#include "lz_adviser_private.h"
#include "lz_advice.h"
#include "lz_check.h"
#include "lz_format.h"
#include "lz_place.h"
#include "lz_words.h"

#define BLEACH_LEVEL 200.0 // mg/L available chlorine for 1 h: Piper et al. 1982 p. 283, 285
#define BLEACH_MIN   60.0

static void
add_value(LzAdvising *a, const char *what, double value, const char *unit)
{
  g_autofree char *number = lz_format_short(value, 2);
  g_autofree char *text = g_strdup_printf("%s %s", number, unit);
  lz_working_add(a->out->lines, what, "", text, FALSE);
}

static void
bleach_cautions(LzAdvising *a)
{
  lz_advising_caution(a, _("No fish in it, and none in water that shares its pump."));
  lz_advising_caution(a, _("Gloves and eye protection, air in the room; never bleach together with "
                           "acid, ammonia or formalin."));
  lz_advising_caution(a,
                      _("Clean first: dirt uses the chlorine up. Afterwards neutralise, test for "
                        "none, rinse and dry."));
  lz_advising_caution(a, _("Local rules say where the water may go."));
}

gboolean
lz_adviser_neutralise(LzAdvising *a, GError **error)
{
  lzq_amount amount, low, high;
  double level = a->ask->level;
  if (!lz_advising_needs(a, "level", level, error))
    return FALSE;
  if (lz_advising_failed(lzq_neutralise(a->volume, level, LZQ_THIOSULFATE_RATIO, &amount), error))
    return FALSE;
  lz_advising_measure(a, &amount.working, amount.amount, LZQ_UNIT_G);
  lzq_neutralise(a->volume, level, LZQ_THIOSULFATE_LOW, &low);
  lzq_neutralise(a->volume, level, LZQ_THIOSULFATE_HIGH, &high);
  g_autofree char *from = lz_format_amount(low.amount, LZQ_UNIT_G),
                  *to = lz_format_amount(high.amount, LZQ_UNIT_G);
  g_autofree char *range = g_strdup_printf("%s – %s", from, to);
  lz_working_add(a->out->lines, _("Practice ranges"), "5.0 – 7.4 mg/mg", range, FALSE);
  lz_advising_caution(a, _("Sodium thiosulfate pentahydrate. Test for chlorine afterwards: it must "
                           "read none. It must not meet complexed copper."));
  a->out->source = "7.0 mg/mg: Standard Methods dechlorination practice; range: Standard Methods "
                   "23rd ed. as quoted, Piper et al. 1982 p. 283";
  return TRUE;
}

gboolean
lz_adviser_bleach(LzAdvising *a, GError **error)
{
  lzq_amount amount, back;
  double level = isnan(a->ask->target) ? BLEACH_LEVEL : a->ask->target;
  if (!lz_advising_needs(a, "strength", a->ask->strength, error))
    return FALSE;
  if (a->ask->system != LZQ_NONE)
    for (uint32_t lot = 0; lot < a->desk->model->lots->len; lot++) {
      LzPlace place = lz_place_of(a->desk->model, lot, a->desk->now);
      if (place.system == a->ask->system && lz_place_lives(&place))
        return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                         _("system: lot %s is in it; bleach is for an empty one"),
                         lz_desk_name(a->desk, "lot", lot));
    }
  if (lz_advising_failed(lzq_bath_liquid(a->volume, level, a->ask->strength, &amount), error))
    return FALSE;
  lz_advising_measure(a, &amount.working, amount.amount, LZQ_UNIT_ML);
  add_value(a, _("Time of contact, full strength held"),
            isnan(a->ask->minutes) ? BLEACH_MIN : a->ask->minutes, "min");
  lzq_neutralise(a->volume, level, LZQ_THIOSULFATE_RATIO, &back);
  g_autofree char *grams = lz_format_amount(back.amount, LZQ_UNIT_G);
  g_autofree char *how = g_strdup(_("7.0 mg of pentahydrate per mg, all of it still there"));
  lz_working_add(a->out->lines, _("Thiosulfate afterwards"), how, grams, FALSE);
  bleach_cautions(a);
  a->out->source = "200 mg/L for 1 h: Piper et al. 1982, Fish Hatchery Management, p. 283 and 285; "
                   "more than 60 mg/L for 24 h lets no cyst hatch: Hirazawa, Goto and Shirasu 2003 "
                   "(authors from memory)";
  return TRUE;
}

// --- baths

static const struct {
  lzq_analyte analyte;
  double level, level_most; // mg/L
  double minutes, most;
  const char *stop; // when it ends at once
  const char *source;
} baths[LZ_N_BATHS] = {
    [LZ_BATH_FRESHWATER] = {LZQ_SALINITY, 0, 0, 4, 10,
                            N_("Take them out at once if they lie over, gasp or dash about."),
                            "3 to 5 minutes, at most 10, matched temperature and pH: Noga 2010 and "
                            "UF/IFAS FA033 (values from memory)"},
    [LZ_BATH_PEROXIDE] = {LZQ_PEROXIDE, 75, 150, 30, 30,
                          N_("Take them out at once if they gasp, lose balance or colour."),
                          "75 mg/L for 30 min: Aquaculture 450 (2016) and 2017, abstracts; "
                          "150 mg/L and more for hours was severe: same"},
    [LZ_BATH_FORMALIN] =
        {LZQ_FORMALIN, 250, 250, 45, 60,
         N_("Take them out at once if they gasp, turn dark or lose balance."),
         "250 mg/L, 150 above 21 °C, at most 60 min: Francis-Floyd, UF/IFAS VM-77"},
    [LZ_BATH_PRAZIQUANTEL] = {LZQ_PRAZIQUANTEL, 2, 10, 0, 2880,
                              N_("Take them out if they stop breathing evenly."),
                              "2 mg/L, repeated: Braz J Vet Parasitol 2019, abstract; 10 mg/L for "
                              "48 h: Forwood et al. 2013, abstract"},
};

static gboolean
check_formalin(const LzAdvising *a, double level, double minutes, GError **error)
{
  double t = a->ask->temperature;
  switch (lzq_bath_formalin_check(level, t, minutes, a->ask->air)) {
  case LZQ_BATH_TOO_STRONG:
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                     _("level: %g mg/L is not accepted; a formalin bath is at most 250 mg/L"),
                     level);
  case LZQ_BATH_TOO_STRONG_WARM:
    return lz_refuse(
        error, LZ_DESK_ERROR_REFUSED,
        _("level: %g mg/L is not accepted; above 21 °C, or where the temperature is not "
          "given, at most 150 mg/L"),
        level);
  case LZQ_BATH_TOO_LONG:
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                     _("minutes: %g is not accepted; a formalin bath is at most 60 minutes"),
                     minutes);
  case LZQ_BATH_NO_AIR:
    return lz_refuse(
        error, LZ_DESK_ERROR_REFUSED,
        _("air: a formalin bath uses up the oxygen; it is worked out only with air on"));
  default: return TRUE;
  }
}

static gboolean
check_bath(const LzAdvising *a, double level, double minutes, GError **error)
{
  LzBath bath = a->ask->bath;
  if (bath == LZ_BATH_FORMALIN)
    return check_formalin(a, level, minutes, error);
  if (level > baths[bath].level_most)
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                     _("level: %g mg/L is not accepted; published is at most %g mg/L"), level,
                     baths[bath].level_most);
  if (minutes > baths[bath].most)
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                     _("minutes: %g is not accepted; published is at most %g"), minutes,
                     baths[bath].most);
  return TRUE;
}

static void
bath_cautions(LzAdvising *a)
{
  LzBath bath = a->ask->bath;
  lz_advising_caution(
      a, _("Somebody stays and watches all the time; air is on; the time runs on a clock."));
  lz_advising_caution(a, _(baths[bath].stop));
  lz_advising_caution(a, _("One fish first, of each species."));
  if (bath == LZ_BATH_FRESHWATER)
    lz_advising_caution(a, _("Temperature and pH of the bath match. It does not cure white spot."));
  if (bath == LZ_BATH_FORMALIN)
    lz_advising_caution(a,
                        _("Formalin is poisonous and causes cancer: gloves, eye protection, air; "
                          "exposure limits of staff hold. Cloudy stock, or stock with a white "
                          "layer, is refused and disposed of by local rules."));
  if (bath == LZ_BATH_PEROXIDE)
    lz_advising_caution(a, _("Peroxide burns: gloves and eye protection. It is harsher the warmer "
                             "the water is."));
  lz_advising_caution(a, _("The label, local rules and the veterinarian come first."));
}

// The strength asked for, or that of the bottle asked for, which must hold what the bath is of; NAN
// = neither was given.
static gboolean
bath_strength(LzAdvising *a, double *strength, GError **error)
{
  const LzBath bath = a->ask->bath;
  *strength = a->ask->strength;
  if (bath == LZ_BATH_FORMALIN && isfinite(*strength) &&
      !lz_check_formalin(*strength, a->ask->as_formalin, error))
    return FALSE;
  if (a->ask->bottle == LZQ_NONE)
    return TRUE;
  const LzEntity *bottle = lz_model_entity_at(a->desk->model, LZS_BOTTLE, a->ask->bottle);
  int holds = lz_entry_word(bottle->now, "analyte");
  if (bath == LZ_BATH_FRESHWATER)
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                     _("bottle: %s is not accepted; a bath of fresh water takes none"),
                     bottle->label);
  if (holds != (int)baths[bath].analyte)
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                     _("bottle: %1$s holds %2$s; accepted is one of %3$s"), bottle->label,
                     lz_words_analyte((lzq_analyte)MAX(holds, 0)),
                     lz_words_analyte(baths[bath].analyte));
  double own = lz_model_strength(bottle->now);
  if (isfinite(*strength) && fabs(*strength - own) > 0.005 * own)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("strength: bottle %1$s has %2$g mg/mL, not %3$g; give one of the two"),
                     bottle->label, own, *strength);
  *strength = own;
  lz_working_add(a->out->lines, _("Bottle"), "", bottle->label, FALSE);
  return TRUE;
}

static lzq_status
bath_amount(LzAdvising *a, double level, double strength, lzq_amount *amount)
{
  if (a->ask->bath == LZ_BATH_FORMALIN && isnan(strength))
    return lzq_bath_formalin(a->volume, level, LZQ_PPM_WEIGHT, amount);
  if (isnan(strength) && a->ask->bath == LZ_BATH_PEROXIDE)
    strength = LZQ_PEROXIDE_35;
  if (isfinite(strength))
    return lzq_bath_liquid(a->volume, level, strength, amount);
  *amount = (lzq_amount){.amount = a->volume * level / 1000, .active_mg = a->volume * level};
  lzq_working_add(&amount->working, LZQ_LINE_MASS, a->volume, level, amount->active_mg, 0);
  return LZQ_OK; // a solid, weighed
}

// "10 % formalin" is a tenth of the solution that is sold, and its bath takes ten times as much.
static void
say_formalin(LzAdvising *a, double strength)
{
  const double whole = LZQ_FORMALIN_DENSITY * 1000;
  const gboolean thin = lzq_formalin_is_thin(strength);
  const double share = thin ? strength / whole : 1;
  g_autofree char *formalin = lz_format_short(100 * share, 1);
  g_autofree char *inside = lz_format_short(LZQ_FORMALDEHYDE * share, 1);
  g_autofree char *value =
      // Translators: the same strength, counted in two ways
      g_strdup_printf(_("%1$s %% formalin, that is %2$s %% formaldehyde"), formalin, inside);
  lz_working_add(a->out->lines, _("Worked out for"), "", value, FALSE);
  // xgettext:no-c-format
  const char *again =
      _("Read the label again: of the whole solution (37 % formaldehyde) this amount "
        "would be many times too much.");
  // xgettext:no-c-format
  const char *whole_only = _("Only of the whole solution (37 % formaldehyde). Of diluted formalin "
                             "the amount is another: enter its bottle with the strength as its "
                             "label has it, such as “10 % formalin”.");
  lz_advising_caution(a, thin ? again : whole_only);
}

gboolean
lz_adviser_bath(LzAdvising *a, GError **error)
{
  LzBath bath = a->ask->bath;
  lzq_amount amount;
  double strength;
  gboolean warm = !(a->ask->temperature <= 21);
  double level = isfinite(a->ask->target) ? a->ask->target : baths[bath].level;
  if (bath == LZ_BATH_FORMALIN && isnan(a->ask->target) && warm)
    level = 150;
  double minutes = isfinite(a->ask->minutes) ? a->ask->minutes : baths[bath].minutes;
  if (!check_bath(a, level, minutes, error) || !bath_strength(a, &strength, error))
    return FALSE;
  if (bath == LZ_BATH_FORMALIN)
    say_formalin(a, strength);
  if (bath != LZ_BATH_FRESHWATER) {
    if (lz_advising_failed(bath_amount(a, level, strength, &amount), error))
      return FALSE;
    gboolean solid = bath == LZ_BATH_PRAZIQUANTEL && isnan(strength);
    lz_advising_measure(a, &amount.working, amount.amount, solid ? LZQ_UNIT_G : LZQ_UNIT_ML);
  } else {
    a->out->amount = minutes;
    a->out->unit = LZQ_UNIT_MIN;
  }
  if (a->ask->system != LZQ_NONE && !lz_adviser_bath_lots(a, error))
    return FALSE;
  if (minutes > 0)
    add_value(a, _("Time"), minutes, "min");
  add_value(a, _("Never longer than"), baths[bath].most, "min");
  bath_cautions(a);
  a->out->source = baths[bath].source;
  return TRUE;
}

gboolean
lz_question_of_bath(LzDesk *desk, const lzq_task *task, LzQuestion *ask)
{
  LzBath bath = 0;
  while (bath < LZ_N_BATHS && baths[bath].analyte != task->analyte)
    bath++;
  if (task->kind != LZQ_TASK_BATH || bath == LZ_N_BATHS)
    return FALSE;
  lz_question_init(ask, LZ_QUESTION_BATH);
  ask->bath = bath;
  ask->minutes = task->amount;
  ask->temperature = task->because.n[3];
  if (bath == LZ_BATH_FRESHWATER)
    return TRUE;
  ask->target = task->level_after;
  ask->bottle = lz_advice_bottle(desk, LZQ_NONE, baths[bath].analyte);
  return TRUE;
}
