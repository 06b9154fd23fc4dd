// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_preferences.h"

#include <glib/gi18n.h>
#include <lz_roles.h>
#include <lz_setup.h>
#include <string.h>

#include "lz_access.h"
#include "lz_lookup.h"
#include "lz_settings.h"
#include "lz_type_ahead.h"

struct _LzPreferences {
  GtkWindow parent;
  GtkGrid *grid;
  LzDesk *desk; // whose station's rules stand below, NULL = none is open
  GtkEntry *slots;
  GtkLabel *says;
};

G_DEFINE_FINAL_TYPE(LzPreferences, lz_preferences, GTK_TYPE_WINDOW)

#define CHOICES 5

// Choices in the order of the schema's values; "language" is a string, the others are enums.
static const struct {
  const char *key, *label;
  const char *values[CHOICES], *words[CHOICES];
} rows[] = {
    {"theme",
     N_("Look"),
     {"system", "light", "dark", "contrast", "contrast-dark"},
     {N_("As the desktop"), N_("Light"), N_("Dark"), N_("High contrast, light"),
      N_("High contrast, dark")}},
    {"decimal",
     N_("Decimal sign shown"),
     {"language", "point", "comma"},
     {N_("As the login"), N_("Point"), N_("Comma")}},
    {"paper",
     N_("Paper"),
     {"station", "a4", "letter"},
     {N_("As the station"), N_("A4"), N_("Letter")}},
    {"temperature",
     N_("Temperatures are typed in"),
     {"celsius", "fahrenheit"},
     {N_("degrees Celsius"), N_("degrees Fahrenheit")}},
    {"salinity",
     N_("Salinities are typed in"),
     {"practical", "gravity"},
     {N_("practical salinity (ppt)"), N_("specific gravity, on the instrument's scale")}},
    {"first-day",
     N_("First day of the week"),
     {"monday", "saturday", "sunday"},
     {N_("Monday"), N_("Saturday"), N_("Sunday")}},
    {"language",
     N_("Language, from the next start on"),
     {"", "en", "de"},
     {N_("As the login"), "English", "Deutsch"}},
};

static GVariant *
to_setting(const GValue *value, const GVariantType *type, gpointer data)
{
  guint i = g_value_get_uint(value);
  const char *const *values = data;
  return i < CHOICES && values[i] ? g_variant_new_string(values[i]) : NULL;
}

static gboolean
from_setting(GValue *value, GVariant *variant, gpointer data)
{
  const char *const *values = data;
  for (guint i = 0; i < CHOICES && values[i]; i++)
    if (strcmp(values[i], g_variant_get_string(variant, NULL)) == 0) {
      g_value_set_uint(value, i);
      return TRUE;
    }
  return FALSE;
}

static void
attach(LzPreferences *self, const char *label, GtkWidget *input, int row)
{
  GtkWidget *words = gtk_label_new_with_mnemonic(label);
  gtk_label_set_xalign(GTK_LABEL(words), 0);
  gtk_widget_set_hexpand(input, TRUE);
  gtk_grid_attach(self->grid, words, 0, row, 1, 1);
  gtk_grid_attach(self->grid, input, 1, row, 1, 1);
}

static void
add_choice(LzPreferences *self, guint row)
{
  GtkStringList *list = gtk_string_list_new(NULL);
  for (guint i = 0; i < CHOICES && rows[row].words[i]; i++)
    gtk_string_list_append(list, _(rows[row].words[i]));
  GtkWidget *drop = gtk_drop_down_new(G_LIST_MODEL(list), NULL);
  lz_type_ahead_add(GTK_DROP_DOWN(drop));
  g_settings_bind_with_mapping(lz_settings(), rows[row].key, drop, "selected",
                               G_SETTINGS_BIND_DEFAULT, from_setting, to_setting,
                               (gpointer)rows[row].values, NULL);
  lz_access_inner(drop, _(rows[row].label));
  attach(self, _(rows[row].label), drop, (int)row);
}

