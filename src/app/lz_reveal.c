// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_reveal.h"

typedef struct {
  GWeakRef scroll, widget;
} Pair;

static void
pair_free(gpointer data)
{
  Pair *pair = data;
  g_weak_ref_clear(&pair->scroll);
  g_weak_ref_clear(&pair->widget);
  g_free(pair);
}

static gboolean
after_layout(gpointer data)
{
  Pair *pair = data;
  g_autoptr(GtkScrolledWindow) scroll = g_weak_ref_get(&pair->scroll);
  g_autoptr(GtkWidget) widget = g_weak_ref_get(&pair->widget);
  graphene_rect_t box;
  if (!scroll || !widget || !gtk_widget_get_mapped(widget))
    return G_SOURCE_REMOVE;
  GtkAdjustment *place = gtk_scrolled_window_get_vadjustment(scroll);
  double at = gtk_adjustment_get_value(place);
  if (gtk_widget_compute_bounds(widget, GTK_WIDGET(scroll), &box)) {
    double top = at + (double)box.origin.y, bottom = top + (double)box.size.height;
    gtk_adjustment_clamp_page(place, top, MIN(bottom, top + gtk_adjustment_get_page_size(place)));
  }
  return G_SOURCE_REMOVE;
}

void
lz_reveal(GtkScrolledWindow *scroll, GtkWidget *widget)
{
  Pair *pair = g_new0(Pair, 1);
  g_weak_ref_init(&pair->scroll, scroll);
  g_weak_ref_init(&pair->widget, widget);
  g_idle_add_full(G_PRIORITY_DEFAULT_IDLE, after_layout, pair, pair_free);
}

static void
on_changed(GtkWidget *widget)
{
  GtkWidget *scroll = gtk_widget_get_ancestor(widget, GTK_TYPE_SCROLLED_WINDOW);
  if (scroll && (gtk_widget_get_state_flags(widget) & GTK_STATE_FLAG_FOCUS_WITHIN))
    lz_reveal(GTK_SCROLLED_WINDOW(scroll), widget);
}

void
lz_reveal_keep(GtkScrolledWindow *scroll, GtkWidget *widget)
{
  g_signal_connect_object(gtk_scrolled_window_get_vadjustment(scroll), "changed",
                          G_CALLBACK(on_changed), widget, G_CONNECT_SWAPPED);
}
