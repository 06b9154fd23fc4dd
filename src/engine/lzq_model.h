// SPDX-License-Identifier: GPL-3.0-or-later
// The station as the engine sees it: a read-only snapshot of arrays, owned by the caller.
// Entities refer to each other by index into these arrays (LZQ_NONE = none). The engine never
// writes to a snapshot, and checks every index before it uses one (lzq_snapshot_check).
//
// Units: litres, mg/L (salinity: practical salinity, PSS-78), mg, °C, minutes. Names carry the
// unit.
#ifndef LZQ_MODEL_H
#define LZQ_MODEL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "lzq_status.h"

typedef int64_t lzq_minute; // minutes since 1970-01-01T00:00Z
static inline lzq_minute
lzq_latest(lzq_minute a, lzq_minute b)
{
  return a > b ? a : b;
}
#define LZQ_NEVER           INT64_MAX
#define LZQ_LONG_AGO        INT64_MIN
#define LZQ_DAY             1440 // minutes of credit in a "day", never a calendar date
#define LZQ_NONE            UINT32_MAX
#define LZQ_MAX_BANDS       4
#define LZQ_MAX_PHASES      64   // of one protocol
#define LZQ_MAX_EATING_DAYS 366  // that a phase may ask for
#define LZQ_EDGE            1e-9 // a level this close to an edge is on the edge, that is: effective
// mg/L of copper or chlorine at or below which water counts as free of it: about what a photometer
// cannot tell from none (common practice, no source). A phase may say another for copper.
#define LZQ_NONE_LEFT 0.02

typedef enum {
  LZQ_COPPER = 0,     // mg/L as Cu
  LZQ_SALINITY,       // practical salinity
  LZQ_TEMPERATURE,    // °C
  LZQ_PH,             //
  LZQ_AMMONIA,        // total ammonia nitrogen, mg/L N
  LZQ_NITRITE,        // mg/L N
  LZQ_NITRATE,        // mg/L N
  LZQ_OXYGEN,         // mg/L
  LZQ_ALKALINITY,     // mmol/L
  LZQ_CHLORINE,       // mg/L as Cl2
  LZQ_PRAZIQUANTEL,   // mg/L
  LZQ_CHLOROQUINE,    // mg/L as the diphosphate
  LZQ_FORMALIN,       // mg/L of formalin, w/v
  LZQ_PEROXIDE,       // mg/L H2O2
  LZQ_REDUCING_AGENT, // mg/L of a dechlorinator or ammonia binder as bought; nobody reads it
  LZQ_N_ANALYTES
} lzq_analyte;

#define LZQ_N_READ LZQ_REDUCING_AGENT // those before it can be read

// True for what mass balance carries between readings: copper, salinity and dosed medicines.
bool lzq_analyte_carried(lzq_analyte analyte);

typedef enum {
  LZQ_FORM_NONE = 0, // no copper known in that water / not copper
  LZQ_FORM_IONIC,
  LZQ_FORM_AMINE, // amine-complexed
  LZQ_FORM_CHELATED,
  LZQ_N_FORMS
} lzq_form;

typedef enum {
  LZQ_ROLE_RECEIVING,
  LZQ_ROLE_TREATMENT,
  LZQ_ROLE_FINISHING,
  LZQ_ROLE_ISOLATION,
  LZQ_ROLE_DISPLAY,
  LZQ_N_ROLES
} lzq_role;
typedef enum {
  LZQ_STATE_EMPTY,
  LZQ_STATE_DISINFECTING,
  LZQ_STATE_CYCLING,
  LZQ_STATE_STOCKED,
  LZQ_N_STATES
} lzq_state;
typedef enum {
  LZQ_GEAR_SKIMMER,
  LZQ_GEAR_UV,
  LZQ_GEAR_CARBON,
  LZQ_GEAR_RESIN,
  LZQ_GEAR_OZONE,
  LZQ_GEAR_AIR,
  LZQ_GEAR_HEATER,
  LZQ_GEAR_PUMP,
  LZQ_N_GEAR
} lzq_gear;

// Whether that equipment, switched on, takes this analyte out of the water: carbon and resin take
// up every dosed medicine and no salt. Its level is unknown then until it is read.
bool lzq_gear_takes_out(lzq_gear gear, lzq_analyte analyte);

