// SPDX-License-Identifier: GPL-3.0-or-later
// Checks a protocol before anybody is treated by it: refuses what is impossible, warns of what is
// unusual or dangerous. Codes and numbers only; nothing here replaces a veterinarian's signature.
#ifndef LZQ_PROTOCOL_H
#define LZQ_PROTOCOL_H

#include "lzq_arena.h"
#include "lzq_model.h"

typedef enum { LZQ_FINDING_REFUSE, LZQ_FINDING_WARN } lzq_severity;

// The numbers n[0..3] of each are named behind it.
typedef enum {
  LZQ_FINDING_NONE = 0,
  // refused
  LZQ_FINDING_NO_PHASES,
  LZQ_FINDING_NOT_A_NUMBER,     // the field's value is not a number
  LZQ_FINDING_NEGATIVE,         // n0 value
  LZQ_FINDING_UNKNOWN,          // n0 value: no such kind, analyte, form, side ...
  LZQ_FINDING_TOO_MANY,         // n0 value, n1 most
  LZQ_FINDING_SIGHTING_FORWARD, // n0 phase named: goes to a later phase
  LZQ_FINDING_TARGET_OUTSIDE,   // n0 target, n1 works edge: the target would not earn credit
  LZQ_FINDING_RANGE_EMPTY,      // n0 low, n1 high
  LZQ_FINDING_EDGES_CROSSED,    // n0 works, n1 plan, n2 harm: not in this order
  LZQ_FINDING_BANDS_EMPTY,      // n0 analyte: two bands of one phase leave nothing in common
  LZQ_FINDING_NO_GAP,           // n0 G: no reading can be young enough
  LZQ_FINDING_ERROR_TOO_WIDE,   // n0 error of the best instrument, n1 width: nothing can lie inside
  LZQ_FINDING_SHARE,            // n0 value: a share is between 0 and 1
  LZQ_FINDING_ENDS_AT_ONCE,     // stays where it is and asks for nothing: it would end as it begins
  LZQ_FINDING_GEAR_BOTH,        // n0 gear: to be on and off at once
  LZQ_FINDING_STEP_TOO_LARGE, // n0 step needed, n1 largest allowed a day: the steps break the rate
  LZQ_FINDING_WARMTH_CROSSED, // n0 °C from, n1 °C to: no water is as warm as both
  LZQ_FINDING_BAD_VOLUME,     // reserved for set-up: n0 value
  // warned
  LZQ_FINDING_LEVEL_HIGH,       // n0 level, n1 limit, n2 analyte, n3 form
  LZQ_FINDING_LEVEL_LOW,        // n0 level, n1 limit, n2 analyte
  LZQ_FINDING_COPPER_SPECIES,   // n0 trait: copper and a species that must not meet it
  LZQ_FINDING_COPPER_UNKNOWN,   // n0 trait: no data is not safe
  LZQ_FINDING_LOW_SALT_SPECIES, // n0 trait
  LZQ_FINDING_MEET,             // n0 analyte, n1 other analyte: should not meet in one water
  LZQ_FINDING_MEET_LOW_SALT,    // n0 copper level, n1 salinity: copper and low salinity together
  LZQ_FINDING_GAP_SHORT,        // n0 G, n1 longest gap between test slots: credit is lost by design
  LZQ_FINDING_GAP_NO_SLACK,     // n0 G, n1 longest gap: a test a little late costs credit
  LZQ_FINDING_SIGHTING_BACK,    // n0 phase named, n1 phase named by an earlier phase
  LZQ_FINDING_NO_HARM_EDGE,     // n0 analyte: no level is an alarm
  LZQ_FINDING_FAST_RISE,        // n0 rise a day, n1 usual
  LZQ_FINDING_FAST_SALINITY,    // n0 move a day, n1 usual
  LZQ_FINDING_SHORT_HOLD,       // n0 credit min, n1 shortest published or usual
  LZQ_FINDING_BATH_LONG,        // n0 minutes, n1 most
  LZQ_FINDING_GEAR_FIGHTS,      // n0 gear: not asked to be off, and it takes the medicine out
  LZQ_N_FINDINGS
} lzq_finding_code;

typedef struct {
  lzq_finding_code code;
  lzq_severity severity;
  uint32_t phase;    // from 0; LZQ_NONE = the whole protocol
  uint32_t band;     // from 0; LZQ_NONE
  const char *field; // static ASCII name, as in lzq_phase and lzq_band
  double n[4];
} lzq_finding;

// What a protocol is checked against. Everything may be absent (0, NULL, NAN).
typedef struct {
  const lzq_slot *slots; // to compare G with the rhythm of the test slots
  uint32_t n_slots;
  uint32_t traits;       // bits of lzq_trait of the fish that it is meant for
  double copper_limit;   // the station's own limit of ionic copper, mg/L
  double salinity_error; // of the station's best instrument
} lzq_protocol_context;

// Checks phases[0..n_phases). *out lives in arena, in order of phase, refusals before warnings
// within one; *n_out = 0 is a protocol without a remark. O(phases * bands + slots). LZQ_NO_MEMORY
// leaves *out NULL. Limits and their sources (mg/L): ionic copper 0.21 (Zec, Hadfield and
// Hungerford 2021); amine-complexed 0.60 by plan and chelated 2.5 (common practice, no source);
// salinity not below 10 (Colorni 1985; Yanong FA164); praziquantel 2 in the water (Thomas 2016);
// formalin bath 250 and 60 minutes (Francis-Floyd VM061).
lzq_status lzq_protocol_check(const lzq_phase *phases, uint32_t n_phases,
                              const lzq_protocol_context *context, lzq_arena *arena,
                              const lzq_finding **out, uint32_t *n_out);

// Of salinity in a day, at the most; common practice, no source.
#define LZQ_USUAL_SALINITY_FALL 12.0
#define LZQ_USUAL_SALINITY_RISE 3.0

// The most that is published or common practice for a medicine, mg/L, as above; NAN = none known.
double lzq_published_limit(lzq_analyte analyte, lzq_form form);

// Whether one dose cannot serve two courses in one water that give a medicine without a band, the
// one `lowest`, the other `highest` mg/L: the higher lies beyond both what the other asks for and
// what is published (where nothing is, beyond what the other asks for). Common practice, no source.
bool lzq_levels_exclude(lzq_analyte medicine, double lowest, double highest);

#endif
