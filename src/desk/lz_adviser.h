// SPDX-License-Identifier: GPL-3.0-or-later
// The adviser: what exactly to add, change or weigh, with the working line by line, the cautions
// that go with it, and what it is measured with. It only works out: nothing here is recorded.
//
// What is not asked for is taken from the record: volume and level of the water now, the target of
// the lots in it, the newest bottle of the medicine. Drops and scoops are never an answer. Numbers
// are canonical (L, mg/L, practical salinity, g, mL); NAN = not given.
#ifndef LZ_ADVISER_H
#define LZ_ADVISER_H

#include "lz_working.h"

typedef enum {
  LZ_QUESTION_RAISE,   // medicine up to a target, in the steps that the protocol or `step` allows
  LZ_QUESTION_REPLACE, // a change of `litres`, and what puts back what it takes out
  LZ_QUESTION_LOWER,   // too much in the water: the changes that bring it down
  LZ_QUESTION_FRESHEN, // salinity down by changes, copper put back after each
  LZ_QUESTION_SALT,    // salinity up by salt, or by changes with saltier water
  LZ_QUESTION_BLEACH,  // disinfects an empty system, and what neutralises it afterwards
  LZ_QUESTION_NEUTRALISE, // thiosulfate against chlorine
  LZ_QUESTION_BATH,       // a bath in a vessel of its own
  LZ_QUESTION_FEED,       // medicine in the feed, by the mass of the fish
  LZ_N_QUESTIONS
} LzQuestionKind;

typedef enum {
  LZ_BATH_FRESHWATER,
  LZ_BATH_PEROXIDE,
  LZ_BATH_FORMALIN,
  LZ_BATH_PRAZIQUANTEL,
  LZ_N_BATHS
} LzBath;

typedef struct {
  LzQuestionKind kind;
  uint32_t system;    // LZQ_NONE = none: volume and level are given
  uint32_t bottle;    // LZQ_NONE = the newest that fits
  const GArray *lots; // uint32_t, not owned: BATH and FEED for these alone; NULL = all in the water
  lzq_analyte analyte;
  LzBath bath;
  double volume_l, level, target, litres, new_level;
  double step, step_hours; // largest single move, hours between two
  double strength;         // mg/mL, or g/L of available chlorine: the same number
  lzq_as as;               // what `strength` counts
  double minutes, temperature;
  double mg_per_kg, ration, active_share; // of medicated feed
  double copper_target;                   // FRESHEN: NAN = its level now
  gboolean drip, after;      // a continuous change; dosed after the change, not beforehand
  gboolean by_change;        // SALT: against saltier water of new_level
  gboolean air;              // BATH: air is on
  gboolean as_formalin;      // BATH: the strength was said in % of formalin or formaldehyde
  gboolean expected;         // the level is what a coming test is expected to read
  lzq_tool syringe, balance; // 10 mL by 0.2, and 0.1 g, unless said
} LzQuestion;

typedef struct {
  uint32_t lot;
  int heads;
  double amount; // of a bath as measured, in the answer's unit; of feed mg of active a day
} LzAnswerLot;

typedef struct {
  GArray *each;        // LzAnswerLot, empty where it is about no lots
  GPtrArray *lines;    // LzWorkingLine
  GPtrArray *cautions; // char *, sentences
  const char *source;  // where the level and the rule come from; "" for plain arithmetic
  double amount;       // of the first result, NAN
  lzq_unit unit;
} LzAnswer;

void lz_question_init(LzQuestion *ask, LzQuestionKind kind);
// A number of the question as typed, in any usual unit (US gal, °F, ppm, %, SG with its scale),
// into the unit above. `field` is the field's name here; a share typed without % counts times
// `scale`. FALSE with a sentence that calls it `name`.
gboolean lz_question_number(LzDesk *desk, const LzQuestion *ask, const char *field,
                            const char *name, double scale, const char *text, double *out,
                            GError **error);
// NULL with a sentence: what is missing, or what must not be done. Free with lz_answer_free.
LzAnswer *lz_desk_answer(LzDesk *desk, const LzQuestion *ask, GError **error);
// The question that a bath of the plan asks, from its newest bottle; its vessel and air are still
// to be said. FALSE = no bath, or one that the adviser does not work out.
gboolean lz_question_of_bath(LzDesk *desk, const lzq_task *task, LzQuestion *ask);
// What one starts from to work a bath out alone: vessel, level, strength. LzWorkingLine, no result.
GPtrArray *lz_question_given(LzDesk *desk, const LzQuestion *ask);
void lz_answer_free(LzAnswer *answer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzAnswer, lz_answer_free)

// "raise", "replace" ... as the command line takes them; NULL beyond the last. The same of baths.
const char *lz_question_name(LzQuestionKind kind);
const char *lz_bath_name(LzBath bath);

#endif
