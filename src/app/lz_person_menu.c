// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_person_menu.h"

#include <glib/gi18n.h>
#include <lz_rows.h>

#include "lz_settings.h"

struct _LzPersonMenu {
  GtkPopover parent;
  LzDesk *desk;
  GtkEntry *initials;
  GtkPasswordEntry *pin;
  GtkLabel *title, *message;
  GtkBox *people;
};

G_DEFINE_FINAL_TYPE(LzPersonMenu, lz_person_menu, GTK_TYPE_POPOVER)

static void
say(LzPersonMenu *self, const char *sentence)
{
  gtk_label_set_label(self->message, sentence ? sentence : "");
  gtk_widget_set_visible(GTK_WIDGET(self->message), sentence != NULL);
}

static gboolean
station_asks_pins(LzDesk *desk)
{
  g_autoptr(GArray) ids = lz_desk_entities(desk, "station");
  if (!ids || ids->len == 0)
    return FALSE;
  LzEntry *station = lz_desk_entity(desk, "station", g_array_index(ids, int64_t, 0));
  return station && lz_entry_int(station, "pins") == 1;
}

static const LzPersonInfo *
find(LzPersonMenu *self, const char *initials)
{
  GListModel *people = lz_desk_people(self->desk);
  g_autofree char *wanted = g_utf8_casefold(initials, -1);
  for (guint i = 0; i < g_list_model_get_n_items(people); i++) {
    g_autoptr(LzPersonRow) row = g_list_model_get_item(people, i);
    const LzPersonInfo *info = lz_person_row_info(row);
    g_autofree char *has = g_utf8_casefold(info->initials, -1);
    if (info->active && g_strcmp0(has, wanted) == 0)
      return info;
  }
  return NULL;
}

gboolean
lz_person_menu_choose(LzPersonMenu *self, const char *initials, const char *pin)
{
  const LzPersonInfo *person = self->desk ? find(self, initials) : NULL;
  g_autoptr(GError) error = NULL;
  if (!person) {
    say(self, _("Nobody here has these initials."));
    return FALSE;
  }
  if (station_asks_pins(self->desk)) {
    gtk_widget_set_visible(GTK_WIDGET(self->pin), TRUE);
    if (!pin || !*pin) {
      gtk_widget_grab_focus(GTK_WIDGET(self->pin));
      return FALSE;
    }
    if (!lz_desk_check_pin(self->desk, person->id, pin, &error)) {
      say(self, error ? error->message : _("This is not the PIN."));
      return FALSE;
    }
  }
  lz_desk_set_actor(self->desk, person->id);
  g_settings_set_string(lz_settings(), "last-person", person->initials);
  say(self, NULL);
  gtk_popover_popdown(GTK_POPOVER(self));
  return TRUE;
}

static void
on_activate(LzPersonMenu *self)
{
  lz_person_menu_choose(self, gtk_editable_get_text(GTK_EDITABLE(self->initials)),
                        gtk_editable_get_text(GTK_EDITABLE(self->pin)));
}

static void
on_person(GtkButton *button, LzPersonMenu *self)
{
  const char *initials = g_object_get_data(G_OBJECT(button), "initials");
  gtk_editable_set_text(GTK_EDITABLE(self->initials), initials);
  lz_person_menu_choose(self, initials, NULL);
}

static void
fill(LzPersonMenu *self)
{
  GtkWidget *child;
  GListModel *people = lz_desk_people(self->desk);
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(self->people))))
    gtk_box_remove(self->people, child);
  for (guint i = 0; i < g_list_model_get_n_items(people); i++) {
    g_autoptr(LzPersonRow) row = g_list_model_get_item(people, i);
    const LzPersonInfo *info = lz_person_row_info(row);
    if (!info->active || !*info->initials)
      continue;
    g_autofree char *text = g_strdup_printf("%s  %s", info->initials, info->name);
    GtkWidget *button = gtk_button_new_with_label(text);
    gtk_widget_add_css_class(button, "flat");
    gtk_label_set_xalign(GTK_LABEL(gtk_button_get_child(GTK_BUTTON(button))), 0);
    g_object_set_data_full(G_OBJECT(button), "initials", g_strdup(info->initials), g_free);
    g_signal_connect(button, "clicked", G_CALLBACK(on_person), self);
    gtk_box_append(self->people, button);
  }
}

static void
on_show(LzPersonMenu *self)
{
  if (!self->desk)
    return;
  fill(self);
  say(self, NULL);
  gtk_editable_set_text(GTK_EDITABLE(self->initials), "");
  gtk_editable_set_text(GTK_EDITABLE(self->pin), "");
  gtk_widget_set_visible(GTK_WIDGET(self->pin), FALSE);
  gtk_widget_grab_focus(GTK_WIDGET(self->initials));
}

// The person of last time, where nobody has to show a PIN.
void
lz_person_menu_set_desk(LzPersonMenu *self, LzDesk *desk)
{
  g_return_if_fail(LZ_IS_PERSON_MENU(self));
  g_set_object(&self->desk, desk);
  if (!desk || lz_desk_actor(desk) || station_asks_pins(desk))
    return;
  g_autofree char *last = g_settings_get_string(lz_settings(), "last-person");
  const LzPersonInfo *person = *last ? find(self, last) : NULL;
  GListModel *people = lz_desk_people(desk);
  if (!person && g_list_model_get_n_items(people) == 1) {
    g_autoptr(LzPersonRow) only = g_list_model_get_item(people, 0);
    person = lz_person_row_info(only);
  }
  if (person)
    lz_desk_set_actor(desk, person->id);
}

static void
lz_person_menu_dispose(GObject *object)
{
  LzPersonMenu *self = LZ_PERSON_MENU(object);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_person_menu_parent_class)->dispose(object);
}

static void
lz_person_menu_class_init(LzPersonMenuClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_person_menu_dispose;
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_person_menu.ui");
  gtk_widget_class_bind_template_child(widget, LzPersonMenu, initials);
  gtk_widget_class_bind_template_child(widget, LzPersonMenu, pin);
  gtk_widget_class_bind_template_child(widget, LzPersonMenu, title);
  gtk_widget_class_bind_template_child(widget, LzPersonMenu, message);
  gtk_widget_class_bind_template_child(widget, LzPersonMenu, people);
  gtk_widget_class_bind_template_callback(widget, on_activate);
}

static void
lz_person_menu_init(LzPersonMenu *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
  g_signal_connect_swapped(self, "show", G_CALLBACK(on_show), self);
}

GtkWidget *
lz_person_menu_new(void)
{
  return g_object_new(LZ_TYPE_PERSON_MENU, NULL);
}
