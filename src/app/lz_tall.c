// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_tall.h"

#include "lz_theme.h"

#define LEAST 90 // px at 100 %: a field with its label

struct _LzTall {
  GtkWidget parent;
  GtkWidget *scroll, *child;
};

static GtkBuildableIface *parent_buildable;

static void
add_child(GtkBuildable *buildable, GtkBuilder *builder, GObject *child, const char *type)
{
  LzTall *self = LZ_TALL(buildable);
  if (!GTK_IS_WIDGET(child)) {
    parent_buildable->add_child(buildable, builder, child, type);
    return;
  }
  self->child = GTK_WIDGET(child);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(self->scroll), self->child);
  g_object_bind_property(child, "visible", self, "visible", G_BINDING_SYNC_CREATE);
}

static void
buildable_init(GtkBuildableIface *iface)
{
  parent_buildable = g_type_interface_peek_parent(iface);
  iface->add_child = add_child;
}

G_DEFINE_FINAL_TYPE_WITH_CODE(LzTall, lz_tall, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(GTK_TYPE_BUILDABLE, buildable_init))

static GtkSizeRequestMode
lz_tall_request_mode(GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
lz_tall_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                int *natural, int *minimum_baseline, int *natural_baseline)
{
  LzTall *self = LZ_TALL(widget);
  *minimum = *natural = 0;
  if (!self->child)
    return;
  gtk_widget_measure(self->child, orientation, for_size, minimum, natural, NULL, NULL);
  if (orientation == GTK_ORIENTATION_VERTICAL)
    *minimum = MIN(*minimum, (int)(LEAST * lz_theme_text_scale()));
}

static void
lz_tall_size_allocate(GtkWidget *widget, int width, int height, int baseline)
{
  gtk_widget_allocate(LZ_TALL(widget)->scroll, width, height, baseline, NULL);
}

static void
lz_tall_dispose(GObject *object)
{
  LzTall *self = LZ_TALL(object);
  self->child = NULL;
  g_clear_pointer(&self->scroll, gtk_widget_unparent);
  G_OBJECT_CLASS(lz_tall_parent_class)->dispose(object);
}

static void
lz_tall_class_init(LzTallClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_tall_dispose;
  widget->get_request_mode = lz_tall_request_mode;
  widget->measure = lz_tall_measure;
  widget->size_allocate = lz_tall_size_allocate;
}

static void
lz_tall_init(LzTall *self)
{
  self->scroll = gtk_scrolled_window_new();
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(self->scroll), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_widget_set_parent(self->scroll, GTK_WIDGET(self));
}
