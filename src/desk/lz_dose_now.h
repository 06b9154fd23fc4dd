// SPDX-License-Identifier: GPL-3.0-or-later
// What a water needs now of one analyte: medicine from a bottle or weighed out, salt, or a change
// of water. The amounts are the plan's and the adviser's, held against every gate; none is worked
// out anew.
#ifndef LZ_DOSE_NOW_H
#define LZ_DOSE_NOW_H

#include "lz_desk.h"

typedef struct {
  gboolean asked;      // lots ask for this analyte now, or something must be said
  gboolean give;       // `amount` may be given now
  lzq_task_kind kind;  // LZQ_TASK_DOSE, LZQ_TASK_SALT or LZQ_TASK_CHANGE
  double amount;       // in `unit`; NAN
  lzq_unit unit;       // mL of `bottle`, g, kg of salt, L of water changed
  uint32_t bottle;     // LZQ_NONE = none
  double mg;           // of a medicine, NAN = none
  double level_before; // of the analyte, NAN = not said
  double level_after;
  double new_salinity; // of the new water of a change; NAN = as the system
  double new_water_l;  // a dose that goes into so much new water beforehand; 0 = into the system
  char *why;           // why it is asked, why not now, or what a second person must lift; NULL
} LzDoseNow;

// plan: of lz_desk_plan_at_once, NULL = only what the adviser says. Clear the answer.
void lz_desk_dose_now(LzDesk *desk, const lzq_plan *plan, uint32_t system, lzq_analyte analyte,
                      LzDoseNow *out);
void lz_dose_now_clear(LzDoseNow *answer);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(LzDoseNow, lz_dose_now_clear)

// "to add now: 68.4 mL of C-07, 0.19 mg/L after it"; NULL where nothing is to be said.
char *lz_dose_now_words(LzDesk *desk, lzq_analyte analyte, const LzDoseNow *answer);
// How that amount is worked out: LzWorkingLine elements, none where nothing may be given.
GPtrArray *lz_dose_now_working(LzDesk *desk, uint32_t system, lzq_analyte analyte,
                               const LzDoseNow *answer);
// The usual caution beside the amount.
const char *lz_dose_now_caution(lzq_analyte analyte, const LzDoseNow *answer);

#endif
