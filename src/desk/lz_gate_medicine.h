// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: the gates of a medicine that do not ask how much the adviser computed: bottle,
// fish, other medicines, equipment, limits, rest after arrival, a second person's own sum.
#ifndef LZ_GATE_MEDICINE_H
#define LZ_GATE_MEDICINE_H

#include "lz_advice.h"
#include "lz_check.h"

// Levels of a medicine are read to 0.01 mg/L; what a syringe adds to a computed dose is less.
#define LZ_HALF_AS_READ 0.005

typedef struct {
  LzDraft *draft;
  const LzEntity *system; // NULL = a vessel of its own
  const LzEntity *lot;    // of a bath; NULL = every lot in the system
  const LzEntity *bottle; // NULL = none named
  lzq_analyte analyte;
  lzq_form form;
  double before, after; // mg/L, NAN = not known
  double doubted;       // before it, if a reading in doubt is right; NAN = none is
  double if_right;      // after it, if a reading in doubt is right; NAN = none is
  double ml;            // from the bottle, NAN
  gboolean has_plan;    // a protocol there says how far
  gboolean in_feed;     // medicated feed: always on prescription
  gboolean is_amount;   // the amount itself was not refused: limits and a second sum are asked
  gboolean large;       // more than one and a half times the computed dose
} LzMedicineGate;

void lz_gate_medicine(const LzMedicineGate *gate);

// lz_gate_error.c: what is said to a dose that was given in error.
gboolean lz_gate_in_error(const LzMedicineGate *gate, const LzDoseAdvice *advice, double volume,
                          GError **error);

// lz_gate_doubt.c: what it would come to if a higher reading in doubt is right: somebody gave a
// dose and did not write it down. FALSE = stopped for good.
gboolean lz_gate_doubted(const LzMedicineGate *gate, const LzDoseAdvice *advice);

// lz_gate_rate.c: a dose that is due now, and as large as its lots ask for.
void lz_gate_planned(const LzMedicineGate *gate, const LzDoseAdvice *advice);
// Salinity `after` an act that `what` names, in a water of these steps, against the largest step
// and the largest day that the lots there may make.
void lz_gate_salinity(LzDraft *draft, uint32_t water, const GArray *steps, double after,
                      const char *what);

// lz_gate_water.c: kilograms of salt into a water.
void lz_gate_salt(LzDraft *draft, uint32_t water, double kg);
// Litres of the next new water that the plan wants a medicine mixed into; 0 = none, or not now.
double lz_gate_new_litres(LzDraft *draft, uint32_t water, lzq_analyte analyte);

// lz_gate_meet.c: other medicines in the water, equipment.
void lz_gate_meet(const LzMedicineGate *gate);
// Whether a water of these steps holds a medicine at that minute, or may hold it.
gboolean lz_gate_may_hold(LzModel *model, const GArray *steps, lzq_analyte analyte, lzq_minute at);

// lz_gate_bleach.c: fish on their way into a water that holds chlorine.
void lz_gate_bleach(LzDraft *draft, const char *lot, uint32_t system);

// lz_gate_enter.c: what a species bears; NULL = nobody said which it is.
// Its class for a medicine: "avoid", "unknown" ...; NULL where nothing is said.
const char *lz_gate_class(const LzEntry *species, lzq_analyte analyte);
gboolean lz_gate_avoids(const LzEntry *species, lzq_analyte analyte);
// Fish on their way into a water, against every medicine that it holds or may hold.
void lz_gate_enter(LzDraft *draft, const LzEntry *species, const char *lot, uint32_t system);

// What a bath of this word of the kind "bath" holds; salinity where it is fresh water or other.
uint8_t lz_bath_medicine(int word);
// mg/L in its vessel; formalin is counted as the 37 % solution, so mL of it by its density where no
// bottle is named. NAN = not said.
double lz_bath_level(int word, const LzEntity *bottle, double litres, double ml, double mg);

#endif
