// SPDX-License-Identifier: GPL-3.0-or-later
// The gates in front of water. What is done now is stopped; what is entered after it was done is
// kept, with a note, unless no hand can have meant it: a slip of ten, a level that harms, a second
// dose of one round.
#include <glib/gi18n-lib.h>
#include <lzq_balance.h>
#include <lzq_gate.h>
#include <math.h>
#include <stdlib.h>

#include "lz_advice.h"
#include "lz_carry.h"
#include "lz_check.h"
#include "lz_format.h"
#include "lz_gate_medicine.h"
#include "lz_new_water.h"

#define SAME_ROUND_MIN                                                                             \
  (12 * 60)          // two doses closer than this are one round's: house rule, no source
#define PLANNED 1.05 // of the dose that a protocol gives: what a syringe or a balance makes of it

typedef struct {
  LzDraft *draft;
  const LzEntity *system;
  uint32_t water;
  lzq_minute at; // at which the water is judged: lz_carry_judged
  lzq_analyte analyte;
  GArray *steps;
  double mg, ml; // given; ml NAN without a bottle
  double volume;
  LzDoseAdvice advice;
} DoseGate;

static char *
level(double value)
{
  // as on paper: four decimals at most, so that 0.1615 + 684/2400 can be checked by hand
  return lz_format_short(value, 4);
}

// --- a second dose without a reading

static char *
who_gave(const DoseGate *g, const LzEntry *entry)
{
  const LzPerson *person = lz_model_person(g->draft->model, entry->who);
  return g_strdup(person && *person->initials ? person->initials : _("somebody"));
}

static char *
amount_of(const LzEntry *entry)
{
  if (lz_entry_has(entry, "amount_ml"))
    return lz_format_amount(lz_entry_number(entry, "amount_ml"), LZQ_UNIT_ML);
  g_autofree char *mg = lz_format_short(lz_entry_number(entry, "amount_mg"), 1);
  return g_strconcat(mg, " mg", NULL);
}

// With what waits in new water. Where nobody knows the level: the most copper that may be there.
// The other medicines break down by themselves between the doses of a course, and no shop reads
// them.
static double
before_dose(const DoseGate *g)
{
  if (g->advice.change_l > 0 && g->advice.possible)
    return g->advice.level_changed; // the change that it is mixed into the new water of
  double known = lzq_after_dose(lz_carry_level(g->steps), lz_new_water(g->steps).mg, g->volume);
  if (!isnan(known))
    return known;
  return g->analyte == LZQ_COPPER ? lz_carry_most(g->steps) : 0;
}

// The protocol's own next dose of a medicine that no shop reads.
static gboolean
is_repeat(const DoseGate *g, lzq_minute last)
{
  const lzq_minute at = g->draft->entry.happened_min;
  const LzOnce once = lz_advice_once(g->draft->desk, g->water, g->analyte, at);
  return isfinite(once.level) && llabs(at - last) >= once.apart_min;
}

static gboolean
gate_open_dose(DoseGate *g)
{
  LzDraft *d = g->draft;
  const LzCarryStep *open = lz_carry_open_dose(d->model, g->water, g->steps);
  if (!open || is_repeat(g, open->at))
    return TRUE;
  const lzq_record *record = &g_array_index(d->model->records, lzq_record, open->record);
  const LzEntry *entry = lz_model_entry(d->model, (int64_t)(record->id / LZ_RECORDS_PER_ENTRY));
  int32_t mixing = g_array_index(d->model->systems, lzq_system, g->water).mixing_min;
  double again = lzq_after_dose(before_dose(g), g->mg, g->volume);
  gboolean beyond = isfinite(g->advice.plan_edge) && again > g->advice.plan_edge + LZQ_EDGE;
  g_autofree char *who = who_gave(g, entry), *amount = amount_of(entry);
  g_autofree char *when = lz_format_time(d->model->zone, record->at);
  g_autofree char *then = lz_format_time(d->model->zone, open->at + mixing);
  g_autofree char *predicted = level(again);
  // Translators: system; who; amount; when; level after the same again; when a reading counts
  g_autofree char *words =
      g_strdup_printf(_("%1$s was dosed: %2$s gave %3$s at %4$s, and no reading has come since; "
                        "this dose would make "
                        "%5$s mg/L. Only a reading at %6$s or later unlocks it"),
                      g->system->label, who, amount, when, predicted, then);
  if (d->live || beyond || llabs(d->entry.happened_min - open->at) < SAME_ROUND_MIN)
    return lz_gate_refuse(d, LZ_GATED_OPEN_DOSE, "%s", words);
  lz_command_note(d->command, g_steal_pointer(&words));
  return TRUE;
}