typedef struct {
  double volume_l; // net volume in force before the first VOLUME record
  lzq_role role;
  int32_t walk;           // place in the walk among systems of equal cleanliness, smaller first
  int32_t mixing_min;     // after a dose, until a reading speaks for the whole water (default 60)
  double max_change_day;  // largest share of the volume changed in any 1,440 minutes, 0..1
  double source_salinity; // of the salt water used for changes here
  uint32_t net_set;       // nets and tools: systems of one number share them; 0 = its own
} lzq_system;

typedef struct {
  uint32_t system;
  double volume_l;
  int32_t number;
} lzq_tank;

// LZQ_SEES_ALL forms: a total-copper photometer. Bits are 1 << lzq_form.
typedef struct {
  uint32_t sees_forms; // forms of copper that the method can see (ignored for other analytes)
  double error_abs;    // stated accuracy, in the analyte's unit: +- error_abs + error_rel * value
  double error_rel;
  double resolution;
  int32_t check_days; // it is checked again after this many days; 0 = nobody says
} lzq_instrument;

typedef struct {
  lzq_analyte analyte;   // what the bottle holds
  lzq_form form;         // of copper
  double strength_mg_ml; // as the metal (or as named in lzq_analyte), never as salt
  lzq_minute expires_at; // nothing is given from it from then on; 0 = nobody says
  bool spent;            // by the record nothing is left in it
} lzq_bottle;

// The newest bottle in date that holds the analyte, copper in that form (LZQ_FORM_NONE = any), and
// is not spent; if all are, the newest of those (the record may be wrong). LZQ_NONE = none does.
uint32_t lzq_bottle_pick(const lzq_bottle *bottles, uint32_t n, lzq_analyte analyte, lzq_form form,
                         lzq_minute now);

typedef enum { LZQ_AT_OR_ABOVE, LZQ_AT_OR_BELOW, LZQ_BETWEEN } lzq_side;

// One band of a phase. Edges are levels of `analyte`. works: the credit edge (BETWEEN: works is the
// lower and works_high the upper). plan: no plan and no dose goes beyond. harm: reached = alarm.
// plan and harm lie beyond the far side: above for AT_OR_ABOVE and BETWEEN, below for AT_OR_BELOW;
// NAN = none.
typedef struct {
  lzq_analyte analyte;
  lzq_form form;
  lzq_side side;
  double works, works_high;
  double target; // where a dose or change aims
  double plan, harm;
  int32_t gap_min;   // G: longest age of a serving reading, minute r+G included
  bool error_inside; // the reading's error must lie inside the works edge
} lzq_band;

typedef enum {
  LZQ_PHASE_RISE,  // copper up in steps, each confirmed
  LZQ_PHASE_HOLD,  // credit in bands
  LZQ_PHASE_LOWER, // salinity down
  LZQ_PHASE_RAISE, // salinity up
  LZQ_PHASE_COPPER_OUT,
  LZQ_PHASE_TRANSFER, // into the next clean tank
  LZQ_PHASE_BATH,
  LZQ_PHASE_FEED,     // medicated feed
  LZQ_PHASE_MEDICATE, // a dose into the water, then a wait (flukes)
  LZQ_PHASE_OBSERVE,
  LZQ_PHASE_WAIT,
  LZQ_PHASE_DISINFECT, // of an emptied system
  LZQ_N_PHASE_KINDS
} lzq_phase_kind;

typedef enum { LZQ_PLACE_STAY, LZQ_PLACE_ROLE, LZQ_PLACE_NEXT_CLEAN } lzq_place;
typedef enum { LZQ_LAPSE_PAUSE, LZQ_LAPSE_RESTART } lzq_lapse;
typedef enum { LZQ_SIGN_NOBODY, LZQ_SIGN_PERSON, LZQ_SIGN_VET } lzq_sign;

