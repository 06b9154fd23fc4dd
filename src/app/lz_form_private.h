// SPDX-License-Identifier: GPL-3.0-or-later
// What the two halves of a form share: how it looks and submits, and what its fields hold.
#ifndef LZ_FORM_PRIVATE_H
#define LZ_FORM_PRIVATE_H

#include <lz_command.h>

#include "lz_cost.h"
#include "lz_form.h"
#include "lz_form_field.h"

struct _LzForm {
  GtkWidget parent;
  LzDesk *desk;
  const LzKind *kind;
  gint64 corrects;
  char *entity;
  GPtrArray *inputs;                         // LzFormField
  GtkEntry *when, *reason, *witness, *again; // beside the kind's own fields
  char *alone;         // the first amount while a second person works it out, NULL
  LzFormField *begins; // the protocol that a new lot begins with
  LzField begins_field;
  char *worked_for, *offered; // bottle that the amount was worked out for, and the amount filled in
  GHashTable *along;          // filled in beforehand, without a field here: name to text
  // Lots that the same is entered for, each followed by tabs and "field=text" where it differs;
  // NULL
  GStrv also;
  GtkWidget *box, *asking; // asking: what it costs the others, in the place of the fields
  GtkLabel *title, *for_whom, *message;
  GtkFlowBox *fields;
  LzCost *cost;
  GtkButton *record, *cancel;
};

// lz_form.c
void lz_form_say(LzForm *self, const char *sentence); // under the fields; NULL = nothing
// lz_form_bottle.c
void lz_form_bottle_follow(LzForm *self); // once all is filled in: another bottle, another amount
void lz_form_bottle_shut(LzForm *self, gboolean shut);
// lz_form_fill.c
LzFormField *lz_form_find(LzForm *self, const char *name); // NULL = not shown
void lz_form_fill_known(LzForm *self);                     // from what it corrects or describes
char *lz_form_also_names(LzForm *self); // "0413, 0414 (Medicine (mg): 27)"; NULL = none
// The command, and the course that a new lot begins with: LzCommand, freed with the array.
GPtrArray *lz_form_commands(LzForm *self);
// lz_form_wrong.c: NULL = nothing is wrong (any more)
void lz_form_mark_wrong(LzForm *self, const GError *error);
// lz_form_right.c: whether whoever is at this PC may record it.
void lz_form_show_right(LzForm *self);
void lz_form_follow(LzForm *self, LzDesk *desk); // and whoever sits at it

#endif