// --- a level that nobody knows

static gboolean
gate_unknown(const DoseGate *g)
{
  LzDraft *d = g->draft;
  if (g->advice.possible || !isnan(g->advice.level_before) || isnan(g->advice.harm_edge))
    return TRUE;
  lz_gate_stop(
      d, LZ_GATED_UNKNOWN,
      g_strdup_printf(_("system: what %s holds is not known (no reading counts since carbon, resin "
                        "or an instrument in doubt); test first"),
                      g->system->label));
  return !d->live;
}

// --- the amount against the computed one

static char *
dose_line(const DoseGate *g, double predicted)
{
  g_autofree char *from = level(before_dose(g)), *mg = lz_format_machine(round(g->mg * 100) / 100);
  g_autofree char *litres = lz_format_machine(g->volume), *to = level(predicted);
  // Translators: level before, mg given, litres of the system, level after
  return g_strdup_printf(_("predicted %1$s + %2$s/%3$s = %4$s mg/L"), from, mg, litres, to);
}

static gboolean
refuse_amount(const DoseGate *g, const lzq_dose_answer *answer)
{
  g_autofree char *line = dose_line(g, answer->predicted);
  g_autofree char *typed = isnan(g->ml) ? lz_format_short(g->mg, 1) : lz_format_short(g->ml, 2);
  g_autofree char *asked =
      isnan(g->ml) ? lz_format_short(g->advice.mg, 1) : lz_format_short(g->advice.ml, 2);
  const char *field = isnan(g->ml) ? "amount_mg" : "amount_ml";
  if (answer->code == LZQ_DOSE_REFUSED_HARM) {
    g_autofree char *harm = level(g->advice.harm_edge);
    return lz_gate_refuse(g->draft, LZ_GATED_HARM,
                          _("%s: %s would harm: %s, and %s mg/L is where it harms; computed is %s"),
                          field, typed, line, harm, asked);
  }
  if (answer->slip_of_ten)
    return lz_gate_refuse(
        g->draft, LZ_GATED_SLIP,
        _("%s: %s is ten times the computed dose of %s, refused whoever asks: %s"), field, typed,
        asked, line);
  g_autofree char *ratio = lz_format_short(answer->ratio, 1);
  return lz_gate_refuse(g->draft, LZ_GATED_SLIP,
                        _("%s: %s is %s times the computed dose of %s, refused whoever asks: %s"),
                        field, typed, ratio, asked, line);
}

static gboolean
read_back_agrees(const DoseGate *g)
{
  double again;
  const char *typed = g->draft->command->readback;
  return typed && lz_parse_number(typed, &again, NULL, NULL) &&
         fabs(again - (isnan(g->ml) ? g->mg : g->ml)) < 1e-9;
}

static void
ask_second(const DoseGate *g, const lzq_dose_answer *answer)
{
  g_autofree char *line = dose_line(g, answer->predicted);
  g_autofree char *asked = lz_format_short(isnan(g->ml) ? g->advice.mg : g->advice.ml, 2);
  g_autofree char *words =
      g_strdup_printf(_("witness: this is more than one and a half times the computed "
                        "dose of %s: %s; a second person must agree"),
                      asked, line);
  const LzEntity *station = g->draft->model->station;
  // the second person's own sum is asked for further on, without saying what the first came to
  if (!g->draft->entry.witness && g->draft->live && !isnan(g->ml) && station &&
      lz_entry_int(station->now, "double_check"))
    return;
  if (g->draft->entry.witness)
    lz_gate_stop(g->draft, LZ_GATED_LARGE, g_steal_pointer(&words));
  else
    lz_gate_refuse(g->draft, LZ_GATED_LARGE, "%s", words);
}

static void
ask_again(const DoseGate *g, const lzq_dose_answer *answer)
{
  LzDraft *d = g->draft;
  if (read_back_agrees(g) || d->entry.witness)
    return;
  g_autofree char *asked = lz_format_short(isnan(g->ml) ? g->advice.mg : g->advice.ml, 2);
  g_autofree char *line = dose_line(g, answer->predicted);
  if (d->live)
    lz_gate_refuse(d, LZ_GATED_SMALL,
                   _("amount: this is half of the computed dose of %s or less: %s; type it again "
                     "if it is meant"),
                   asked, line);
  else
    lz_command_note(
        d->command,
        g_strdup_printf(_("kept: half of the computed dose of %s or less: %s"), asked, line));
}

