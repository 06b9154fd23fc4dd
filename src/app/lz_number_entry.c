// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_number_entry.h"

#include <glib/gi18n.h>
#include <string.h>

#include "lz_digits.h"
#include "lz_settings.h"

struct _LzNumberEntry {
  GtkWidget parent;
  GtkWidget *frame;
  GtkBox *row;
  GtkLabel *label, *unit, *echo;
  GtkText *text;
  gulong on_insert;
  gboolean small;
};

G_DEFINE_FINAL_TYPE(LzNumberEntry, lz_number_entry, GTK_TYPE_WIDGET)

enum { CHANGED, ACTIVATE, REFUSED, N_SIGNALS };
static guint signals[N_SIGNALS];

gboolean
lz_number_text_ok(const char *text, gboolean allow_minus)
{
  int signs = 0;
  for (const char *c = text; *c; c++) {
    if (*c == '.' || *c == ',')
      signs++;
    else if (!(g_ascii_isdigit(*c) || (*c == '-' && allow_minus && c == text)))
      return FALSE;
  }
  return signs <= 1;
}

static void
refuse(LzNumberEntry *self, const char *sentence)
{
  lz_number_entry_set_echo(self, sentence, TRUE);
  g_signal_emit(self, signals[REFUSED], 0, sentence);
}

// Every edit passes here, typed, pasted or set by assistive technology.
static void
on_insert_text(GtkEditable *editable, const char *text, int length, int *position,
               LzNumberEntry *self)
{
  g_autofree char *piece = g_strndup(text, length < 0 ? strlen(text) : (gsize)length);
  g_strstrip(piece);
  for (char *c = piece; *c; c++)
    if (*c == '.' || *c == ',')
      *c = lz_settings_decimal();
  const char *now = gtk_editable_get_text(editable);
  glong at = CLAMP(*position, 0, g_utf8_strlen(now, -1));
  g_autofree char *before = g_utf8_substring(now, 0, at);
  g_autofree char *would = g_strconcat(before, piece, g_utf8_offset_to_pointer(now, at), NULL);
  g_signal_stop_emission_by_name(editable, "insert-text");
  if (!lz_number_text_ok(would, TRUE)) {
    refuse(self, strpbrk(piece, ".,") ? _("One decimal sign is enough; thousands are not grouped.")
                                      : _("Digits and one point or comma."));
    return;
  }
  g_signal_handler_block(editable, self->on_insert);
  gtk_editable_insert_text(editable, piece, -1, position);
  g_signal_handler_unblock(editable, self->on_insert);
}

static void
on_changed(LzNumberEntry *self)
{
  lz_number_entry_set_echo(self, "", FALSE);
  g_signal_emit(self, signals[CHANGED], 0);
}

static void
on_activate(LzNumberEntry *self)
{
  g_signal_emit(self, signals[ACTIVATE], 0);
}

GtkWidget *
lz_number_entry_new(void)
{
  return g_object_new(LZ_TYPE_NUMBER_ENTRY, NULL);
}

void
lz_number_entry_set_field(LzNumberEntry *self, const char *label, const char *unit)
{
  g_return_if_fail(LZ_IS_NUMBER_ENTRY(self));
  g_autofree char *name = *unit ? g_strdup_printf("%s, %s", label, unit) : g_strdup(label);
  gtk_label_set_label(self->label, label);
  gtk_label_set_label(self->unit, unit);
  gtk_accessible_update_property(GTK_ACCESSIBLE(self->text), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                 -1);
}

void
lz_number_entry_set_small(LzNumberEntry *self)
{
  g_return_if_fail(LZ_IS_NUMBER_ENTRY(self));
  self->small = TRUE;
  gtk_widget_add_css_class(GTK_WIDGET(self), "small-number");
  gtk_widget_set_visible(GTK_WIDGET(self->echo), FALSE);
  // what its digits end in is the next field, not the record
  gtk_box_remove(self->row, gtk_widget_get_last_child(GTK_WIDGET(self->row)));
  gtk_box_append(self->row, lz_digits_button_new(GTK_EDITABLE(self->text), LZ_DIGITS_READY));
}

