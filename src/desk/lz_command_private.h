// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: what a command carries.
#ifndef LZ_COMMAND_PRIVATE_H
#define LZ_COMMAND_PRIVATE_H

#include "lz_command.h"

typedef struct {
  const char *name; // interned
  char *text;
} LzCommandField;

struct _LzCommand {
  char *kind;
  GArray *fields;  // LzCommandField
  char *at_text;   // local text, NULL = not given
  gboolean has_at; // `at` holds a UTC minute
  int64_t at;
  char *place; // where it was written, for refusals among several
  guint line;  // of a table, instead; 0 = none
  char *actor, *witness, *reason, *readback, *entity;
  int64_t corrects;
  gboolean voided, ahead, as_written;
  int64_t id;       // of its entry, once submitted
  GBytes *photo;    // read from the file that field `photo` names, once checked; NULL = none
  GPtrArray *notes; // sentences for whoever submitted it; NULL = none so far
};

// Takes the note.
void lz_command_note(LzCommand *command, char *note);
void lz_command_forget_notes(LzCommand *command);

#endif
