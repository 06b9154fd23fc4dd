// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_entry_words.h"

#include <glib/gi18n.h>

#include "lz_chosen.h"
#include "lz_record.h"

// The first entry is what is corrected, also where this is a correction of it.
static void
on_pressed(GtkWidget *button, const LzEntry *entry)
{
  lz_record_correct(button, lz_entry_kind(entry),
                    lz_entry_corrects(entry) ? lz_entry_corrects(entry) : lz_entry_id(entry));
}

GtkWidget *
lz_entry_words_new(LzEntry *entry, const char *words, const char *style)
{
  GtkWidget *button = gtk_button_new(), *label = gtk_label_new(words);
  g_autofree char *name = g_strdup_printf(_("%s: correct"), words);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  gtk_widget_set_hexpand(label, TRUE);
  gtk_widget_set_valign(label, GTK_ALIGN_START);
  if (style)
    gtk_widget_add_css_class(label, style);
  gtk_button_set_child(GTK_BUTTON(button), label);
  gtk_widget_add_css_class(button, "flat");
  gtk_widget_add_css_class(button, "entry-words");
  gtk_widget_set_hexpand(button, TRUE);
  gtk_widget_set_valign(button, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text(button, _("Correct this entry, with a reason"));
  gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  lz_chosen_mark(button, lz_entry_id(entry));
  g_signal_connect_data(button, "clicked", G_CALLBACK(on_pressed), lz_entry_ref(entry),
                        (GClosureNotify)(void (*)(void))lz_entry_unref, 0);
  return button;
}
