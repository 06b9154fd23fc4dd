// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_preferences.h"

#include <glib/gi18n.h>
#include <string.h>

#include "lz_access.h"
#include "lz_settings.h"
#include "lz_type_ahead.h"

struct _LzPreferences {
  GtkWindow parent;
  GtkGrid *grid;
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

static void
lz_preferences_class_init(LzPreferencesClass *klass)
{
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
lz_preferences_new(GtkWindow *above)
{
  return g_object_new(LZ_TYPE_PREFERENCES, "transient-for", above, "destroy-with-parent", TRUE,
                      NULL);
}
