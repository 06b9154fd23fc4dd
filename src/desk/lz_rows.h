// SPDX-License-Identifier: GPL-3.0-or-later
// Rows that screens show. A row object lives as long as its key does (selection survives a
// refresh); its info struct is replaced in place and "changed" is emitted. Bind rows by bind/unbind
// pairs.
#ifndef LZ_ROWS_H
#define LZ_ROWS_H

#include <glib-object.h>
#include <lz_engine.h>

#include "lz_desk.h"

// Base of all rows. Properties "key", "title" and "detail" are finished, translated text: title
// names the thing in one short line (search, accessible name), detail says how it stands in one
// sentence.
#define LZ_TYPE_ROW (lz_row_get_type())
G_DECLARE_DERIVABLE_TYPE(LzRow, lz_row, LZ, ROW, GObject)
struct _LzRowClass {
  GObjectClass parent_class;
};
const char *lz_row_key(LzRow *row);
const char *lz_row_title(LzRow *row);
const char *lz_row_detail(LzRow *row);

// How a level stands in its band: the band mark.
typedef enum {
  LZ_MARK_NONE, // no band, nothing needed
  LZ_MARK_IN_BAND,
  LZ_MARK_EDGE, // on an edge
  LZ_MARK_HIGH,
  LZ_MARK_LOW,
  LZ_MARK_OLD,    // the last reading is older than G
  LZ_MARK_UNREAD, // never read, or unknown
  LZ_MARK_HARM,   // harm edge reached: change water now
  LZ_MARK_DOUBT,  // a reading in doubt says that it is: test again at once
} LzMark;

typedef struct {
  uint32_t index;
  int64_t id;
  const char *name;
  lzq_role role;
  lzq_state state;
  double volume_l; // in force now
  int tanks, heads, lots;
  double level[2];       // copper, salinity: carried to now; NAN
  double read[2];        // the last reading that counts, as it was read; NAN = never
  lzq_minute read_at[2]; // its minute; LZQ_LONG_AGO = never
  LzMark mark[2];
  gboolean has_band[2];
  lzq_band band[2];
  gboolean copper_in, salt_low; // base of the basin: hatched, underlined
  lzq_minute open_dose_at;      // LZQ_LONG_AGO = none
  double open_dose_mg;
  double temperature;   // last read, NAN
  lzq_minute next_test; // of the next planned test, LZQ_NEVER; a late one is not planned any more
  lzq_minute late_test; // when the first late one should have been made, LZQ_NEVER
  lzq_analyte late_analyte;
  const char *why; // sentence of a conflict, or NULL
} LzSystemInfo;

typedef struct {
  uint32_t index, system;
  int64_t id;
  const char *name; // "Blue-1/3"
  int number;
  double volume_l;
  int heads;
  int lots;
  uint32_t lot; // the only or first one, LZQ_NONE
} LzTankInfo;

typedef struct {
  uint32_t index, system, tank; // LZQ_NONE = nowhere
  int64_t id;
  const char *code, *species, *protocol, *phase; // "" where there is none
  int heads, heads_received;
  gboolean living, released, served, has_course;
  uint32_t phase_index, n_phases;
  int64_t credit_min, needed_min, open_min;       // of the phase; needed 0 = it asks for none
  lzq_minute received_at, earliest, likely, late; // LZQ_NEVER = cannot be said
  gboolean firm;
  const char *because; // why not released yet, one sentence
} LzLotInfo;

typedef struct {
  const lzq_task *task;                           // the row's own copy, valid until its "changed"
  const char *where, *what, *amount, *when, *why; // finished words; amount "" if none
  const char *kind;    // kind of entry that does it: "reading", "dose", "change", "move" ..., or ""
  gboolean same_water; // as the line before it (walk cord: hollow knot)
  // Lots that one visit to the water serves, each asking the same; n_lots 0 = a task of its own.
  // The task then names the water, no lot.
  const uint32_t *lots;
  guint n_lots;
} LzTaskInfo;

typedef struct {
  int64_t id;
  lzq_minute at;
  const char *where, *what, *who, *when; // finished words
} LzDoneInfo;

typedef struct {
  int64_t id;
  const char *kind;
  lzq_minute at;
  const char *when, *recorded, *where, *what, *who, *witness, *reason;
  gboolean corrected, voided; // by a later entry
  int64_t corrects;
} LzEntryInfo;

typedef struct {
  int64_t id;
  const char *name, *initials, *role;
  gboolean active;
} LzPersonInfo;

typedef struct {
  uint32_t index;
  int64_t id;
  const char *name, *method;
  double error_abs, error_rel, resolution;
  gboolean ever_checked, ok;
  lzq_minute checked_at; // LZQ_LONG_AGO = never
  lzq_minute check_due;  // LZQ_NEVER = the station asks for none
  const char *sees, *standards, *reagent_batch, *reagent_expiry; // "" = not said
  gboolean overdue, reagents_expired;
} LzInstrumentInfo;

