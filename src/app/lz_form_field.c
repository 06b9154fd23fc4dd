// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_form_field.h"

#include <glib/gi18n.h>
#include <lz_words.h>

#include "lz_access.h"
#include "lz_digits.h"
#include "lz_files.h"
#include "lz_sign.h"
#include "lz_task_form.h"
#include "lz_type_ahead.h"

static GtkWidget *
drop_down(LzFormField *self, GPtrArray *shown)
{
  g_ptr_array_add(shown, NULL);
  GtkStringList *list = gtk_string_list_new((const char *const *)shown->pdata);
  g_autoptr(GtkExpression) string =
      gtk_property_expression_new(GTK_TYPE_STRING_OBJECT, NULL, "string");
  GtkWidget *widget = gtk_drop_down_new(G_LIST_MODEL(list), NULL);
  gtk_drop_down_set_expression(GTK_DROP_DOWN(widget), string);
  gtk_drop_down_set_enable_search(GTK_DROP_DOWN(widget), shown->len > 8);
  lz_type_ahead_add(GTK_DROP_DOWN(widget));
  return widget;
}

static void
add_code(LzFormField *self, GPtrArray *shown, const char *code, char *label)
{
  g_ptr_array_add(self->codes, g_strdup(code));
  g_ptr_array_add(shown, label);
}

static GtkWidget *
word_input(LzFormField *self)
{
  g_autoptr(GPtrArray) shown = g_ptr_array_new_with_free_func(g_free);
  g_auto(GStrv) words = g_strsplit(self->field->words, "|", -1);
  add_code(self, shown, "", g_strdup("–"));
  for (int i = 0; words[i]; i++)
    add_code(self, shown, words[i], lz_word_shown(words[i]));
  return drop_down(self, shown);
}

static GtkWidget *
ref_input(LzFormField *self, LzDesk *desk)
{
  g_autoptr(GPtrArray) shown = g_ptr_array_new_with_free_func(g_free);
  g_autoptr(GArray) ids = lz_desk_entities(desk, self->field->ref);
  add_code(self, shown, "", g_strdup("–"));
  for (guint i = 0; ids && i < ids->len; i++) {
    int64_t id = g_array_index(ids, int64_t, i);
    g_autofree char *code = g_strdup_printf("#%" G_GINT64_FORMAT, id);
    add_code(self, shown, code, g_strdup(lz_desk_name_of(desk, self->field->ref, id)));
  }
  return drop_down(self, shown);
}

static gboolean
is_number(const LzField *field)
{
  return field->type == LZ_FIELD_INT || field->type == LZ_FIELD_REAL;
}

static GtkWidget *
entry_input(LzFormField *self)
{
  GtkWidget *entry = gtk_entry_new();
  if (g_str_equal(self->field->name, "pin")) { // nobody reads it over a shoulder
    gtk_entry_set_input_purpose(GTK_ENTRY(entry), GTK_INPUT_PURPOSE_PIN);
    gtk_entry_set_visibility(GTK_ENTRY(entry), FALSE);
  }
  gtk_editable_set_width_chars(GTK_EDITABLE(entry), is_number(self->field) ? 10 : 16);
  gtk_widget_set_tooltip_text(entry, self->field->help);
  return entry;
}

static void
on_photo(GtkNativeDialog *dialog, int response, GtkWidget *entry)
{
  g_autofree char *path = lz_files_saved_path(dialog, response);
  if (path)
    gtk_editable_set_text(GTK_EDITABLE(entry), path);
}

static void
ask_photo(GtkWidget *entry)
{
  GtkNativeDialog *dialog = lz_files_ask_photo(GTK_WINDOW(gtk_widget_get_root(entry)));
  g_signal_connect_object(dialog, "response", G_CALLBACK(on_photo), entry, 0);
  gtk_native_dialog_show(dialog);
}

// A file's name is seldom typed: a button beside it asks for the file.
static GtkWidget *
with_button(GtkWidget *entry)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 4);
  GtkWidget *button = gtk_button_new_with_mnemonic(_("Choose a _picture …"));
  g_signal_connect_object(button, "clicked", G_CALLBACK(ask_photo), entry, G_CONNECT_SWAPPED);
  gtk_widget_set_hexpand(entry, TRUE);
  gtk_box_append(GTK_BOX(box), entry);
  gtk_box_append(GTK_BOX(box), button);
  return box;
}

