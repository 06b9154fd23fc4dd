// SPDX-License-Identifier: GPL-3.0-or-later
// Four ways in, each one key: 1, 2, 3, 4, or a press.
#include "lz_start_view.h"

#include <glib/gi18n.h>

#include "lz_place.h"

struct _LzStartView {
  GtkWidget parent;
  GtkWidget *box;
};

static void place_iface(LzPlaceInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE(LzStartView, lz_start_view, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(LZ_TYPE_PLACE, place_iface))

static const char *const actions[] = {"app.demo", "app.new-station", "app.restore",
                                      "app.open-file"};

static bool
lz_start_view_key(LzPlace *place, LzPadKey key)
{
  if (key.kind != LZ_PAD_DIGIT || key.digit < 1 || key.digit > (int)G_N_ELEMENTS(actions))
    return false;
  return gtk_widget_activate_action(GTK_WIDGET(place), actions[key.digit - 1], NULL);
}

static GPtrArray *
lz_start_view_hints(LzPlace *place)
{
  GPtrArray *hints = lz_hints_new();
  lz_hints_add(hints, "1", _("demo station"), actions[0]);
  lz_hints_add(hints, "2", _("set up your own"), actions[1]);
  lz_hints_add(hints, "3", _("restore"), actions[2]);
  lz_hints_add(hints, "4", _("open a file"), actions[3]);
  return hints;
}

static void
lz_start_view_enter(LzPlace *place)
{
  LzStartView *self = LZ_START_VIEW(place);
  if (!(gtk_widget_get_state_flags(self->box) & GTK_STATE_FLAG_FOCUS_WITHIN))
    gtk_widget_child_focus(self->box, GTK_DIR_TAB_FORWARD);
}

static void
place_iface(LzPlaceInterface *iface)
{
  iface->enter = lz_start_view_enter;
  iface->key = lz_start_view_key;
  iface->hints = lz_start_view_hints;
}

static void
lz_start_view_dispose(GObject *object)
{
  LzStartView *self = LZ_START_VIEW(object);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS(lz_start_view_parent_class)->dispose(object);
}

static void
lz_start_view_class_init(LzStartViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_start_view_dispose;
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_start_view.ui");
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_REGION);
  gtk_widget_class_bind_template_child(widget, LzStartView, box);
}

static void
lz_start_view_init(LzStartView *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
}

GtkWidget *
lz_start_view_new(void)
{
  return g_object_new(LZ_TYPE_START_VIEW, NULL);
}
