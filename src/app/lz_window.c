// SPDX-License-Identifier: GPL-3.0-or-later
// The frame: which place is visible, who is at the PC and what time it is. It knows places by their
// interface and makes them when a station is opened.
#include "lz_window_private.h"

#include <glib/gi18n.h>

#include "lz_access.h"
#include "lz_closing.h"
#include "lz_opening_view.h"
#include "lz_settings.h"
#include "lz_tip.h"
#include "lz_views.h"

G_DEFINE_FINAL_TYPE(LzWindow, lz_window, GTK_TYPE_APPLICATION_WINDOW)

static const char *const place_names[] = {"round",   "water",    "lots",  "plan",  "station",
                                          "receive", "handover", "print", "power", "amount"};

static gboolean
on_tick(gpointer data)
{
  LzWindow *self = data;
  lz_window_idle_check(self, g_get_monotonic_time());
  lz_window_refresh_bar(self);
  return G_SOURCE_CONTINUE;
}

static void
on_hints_changed(LzWindow *self)
{
  lz_window_keys_refresh(self);
}

static void
on_visible_child(LzWindow *self)
{
  LzPlace *place = lz_window_place(self);
  lz_window_keys_refresh(self);
  lz_window_actions_refresh(self);
  if (place)
    lz_place_enter(place);
}

static void
add_place(LzWindow *self, const char *name, GtkWidget *view)
{
  gtk_stack_add_named(self->stack, view, name);
  lz_access_plain(view);
  if (LZ_IS_PLACE(view))
    g_signal_connect_object(view, "hints-changed", G_CALLBACK(on_hints_changed), self,
                            G_CONNECT_SWAPPED);
}

static void
remove_all(LzWindow *self)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(self->stack))))
    gtk_stack_remove(self->stack, child);
}

void
lz_window_set_desk(LzWindow *self, LzDesk *desk)
{
  g_return_if_fail(LZ_IS_WINDOW(self));
  if (self->desk)
    g_signal_handlers_disconnect_by_data(self->desk, self);
  remove_all(self);
  g_set_object(&self->desk, desk);
  if (desk) {
    g_signal_connect_object(desk, "changed", G_CALLBACK(lz_window_refresh_bar), self,
                            G_CONNECT_SWAPPED);
    g_signal_connect_object(desk, "changed", G_CALLBACK(lz_window_tell_late), self,
                            G_CONNECT_SWAPPED);
    g_signal_connect_object(desk, "notify::actor", G_CALLBACK(lz_window_refresh_bar), self,
                            G_CONNECT_SWAPPED);
    for (size_t i = 0; i < G_N_ELEMENTS(place_names); i++)
      add_place(self, place_names[i], lz_view_new(place_names[i], desk));
    lz_window_go(self, lz_desk_is_set_up(desk) ? "round" : "station");
    g_object_unref(desk);
  } else {
    add_place(self, "start", lz_view_new("start", NULL));
  }
  lz_window_person_set_desk(self);
  lz_person_menu_set_desk(self->person_menu, desk);
  lz_window_refresh_bar(self);
  on_visible_child(self);
}

void
lz_window_show_opening(LzWindow *self, GtkWidget *view)
{
  g_return_if_fail(LZ_IS_WINDOW(self) && !self->desk);
  remove_all(self);
  add_place(self, "opening", view);
  on_visible_child(self);
}

const char *
lz_window_path(LzWindow *self)
{
  g_return_val_if_fail(LZ_IS_WINDOW(self), NULL);
  GtkWidget *opening = gtk_stack_get_child_by_name(self->stack, "opening");
  return self->desk ? lz_desk_path(self->desk)
         : opening  ? lz_opening_view_path(LZ_OPENING_VIEW(opening))
                    : NULL;
}

LzDesk *
lz_window_desk(LzWindow *self)
{
  g_return_val_if_fail(LZ_IS_WINDOW(self), NULL);
  return self->desk;
}

LzPlace *
lz_window_place(LzWindow *self)
{
  GtkWidget *child = gtk_stack_get_visible_child(self->stack);
  return child && LZ_IS_PLACE(child) ? LZ_PLACE(child) : NULL;
}

LzPlace *
lz_window_find_place(LzWindow *self, const char *name)
{
  GtkWidget *child = gtk_stack_get_child_by_name(self->stack, name);
  return child && LZ_IS_PLACE(child) ? LZ_PLACE(child) : NULL;
}

void
lz_window_go(LzWindow *self, const char *place)
{
  g_return_if_fail(LZ_IS_WINDOW(self));
  if (gtk_stack_get_child_by_name(self->stack, place))
    gtk_stack_set_visible_child_name(self->stack, place);
}

void
lz_window_notice(LzWindow *self, const char *sentence)
{
  g_return_if_fail(LZ_IS_WINDOW(self));
  gtk_label_set_label(self->notice_text, sentence ? sentence : "");
  gtk_widget_set_visible(GTK_WIDGET(self->notice), sentence != NULL);
}

static void
restore_size(LzWindow *self)
{
  GSettings *settings = lz_settings();
  gtk_window_set_default_size(GTK_WINDOW(self), g_settings_get_int(settings, "window-width"),
                              g_settings_get_int(settings, "window-height"));
  if (g_settings_get_boolean(settings, "window-maximized"))
    gtk_window_maximize(GTK_WINDOW(self));
}

static gboolean
lz_window_close_request(GtkWindow *window)
{
  GSettings *settings = lz_settings();
  int width = 0, height = 0;
  gboolean maximized = gtk_window_is_maximized(window);
  gtk_window_get_default_size(window, &width, &height);
  g_settings_set_boolean(settings, "window-maximized", maximized);
  if (!maximized && width > 0 && height > 0) {
    g_settings_set_int(settings, "window-width", width);
    g_settings_set_int(settings, "window-height", height);
  }
  return GTK_WINDOW_CLASS(lz_window_parent_class)->close_request(window);
}

