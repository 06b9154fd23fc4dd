// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_tip.h"

static gboolean
is_cut(GtkWidget *widget)
{
  return GTK_IS_LABEL(widget) &&
         pango_layout_is_ellipsized(gtk_label_get_layout(GTK_LABEL(widget)));
}

// Of a row with the focus the first label that is cut.
static GtkWidget *
find_cut(GtkWidget *widget)
{
  if (is_cut(widget))
    return widget;
  GtkWidget *found = NULL;
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child && !found;
       child = gtk_widget_get_next_sibling(child))
    if (gtk_widget_get_mapped(child))
      found = find_cut(child);
  return found;
}

const char *
lz_tip_of(GtkWidget *widget)
{
  return is_cut(widget) ? gtk_label_get_text(GTK_LABEL(widget)) : NULL;
}

static gboolean
on_query(GtkWidget *window, int x, int y, gboolean keyboard, GtkTooltip *tooltip, gpointer data)
{
  GtkWidget *focus = gtk_window_get_focus(GTK_WINDOW(window));
  GtkWidget *at = !keyboard ? gtk_widget_pick(window, x, y, GTK_PICK_DEFAULT)
                  : focus   ? find_cut(focus)
                            : NULL;
  const char *words = at ? lz_tip_of(at) : NULL;
  if (!words)
    return FALSE;
  gtk_tooltip_set_text(tooltip, words);
  return TRUE;
}

void
lz_tip_add(GtkWidget *window)
{
  gtk_widget_set_has_tooltip(window, TRUE);
  g_signal_connect(window, "query-tooltip", G_CALLBACK(on_query), NULL);
}
