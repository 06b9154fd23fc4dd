// SPDX-License-Identifier: GPL-3.0-or-later
// Laid out as the number pad beside it: 7 8 9 above, the decimal sign at the right of the nought.
#include "lz_digits.h"

#include <glib/gi18n.h>
#include <string.h>

#include "lz_settings.h"

#define KEY_PX 60 // a gloved finger; common practice, no source

static void
on_key(GtkButton *button, LzNumberEntry *entry)
{
  const char *key = g_object_get_data(G_OBJECT(button), "key");
  GtkWidget *popover = gtk_widget_get_ancestor(GTK_WIDGET(button), GTK_TYPE_POPOVER);
  if (strcmp(key, "back") == 0) {
    const char *text = lz_number_entry_text(entry);
    g_autofree char *less = g_strndup(text, *text ? strlen(text) - 1 : 0); // ASCII only
    lz_number_entry_set_text(entry, less);
  } else if (strcmp(key, "enter") == 0) {
    gtk_popover_popdown(GTK_POPOVER(popover));
    gtk_widget_activate_action(GTK_WIDGET(entry), "win.pad", "s", "enter");
  } else {
    lz_number_entry_type(entry, key);
  }
}

static void
add(GtkGrid *grid, LzNumberEntry *entry, const char *key, const char *shown, const char *name,
    int at)
{
  GtkWidget *button = gtk_button_new_with_label(shown);
  gtk_widget_set_size_request(button, KEY_PX, KEY_PX);
  gtk_widget_set_focusable(button, FALSE);
  gtk_widget_add_css_class(button, "heading");
  g_object_set_data(G_OBJECT(button), "key", (gpointer)key);
  g_signal_connect_object(button, "clicked", G_CALLBACK(on_key), entry, 0);
  gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_grid_attach(grid, button, at % 3, at / 3, at == 12 ? 3 : 1, 1);
}

GtkWidget *
lz_digits_new(LzNumberEntry *entry)
{
  static const char *const digits[] = {"7", "8", "9", "4", "5", "6", "1", "2", "3", "0"};
  GtkWidget *popover = gtk_popover_new(), *grid = gtk_grid_new();
  const char *sign = lz_settings_decimal() == ',' ? "," : ".";
  gtk_grid_set_row_spacing(GTK_GRID(grid), 6);
  gtk_grid_set_column_spacing(GTK_GRID(grid), 6);
  for (int i = 0; i < (int)G_N_ELEMENTS(digits); i++)
    add(GTK_GRID(grid), entry, digits[i], digits[i], digits[i], i);
  add(GTK_GRID(grid), entry, ".", sign, _("Decimal sign"), 10);
  add(GTK_GRID(grid), entry, "back", "⌫", _("Take the last digit away"), 11);
  add(GTK_GRID(grid), entry, "enter", _("Record"), _("Record"), 12);
  gtk_popover_set_child(GTK_POPOVER(popover), grid);
  gtk_popover_set_position(GTK_POPOVER(popover), GTK_POS_RIGHT);
  gtk_popover_set_has_arrow(GTK_POPOVER(popover), FALSE);
  gtk_accessible_update_property(GTK_ACCESSIBLE(popover), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Digits to press"), -1);
  return popover;
}
