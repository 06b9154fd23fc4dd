// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_person_menu.h"

#include <glib/gi18n.h>

#include "lz_people.h"
#include "lz_settings.h"

struct _LzPersonMenu {
  GtkPopover parent;
  LzDesk *desk;
  GtkEntry *initials;
  GtkPasswordEntry *pin;
  GtkLabel *title, *message;
  GtkBox *people;
  guint wrong; // PINs in a row
  guint hold;  // source that ends the wait after too many, 0 = none
};

G_DEFINE_FINAL_TYPE(LzPersonMenu, lz_person_menu, GTK_TYPE_POPOVER)

enum { CONFIRMED, N_SIGNALS };
static guint signals[N_SIGNALS];

#define INITIALS   2  // letters that are enough where they name one person
#define WRONG_MOST 3  // PINs, then a wait: nobody tries them all while a colleague fetches fish
#define HOLD_S     20 // common practice, no source

static void
say(LzPersonMenu *self, const char *sentence)
{
  gtk_label_set_label(self->message, sentence ? sentence : "");
  gtk_widget_set_visible(GTK_WIDGET(self->message), sentence != NULL);
}

static gboolean
on_held(gpointer data)
{
  LzPersonMenu *self = data;
  self->hold = self->wrong = 0;
  say(self, NULL);
  gtk_widget_set_sensitive(GTK_WIDGET(self->pin), TRUE);
  if (gtk_widget_get_mapped(GTK_WIDGET(self->pin)))
    gtk_widget_grab_focus(GTK_WIDGET(self->pin));
  return G_SOURCE_REMOVE;
}

static void
say_hold(LzPersonMenu *self)
{
  g_autofree char *words =
      g_strdup_printf(_("Too many wrong PINs: the next one is taken after %d seconds."), HOLD_S);
  say(self, words);
}

// FALSE: not the PIN, and said so.
static gboolean
fits(LzPersonMenu *self, int64_t person, const char *pin)
{
  g_autoptr(GError) error = NULL;
  if (lz_desk_check_pin(self->desk, person, pin, &error)) {
    self->wrong = 0;
    return TRUE;
  }
  say(self, error ? error->message : _("This is not the PIN."));
  gtk_editable_set_text(GTK_EDITABLE(self->pin), "");
  if (!error && ++self->wrong >= WRONG_MOST) {
    say_hold(self);
    gtk_widget_set_sensitive(GTK_WIDGET(self->pin), FALSE);
    self->hold = g_timeout_add_seconds(HOLD_S, on_held, self);
  }
  return FALSE;
}

// TRUE: whoever it is has shown a PIN, or has none yet, which the window then says.
static gboolean
shows_pin(LzPersonMenu *self, const LzPersonInfo *person, const char *pin)
{
  if (lz_desk_check_pin(self->desk, person->id, NULL, NULL)) {
    g_autofree char *none =
        g_strdup_printf(_("%s has no PIN yet: Station, Staff gives one."), person->initials);
    gtk_widget_activate_action(GTK_WIDGET(self), "win.notice", "s", none);
    return TRUE;
  }
  gtk_widget_set_visible(GTK_WIDGET(self->pin), TRUE);
  if (self->hold) {
    say_hold(self);
    return FALSE;
  }
  if (pin && *pin)
    return fits(self, person->id, pin);
  gtk_widget_grab_focus(GTK_WIDGET(self->pin));
  return FALSE;
}

gboolean
lz_person_menu_choose(LzPersonMenu *self, const char *initials, const char *pin)
{
  const LzPersonInfo *person = self->desk ? lz_people_find(self->desk, initials) : NULL;
  if (!person) {
    say(self, _("Nobody here has these initials."));
    return FALSE;
  }
  if (lz_people_ask_pins(self->desk) && !shows_pin(self, person, pin))
    return FALSE;
  lz_desk_set_actor(self->desk, person->id);
  g_signal_emit(self, signals[CONFIRMED], 0);
  g_settings_set_string(lz_settings(), "last-person", person->initials);
  say(self, NULL);
  gtk_popover_popdown(GTK_POPOVER(self));
  return TRUE;
}

// Two letters are enough. Nothing typed and Enter: it is still the same person, unless a PIN is
// asked for.
static void
on_typed(LzPersonMenu *self)
{
  const char *typed = gtk_editable_get_text(GTK_EDITABLE(self->initials));
  if (self->desk && g_utf8_strlen(typed, -1) == INITIALS && lz_people_find(self->desk, typed))
    lz_person_menu_choose(self, typed, NULL);
}

static void
on_activate(LzPersonMenu *self)
{
  if (self->desk && lz_desk_actor(self->desk) &&
      !*gtk_editable_get_text(GTK_EDITABLE(self->initials))) {
    g_signal_emit(self, signals[CONFIRMED], 0);
    gtk_popover_popdown(GTK_POPOVER(self));
    return;
  }
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
  int64_t actor = lz_desk_actor(self->desk);
  // Translators: initials; Enter says yes.
  g_autofree char *still = g_strdup_printf(_("Still %s? Enter, or other initials"),
                                           lz_desk_person_initials(self->desk, actor));
  gtk_label_set_label(self->title, actor ? still : _("Who are you?"));
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
  if (!desk || lz_desk_actor(desk) || lz_people_ask_pins(desk))
    return;
  g_autofree char *last = g_settings_get_string(lz_settings(), "last-person");
  const LzPersonInfo *person = *last ? lz_people_find(desk, last) : NULL;
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
  g_clear_handle_id(&self->hold, g_source_remove);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_person_menu_parent_class)->dispose(object);
}

static void
lz_person_menu_class_init(LzPersonMenuClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_person_menu_dispose;
  // The person has said who they are, anew or again.
  signals[CONFIRMED] = g_signal_new("confirmed", LZ_TYPE_PERSON_MENU, G_SIGNAL_RUN_LAST, 0, NULL,
                                    NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_person_menu.ui");
  gtk_widget_class_bind_template_child(widget, LzPersonMenu, initials);
  gtk_widget_class_bind_template_child(widget, LzPersonMenu, pin);
  gtk_widget_class_bind_template_child(widget, LzPersonMenu, title);
  gtk_widget_class_bind_template_child(widget, LzPersonMenu, message);
  gtk_widget_class_bind_template_child(widget, LzPersonMenu, people);
  gtk_widget_class_bind_template_callback(widget, on_activate);
  gtk_widget_class_bind_template_callback(widget, on_typed);
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
