// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_reveal.h"

// Frames until what was asked for is laid out, and GTK's own scrolling to the focus is behind it.
#define FRAMES 3

typedef struct {
  GWeakRef widget;
  int frames;
} Wish;

static void
wish_free(gpointer data)
{
  Wish *wish = data;
  g_weak_ref_clear(&wish->widget);
  g_free(wish);
}

static gboolean
on_frame(GtkWidget *scroll, GdkFrameClock *clock, gpointer data)
{
  Wish *wish = data;
  g_autoptr(GtkWidget) widget = g_weak_ref_get(&wish->widget);
  graphene_rect_t box;
  if (!widget || !gtk_widget_get_mapped(widget))
    return G_SOURCE_REMOVE;
  GtkAdjustment *place = gtk_scrolled_window_get_vadjustment(GTK_SCROLLED_WINDOW(scroll));
  double at = gtk_adjustment_get_value(place);
  if (gtk_widget_compute_bounds(widget, scroll, &box)) {
    double top = at + (double)box.origin.y, bottom = top + (double)box.size.height;
    gtk_adjustment_clamp_page(place, top, MIN(bottom, top + gtk_adjustment_get_page_size(place)));
  }
  return --wish->frames > 0;
}

void
lz_reveal(GtkScrolledWindow *scroll, GtkWidget *widget)
{
  Wish *wish = g_new0(Wish, 1);
  wish->frames = FRAMES;
  g_weak_ref_init(&wish->widget, widget);
  gtk_widget_add_tick_callback(GTK_WIDGET(scroll), on_frame, wish, wish_free);
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
