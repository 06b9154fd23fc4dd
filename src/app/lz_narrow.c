// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_narrow.h"

typedef struct {
  GtkWidget *widget; // which this is a part of
  LzNarrowFollow follow;
  GtkRoot *root; // not owned: the widget stands in it
  gulong on_narrow;
} Following;

static void
tell(Following *following)
{
  gboolean narrow = FALSE;
  g_object_get(following->root, "narrow", &narrow, NULL);
  following->follow(following->widget, narrow);
}

static void
on_root(GtkWidget *widget, GParamSpec *spec, Following *following)
{
  if (following->root)
    g_clear_signal_handler(&following->on_narrow, following->root);
  following->root = gtk_widget_get_root(widget);
  if (following->root &&
      !g_object_class_find_property(G_OBJECT_GET_CLASS(following->root), "narrow"))
    following->root = NULL;
  if (!following->root)
    return;
  following->on_narrow =
      g_signal_connect_swapped(following->root, "notify::narrow", G_CALLBACK(tell), following);
  tell(following);
}

void
lz_narrow_follow(GtkWidget *widget, LzNarrowFollow follow)
{
  Following *following = g_new0(Following, 1);
  following->widget = widget;
  following->follow = follow;
  g_signal_connect_data(widget, "notify::root", G_CALLBACK(on_root), following,
                        (GClosureNotify)(void (*)(void))g_free, 0);
  on_root(widget, NULL, following);
}
