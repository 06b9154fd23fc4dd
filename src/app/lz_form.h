// SPDX-License-Identifier: GPL-3.0-or-later
// A form for any kind of entry, built from the desk's table of fields: a new kind needs no new
// form. It submits one command (a new lot's course with it); a refusal stays beside the fields, and
// nothing typed is lost. What would cost other lots something is shown before it is recorded.
#ifndef LZ_FORM_H
#define LZ_FORM_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#define LZ_TYPE_FORM (lz_form_get_type())
G_DECLARE_FINAL_TYPE(LzForm, lz_form, LZ, FORM, GtkWidget)

// Signals: "done" (gint64 id of the entry made), "cancelled".
GtkWidget *lz_form_new(void);
// corrects: the entry that this one replaces (0 = none); entity: name or "#id" of what is described
// anew (NULL = none). fields: a{ss} of texts to begin with, NULL = none.
void lz_form_open(LzForm *self, LzDesk *desk, const char *kind, gint64 corrects, const char *entity,
                  GVariant *fields);
// Records, or shows what it would cost others first: a second submit records that.
void lz_form_submit(LzForm *self);
// One step back, from what it would cost to the fields; FALSE if it stood there already.
gboolean lz_form_back(LzForm *self);
gint64 lz_form_corrects(LzForm *self); // 0 = it is a new entry
// For tests: the text of a field by name; NULL if the form has none.
char *lz_form_text(LzForm *self, const char *field);
// "@when" and "@reason" are the fields beside the kind's own; "@begins" is the protocol of a new
// lot.
void lz_form_set_text(LzForm *self, const char *field, const char *text);

#endif