typedef struct {
  lzq_phase_kind kind;
  lzq_place place;
  lzq_role role; // for LZQ_PLACE_ROLE
  uint32_t n_bands;
  lzq_band bands[LZQ_MAX_BANDS];
  bool reach;              // ends at the first minute that would earn credit (the end of a rise)
  int64_t min_elapsed_min; // since the lot first stood in the place
  int64_t min_credit_min;
  int64_t quiet_min;   // minutes without a sighting, since the phase began or the last sighting
  int32_t eating_days; // station days on which the share eaten reached eaten_share
  double eaten_share;  // 0..1
  lzq_sign sign;       // who must let the lot out of the phase
  int32_t lapse_min;   // L; < 0 = never lapses
  lzq_lapse lapse;
  uint32_t sighting_to; // phase to go back to; never later than this one
  // how the water is brought here (0 or NAN = no limit)
  double rise_per_day; // copper, mg/L in any 1,440 minutes
  int32_t rise_steps;
  int32_t step_gap_min; // at least this long between two steps
  double salinity_fall_day, salinity_rise_day, salinity_step;
  int32_t late_tolerance_min; // of a transfer, or of a medicine that is dosed once
  bool early; // the move into it is planned for the first slot of a day, unless it would be late
  double warm_from, warm_to; // °C between which its times hold; NaN or 0 = open at that end
  // what a destination's water must meet before a move into this phase's place
  double tol_copper, tol_salinity, tol_temperature, tol_ph;
  bool copper_free;       // destination copper at most tol_copper_free instead of the tolerance
  double tol_copper_free; // 0 or NAN = LZQ_NONE_LEFT; see lzq_copper_free
  // a dose or feed of this phase (MEDICATE, BATH, FEED)
  lzq_analyte medicine;
  double dose_level; // mg/L, or mg per kg of fish and day for feed
  int32_t bath_min;
  uint32_t gear_on, gear_off; // bits 1 << lzq_gear that must be on or off
} lzq_phase;

// The most copper, mg/L, at which a destination counts as free of it for this phase.
double lzq_copper_free(const lzq_phase *phase);

// Whether the phase ends only when its medicine was given since it began: a medicine dosed once
// (there is no band on it), from when its minimum time counts then, and a bath.
bool lzq_phase_gives(const lzq_phase *phase);
// The first of the two: what is given once is a dose of the water.
bool lzq_phase_doses(const lzq_phase *phase);

// Whether whatever counts for `earned` would have counted for `asked` as well, so that a course
// moved from the one to the other may keep it: the same kind, place and medicine, and no condition
// of `asked` that `earned` did not hold as strictly (each band's edge and gap, warmth,
// minutes and strength of a bath or dose, lapse). Days of eating are counted anew by the new share.
bool lzq_phase_serves(const lzq_phase *earned, const lzq_phase *asked);

typedef struct {
  uint32_t first_phase; // into snapshot.phases
  uint32_t n_phases;
  uint32_t family; // versions of one protocol share it
  uint32_t version;
} lzq_protocol;

typedef enum {
  LZQ_TRAIT_INVERTEBRATE = 1,
  LZQ_TRAIT_CARTILAGINOUS = 2,
  LZQ_TRAIT_COPPER_SENSITIVE = 4,
  LZQ_TRAIT_COPPER_UNKNOWN = 8,
  LZQ_TRAIT_LOW_SALT_SENSITIVE = 16
} lzq_trait;

typedef struct {
  uint32_t traits;    // bits of lzq_trait
  double mean_mass_g; // of one fish, NAN = not known
} lzq_lot;

// Kinds in the order in which records of one minute act; within a kind the order of entry holds.
typedef enum {
  LZQ_REC_RECEIVE = 0, // lot, tank, heads
  LZQ_REC_VOLUME,      // system, amount = net litres from now on
  LZQ_REC_STATE,       // system, state
  LZQ_REC_CHECK,       // instrument, ok
  LZQ_REC_READING,     // system, analyte, instrument, value, error, suspect, confirms
  LZQ_REC_CHANGE,      // system, amount = litres out and in, drip, new_copper, new_salinity
  LZQ_REC_TOPUP,       // system, amount = litres, new_salinity (0 = fresh water)
  // system, analyte, form, bottle, amount = mg of the analyte (salinity: g of salt), drip = mixed
  // into new water that a change brings in
  LZQ_REC_DOSE,
  LZQ_REC_GEAR,        // system, gear, ok = on
  LZQ_REC_SIGHTING,    // system (lot, tank where known), heads = fish seen with it
  LZQ_REC_COUNT,       // lot, heads = how many there are
  LZQ_REC_DEATH,       // lot, heads = how many died
  LZQ_REC_FEED,        // lot, amount = share eaten 0..1, day = station day number
  LZQ_REC_SIGN,        // lot, phase, ok = by the vet: lets the lot out of the phase
  LZQ_REC_ACCEPT,      // lot, phase, amount = minutes of missing credit accepted
  LZQ_REC_ACCEPT_OPEN, // lot: credit open before this minute becomes firm
  LZQ_REC_SPLIT,       // lot -> other, heads
  LZQ_REC_MOVE,        // lot, tank
  LZQ_REC_MERGE,       // lot -> other; lot ends
  LZQ_REC_STOP,        // lot: the course ends
  LZQ_REC_COURSE,      // lot, protocol, phase, keep = carry credit and starts over from the course
                       // before
  LZQ_REC_RELEASE,     // lot
  // lot, analyte = medicine (salinity: fresh water), heads bathed (<= 0 = all), value = minutes,
  // amount = mg/L in the vessel and error = °C there (NAN = not known), ok = not ended early: no
  // credit, closes its task if it is what the phase asks for (lzq_bath_counts)
  LZQ_REC_BATH,
  LZQ_REC_SCRAPE, // lot: a fish of it was scraped, whatever was found (a parasite: a SIGHTING too)
  LZQ_N_RECORD_KINDS
} lzq_record_kind;

