// SPDX-License-Identifier: GPL-3.0-or-later
// A window that is narrow for the size of its text (200 % on a small screen) leaves out the key
// caps of its places, and pages put below each other what stands side by side elsewhere.
#include "lz_theme.h"
#include "lz_window_private.h"

#define NARROW 850 // px at 100 %: the widest that the five German places with caps need

static void
show_caps(GtkWidget *widget, gboolean shown)
{
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child;
       child = gtk_widget_get_next_sibling(child))
    if (gtk_widget_has_css_class(child, "key-cap"))
      gtk_widget_set_visible(child, shown);
    else
      show_caps(child, shown);
}

static gboolean
apply(gpointer data)
{
  LzWindow *self = data;
  self->fit = 0;
  if (self->narrow)
    gtk_widget_add_css_class(GTK_WIDGET(self), "narrow");
  else
    gtk_widget_remove_css_class(GTK_WIDGET(self), "narrow");
  show_caps(GTK_WIDGET(self->places), !self->narrow);
  g_object_notify(G_OBJECT(self), "narrow");
  return G_SOURCE_REMOVE;
}

// Nothing may be shown or hidden in the middle of a layout: it is done right after.
void
lz_window_fit(LzWindow *self, int width)
{
  gboolean narrow = width < NARROW * lz_theme_text_scale();
  if (narrow == self->narrow)
    return;
  self->narrow = narrow;
  if (!self->fit)
    self->fit = g_idle_add_full(G_PRIORITY_HIGH_IDLE, apply, self, NULL);
}
