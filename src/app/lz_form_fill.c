// SPDX-License-Identifier: GPL-3.0-or-later
// From an entry to the fields of a form, and from the fields to commands.
#include <lz_format.h>
#include <lz_words.h>

#include "lz_form_private.h"
#include "lz_second_person.h"

LzFormField *
lz_form_find(LzForm *self, const char *name)
{
  for (guint i = 0; i < self->inputs->len; i++) {
    LzFormField *input = g_ptr_array_index(self->inputs, i);
    if (g_strcmp0(input->field->name, name) == 0)
      return input;
  }
  return NULL;
}

gint64
lz_form_corrects(LzForm *self)
{
  g_return_val_if_fail(LZ_IS_FORM(self), 0);
  return self->corrects;
}

// An entry's own value as the text that would make it again.
static char *
text_of(const LzEntry *entry, const LzField *field)
{
  if (!lz_entry_has(entry, field->name))
    return g_strdup("");
  switch (field->type) {
  case LZ_FIELD_TEXT:
  case LZ_FIELD_WORD: return g_strdup(lz_entry_text(entry, field->name));
  case LZ_FIELD_BOOL: return g_strdup(lz_entry_int(entry, field->name) ? "yes" : "");
  case LZ_FIELD_REF: return g_strdup_printf("#%" G_GINT64_FORMAT, lz_entry_int(entry, field->name));
  default: return lz_format_machine(lz_entry_number(entry, field->name));
  }
}

static void
fill_from(LzForm *self, const LzEntry *entry)
{
  for (guint i = 0; i < self->inputs->len; i++) {
    LzFormField *input = g_ptr_array_index(self->inputs, i);
    g_autofree char *text = text_of(entry, input->field);
    lz_form_field_set(input, text);
  }
}

void
lz_form_fill_known(LzForm *self)
{
  if (self->corrects) {
    g_autoptr(LzEntry) entry = lz_desk_entry(self->desk, self->corrects, NULL);
    if (!entry)
      return;
    g_autofree char *when = lz_format_full(lz_desk_zone(self->desk), lz_entry_at(entry));
    fill_from(self, entry);
    gtk_editable_set_text(GTK_EDITABLE(self->when), when);
    return;
  }
  if (!self->entity)
    return;
  gint64 id = self->entity[0] == '#' ? g_ascii_strtoll(self->entity + 1, NULL, 10)
                                     : lz_desk_find(self->desk, self->kind->name, self->entity);
  LzEntry *entry = lz_desk_entity(self->desk, self->kind->name, id);
  if (entry)
    fill_from(self, entry);
  if (g_strcmp0(self->kind->name, "person") == 0) {
    lz_form_set_text(self, "name", lz_desk_person_name(self->desk, id));
    lz_form_set_text(self, "initials", lz_desk_person_initials(self->desk, id));
  }
}

// A correction replaces the entry whole: fields that the form does not show stay as they were.
static void
keep_hidden(LzForm *self, LzCommand *command)
{
  g_autoptr(LzEntry) entry =
      self->corrects ? lz_desk_entry(self->desk, self->corrects, NULL) : NULL;
  for (guint i = 0; entry && i < self->kind->n_fields; i++) {
    const LzField *field = &self->kind->fields[i];
    if (lz_form_find(self, field->name))
      continue;
    g_autofree char *text = text_of(entry, field);
    lz_command_set(command, field->name, text);
  }
}

static LzCommand *
command_of(LzForm *self)
{
  LzCommand *command = lz_command_new(self->kind->name);
  keep_hidden(self, command);
  GHashTableIter along;
  gpointer field, with;
  g_hash_table_iter_init(&along, self->along);
  while (g_hash_table_iter_next(&along, &field, &with))
    lz_command_set(command, field, with);
  for (guint i = 0; i < self->inputs->len; i++) {
    LzFormField *input = g_ptr_array_index(self->inputs, i);
    g_autofree char *text = lz_form_field_text(input);
    lz_command_set(command, input->field->name, text);
  }
  if (self->alone)
    lz_command_set(command, "amount_ml", self->alone);
  const char *when = gtk_editable_get_text(GTK_EDITABLE(self->when));
  if (*when)
    lz_command_set_at_text(command, when);
  if (self->reason)
    lz_command_set_reason(command, gtk_editable_get_text(GTK_EDITABLE(self->reason)));
  if (self->witness)
    lz_second_person_set(command, gtk_editable_get_text(GTK_EDITABLE(self->witness)));
  if (self->again)
    lz_command_set_readback(command, gtk_editable_get_text(GTK_EDITABLE(self->again)));
  if (self->corrects)
    lz_command_set_corrects(command, self->corrects, FALSE);
  if (self->entity)
    lz_command_set_entity(command, self->entity);
  return command;
}

char *
lz_form_also_names(LzForm *self)
{
  GString *out = g_string_new(NULL);
  for (char **also = self->also; also && *also; also++) {
    g_auto(GStrv) parts = g_strsplit(*also, "\t", -1);
    g_string_append_printf(out, "%s%s", out->len ? ", " : "", parts[0]);
    for (guint i = 1; parts[i]; i++) {
      g_auto(GStrv) other = g_strsplit(parts[i], "=", 2);
      g_string_append_printf(out, " (%s: %s)", lz_words_field(self->kind->name, other[0]),
                             other[1] ? other[1] : "");
    }
  }
  return g_string_free(out, out->len == 0);
}

// The command, and the course that a new lot begins with.
GPtrArray *
lz_form_commands(LzForm *self)
{
  GPtrArray *all = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  LzCommand *command = command_of(self);
  const char *code = lz_command_get(command, "code");
  g_autofree char *protocol = self->begins ? lz_form_field_text(self->begins) : NULL;
  g_ptr_array_add(all, command);
  for (char **also = self->also; also && *also; also++) {
    g_auto(GStrv) parts = g_strsplit(*also, "\t", -1);
    LzCommand *same = lz_command_copy(command);
    lz_command_set(same, "lot", parts[0]);
    for (guint i = 1; parts[i]; i++) {
      g_auto(GStrv) other = g_strsplit(parts[i], "=", 2);
      lz_command_set(same, other[0], other[1]);
    }
    g_ptr_array_add(all, same);
  }
  if (protocol && *protocol && code) {
    const char *when = gtk_editable_get_text(GTK_EDITABLE(self->when));
    LzCommand *course = lz_command_build("course", "lot", code, "protocol", protocol, NULL);
    if (*when)
      lz_command_set_at_text(course, when);
    if (self->reason)
      lz_command_set_reason(course, gtk_editable_get_text(GTK_EDITABLE(self->reason)));
    g_ptr_array_add(all, course);
  }
  return all;
}
