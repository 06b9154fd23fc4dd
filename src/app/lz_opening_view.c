// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_opening_view.h.
#include "lz_opening_view.h"

#include <glib/gi18n.h>

#include "lz_place.h"

#define LOOK_MS 50

struct _LzOpeningView {
  GtkWidget parent;
  LzOpening *opening;
  char *path;
  guint look;
  bool called_off;
  GtkWidget *box;
  GtkLabel *title;
  GtkProgressBar *bar;
  GtkButton *cancel;
};

static void place_iface(LzPlaceInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE(LzOpeningView, lz_opening_view, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(LZ_TYPE_PLACE, place_iface))

static guint ended;

// Whoever hears of it takes the view away.
static void
end(LzOpeningView *self)
{
  g_clear_handle_id(&self->look, g_source_remove);
  g_signal_emit(self, ended, 0);
}

static gboolean
on_look(gpointer data)
{
  LzOpeningView *self = data;
  gtk_progress_bar_set_fraction(self->bar, lz_opening_share(self->opening));
  if (!lz_opening_wait(self->opening, 0))
    return G_SOURCE_CONTINUE;
  self->look = 0;
  end(self);
  return G_SOURCE_REMOVE;
}

static void
call_off(LzOpeningView *self)
{
  self->called_off = true;
  end(self);
}

static bool
lz_opening_view_back(LzPlace *place)
{
  call_off(LZ_OPENING_VIEW(place));
  return true;
}

static GPtrArray *
lz_opening_view_hints(LzPlace *place)
{
  GPtrArray *hints = lz_hints_new();
  lz_hints_add(hints, "Esc", _("cancel"), NULL);
  return hints;
}

static void
lz_opening_view_enter(LzPlace *place)
{
  gtk_widget_grab_focus(GTK_WIDGET(LZ_OPENING_VIEW(place)->cancel));
}

static void
place_iface(LzPlaceInterface *iface)
{
  iface->enter = lz_opening_view_enter;
  iface->back = lz_opening_view_back;
  iface->hints = lz_opening_view_hints;
}

static void
lz_opening_view_dispose(GObject *object)
{
  LzOpeningView *self = LZ_OPENING_VIEW(object);
  g_clear_handle_id(&self->look, g_source_remove);
  g_clear_pointer(&self->opening, lz_opening_free);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  g_clear_pointer(&self->path, g_free);
  G_OBJECT_CLASS(lz_opening_view_parent_class)->dispose(object);
}

static void
lz_opening_view_class_init(LzOpeningViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_opening_view_dispose;
  ended = g_signal_new("ended", LZ_TYPE_OPENING_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                       G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_opening_view.ui");
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_REGION);
  gtk_widget_class_bind_template_child(widget, LzOpeningView, box);
  gtk_widget_class_bind_template_child(widget, LzOpeningView, title);
  gtk_widget_class_bind_template_child(widget, LzOpeningView, bar);
  gtk_widget_class_bind_template_child(widget, LzOpeningView, cancel);
}

static void
lz_opening_view_init(LzOpeningView *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
  g_signal_connect_object(self->cancel, "clicked", G_CALLBACK(call_off), self, G_CONNECT_SWAPPED);
}

GtkWidget *
lz_opening_view_new(LzOpening *opening)
{
  LzOpeningView *self = g_object_new(LZ_TYPE_OPENING_VIEW, NULL);
  g_autofree char *name = g_path_get_basename(lz_opening_path(opening));
  g_autofree char *shown = g_filename_display_name(name);
  // Translators: the name of a station's file
  g_autofree char *title = g_strdup_printf(_("Opening %s"), shown);
  self->opening = opening;
  self->path = g_strdup(lz_opening_path(opening));
  gtk_label_set_label(self->title, title);
  self->look = g_timeout_add(LOOK_MS, on_look, self);
  return GTK_WIDGET(self);
}

const char *
lz_opening_view_path(LzOpeningView *self)
{
  g_return_val_if_fail(LZ_IS_OPENING_VIEW(self), NULL);
  return self->path;
}

LzDesk *
lz_opening_view_take(LzOpeningView *self, GError **error)
{
  g_return_val_if_fail(LZ_IS_OPENING_VIEW(self), NULL);
  return self->called_off ? NULL : lz_opening_take(self->opening, error);
}
