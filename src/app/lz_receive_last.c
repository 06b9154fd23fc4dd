// SPDX-License-Identifier: GPL-3.0-or-later
// What came last, below the boxes: a slip is found when the next box is opened, and is corrected
// where it is read.
#include <glib/gi18n.h>
#include <lz_words.h>

#include "lz_entry_words.h"
#include "lz_receive_private.h"

#define SHOWN_MIN  LZQ_DAY // since they came
#define SHOWN_MOST 14      // lots

void
lz_receive_last_show(GtkBox *box, LzDesk *desk)
{
  const lzq_minute now = lz_desk_now(desk);
  g_autoptr(GPtrArray) lots = lz_desk_facts(desk, "lot", now - SHOWN_MIN, now + 1);
  GtkWidget *heading = gtk_widget_get_first_child(GTK_WIDGET(box)), *old;
  while ((old = gtk_widget_get_next_sibling(heading)))
    gtk_box_remove(box, old);
  for (guint i = lots->len; i-- > 0 && lots->len - i <= SHOWN_MOST;) {
    LzEntry *lot = g_ptr_array_index(lots, i);
    g_autofree char *words = lz_words_entry(desk, lot);
    gtk_box_append(box, lz_entry_words_new(lot, words, NULL));
  }
  gtk_widget_set_visible(GTK_WIDGET(box), lots->len > 0);
}
