// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_ribbon_area.h"

#include <glib/gi18n.h>

#include "lz_look.h"

struct _LzRibbonArea {
  GtkWidget parent;
  LzRibbonModel *model;
};

G_DEFINE_FINAL_TYPE(LzRibbonArea, lz_ribbon_area, GTK_TYPE_WIDGET)

static guint chosen;

void
lz_ribbon_area_set(LzRibbonArea *self, LzRibbonModel *model)
{
  g_return_if_fail(LZ_IS_RIBBON_AREA(self));
  g_clear_pointer(&self->model, lz_ribbon_model_free);
  self->model = model;
  g_autofree char *sentence = model ? lz_ribbon_model_sentence(model) : g_strdup("");
  gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, sentence,
                                 GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                 _("F8 shows the same as a table."), -1);
  gtk_widget_queue_resize(GTK_WIDGET(self));
}

LzRibbonModel *
lz_ribbon_area_model(LzRibbonArea *self)
{
  return self->model;
}

static void
set_window(LzRibbonArea *self, lzd_window window)
{
  lz_ribbon_model_set_window(self->model, window);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

gboolean
lz_ribbon_area_key(LzRibbonArea *self, LzPadKey key)
{
  if (!self->model)
    return FALSE;
  lzd_window window = lz_ribbon_model_window(self->model);
  lzd_minute middle = (window.from + window.to) / 2;
  switch (key.kind) {
  case LZ_PAD_LEFT: set_window(self, lzd_window_pan(window, -0.1)); return TRUE;
  case LZ_PAD_RIGHT: set_window(self, lzd_window_pan(window, 0.1)); return TRUE;
  case LZ_PAD_PLUS: set_window(self, lzd_window_zoom(window, middle, 0.7)); return TRUE;
  case LZ_PAD_MINUS: set_window(self, lzd_window_zoom(window, middle, 1.4)); return TRUE;
  default: return FALSE;
  }
}

static void
on_pressed(GtkGestureClick *click, int n, double x, double y, LzRibbonArea *self)
{
  size_t way, leg;
  int width = gtk_widget_get_width(GTK_WIDGET(self));
  int height = gtk_widget_get_height(GTK_WIDGET(self));
  lzd_look look = lz_look_of(GTK_WIDGET(self));
  if (!self->model)
    return;
  lzd_ribbon *ribbon = lz_ribbon_model_view(self->model, width, lzd_look_text(&look));
  if (lzd_ribbon_hit(ribbon, &look, width, height, x, y, &way, &leg))
    g_signal_emit(self, chosen, 0, (guint)lz_ribbon_model_lot(self->model, way));
}

static void
lz_ribbon_area_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
  LzRibbonArea *self = LZ_RIBBON_AREA(widget);
  int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
  lzd_fault fault = {0};
  if (!self->model || width < 100 || height < 20)
    return;
  lzd_look look = lz_look_of(widget);
  lzd_ribbon *ribbon = lz_ribbon_model_view(self->model, width, lzd_look_text(&look));
  cairo_t *cr =
      gtk_snapshot_append_cairo(snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
  if (lzd_ribbon_draw(cr, ribbon, &look, width, height, &fault) != LZD_OK)
    g_warning("ribbon: %s %zu %s: %s", fault.where, fault.index, fault.field, fault.reason);
  cairo_destroy(cr);
}

static void
lz_ribbon_area_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                       int *natural, int *minimum_baseline, int *natural_baseline)
{
  LzRibbonArea *self = LZ_RIBBON_AREA(widget);
  *minimum = *natural = 300;
  if (orientation == GTK_ORIENTATION_HORIZONTAL || !self->model)
    return;
  lzd_look look = lz_look_of(widget);
  lzd_ribbon *ribbon = lz_ribbon_model_view(self->model, 800, lzd_look_text(&look));
  *minimum = *natural = (int)lzd_ribbon_natural_height(ribbon, &look);
}

static void
lz_ribbon_area_css_changed(GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS(lz_ribbon_area_parent_class)->css_changed(widget, change);
  gtk_widget_queue_resize(widget);
}

static void
lz_ribbon_area_dispose(GObject *object)
{
  g_clear_pointer(&LZ_RIBBON_AREA(object)->model, lz_ribbon_model_free);
  G_OBJECT_CLASS(lz_ribbon_area_parent_class)->dispose(object);
}

static void
lz_ribbon_area_class_init(LzRibbonAreaClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_ribbon_area_dispose;
  widget->snapshot = lz_ribbon_area_snapshot;
  widget->measure = lz_ribbon_area_measure;
  widget->css_changed = lz_ribbon_area_css_changed;
  chosen = g_signal_new("chosen", LZ_TYPE_RIBBON_AREA, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                        G_TYPE_NONE, 1, G_TYPE_UINT);
  gtk_widget_class_set_css_name(widget, "ribbon");
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
lz_ribbon_area_init(LzRibbonArea *self)
{
  GtkGesture *click = gtk_gesture_click_new();
  g_signal_connect(click, "pressed", G_CALLBACK(on_pressed), self);
  gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(click));
  gtk_widget_set_focusable(GTK_WIDGET(self), TRUE);
  gtk_widget_set_overflow(GTK_WIDGET(self), GTK_OVERFLOW_HIDDEN);
}

GtkWidget *
lz_ribbon_area_new(void)
{
  return g_object_new(LZ_TYPE_RIBBON_AREA, NULL);
}
