// SPDX-License-Identifier: GPL-3.0-or-later
// The kinds of entry and their fields, for forms, command lines and tables. The store's table of
// kinds seen through the desk, plus the fields that live outside the chain (a person's name and
// initials).
#ifndef LZ_FIELDS_H
#define LZ_FIELDS_H

#include <glib.h>

typedef enum {
  LZ_FIELD_TEXT,
  LZ_FIELD_INT,
  LZ_FIELD_REAL,
  LZ_FIELD_BOOL,
  LZ_FIELD_REF,  // a name: see `ref`
  LZ_FIELD_WORD, // one of `words`
} LzFieldType;

typedef struct {
  const char *name; // "volume_l"
  LzFieldType type;
  const char *ref;   // kind referred to ("system"), NULL
  const char *words; // "ionic|amine|chelated", NULL
  gboolean needed;
  double min, max;
  const char *help; // what is accepted, translated
} LzField;

typedef struct {
  const char *name;   // "reading": command verb
  const char *plural; // "readings": table
  gboolean setup;     // describes an entity
  const LzField *fields;
  guint n_fields;
} LzKind;

// All kinds, in an order in which references go backwards.
const LzKind *lz_kinds(guint *n);
// By name or plural; NULL if there is none.
const LzKind *lz_kind_find(const char *name);
const LzField *lz_kind_field(const LzKind *kind, const char *field);

#endif
