// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_reasons.h"

#include <glib/gi18n.h>

#include "lz_access.h"

static void
on_reason(GtkWidget *button, GtkEntry *entry)
{
  GtkWidget *popover = gtk_widget_get_ancestor(button, GTK_TYPE_POPOVER);
  gtk_editable_set_text(GTK_EDITABLE(entry), gtk_button_get_label(GTK_BUTTON(button)));
  gtk_popover_popdown(GTK_POPOVER(popover));
  gtk_widget_grab_focus(GTK_WIDGET(entry));
  gtk_editable_set_position(GTK_EDITABLE(entry), -1);
}

static GtkWidget *
popover_new(GtkEntry *entry)
{
  static const char *const reasons[] = {N_("typed wrongly"), N_("read wrongly"),
                                        N_("the wrong one was chosen"),
                                        N_("it happened at another time"), N_("it did not happen")};
  GtkWidget *popover = gtk_popover_new(), *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  for (gsize i = 0; i < G_N_ELEMENTS(reasons); i++) {
    GtkWidget *button = gtk_button_new_with_label(_(reasons[i]));
    gtk_widget_set_halign(gtk_button_get_child(GTK_BUTTON(button)), GTK_ALIGN_START);
    gtk_widget_add_css_class(button, "flat");
    g_signal_connect_object(button, "clicked", G_CALLBACK(on_reason), entry, 0);
    gtk_box_append(GTK_BOX(box), button);
  }
  gtk_popover_set_child(GTK_POPOVER(popover), box);
  gtk_popover_set_has_arrow(GTK_POPOVER(popover), FALSE);
  gtk_accessible_update_property(GTK_ACCESSIBLE(popover), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Usual reasons"), -1);
  return popover;
}

GtkWidget *
lz_reasons_beside(GtkEntry *entry)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 4), *button = gtk_menu_button_new();
  gtk_menu_button_set_popover(GTK_MENU_BUTTON(button), popover_new(entry));
  gtk_widget_set_focusable(button, FALSE);
  gtk_widget_set_focusable(gtk_widget_get_first_child(button), FALSE);
  gtk_widget_set_tooltip_text(button, _("Usual reasons"));
  gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Usual reasons"), -1);
  lz_access_inner(button, _("Usual reasons"));
  gtk_widget_set_hexpand(GTK_WIDGET(entry), TRUE);
  gtk_box_append(GTK_BOX(box), GTK_WIDGET(entry));
  gtk_box_append(GTK_BOX(box), button);
  return box;
}
