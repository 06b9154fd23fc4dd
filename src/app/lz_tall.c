// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_tall.h"

#include "lz_theme.h"

#define LEAST 90 // px at 100 %: a field with its label

struct _LzTall {
  GtkWidget parent;
  GtkWidget *scroll, *child;
  int least; // px at 100 %
};

enum { PROP_LEAST = 1 };

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
  // a height that is scrolled makes nothing wider
  gtk_widget_measure(self->child, orientation,
                     orientation == GTK_ORIENTATION_HORIZONTAL ? -1 : for_size, minimum, natural,
                     NULL, NULL);
  if (orientation == GTK_ORIENTATION_VERTICAL)
    *minimum = MIN(*minimum, (int)(self->least * lz_theme_text_scale()));
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
lz_tall_set_property(GObject *object, guint id, const GValue *value, GParamSpec *spec)
{
  LZ_TALL(object)->least = g_value_get_int(value);
}

static void
lz_tall_class_init(LzTallClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->set_property = lz_tall_set_property;
  g_object_class_install_property(
      G_OBJECT_CLASS(klass), PROP_LEAST,
      g_param_spec_int("least", NULL, NULL, 0, G_MAXINT, LEAST,
                       G_PARAM_CONSTRUCT | G_PARAM_WRITABLE | G_PARAM_STATIC_STRINGS));
  G_OBJECT_CLASS(klass)->dispose = lz_tall_dispose;
  widget->get_request_mode = lz_tall_request_mode;
  widget->measure = lz_tall_measure;
  widget->size_allocate = lz_tall_size_allocate;
}

static gboolean
has_stop(GtkWidget *widget)
{
  gboolean found = gtk_widget_get_focusable(widget);
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child && !found;
       child = gtk_widget_get_next_sibling(child))
    found = has_stop(child);
  return found;
}

// Words that scroll are a stop on the way of Tab, words that do not are none. GTK 4.8 would stay
// where it is at a scrolled window that may have the focus and does not take it.
static void
on_room(LzTall *self, GtkAdjustment *at)
{
  gboolean scrolls = gtk_adjustment_get_upper(at) > gtk_adjustment_get_page_size(at) + 1;
  gtk_widget_set_focusable(self->scroll, scrolls);
  gtk_widget_set_can_focus(self->scroll, scrolls || (self->child && has_stop(self->child)));
}

static void
lz_tall_init(LzTall *self)
{
  self->scroll = gtk_scrolled_window_new();
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(self->scroll), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_widget_set_parent(self->scroll, GTK_WIDGET(self));
  g_signal_connect_object(gtk_scrolled_window_get_vadjustment(GTK_SCROLLED_WINDOW(self->scroll)),
                          "changed", G_CALLBACK(on_room), self, G_CONNECT_SWAPPED);
}
