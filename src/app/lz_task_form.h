// SPDX-License-Identifier: GPL-3.0-or-later
// How a line of the round is carried out: what is typed, in which unit, and the command that it
// becomes. No widget is named here.
#ifndef LZ_TASK_FORM_H
#define LZ_TASK_FORM_H

#include <lz_command.h>
#include <lz_rows.h>

#include <lz_desk.h>

typedef struct {
  const char *kind;     // of the entry it makes: "reading"; NULL: it can only be skipped
  const char *field;    // that the typed number fills; NULL: Enter alone records
  char *label;          // "Read", "Given", "Into tank", translated
  char *unit;           // "mL", ""
  const char *words;    // choices instead of a number: "nothing|cryptocaryon|...", NULL
  gboolean optional;    // Enter without a number records as well
  const char *typed_in; // unit that the number goes into the command with, NULL = the record's own
} LzTaskForm;

LzTaskForm *lz_task_form_new(LzDesk *desk, const LzTaskInfo *info);
void lz_task_form_free(LzTaskForm *form);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzTaskForm, lz_task_form_free)

// The commands that record it (LzCommand elements). typed: the number as typed, or the chosen word;
// instrument: name or NULL.
GPtrArray *lz_task_commands(LzDesk *desk, const LzTaskInfo *info, const LzTaskForm *form,
                            const char *typed, const char *instrument);
// "Cannot", with the reason why.
GPtrArray *lz_task_skips(LzDesk *desk, const LzTaskInfo *info, const char *reason);

// The i-th code word of a WORD field ("skimmer"); newly allocated, NULL if there is none.
char *lz_field_word(const char *kind, const char *field, guint i);
// A code word as people read it: "white_spot" becomes "white spot", translated where it can be.
char *lz_word_shown(const char *word);
// The same text beginning with a capital letter; newly allocated.
char *lz_capital(const char *text);
// "Observation only/1" as "Observation only, version 1"; newly allocated.
char *lz_protocol_shown(const char *name);

#endif