static gboolean
refers_to_entity(const LzField *field)
{
  const LzKind *kind = field->ref ? lz_kind_find(field->ref) : NULL;
  return kind && kind->setup;
}

static GtkWidget *
input_of(LzFormField *self, LzDesk *desk)
{
  switch (self->field->type) {
  case LZ_FIELD_BOOL: return gtk_check_button_new_with_label(_("yes"));
  case LZ_FIELD_WORD: return word_input(self);
  case LZ_FIELD_REF:
    return refers_to_entity(self->field) ? ref_input(self, desk) : entry_input(self);
  default: return entry_input(self);
  }
}

#define SIGN_PX 16

// The field's name, after the sign that it was refused.
static GtkWidget *
head(LzFormField *self, const char *name)
{
  // Translators: a field of a form that must be filled.
  g_autofree char *text =
      self->field->needed ? g_strdup_printf(_("%s, needed"), name) : g_strdup(name);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 4), *label = gtk_label_new(text);
  self->label = GTK_LABEL(label);
  self->sign = lz_sign_new();
  lz_sign_set_mark(LZ_SIGN(self->sign), LZD_TASK_BLOCKED, LZD_PLAIN, SIGN_PX, NULL);
  lz_sign_set_role(LZ_SIGN(self->sign), LZD_ALARM);
  gtk_widget_set_visible(self->sign, FALSE);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_widget_add_css_class(label, "axis");
  gtk_box_append(GTK_BOX(box), self->sign);
  gtk_box_append(GTK_BOX(box), label);
  return box;
}

LzFormField *
lz_form_field_new(LzDesk *desk, const char *kind, const LzField *field)
{
  LzFormField *self = g_new0(LzFormField, 1);
  const char *name = lz_words_field(kind, field->name);
  self->field = field;
  self->codes = g_ptr_array_new_with_free_func(g_free);
  self->input = input_of(self, desk);
  self->box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2);
  gtk_box_append(GTK_BOX(self->box), head(self, name));
  gtk_box_append(GTK_BOX(self->box), g_str_equal(field->name, "photo") ? with_button(self->input)
                                     : is_number(field) ? lz_digits_beside(GTK_ENTRY(self->input))
                                                        : self->input);
  gtk_accessible_update_property(GTK_ACCESSIBLE(self->input), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                 GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, field->help, -1);
  if (GTK_IS_DROP_DOWN(self->input))
    lz_access_inner(self->input, name);
  return self;
}

void
lz_form_field_free(LzFormField *self)
{
  if (!self)
    return;
  g_ptr_array_unref(self->codes);
  g_free(self);
}

char *
lz_form_field_text(LzFormField *self)
{
  if (GTK_IS_CHECK_BUTTON(self->input))
    return g_strdup(gtk_check_button_get_active(GTK_CHECK_BUTTON(self->input)) ? "yes" : "");
  if (GTK_IS_DROP_DOWN(self->input)) {
    guint i = gtk_drop_down_get_selected(GTK_DROP_DOWN(self->input));
    return g_strdup(i < self->codes->len ? g_ptr_array_index(self->codes, i) : "");
  }
  return g_strdup(gtk_editable_get_text(GTK_EDITABLE(self->input)));
}

static void
select_code(LzFormField *self, const char *text)
{
  GtkDropDown *drop = GTK_DROP_DOWN(self->input);
  GListModel *shown = gtk_drop_down_get_model(drop);
  for (guint i = 0; i < self->codes->len; i++) {
    const char *label = gtk_string_list_get_string(GTK_STRING_LIST(shown), i);
    if (g_strcmp0(g_ptr_array_index(self->codes, i), text) == 0 || g_strcmp0(label, text) == 0) {
      gtk_drop_down_set_selected(drop, i);
      return;
    }
  }
}

void
lz_form_field_set(LzFormField *self, const char *text)
{
  if (GTK_IS_CHECK_BUTTON(self->input))
    gtk_check_button_set_active(GTK_CHECK_BUTTON(self->input),
                                g_strcmp0(text, "yes") == 0 || g_strcmp0(text, "1") == 0);
  else if (GTK_IS_DROP_DOWN(self->input))
    select_code(self, text);
  else
    gtk_editable_set_text(GTK_EDITABLE(self->input), text);
}
