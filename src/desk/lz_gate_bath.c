// SPDX-License-Identifier: GPL-3.0-or-later
// The gates in front of a bath in a vessel of its own (published strength, time and air, the
// bottle, the fish, a second person's own sum) and of medicine in the feed (the bottle, the fish).
#include <glib/gi18n-lib.h>
#include <lzq_bath.h>
#include <math.h>

#include "lz_format.h"
#include "lz_gate_medicine.h"

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

// mg/L in the vessel; formalin is counted as the 37 % solution, so mL of it by its density where
// the bottle says nothing.
static double
level_of(const LzDraft *d, const LzEntity *bottle)
{
  double litres = lz_draft_number(d, "litres"), ml = lz_draft_number(d, "amount_ml");
  double mg = lz_draft_number(d, "amount_mg");
  if (isnan(mg) && bottle)
    mg = ml * lz_model_strength(bottle->now);
  else if (isnan(mg) && lz_draft_word(d, "bath") == FORMALIN)
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
    return lzq_bath_formalin_check(isnan(level) ? 0 : level, lz_draft_number(d, "temperature"),
                                   minutes, air) == LZQ_BATH_KEEPS;
  default: return TRUE;
  }
}

void
lz_gate_bath(LzDraft *d)
{
  int bath = lz_draft_word(d, "bath");
  const LzEntity *bottle = lz_model_entity(d->model, lz_draft_ref(d, "bottle"));
  const LzEntity *lot = lz_model_entity(d->model, lz_draft_ref(d, "lot"));
  double level = level_of(d, bottle);
  if (!keeps_limits(d, bath, level)) {
    g_autofree char *strength = lz_format_short(level, 1);
    lz_gate_stop(d, LZ_GATED_BATH,
                 g_strdup_printf(_("bath: %1$s mg/L for %2$d minutes is beyond what is "
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