// One record. Fields that its kind does not name are ignored. `corrects` names the FIRST entry
// (never another correction): the record replaces it whole, or, with `voided`, takes it away. A
// correction acts at its own `at` and keeps the first entry's place in the order of entry.
typedef struct {
  uint64_t id;       // unique, rising in the order of entry
  uint64_t corrects; // id of the first entry, 0 = none
  bool voided;
  bool suspect; // reading flagged against its prediction when entered
  bool ok;
  bool drip; // continuous change: 1 - exp(-v/V) instead of v/V; of a dose: into new water
  bool keep;
  uint8_t kind, analyte, form, gear, state;
  lzq_minute at;
  uint32_t system, tank, lot, other, instrument, bottle, protocol, phase;
  int32_t heads;
  int32_t day;
  uint64_t confirms; // id of the suspect reading that this one repeats and agrees with, 0 = none
  double value;      // canonical unit of the analyte
  double error;      // +- in the same unit; NAN = the instrument's
  double amount;
  double new_copper;   // mg/L in the new water; NAN = not known, taken as zero
  double new_salinity; // NAN = not known: salinity then earns nothing until it is read
} lzq_record;

// Shift slots ahead, resolved by the caller (zone, daylight saving, absence), rising.
typedef struct {
  lzq_minute at;
  int32_t day; // station day number
  bool test;   // a slot at which tests are made
} lzq_slot;

typedef struct {
  bool last_in;           // the last-in rule for shared water
  bool trust_unchecked;   // instruments never checked are trusted (default true)
  double missed_share;    // share of planned tests missed in the last 60 days, 0..1
  int64_t accept_max_min; // most minutes that a person may accept
  int64_t contact_days;   // look-back of contacts after a sighting (default 14)
  double copper_limit;    // largest level of ionic copper the station allows, mg/L
} lzq_station;

typedef struct {
  lzq_station station;
  const lzq_system *systems;
  const lzq_tank *tanks;
  const lzq_instrument *instruments;
  const lzq_bottle *bottles;
  const lzq_phase *phases;
  const lzq_protocol *protocols;
  const lzq_lot *lots;
  const lzq_record *records; // in the order of entry
  const lzq_slot *slots;     // rising
  uint32_t n_systems, n_tanks, n_instruments, n_bottles, n_phases, n_protocols, n_lots, n_slots;
  size_t n_records;
} lzq_snapshot;

// Phase `phase`, counted from 0, of a protocol; NULL = there is none.
static inline const lzq_phase *
lzq_phase_at(const lzq_snapshot *snapshot, uint32_t protocol, uint32_t phase)
{
  return protocol < snapshot->n_protocols && phase < snapshot->protocols[protocol].n_phases
             ? &snapshot->phases[snapshot->protocols[protocol].first_phase + phase]
             : NULL;
}

// Checks every index, sign, order and finite value of a snapshot. LZQ_OK, or LZQ_BAD_INPUT with
// *fault. Cost O(size). Every other engine call may assume a snapshot that passed.
lzq_status lzq_snapshot_check(const lzq_snapshot *snapshot, lzq_fault *fault);

#endif
