// SPDX-License-Identifier: GPL-3.0-or-later
// A page of a stack that is not the shown one is no visible child; it is mapped in the same turn of
// the main loop in which it becomes the shown one, so neither a frame nor the accessibility bus
// sees what it said before.
#include "lz_fresh.h"

typedef struct {
  LzFreshMake make;
  gboolean old;
} Fresh;

static GQuark
quark(void)
{
  return g_quark_from_static_string("lz-fresh");
}

gboolean
lz_fresh_is_seen(GtkWidget *widget)
{
  GtkWidget *root = GTK_WIDGET(gtk_widget_get_root(widget));
  for (; root && widget != root; widget = gtk_widget_get_parent(widget))
    if (!gtk_widget_get_visible(widget) || !gtk_widget_get_child_visible(widget))
      return FALSE;
  return root != NULL;
}

void
lz_fresh_now(gpointer widget)
{
  Fresh *fresh = g_object_get_qdata(widget, quark());
  if (!fresh || !fresh->old)
    return;
  fresh->old = FALSE; // what is made may ask for what is made
  fresh->make(widget);
}

void
lz_fresh_old(gpointer widget)
{
  Fresh *fresh = g_object_get_qdata(widget, quark());
  g_return_if_fail(fresh != NULL);
  fresh->old = TRUE;
  if (lz_fresh_is_seen(widget))
    lz_fresh_now(widget);
}

void
lz_fresh_keep(gpointer widget, LzFreshMake make)
{
  Fresh *fresh = g_new0(Fresh, 1);
  fresh->make = make;
  g_object_set_qdata_full(widget, quark(), fresh, g_free);
  g_signal_connect(widget, "map", G_CALLBACK(lz_fresh_now), NULL);
  lz_fresh_old(widget);
}