const char *
lz_number_entry_text(LzNumberEntry *self)
{
  g_return_val_if_fail(LZ_IS_NUMBER_ENTRY(self), "");
  return gtk_editable_get_text(GTK_EDITABLE(self->text));
}

void
lz_number_entry_set_text(LzNumberEntry *self, const char *text)
{
  g_return_if_fail(LZ_IS_NUMBER_ENTRY(self));
  gtk_editable_set_text(GTK_EDITABLE(self->text), text);
  gtk_editable_set_position(GTK_EDITABLE(self->text), -1);
}

void
lz_number_entry_type(LzNumberEntry *self, const char *keys)
{
  g_return_if_fail(LZ_IS_NUMBER_ENTRY(self));
  lz_digits_type(GTK_EDITABLE(self->text), keys);
}

void
lz_number_entry_set_echo(LzNumberEntry *self, const char *words, gboolean wrong)
{
  g_return_if_fail(LZ_IS_NUMBER_ENTRY(self));
  gtk_label_set_label(self->echo, words);
  gtk_widget_set_visible(GTK_WIDGET(self->echo), !self->small || *words);
  if (wrong)
    gtk_widget_add_css_class(GTK_WIDGET(self->echo), "alarm");
  else
    gtk_widget_remove_css_class(GTK_WIDGET(self->echo), "alarm");
  gtk_accessible_update_property(GTK_ACCESSIBLE(self->text), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                 words, -1);
}

void
lz_number_entry_take_focus(LzNumberEntry *self)
{
  g_return_if_fail(LZ_IS_NUMBER_ENTRY(self));
  gtk_text_grab_focus_without_selecting(self->text);
  gtk_editable_set_position(GTK_EDITABLE(self->text), -1);
}

static void
lz_number_entry_dispose(GObject *object)
{
  LzNumberEntry *self = LZ_NUMBER_ENTRY(object);
  g_clear_pointer(&self->frame, gtk_widget_unparent);
  G_OBJECT_CLASS(lz_number_entry_parent_class)->dispose(object);
}

static gboolean
lz_number_entry_grab_focus(GtkWidget *widget)
{
  lz_number_entry_take_focus(LZ_NUMBER_ENTRY(widget));
  return TRUE;
}

static void
lz_number_entry_class_init(LzNumberEntryClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_number_entry_dispose;
  widget->grab_focus = lz_number_entry_grab_focus;
  signals[CHANGED] = g_signal_new("changed", LZ_TYPE_NUMBER_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
  signals[ACTIVATE] = g_signal_new("activate", LZ_TYPE_NUMBER_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 0);
  signals[REFUSED] = g_signal_new("refused", LZ_TYPE_NUMBER_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name(widget, "numberentry");
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_number_entry.ui");
  gtk_widget_class_bind_template_child(widget, LzNumberEntry, frame);
  gtk_widget_class_bind_template_child(widget, LzNumberEntry, label);
  gtk_widget_class_bind_template_child(widget, LzNumberEntry, unit);
  gtk_widget_class_bind_template_child(widget, LzNumberEntry, echo);
  gtk_widget_class_bind_template_child(widget, LzNumberEntry, text);
  gtk_widget_class_bind_template_child(widget, LzNumberEntry, row);
  gtk_widget_class_bind_template_callback(widget, on_changed);
  gtk_widget_class_bind_template_callback(widget, on_activate);
}

static void
lz_number_entry_init(LzNumberEntry *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
  gtk_box_append(self->row, lz_digits_button_new(GTK_EDITABLE(self->text), LZ_DIGITS_RECORD));
  GtkEditable *delegate = gtk_editable_get_delegate(GTK_EDITABLE(self->text));
  self->on_insert = g_signal_connect(delegate ? delegate : GTK_EDITABLE(self->text), "insert-text",
                                     G_CALLBACK(on_insert_text), self);
}
