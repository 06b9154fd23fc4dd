// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_form.h"

#include <glib/gi18n.h>
#include <lz_command.h>
#include <lz_error.h>
#include <lz_fields.h>
#include <lz_format.h>

#include "lz_form_field.h"
#include "lz_form_shown.h"

struct _LzForm {
  GtkWidget parent;
  LzDesk *desk;
  const LzKind *kind;
  gint64 corrects;
  char *entity;
  GPtrArray *inputs;                         // LzFormField
  GtkEntry *when, *reason, *witness, *again; // beside the kind's own fields
  GtkWidget *box;
  GtkLabel *title, *message;
  GtkFlowBox *fields;
  GtkButton *record;
};

G_DEFINE_FINAL_TYPE(LzForm, lz_form, GTK_TYPE_WIDGET)

enum { DONE, CANCELLED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
say(LzForm *self, const char *sentence)
{
  gtk_label_set_label(self->message, sentence ? sentence : "");
  gtk_widget_set_visible(GTK_WIDGET(self->message), sentence != NULL);
}

static void
append(LzForm *self, GtkWidget *box)
{
  GtkWidget *child = gtk_flow_box_child_new();
  gtk_flow_box_child_set_child(GTK_FLOW_BOX_CHILD(child), box);
  gtk_widget_set_focusable(child, FALSE); // Tab goes from input to input
  gtk_flow_box_append(self->fields, child);
}

static GtkEntry *
add_extra(LzForm *self, const char *label, const char *placeholder)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2), *entry = gtk_entry_new();
  GtkWidget *words = gtk_label_new(label);
  gtk_label_set_xalign(GTK_LABEL(words), 0);
  gtk_widget_add_css_class(words, "axis");
  gtk_entry_set_placeholder_text(GTK_ENTRY(entry), placeholder);
  gtk_box_append(GTK_BOX(box), words);
  gtk_box_append(GTK_BOX(box), entry);
  gtk_accessible_update_property(GTK_ACCESSIBLE(entry), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_signal_connect_object(entry, "activate", G_CALLBACK(lz_form_submit), self, G_CONNECT_SWAPPED);
  append(self, box);
  return GTK_ENTRY(entry);
}

static void
add_field(LzForm *self, const LzField *field)
{
  LzFormField *input = lz_form_field_new(self->desk, self->kind->name, field);
  g_ptr_array_add(self->inputs, input);
  append(self, input->box);
  if (GTK_IS_ENTRY(input->input))
    g_signal_connect_object(input->input, "activate", G_CALLBACK(lz_form_submit), self,
                            G_CONNECT_SWAPPED);
}

static void
build(LzForm *self)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(self->fields))))
    gtk_flow_box_remove(self->fields, child);
  g_ptr_array_set_size(self->inputs, 0);
  self->when = self->reason = self->witness = self->again = NULL;
  const char *const *shown = lz_form_shown(self->kind->name);
  for (guint i = 0; shown && shown[i]; i++) {
    const LzField *field = lz_kind_field(self->kind, shown[i]);
    if (field)
      add_field(self, field);
  }
  for (guint i = 0; !shown && i < self->kind->n_fields; i++)
    add_field(self, &self->kind->fields[i]);
  self->when = add_extra(self, _("When"), _("now"));
  if (self->corrects)
    self->reason = add_extra(self, _("Why it is corrected"), _("needed"));
}

static LzFormField *
find(LzForm *self, const char *name)
{
  for (guint i = 0; i < self->inputs->len; i++) {
    LzFormField *input = g_ptr_array_index(self->inputs, i);
    if (g_strcmp0(input->field->name, name) == 0)
      return input;
  }
  return NULL;
}

char *
lz_form_text(LzForm *self, const char *field)
{
  LzFormField *input = find(self, field);
  return input ? lz_form_field_text(input) : NULL;
}