// Mixed into new water, and no change since the last reading or dose may have been the one.
static gboolean
is_ahead(const DoseGate *g)
{
  return lz_draft_yes(g->draft, "in_new_water") && isnan(lz_carry_before_changes(g->steps));
}

// The level that the largest change of a day takes of one, where a dose goes into new water before
// its change: how much that water is nobody has entered, if the plan asks for none.
static double
taken(const DoseGate *g, double level)
{
  const LzModel *m = g->draft->model;
  return is_ahead(g) && !(g->advice.change_l > 0)
             ? level * g_array_index(m->systems, lzq_system, g->water).max_change_day
             : 0;
}

// What such a dose may replace, at the target.
static double
in_new_water(const DoseGate *g, double now)
{
  return taken(g, fmax(isnan(g->advice.target) ? 0 : g->advice.target, now)) * g->volume;
}

// The level after this dose. One into new water puts back what its change will take.
static double
after_dose(const DoseGate *g, double before)
{
  return fmax(before, lzq_after_dose(before, g->mg, g->volume) - taken(g, before));
}

// The computed dose of the slip gate is the largest that can be meant: all the way to the target. A
// step of a rise is smaller, and is what the lower gate compares with.
static gboolean
gate_amount(DoseGate *g)
{
  double now = before_dose(g);
  double whole = isnan(g->advice.target) ? NAN : (g->advice.target - now) * g->volume;
  const double replaces = in_new_water(g, now);
  lzq_dose_request request = {.computed_mg =
                                  g->advice.possible ? fmax(whole, g->advice.mg) + replaces : NAN,
                              .typed_mg = g->mg,
                              .level = now,
                              .volume_l = g->volume,
                              .harm = g->advice.harm_edge};
  if (!g->advice.possible || !(request.computed_mg > 0))
    request.computed_mg = g->mg; // nothing to compare with: only the harm edge speaks
  lzq_dose_answer answer = lzq_dose_verdict(&request);
  if (answer.refused)
    return refuse_amount(g, &answer);
  gboolean small = g->advice.possible && g->mg <= LZQ_SLIP_SMALL * g->advice.mg * (1 + 1e-9) &&
                   !g->draft->entry.corrects && !(replaces > 0);
  if (answer.code == LZQ_DOSE_SECOND_PERSON)
    ask_second(g, &answer);
  else if (small)
    ask_again(g, &answer);
  return TRUE;
}

// --- a dose

static int
word_index(const char *words, const char *word)
{
  g_auto(GStrv) list = g_strsplit(words, "|", -1);
  for (int i = 0; word && list[i]; i++)
    if (g_str_equal(list[i], word))
      return i;
  return -1;
}

static gboolean
read_amount(DoseGate *g, GError **error)
{
  LzDraft *d = g->draft;
  const LzEntity *bottle = lz_model_entity(d->model, lz_draft_ref(d, "bottle"));
  double ml = lz_draft_number(d, "amount_ml"), mg = lz_draft_number(d, "amount_mg");
  double salt = lz_draft_number(d, "salt_kg");
  if (isfinite(ml) + isfinite(salt) + (isfinite(mg) && isnan(ml)) != 1)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("amount: give one of amount_ml (with bottle), amount_mg or salt_kg"));
  if (isfinite(ml) && !bottle)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("bottle: mL are from a bottle; accepted is its number"));
  if (!(fmax(fmax(isnan(ml) ? 0 : ml, isnan(mg) ? 0 : mg), isnan(salt) ? 0 : salt) > 0))
    return lz_value_refuse(error, "amount", "0", _("an amount above zero"));
  g->ml = ml;
  if (isfinite(salt)) {
    g->analyte = LZQ_SALINITY;
    g->mg = salt * 1000;
    return TRUE;
  }
  const lzs_field *f = &d->spec->fields[lzs_kind_field(d->spec, "analyte")];
  int analyte = word_index(f->words, bottle ? lz_entry_text(bottle->now, "analyte")
                                            : lz_draft_text(d, "analyte"));
  if (analyte < 0)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("analyte: say what was given, or from which bottle"));
  g->analyte = (lzq_analyte)analyte;
  g->mg = bottle && isfinite(ml) ? ml * lz_model_strength(bottle->now) : mg;
  return TRUE;
}

