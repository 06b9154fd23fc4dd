// SPDX-License-Identifier: GPL-3.0-or-later
// The gates in front of a bath in a vessel of its own (published strength, time and air, the
// bottle, the fish, a second person's own sum) and of medicine in the feed (the bottle, the fish).
#include <glib/gi18n-lib.h>
#include <lzq_bath.h>
#include <math.h>

#include "lz_format.h"
#include "lz_gate_medicine.h"
#include "lz_gate_move.h"

#define FRESH_MOST 10 // minutes: Noga 2010, value from memory
#define PEROXIDE_MOST                                                                              \
  150 // mg/L; 340 killed at the second bath, and 150 and more for hours was severe
#define PEROXIDE_MIN 30

enum { FRESHWATER, PEROXIDE, FORMALIN };

uint8_t
lz_bath_medicine(int word)
{
  static const uint8_t medicines[] = {LZQ_SALINITY,     LZQ_PEROXIDE,    LZQ_FORMALIN,
                                      LZQ_PRAZIQUANTEL, LZQ_CHLOROQUINE, LZQ_SALINITY};
  return word >= 0 && word < (int)G_N_ELEMENTS(medicines) ? medicines[word] : LZQ_SALINITY;
}

gboolean
lz_check_formalin(double strength, gboolean said, GError **error)
{
  g_autofree char *typed = lz_format_short(strength, 3);
  const char *accepted =
      // xgettext:no-c-format
      _("1000 to 1150 mg/mL for formalin: the whole 37 % solution is counted, by its density 1080, "
        "not the formaldehyde in it (400 mg/mL); if it is diluted, 5 to 27 with the words “% "
        "formalin”, or 2 to 10 with “% formaldehyde”");
  return lzq_formalin_strength_ok(strength) || (said && lzq_formalin_is_thin(strength)) ||
         lz_value_refuse(error, "strength", typed, accepted);
}

double
lz_bath_level(int bath, const LzEntity *bottle, double litres, double ml, double mg)
{
  if (isnan(mg) && bottle)
    mg = ml * lz_model_strength(bottle->now);
  else if (isnan(mg) && bath == FORMALIN)
    mg = ml * LZQ_FORMALIN_DENSITY * 1000;
  return mg / litres;
}

static gboolean
keeps_limits(const LzDraft *d, int bath, double level)
{
  double minutes = lz_draft_number(d, "minutes");
  gboolean air = lz_draft_yes(d, "air");
  switch (bath) {
  case FRESHWATER: return minutes <= FRESH_MOST;
  case PEROXIDE: return !(level > PEROXIDE_MOST) && minutes <= PEROXIDE_MIN;
  case FORMALIN:
    // as the level is written, so that 150 / 1.08 in as many digits as one likes makes 150
    return lzq_bath_formalin_check(isnan(level) ? 0 : round(level * 10) / 10,
                                   lz_draft_number(d, "temperature"), minutes,
                                   air) == LZQ_BATH_KEEPS;
  default: return TRUE;
  }
}

static const char *
why_not(lzq_bath_verdict verdict)
{
  switch (verdict) {
  case LZQ_BATH_STOPPED: return _("it was ended early");
  case LZQ_BATH_SHORT: return _("it was shorter than the phase asks for");
  case LZQ_BATH_WEAK:
    return _("it was weaker than the phase asks for, or its strength is not said");
  default: return _("the phase asks for another");
  }
}

// Whether it is the bath that the lot's phase waits for, and whom it has not reached: said at once,
// since the phase does not end without it.
static void
note_phase(LzDraft *d, const LzEntity *lot, int bath, double level)
{
  lzq_arena arena;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  const lzq_snapshot *s = lz_model_view(d->model);
  const lzq_credit *credit = lz_gate_credit(d, &arena);
  const lzq_lot_credit *own = credit ? &credit->lots[lot->index] : NULL;
  if (own && own->has_course && !own->served && !d->entry.corrects) {
    const lzq_phase *phase = &s->phases[s->protocols[own->protocol].first_phase + own->phase];
    const lzq_visit *visit = &own->visits[own->n_visits - 1];
    const lzq_record given = {.analyte = lz_bath_medicine(bath),
                              .value = lz_draft_number(d, "minutes"),
                              .amount = level,
                              .error = lz_draft_number(d, "temperature"),
                              .ok = !lz_draft_yes(d, "stopped")};
    const lzq_bath_verdict verdict = lzq_bath_counts(phase, &given);
    const double heads = lz_draft_number(d, "heads");
    const int reached = visit->bathed + (heads > 0 ? (int)heads : own->heads);
    if (phase->kind == LZQ_PHASE_BATH && verdict != LZQ_BATH_COUNTS)
      lz_command_note(d->command,
                      g_strdup_printf(_("this bath does not end the phase: %s"), why_not(verdict)));
    else if (phase->kind == LZQ_PHASE_BATH && reached < own->heads)
      lz_command_note(d->command,
                      g_strdup_printf(_("bathed so far: %1$d of %2$d fish; the phase ends "
                                        "with the last of them"),
                                      reached, own->heads));
  }
  lzq_arena_free(&arena);
}

void
lz_gate_bath(LzDraft *d)
{
  int bath = lz_draft_word(d, "bath");
  const LzEntity *bottle = lz_model_entity(d->model, lz_draft_ref(d, "bottle"));
  const LzEntity *lot = lz_model_entity(d->model, lz_draft_ref(d, "lot"));
  double level = lz_bath_level(bath, bottle, lz_draft_number(d, "litres"),
                               lz_draft_number(d, "amount_ml"), lz_draft_number(d, "amount_mg"));
  if (!keeps_limits(d, bath, level)) {
    g_autofree char *strength = lz_format_short(level, 1);
    lz_gate_stop(d, LZ_GATED_BATH,
                 isnan(level) && lz_bath_medicine(bath) != LZQ_SALINITY
                     ? g_strdup(_("amount_ml: without the amount and the litres nobody can "
                                  "say how strong the bath was"))
                     : g_strdup_printf(_("bath: %1$s mg/L for %2$d minutes is beyond what is "
                                         "published for it, or air or temperature is not given"),
                                       strength, (int)lz_draft_number(d, "minutes")));
  }
  LzMedicineGate gate = {.draft = d,
                         .lot = lot,
                         .bottle = bottle,
                         .analyte = lz_bath_medicine(bath),
                         .before = 0,
                         .after = level,
                         .ml = lz_draft_number(d, "amount_ml"),
                         .is_amount = TRUE,
                         .has_plan = TRUE};
  if (gate.analyte != LZQ_SALINITY)
    lz_gate_medicine(&gate);
  note_phase(d, lot, bath, level);
}

void
lz_gate_feed(LzDraft *d)
{
  const LzEntity *bottle = lz_model_entity(d->model, lz_draft_ref(d, "bottle"));
  if (!bottle)
    return;
  int analyte = lz_entry_word(bottle->now, "analyte");
  LzMedicineGate gate = {.draft = d,
                         .lot = lz_model_entity(d->model, lz_draft_ref(d, "lot")),
                         .bottle = bottle,
                         .analyte = (lzq_analyte)MAX(analyte, 0),
                         .before = 0,
                         .after = NAN,
                         .ml = NAN,
                         .in_feed = TRUE,
                         .is_amount = TRUE,
                         .has_plan = TRUE};
  lz_gate_medicine(&gate);
}
