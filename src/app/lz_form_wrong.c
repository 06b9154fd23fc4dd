// SPDX-License-Identifier: GPL-3.0-or-later
// Which field a refused form is wrong in: marked, told to whoever hears the window, and the first
// of them under the cursor.
#include <lz_error.h>
#include <string.h>

#include "lz_form_private.h"

// A line of the message begins with the field's name, as the desk calls it.
static gboolean
is_named(const char *message, const char *name)
{
  const gsize n = strlen(name);
  for (const char *line = message; line; line = strchr(line, '\n')) {
    line += *line == '\n';
    if (strncmp(line, name, n) == 0 && line[n] == ':')
      return TRUE;
  }
  return FALSE;
}

static void
mark(LzForm *self, LzFormField *field, gboolean wrong)
{
  GtkWidget *input = field->input;
  GtkAccessible *accessible = GTK_ACCESSIBLE(input);
  gtk_widget_set_visible(field->sign, wrong);
  if (!wrong) {
    gtk_widget_remove_css_class(input, "wrong");
    gtk_accessible_reset_state(accessible, GTK_ACCESSIBLE_STATE_INVALID);
    gtk_accessible_reset_relation(accessible, GTK_ACCESSIBLE_RELATION_DESCRIBED_BY);
    return;
  }
  gtk_widget_add_css_class(input, "wrong");
  gtk_accessible_update_state(accessible, GTK_ACCESSIBLE_STATE_INVALID, GTK_ACCESSIBLE_INVALID_TRUE,
                              -1);
  gtk_accessible_update_relation(accessible, GTK_ACCESSIBLE_RELATION_DESCRIBED_BY, self->message,
                                 NULL, -1);
}

void
lz_form_mark_wrong(LzForm *self, const GError *error)
{
  const gboolean usage = g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE);
  GtkWidget *first = NULL;
  for (guint i = 0; i < self->inputs->len; i++) {
    LzFormField *field = g_ptr_array_index(self->inputs, i);
    const gboolean wrong = usage && is_named(error->message, field->field->name);
    mark(self, field, wrong);
    if (wrong && !first)
      first = field->input;
  }
  if (first)
    gtk_widget_grab_focus(first);
}