static void
add_text_size(LzPreferences *self, int row)
{
  GtkWidget *spin = gtk_spin_button_new_with_range(80, 300, 10);
  gtk_accessible_update_property(GTK_ACCESSIBLE(spin), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Size of text, percent"), -1);
  g_settings_bind(lz_settings(), "text-percent", spin, "value", G_SETTINGS_BIND_DEFAULT);
  attach(self, _("Size of text, percent"), spin, row);
}

// --- the station's own rules, which everybody here obeys: through a checked command

static void
show_slots(LzPreferences *self)
{
  LzEntry *station = lz_lookup_station(self->desk);
  const char *slots = station ? lz_entry_text(station, "slots") : NULL;
  g_autofree char *why_not = lz_desk_why_not(self->desk, "station", 0, NULL);
  gtk_editable_set_text(GTK_EDITABLE(self->slots), slots ? slots : "");
  lz_access_shut(GTK_WIDGET(self->slots), why_not, lz_setup_slots_help());
  gtk_label_set_label(self->says, why_not ? why_not : lz_setup_slots_help());
}

static void
on_slots(LzPreferences *self)
{
  g_autoptr(GArray) ids = lz_desk_entities(self->desk, "station");
  g_autoptr(GError) error = NULL;
  g_autofree char *entity =
      g_strdup_printf("#%" G_GINT64_FORMAT, ids->len ? g_array_index(ids, int64_t, 0) : 0);
  g_autoptr(LzCommand) command =
      lz_command_build("station", "slots", gtk_editable_get_text(GTK_EDITABLE(self->slots)), NULL);
  lz_command_set_entity(command, entity);
  if (lz_desk_submit_one(self->desk, command, &error)) {
    show_slots(self);
    gtk_label_set_label(self->says, _("Kept for the whole station."));
  } else {
    gtk_label_set_label(self->says, error->message);
  }
}

static void
add_station(LzPreferences *self, int row)
{
  GtkWidget *head = gtk_label_new(_("The station, for everybody")), *entry = gtk_entry_new();
  GtkWidget *says = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(head), 0);
  gtk_widget_set_margin_top(head, 8);
  gtk_widget_add_css_class(head, "heading");
  gtk_grid_attach(self->grid, head, 0, row, 2, 1);
  gtk_accessible_update_property(GTK_ACCESSIBLE(entry), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Tests are made at"), -1);
  attach(self, _("Tests are made at"), entry, row + 1);
  gtk_label_set_xalign(GTK_LABEL(says), 0);
  gtk_label_set_wrap(GTK_LABEL(says), TRUE);
  gtk_label_set_max_width_chars(GTK_LABEL(says), 50);
  gtk_widget_add_css_class(says, "second");
  gtk_grid_attach(self->grid, says, 1, row + 2, 1, 1);
  self->slots = GTK_ENTRY(entry);
  self->says = GTK_LABEL(says);
  g_signal_connect_object(entry, "activate", G_CALLBACK(on_slots), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(self->desk, "notify::actor", G_CALLBACK(show_slots), self,
                          G_CONNECT_SWAPPED);
  show_slots(self);
}

static void
lz_preferences_dispose(GObject *object)
{
  g_clear_object(&LZ_PREFERENCES(object)->desk);
  G_OBJECT_CLASS(lz_preferences_parent_class)->dispose(object);
}

static void
lz_preferences_class_init(LzPreferencesClass *klass)
{
  G_OBJECT_CLASS(klass)->dispose = lz_preferences_dispose;
  gtk_widget_class_add_binding_action(GTK_WIDGET_CLASS(klass), GDK_KEY_Escape, 0, "window.close",
                                      NULL);
}

static void
lz_preferences_init(LzPreferences *self)
{
  self->grid = GTK_GRID(gtk_grid_new());
  gtk_grid_set_column_spacing(self->grid, 24);
  gtk_grid_set_row_spacing(self->grid, 12);
  gtk_widget_set_margin_start(GTK_WIDGET(self->grid), 24);
  gtk_widget_set_margin_end(GTK_WIDGET(self->grid), 24);
  gtk_widget_set_margin_top(GTK_WIDGET(self->grid), 20);
  gtk_widget_set_margin_bottom(GTK_WIDGET(self->grid), 20);
  gtk_window_set_title(GTK_WINDOW(self), _("Preferences"));
  gtk_window_set_child(GTK_WINDOW(self), GTK_WIDGET(self->grid));
  gtk_widget_add_css_class(GTK_WIDGET(self), "lazaret");
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++)
    add_choice(self, i);
  add_text_size(self, G_N_ELEMENTS(rows));
}

GtkWidget *
lz_preferences_new(GtkWindow *above, LzDesk *desk)
{
  LzPreferences *self =
      g_object_new(LZ_TYPE_PREFERENCES, "transient-for", above, "destroy-with-parent", TRUE, NULL);
  if (desk && lz_desk_is_set_up(desk)) {
    self->desk = g_object_ref(desk);
    add_station(self, G_N_ELEMENTS(rows) + 1);
  }
  return GTK_WIDGET(self);
}
