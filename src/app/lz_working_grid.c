// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_working_grid.h"

#include <lz_working.h>

void
lz_grid_clear(GtkGrid *grid)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(grid))))
    gtk_grid_remove(grid, child);
}

static void
cell(GtkGrid *grid, const char *text, int column, int row, float xalign, const char *style,
     gboolean result)
{
  GtkWidget *label = gtk_label_new(text);
  gtk_label_set_xalign(GTK_LABEL(label), xalign);
  gtk_widget_set_hexpand(label, column == 0);
  if (style)
    gtk_widget_add_css_class(label, style);
  if (result) {
    gtk_widget_add_css_class(label, "strong");
    gtk_widget_add_css_class(label, "result");
  }
  gtk_grid_attach(grid, label, column, row, 1, 1);
}

void
lz_working_grid_fill(GtkGrid *grid, GPtrArray *lines)
{
  lz_grid_clear(grid);
  for (guint i = 0; i < lines->len; i++) {
    const LzWorkingLine *line = g_ptr_array_index(lines, i);
    cell(grid, line->what, 0, (int)i, 0, NULL, line->result);
    cell(grid, line->how, 1, (int)i, 1, "axis", line->result);
    cell(grid, line->value, 2, (int)i, 1, NULL, line->result);
  }
  g_autofree char *spoken = lz_working_spoken(lines);
  gtk_accessible_update_property(GTK_ACCESSIBLE(grid), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, spoken,
                                 -1);
}