typedef struct {
  uint32_t index;
  int64_t id;
  const char *name, *batch, *expiry;
  lzq_analyte analyte;
  lzq_form form;
  double strength_mg_ml; // as metal
  double left_ml;        // NAN = not known
  gboolean low, expired;
  const char *prescription, *receipt; // "" = none
  int64_t prescriber, supplier;       // ids, 0 = none
} LzBottleInfo;

typedef struct {
  uint32_t index;
  int64_t id;
  const char *name, *source, *caution; // "Name/2"
  int version;
  guint n_phases;
  gboolean signed_off;
  int courses; // lots under it now
} LzProtocolInfo;

// What the record shows that somebody must look at.
typedef enum {
  LZ_MATTER_RELEASED_SHORT, // released before its time, by what is known now
  LZ_MATTER_UNPROVEN,       // released before a reading confirmed its last credit
  LZ_MATTER_RELEASED_HELD,  // released while another lot held it under the last-in rule
  LZ_MATTER_LEFT_SHORT,     // fish or water went on before a phase had ended
  LZ_MATTER_UNCOURSED,      // reached by a sighting, under no protocol
  LZ_MATTER_IGNORED,        // an act on record that could not be done and changed nothing
} LzMatter;

typedef struct {
  LzMatter matter;
  uint32_t lot, system; // LZQ_NONE = not said
  int64_t entry;        // of the act, 0 = none
  lzq_minute at;
  const char *held_by;         // code of the lot that held it, "" = none did
  int64_t short_min;           // credit or time that the phase lacks
  int64_t acceptable_min;      // what a named person may accept (kind "accept"), 0 = nothing
  int phase_number;            // position in its protocol, from 1; 0 = none
  const char *code, *customer; // of the lot, "" = none
  const char *phase, *when;    // finished words
  const char *what;            // finished sentence without the lot
} LzMatterInfo;

// A lot that may have carried the parasite into or out of a water where it was seen.
typedef struct {
  int64_t sighting; // entry
  uint32_t seen_in; // system
  lzq_minute seen_at;
  uint32_t lot, system; // the water of the contact
  lzq_minute from, to;
  lzq_contact_how how;
  gboolean set_back;                 // WATER, and under a course
  gboolean uncoursed;                // WATER, under no protocol: nothing watches it
  gboolean gone;                     // released, merged or dead
  uint32_t system_now;               // LZQ_NONE = gone
  const char *code, *where, *now_in; // finished words; now_in "" = gone
  const char *what;                  // "shared nets with Pearl-2 from ... to ..."
} LzContactInfo;

#define LZ_ROW_TYPE(Name, name, NAME)                                                              \
  G_DECLARE_FINAL_TYPE(Lz##Name##Row, lz_##name##_row, LZ, NAME##_ROW, LzRow)                      \
  const Lz##Name##Info *lz_##name##_row_info(Lz##Name##Row *row);
#define LZ_TYPE_SYSTEM_ROW     (lz_system_row_get_type())
#define LZ_TYPE_TANK_ROW       (lz_tank_row_get_type())
#define LZ_TYPE_LOT_ROW        (lz_lot_row_get_type())
#define LZ_TYPE_TASK_ROW       (lz_task_row_get_type())
#define LZ_TYPE_DONE_ROW       (lz_done_row_get_type())
#define LZ_TYPE_ENTRY_ROW      (lz_entry_row_get_type())
#define LZ_TYPE_PERSON_ROW     (lz_person_row_get_type())
#define LZ_TYPE_INSTRUMENT_ROW (lz_instrument_row_get_type())
#define LZ_TYPE_BOTTLE_ROW     (lz_bottle_row_get_type())
#define LZ_TYPE_PROTOCOL_ROW   (lz_protocol_row_get_type())
#define LZ_TYPE_MATTER_ROW     (lz_matter_row_get_type())
#define LZ_TYPE_CONTACT_ROW    (lz_contact_row_get_type())
LZ_ROW_TYPE(System, system, SYSTEM)
LZ_ROW_TYPE(Tank, tank, TANK)
LZ_ROW_TYPE(Lot, lot, LOT)
LZ_ROW_TYPE(Task, task, TASK)
LZ_ROW_TYPE(Done, done, DONE)
LZ_ROW_TYPE(Entry, entry, ENTRY)
LZ_ROW_TYPE(Person, person, PERSON)
LZ_ROW_TYPE(Instrument, instrument, INSTRUMENT)
LZ_ROW_TYPE(Bottle, bottle, BOTTLE)
LZ_ROW_TYPE(Protocol, protocol, PROTOCOL)
LZ_ROW_TYPE(Matter, matter, MATTER)
LZ_ROW_TYPE(Contact, contact, CONTACT)

// The row of an engine index. Valid until the next "changed"; NULL if there is none.
const LzSystemInfo *lz_desk_system_info(LzDesk *desk, uint32_t system);
const LzLotInfo *lz_desk_lot_info(LzDesk *desk, uint32_t lot);

#endif
