// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_chosen.h"

static GQuark
mark_quark(void)
{
  return g_quark_from_static_string("lz-chosen-entry");
}

static gint64
mark_of(GtkWidget *widget)
{
  const gint64 *id = widget ? g_object_get_qdata(G_OBJECT(widget), mark_quark()) : NULL;
  return id ? *id : 0;
}

void
lz_chosen_mark(GtkWidget *widget, gint64 id)
{
  g_return_if_fail(GTK_IS_WIDGET(widget));
  g_object_set_qdata_full(G_OBJECT(widget), mark_quark(), g_memdup2(&id, sizeof id), g_free);
}

// A row of a list takes the focus, and what was marked is its child.
static gint64
mark_around(GtkWidget *focus)
{
  gint64 id = focus ? mark_of(gtk_widget_get_first_child(focus)) : 0;
  for (GtkWidget *at = focus; at && !id; at = gtk_widget_get_parent(at))
    id = mark_of(at);
  return id;
}

gint64
lz_chosen_entry(GtkWidget *focus, LzPlace *place)
{
  gint64 id = mark_around(focus);
  return id || !place ? id : lz_place_entry(place);
}
