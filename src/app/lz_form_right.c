// SPDX-License-Identifier: GPL-3.0-or-later
// A form that whoever is at this PC may not record says so at its head, before anything is typed;
// it can still be read. Where only one field asks for more, that field alone is shut.
#include <lz_roles.h>

#include "lz_access.h"
#include "lz_form_private.h"

static gint64
about(LzForm *self)
{
  const char *name = self->entity;
  if (self->corrects)
    return self->corrects;
  if (name)
    return name[0] == '#' ? g_ascii_strtoll(name + 1, NULL, 10)
                          : lz_desk_find(self->desk, self->kind->name, name);
  g_autofree char *lot = lz_form_text(self, "lot");
  return !lot            ? 0
         : lot[0] == '#' ? g_ascii_strtoll(lot + 1, NULL, 10)
                         : lz_desk_find(self->desk, "lot", lot);
}

void
lz_form_show_right(LzForm *self)
{
  const char *kind = self->kind->name;
  gint64 what = about(self);
  g_autofree char *why_not = lz_desk_why_not(self->desk, kind, what, NULL);
  gtk_label_set_label(self->for_whom, why_not ? why_not : "");
  gtk_widget_set_visible(GTK_WIDGET(self->for_whom), why_not != NULL);
  lz_access_shut(GTK_WIDGET(self->record), why_not, NULL);
  for (guint i = 0; i < self->inputs->len; i++) {
    LzFormField *input = g_ptr_array_index(self->inputs, i);
    g_autofree char *field = lz_desk_why_not(self->desk, kind, what, input->field->name);
    lz_access_shut(input->input, why_not ? NULL : field, input->field->help);
  }
}

static void
on_actor(LzForm *self)
{
  if (self->kind)
    lz_form_show_right(self);
}

void
lz_form_follow(LzForm *self, LzDesk *desk)
{
  if (self->desk == desk)
    return;
  g_set_object(&self->desk, desk);
  g_signal_connect_object(desk, "notify::actor", G_CALLBACK(on_actor), self, G_CONNECT_SWAPPED);
}
