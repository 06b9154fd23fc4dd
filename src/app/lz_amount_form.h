// SPDX-License-Identifier: GPL-3.0-or-later
// The fields of a question to the adviser: which each question has, with their units, and the
// question that they make. What is left empty is taken from the record.
#ifndef LZ_AMOUNT_FORM_H
#define LZ_AMOUNT_FORM_H

#include <gtk/gtk.h>
#include <lz_adviser.h>

typedef struct _LzAmountForm LzAmountForm;
typedef void (*LzAmountChanged)(gpointer data);

// Fills the grid with every field; `changed` is called after each edit, `enter` on Enter in a
// field.
LzAmountForm *lz_amount_form_new(LzDesk *desk, GtkGrid *grid, LzAmountChanged changed,
                                 LzAmountChanged enter, gpointer data);
void lz_amount_form_free(LzAmountForm *form);
// Shows the fields of one question.
void lz_amount_form_ask(LzAmountForm *form, LzQuestionKind kind);
// Waters and bottles as the station has them now; what is chosen stays chosen.
void lz_amount_form_refresh(LzAmountForm *form);
void lz_amount_form_set_system(LzAmountForm *form, const char *name);
// FALSE with a sentence that names the field, where what was typed is no number.
gboolean lz_amount_form_read(LzAmountForm *form, LzQuestion *out, GError **error);
// "litres: ..." of the desk with the field's words on the screen; newly allocated.
char *lz_amount_form_sentence(LzAmountForm *form, const char *message);

#endif
