// SPDX-License-Identifier: GPL-3.0-or-later
// One field of a form: the input that suits its type, and the text that it holds for a command.
#ifndef LZ_FORM_FIELD_H
#define LZ_FORM_FIELD_H

#include <gtk/gtk.h>
#include <lz_desk.h>
#include <lz_fields.h>

typedef struct {
  const LzField *field;
  GtkWidget *box; // label above input
  GtkLabel *label;
  GtkWidget *sign;  // shown beside the label while the field is refused
  GtkWidget *input; // GtkEntry, GtkDropDown or GtkCheckButton
  GPtrArray *codes; // of a drop-down: texts by position, "" = none
} LzFormField;

// kind names the label; the box is floating.
LzFormField *lz_form_field_new(LzDesk *desk, const char *kind, const LzField *field);
void lz_form_field_free(LzFormField *field);
// The text for the command; "" = not set. Newly allocated.
char *lz_form_field_text(LzFormField *field);
void lz_form_field_set(LzFormField *field, const char *text);

#endif
