// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_panes.h"

#include "lz_narrow.h"

struct _LzPanes {
  GtkWidget parent;
  GtkScrolledWindow *scroll;
  GtkBox *box;
};

static GtkBuildableIface *parent_buildable;

static void
add_child(GtkBuildable *buildable, GtkBuilder *builder, GObject *child, const char *type)
{
  LzPanes *self = LZ_PANES(buildable);
  if (self->box && GTK_IS_WIDGET(child))
    gtk_box_append(self->box, GTK_WIDGET(child));
  else
    parent_buildable->add_child(buildable, builder, child, type);
}

static void
buildable_init(GtkBuildableIface *iface)
{
  parent_buildable = g_type_interface_peek_parent(iface);
  iface->add_child = add_child;
}

G_DEFINE_FINAL_TYPE_WITH_CODE(LzPanes, lz_panes, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(GTK_TYPE_BUILDABLE, buildable_init))

static void
follow(GtkWidget *widget, gboolean narrow)
{
  LzPanes *self = LZ_PANES(widget);
  gtk_orientable_set_orientation(GTK_ORIENTABLE(self->box),
                                 narrow ? GTK_ORIENTATION_VERTICAL : GTK_ORIENTATION_HORIZONTAL);
  // Side by side the panes share the height that there is, below each other each has its own.
  gtk_scrollable_set_vscroll_policy(GTK_SCROLLABLE(gtk_scrolled_window_get_child(self->scroll)),
                                    narrow ? GTK_SCROLL_NATURAL : GTK_SCROLL_MINIMUM);
  gtk_scrolled_window_set_policy(self->scroll, GTK_POLICY_NEVER,
                                 narrow ? GTK_POLICY_AUTOMATIC : GTK_POLICY_NEVER);
}

static void
lz_panes_dispose(GObject *object)
{
  LzPanes *self = LZ_PANES(object);
  if (self->scroll)
    gtk_widget_unparent(GTK_WIDGET(self->scroll));
  self->scroll = NULL;
  self->box = NULL;
  G_OBJECT_CLASS(lz_panes_parent_class)->dispose(object);
}

static void
lz_panes_class_init(LzPanesClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_panes_dispose;
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
}

static void
lz_panes_init(LzPanes *self)
{
  GtkWidget *port = gtk_viewport_new(NULL, NULL), *scroll = gtk_scrolled_window_new();
  self->box = GTK_BOX(gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0));
  self->scroll = GTK_SCROLLED_WINDOW(scroll);
  gtk_viewport_set_child(GTK_VIEWPORT(port), GTK_WIDGET(self->box));
  gtk_scrolled_window_set_policy(self->scroll, GTK_POLICY_NEVER, GTK_POLICY_NEVER);
  gtk_scrolled_window_set_child(self->scroll, port);
  gtk_widget_set_parent(scroll, GTK_WIDGET(self));
  lz_narrow_follow(GTK_WIDGET(self), follow);
}