static void
lz_window_dispose(GObject *object)
{
  LzWindow *self = LZ_WINDOW(object);
  g_clear_handle_id(&self->tick, g_source_remove);
  g_clear_handle_id(&self->fit, g_source_remove);
  if (self->stack)
    remove_all(self);
  g_cancellable_cancel(self->back_up_wish);
  g_clear_weak_pointer(&self->panel_focus);
  if (self->desk) {
    g_signal_handlers_disconnect_by_data(self->desk, self);
    lz_closing_begin(g_steal_pointer(&self->desk));
  }
  G_OBJECT_CLASS(lz_window_parent_class)->dispose(object);
}

static void
lz_window_move_focus(GtkWidget *widget, GtkDirectionType direction)
{
  gboolean tab = direction == GTK_DIR_TAB_FORWARD || direction == GTK_DIR_TAB_BACKWARD;
  if (!tab || !lz_access_leave_list(gtk_window_get_focus(GTK_WINDOW(widget)), direction))
    GTK_WIDGET_CLASS(lz_window_parent_class)->move_focus(widget, direction);
}

static void
lz_window_size_allocate(GtkWidget *widget, int width, int height, int baseline)
{
  GTK_WIDGET_CLASS(lz_window_parent_class)->size_allocate(widget, width, height, baseline);
  lz_window_fit(LZ_WINDOW(widget), width);
}

static void
lz_window_get_property(GObject *object, guint id, GValue *value, GParamSpec *spec)
{
  g_value_set_boolean(value, LZ_WINDOW(object)->narrow);
}

static void
lz_window_class_init(LzWindowClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_window_dispose;
  G_OBJECT_CLASS(klass)->get_property = lz_window_get_property;
  widget->move_focus = lz_window_move_focus;
  widget->size_allocate = lz_window_size_allocate;
  GTK_WINDOW_CLASS(klass)->close_request = lz_window_close_request;
  g_object_class_install_property(
      G_OBJECT_CLASS(klass), 1,
      g_param_spec_boolean("narrow", NULL, NULL, FALSE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS));
  g_type_ensure(LZ_TYPE_KEY_BAR);
  g_type_ensure(LZ_TYPE_FORM);
  g_type_ensure(LZ_TYPE_GO_TO);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_window.ui");
  gtk_widget_class_bind_template_child(widget, LzWindow, bar);
  gtk_widget_class_bind_template_child(widget, LzWindow, menu);
  gtk_widget_class_bind_template_child(widget, LzWindow, person);
  gtk_widget_class_bind_template_child(widget, LzWindow, person_name);
  gtk_widget_class_bind_template_child(widget, LzWindow, date);
  gtk_widget_class_bind_template_child(widget, LzWindow, clock);
  gtk_widget_class_bind_template_child(widget, LzWindow, practice);
  gtk_widget_class_bind_template_child(widget, LzWindow, notice);
  gtk_widget_class_bind_template_child(widget, LzWindow, notice_text);
  gtk_widget_class_bind_template_child(widget, LzWindow, back_up_bar);
  gtk_widget_class_bind_template_child(widget, LzWindow, places);
  gtk_widget_class_bind_template_child(widget, LzWindow, stack);
  gtk_widget_class_bind_template_child(widget, LzWindow, key_bar);
  gtk_widget_class_bind_template_child(widget, LzWindow, form);
  gtk_widget_class_bind_template_child(widget, LzWindow, go_to);
}

static void
add_menu(LzWindow *self)
{
  g_autoptr(GtkBuilder) builder = gtk_builder_new_from_resource("/net/lazaret/Lazaret/lz_menu.ui");
  gtk_menu_button_set_menu_model(self->menu, G_MENU_MODEL(gtk_builder_get_object(builder, "main")));
  // around an arrow it is black where the display composes nothing
  gtk_popover_set_has_arrow(gtk_menu_button_get_popover(self->menu), FALSE);
  g_autoptr(GtkBuilder) keys = gtk_builder_new_from_resource("/net/lazaret/Lazaret/lz_keys.ui");
  GtkShortcutsWindow *shown = GTK_SHORTCUTS_WINDOW(gtk_builder_get_object(keys, "keys"));
  gtk_application_window_set_help_overlay(GTK_APPLICATION_WINDOW(self), shown);
  lz_access_plain(GTK_WIDGET(shown));
}

static void
lz_window_init(LzWindow *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
  lz_window_actions_init(self);
  lz_access_plain(GTK_WIDGET(self));
  lz_access_inner(GTK_WIDGET(self->menu), _("Menu"));
  add_menu(self);
  restore_size(self);
  lz_window_keys_init(self);
  lz_window_panels_init(self);
  lz_window_person_init(self);
  lz_window_drop_init(self);
  lz_tip_add(GTK_WIDGET(self));
  g_signal_connect_object(self->person_menu, "closed", G_CALLBACK(lz_window_back_to_work), self,
                          G_CONNECT_SWAPPED);
  g_signal_connect_object(self->stack, "notify::visible-child", G_CALLBACK(on_visible_child), self,
                          G_CONNECT_SWAPPED);
  self->tick = g_timeout_add_seconds(10, on_tick, self);
  lz_window_set_desk(self, NULL);
}

GtkWidget *
lz_window_new(GtkApplication *application)
{
  return g_object_new(LZ_TYPE_WINDOW, "application", application, NULL);
}