void
lz_form_set_text(LzForm *self, const char *field, const char *text)
{
  LzFormField *input = find(self, field);
  GtkEntry *extra = g_str_equal(field, "@when")     ? self->when
                    : g_str_equal(field, "@reason") ? self->reason
                                                    : NULL;
  if (input)
    lz_form_field_set(input, text);
  else if (extra)
    gtk_editable_set_text(GTK_EDITABLE(extra), text);
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

static void
fill_known(LzForm *self)
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

void
lz_form_open(LzForm *self, LzDesk *desk, const char *kind, gint64 corrects, const char *entity,
             GVariant *fields)
{
  g_return_if_fail(LZ_IS_FORM(self));
  g_set_object(&self->desk, desk);
  self->kind = lz_kind_find(kind);
  self->corrects = corrects;
  g_free(self->entity);
  self->entity = g_strdup(entity);
  g_return_if_fail(self->kind != NULL);
  const char *title = lz_form_title(kind);
  g_autofree char *correction = corrects ? g_strdup_printf(_("Correction: %s"), title) : NULL;
  gtk_label_set_label(self->title, correction ? correction : title);
  say(self, NULL);
  build(self);
  fill_known(self);
  GVariantIter iter;
  const char *name, *text;
  if (fields) {
    g_variant_iter_init(&iter, fields);
    while (g_variant_iter_next(&iter, "{&s&s}", &name, &text))
      lz_form_set_text(self, name, text);
  }
  for (guint i = 0; i < self->inputs->len; i++) { // the first that is still empty
    LzFormField *input = g_ptr_array_index(self->inputs, i);
    g_autofree char *has = lz_form_field_text(input);
    if (!*has || i + 1 == self->inputs->len) {
      gtk_widget_grab_focus(input->input);
      break;
    }
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
    if (find(self, field->name))
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
  for (guint i = 0; i < self->inputs->len; i++) {
    LzFormField *input = g_ptr_array_index(self->inputs, i);
    g_autofree char *text = lz_form_field_text(input);
    lz_command_set(command, input->field->name, text);
  }
  const char *when = gtk_editable_get_text(GTK_EDITABLE(self->when));
  if (*when)
    lz_command_set_at_text(command, when);
  if (self->reason)
    lz_command_set_reason(command, gtk_editable_get_text(GTK_EDITABLE(self->reason)));
  if (self->witness)
    lz_command_set_witness(command, gtk_editable_get_text(GTK_EDITABLE(self->witness)));
  if (self->again)
    lz_command_set_readback(command, gtk_editable_get_text(GTK_EDITABLE(self->again)));
  if (self->corrects)
    lz_command_set_corrects(command, self->corrects, FALSE);
  if (self->entity)
    lz_command_set_entity(command, self->entity);
  return command;
}

// The desk asks for something more: a field for it appears, and the focus goes there.
static void
ask_more(LzForm *self, const GError *error)
{
  GtkEntry *entry = NULL;
  if (g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_NEEDS_REASON))
    entry = self->reason = self->reason ? self->reason : add_extra(self, _("Reason"), NULL);
  else if (g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_NEEDS_SECOND_PERSON))
    entry = self->witness =
        self->witness ? self->witness : add_extra(self, _("Second person, initials"), NULL);
  else if (g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_NEEDS_READBACK))
    entry = self->again = self->again ? self->again : add_extra(self, _("The amount again"), NULL);
  if (entry)
    gtk_widget_grab_focus(GTK_WIDGET(entry));
}

void
lz_form_submit(LzForm *self)
{
  g_return_if_fail(LZ_IS_FORM(self));
  g_autoptr(GError) error = NULL;
  g_autoptr(LzCommand) command = command_of(self);
  if (lz_desk_submit_one(self->desk, command, &error)) {
    say(self, NULL);
    g_signal_emit(self, signals[DONE], 0, lz_command_id(command));
    return;
  }
  say(self, error->message);
  ask_more(self, error);
}

static void
on_cancel(LzForm *self)
{
  g_signal_emit(self, signals[CANCELLED], 0);
}

static void
lz_form_dispose(GObject *object)
{
  LzForm *self = LZ_FORM(object);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  g_clear_pointer(&self->inputs, g_ptr_array_unref);
  g_clear_pointer(&self->entity, g_free);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_form_parent_class)->dispose(object);
}

static void
lz_form_class_init(LzFormClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_form_dispose;
  signals[DONE] = g_signal_new("done", LZ_TYPE_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                               G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[CANCELLED] = g_signal_new("cancelled", LZ_TYPE_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_FORM);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_form.ui");
  gtk_widget_class_bind_template_child(widget, LzForm, box);
  gtk_widget_class_bind_template_child(widget, LzForm, title);
  gtk_widget_class_bind_template_child(widget, LzForm, message);
  gtk_widget_class_bind_template_child(widget, LzForm, fields);
  gtk_widget_class_bind_template_child(widget, LzForm, record);
  gtk_widget_class_bind_template_callback(widget, lz_form_submit);
  gtk_widget_class_bind_template_callback(widget, on_cancel);
}

static void
lz_form_init(LzForm *self)
{
  self->inputs = g_ptr_array_new_with_free_func((GDestroyNotify)lz_form_field_free);
  gtk_widget_init_template(GTK_WIDGET(self));
}

GtkWidget *
lz_form_new(void)
{
  return g_object_new(LZ_TYPE_FORM, NULL);
}