static LzMedicineGate
medicine_of(const DoseGate *g)
{
  LzDraft *d = g->draft;
  const LzEntity *bottle = lz_model_entity(d->model, lz_draft_ref(d, "bottle"));
  int form = bottle ? lz_entry_word(bottle->now, "form") : lz_draft_word(d, "form");
  double before = before_dose(g);
  double most = fmax(g->advice.mg, (g->advice.target - before) * g->volume);
  if (form <= 0)
    form = g->analyte == LZQ_COPPER ? LZQ_FORM_IONIC : LZQ_FORM_NONE;
  const double shown = g->advice.ml < 1000 ? 0.1 : 1; // as lz_format_amount says mL
  // the new water that it is mixed into takes the place of what was read
  const double kept = g->advice.change_l > 0 ? 1 - g->advice.change_l / g->volume : 1;
  const double doubted = lz_carry_doubtful(g->steps) * kept;
  const gboolean advised = g->advice.possible && fabs(g->ml - g->advice.ml) <= shown / 2 + LZQ_EDGE;
  return (LzMedicineGate){.draft = d,
                          .system = g->system,
                          .bottle = bottle,
                          .analyte = g->analyte,
                          .form = (lzq_form)form,
                          .before = before,
                          .after = advised ? g->advice.level_after // as computed, not as rounded
                                           : after_dose(g, before),
                          .doubted = doubted,
                          .if_right = lzq_after_dose(doubted, g->mg, g->volume),
                          .ml = g->ml,
                          .has_plan = isfinite(g->advice.plan_edge) ||
                                      (g->advice.of_phase && g->mg <= PLANNED * g->advice.mg),
                          .large = g->advice.possible && g->mg > LZQ_SLIP_SECOND * most};
}

// The computed dose is that of the bottle which is entered, and of the new water that the plan asks
// for where it goes into that.
static void
advise(DoseGate *g)
{
  LzDraft *d = g->draft;
  const LzEntity *bottle = lz_model_entity(d->model, lz_draft_ref(d, "bottle"));
  const gboolean ahead = is_ahead(g);
  lz_advice_make(d->desk, g->water, g->analyte,
                 ahead ? lz_gate_new_litres(d, g->water, g->analyte) : 0, g->at, &g->advice);
  if (!bottle || !g->advice.possible)
    return;
  g->advice.bottle = bottle->index;
  g->advice.ml = g->advice.mg / lz_model_strength(bottle->now);
}

gboolean
lz_gate_dose(LzDraft *d, GError **error)
{
  DoseGate g = {.draft = d, .system = lz_model_entity(d->model, lz_draft_ref(d, "system"))};
  g.water = g.system->index;
  if (!read_amount(&g, error))
    return FALSE;
  const char *typed = lz_command_get(d->command, "amount_ml");
  if (typed && !lz_command_get(d->command, "typed"))
    lz_draft_set_text(d, "typed", typed);
  if (g.analyte == LZQ_SALINITY) {
    lz_gate_salt(d, g.water, g.mg / 1000);
    return TRUE;
  }
  g.at = lz_carry_judged(d->model, g.water, g.analyte, d->entry.happened_min, d->entry.corrects);
  g_autoptr(GArray) steps = lz_carry_without(d->model, g.water, g.analyte, g.at, d->entry.corrects);
  g.steps = steps;
  g.volume = lz_carry_volume(d->model, g.water, g.at);
  advise(&g);
  if (isfinite(g.advice.ml) && isnan(lz_draft_number(d, "computed_ml")) && isfinite(g.ml))
    lz_draft_set_real(d, "computed_ml", g.advice.ml);
  LzMedicineGate medicine = medicine_of(&g);
  if (lz_draft_yes(d, "given_in_error"))
    return lz_gate_in_error(&medicine, &g.advice, g.volume, error);
  medicine.is_amount = gate_open_dose(&g) && gate_unknown(&g) &&
                       lz_gate_doubted(&medicine, &g.advice) && gate_amount(&g);
  if (medicine.is_amount)
    lz_gate_planned(&medicine, &g.advice);
  lz_gate_medicine(&medicine);
  return TRUE;
}
