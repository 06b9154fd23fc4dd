// SPDX-License-Identifier: GPL-3.0-or-later
// A command is a bag of texts: nothing is checked before lz_desk_submit sees the whole.
#include "lz_command_private.h"

#include <stdarg.h>
#include <string.h>

#include "lz_format.h"

#define USUAL_FIELDS 4

static void
clear_field(gpointer field)
{
  g_free(((LzCommandField *)field)->text);
}

LzCommand *
lz_command_new(const char *kind)
{
  LzCommand *command = g_new0(LzCommand, 1);
  command->kind = g_strdup(kind);
  command->fields = g_array_sized_new(FALSE, FALSE, sizeof(LzCommandField), USUAL_FIELDS);
  g_array_set_clear_func(command->fields, clear_field);
  return command;
}

LzCommand *
lz_command_build(const char *kind, ...)
{
  LzCommand *command = lz_command_new(kind);
  va_list pairs;
  va_start(pairs, kind);
  for (const char *field; (field = va_arg(pairs, const char *)) != NULL;)
    lz_command_set(command, field, va_arg(pairs, const char *));
  va_end(pairs);
  return command;
}

LzCommand *
lz_command_copy(const LzCommand *command)
{
  LzCommand *copy = lz_command_new(command->kind);
  for (guint i = 0; i < command->fields->len; i++) {
    const LzCommandField *f = &g_array_index(command->fields, LzCommandField, i);
    lz_command_set(copy, f->name, f->text);
  }
  copy->at_text = g_strdup(command->at_text);
  copy->has_at = command->has_at;
  copy->at = command->at;
  copy->as_written = command->as_written;
  copy->actor = g_strdup(command->actor);
  copy->witness = g_strdup(command->witness);
  copy->reason = g_strdup(command->reason);
  copy->place = g_strdup(command->place);
  copy->line = command->line;
  copy->readback = g_strdup(command->readback);
  copy->entity = g_strdup(command->entity);
  copy->corrects = command->corrects;
  copy->voided = command->voided;
  copy->ahead = command->ahead;
  return copy;
}

void
lz_command_free(LzCommand *command)
{
  if (!command)
    return;
  g_free(command->kind);
  g_clear_pointer(&command->photo, g_bytes_unref);
  g_array_unref(command->fields);
  lz_command_forget_notes(command);
  g_free(command->at_text);
  g_free(command->actor);
  g_free(command->witness);
  g_free(command->reason);
  g_free(command->place);
  g_free(command->readback);
  g_free(command->entity);
  g_free(command);
}

const char *
lz_command_kind(const LzCommand *command)
{
  return command->kind;
}

// NULL = it was not given. A command has few: they are looked through.
static LzCommandField *
field_of(const LzCommand *command, const char *name)
{
  for (guint i = 0; i < command->fields->len; i++) {
    LzCommandField *f = &g_array_index(command->fields, LzCommandField, i);
    if (f->name[0] == name[0] && strcmp(f->name, name) == 0)
      return f;
  }
  return NULL;
}

void
lz_command_set(LzCommand *command, const char *field, const char *text)
{
  LzCommandField *f = field_of(command, field);
  if (f)
    g_array_remove_index(command->fields,
                         (guint)(f - (LzCommandField *)(void *)command->fields->data));
  if (text && *text) {
    const LzCommandField set = {g_intern_string(field), g_strdup(text)};
    g_array_append_val(command->fields, set);
  }
}

void
lz_command_set_number(LzCommand *command, const char *field, double value)
{
  g_autofree char *text = lz_format_machine(value);
  lz_command_set(command, field, text);
}

const char *
lz_command_get(const LzCommand *command, const char *field)
{
  const LzCommandField *f = field_of(command, field);
  return f ? f->text : NULL;
}

void
lz_command_set_at_text(LzCommand *command, const char *local)
{
  g_free(command->at_text);
  command->at_text = g_strdup(local);
  command->has_at = FALSE;
}

void
lz_command_set_at(LzCommand *command, int64_t minute)
{
  g_clear_pointer(&command->at_text, g_free);
  command->has_at = TRUE;
  command->at = minute;
}

static void
set_text(char **slot, const char *text)
{
  g_free(*slot);
  *slot = g_strdup(text && *text ? text : NULL);
}

void
lz_command_set_actor(LzCommand *command, const char *person)
{
  set_text(&command->actor, person);
}

void
lz_command_set_witness(LzCommand *command, const char *person)
{
  set_text(&command->witness, person);
}

void
lz_command_set_as_written(LzCommand *command, gboolean as_written)
{
  command->as_written = as_written;
}

void
lz_command_set_place(LzCommand *command, const char *place)
{
  set_text(&command->place, place);
}

void
lz_command_set_reason(LzCommand *command, const char *reason)
{
  set_text(&command->reason, reason);
}

void
lz_command_set_readback(LzCommand *command, const char *typed_again)
{
  set_text(&command->readback, typed_again);
}

void
lz_command_set_entity(LzCommand *command, const char *name)
{
  set_text(&command->entity, name);
}

void
lz_command_set_corrects(LzCommand *command, int64_t id, gboolean voided)
{
  command->corrects = id;
  command->voided = voided;
}

void
lz_command_set_ahead(LzCommand *command, gboolean ahead)
{
  command->ahead = ahead;
}

int64_t
lz_command_id(const LzCommand *command)
{
  return command->id;
}

const char *const *
lz_command_notes(const LzCommand *command)
{
  LzCommand *own = (LzCommand *)command; // the terminator is added on demand and taken off again
  if (!own->notes)
    own->notes = g_ptr_array_new_with_free_func(g_free);
  g_ptr_array_add(own->notes, NULL);
  const char *const *notes = (const char *const *)own->notes->pdata;
  own->notes->len--;
  return notes;
}

void
lz_command_note(LzCommand *command, char *note)
{
  if (!command->notes)
    command->notes = g_ptr_array_new_with_free_func(g_free);
  g_ptr_array_add(command->notes, note);
}

void
lz_command_forget_notes(LzCommand *command)
{
  g_clear_pointer(&command->notes, g_ptr_array_unref);
}
