// SPDX-License-Identifier: GPL-3.0-or-later
// Kinds of entry as data: one table of fields serves the schema's typed tables, the hash chain, CSV
// in and out and the desk's commands, so that a new kind is one row here, one table in schema/ and
// one case in the desk.
//
// A set-up kind makes an entity: its id is the id of its first entry, and a later entry of the same
// kind with `entity` set describes that entity anew from its own minute on (a corrected volume).
// A fact kind says that something happened. Every kind can be corrected or voided.
#ifndef LZS_KIND_H
#define LZS_KIND_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef enum {
  // set-up, in an order in which references go backwards
  LZS_STATION,
  LZS_PERSON,
  LZS_SYSTEM,
  LZS_TANK,
  LZS_SUPPLIER,
  LZS_INSTRUMENT,
  LZS_BOTTLE,
  LZS_SPECIES,
  LZS_CUSTOMER,
  LZS_PROTOCOL,
  LZS_PHASE,
  LZS_BAND,
  LZS_SHIPMENT,
  LZS_LOT,
  // facts
  LZS_VOLUME,
  LZS_STATE,
  LZS_CHECK,
  LZS_READING,
  LZS_CHANGE,
  LZS_TOPUP,
  LZS_DOSE,
  LZS_GEAR,
  LZS_SIGHTING,
  LZS_SCRAPE,
  LZS_COUNT,
  LZS_DEATH,
  LZS_FEED,
  LZS_SIGN,
  LZS_ACCEPT,
  LZS_ACCEPT_OPEN,
  LZS_SPLIT,
  LZS_MOVE,
  LZS_MERGE,
  LZS_STOP,
  LZS_COURSE,
  LZS_RELEASE,
  LZS_NOTE,
  LZS_SKIP,
  LZS_HANDOVER,
  LZS_STOCK,
  LZS_PRACTICE,
  LZS_BATH,
  LZS_VISIT,
  LZS_N_KINDS
} lzs_kind;

typedef enum {
  LZS_T_TEXT, // UTF-8, NFC
  LZS_T_INT,
  LZS_T_REAL,
  LZS_T_BOOL, // 0 or 1
  LZS_T_REF,  // id of the first entry of an entity or fact of kind `ref`; a LOT may be a SPLIT, too
  LZS_T_WORD, // one of `words`, stored as text
} lzs_type;

typedef struct {
  const char *name; // column, CSV header and command field: snake_case, unit at its end
  lzs_type type;
  lzs_kind ref;      // for LZS_T_REF
  const char *words; // for LZS_T_WORD: "ionic|amine|chelated"
  bool needed;       // may not be NULL
  double min, max;   // accepted range of INT and REAL, inclusive
  const char *help;  // what is accepted, English msgid
} lzs_field;

#define LZS_MAX_FIELDS 40
#define LZS_MAX_TEXT   65536 // bytes of one text

typedef struct {
  lzs_kind kind;
  const char *name;   // table, CSV table and command verb: "reading"
  const char *plural; // CSV TABLE name: "readings"
  bool setup;
  const lzs_field
      *fields; // ends with .name == NULL; new ones are added last, a name is never reused
  size_t n_fields;
  const char *label; // field by which people name the entity ("name", "code"), NULL for facts
} lzs_kind_spec;

// The spec of a kind; never NULL for a valid kind.
const lzs_kind_spec *lzs_kind_get(lzs_kind kind);
// By name or plural; NULL if there is none.
const lzs_kind_spec *lzs_kind_find(const char *name);
// Index of a field, -1 if the kind has none of that name.
int lzs_kind_field(const lzs_kind_spec *spec, const char *field);

#endif
