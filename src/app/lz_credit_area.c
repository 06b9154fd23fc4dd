// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_credit_area.h"

#include <glib/gi18n.h>

#include "lz_credit_model.h"
#include "lz_look.h"

struct _LzCreditArea {
  GtkWidget parent;
  LzCreditModel *model;
};

G_DEFINE_FINAL_TYPE(LzCreditArea, lz_credit_area, GTK_TYPE_WIDGET)

gboolean
lz_credit_area_set(LzCreditArea *self, LzDesk *desk, uint32_t lot)
{
  g_return_val_if_fail(LZ_IS_CREDIT_AREA(self), FALSE);
  g_clear_pointer(&self->model, lz_credit_model_free);
  self->model = lz_credit_model_new(desk, lot);
  g_autofree char *label =
      self->model ? g_strdup_printf(_("Credit: %s"), lz_credit_model_sentence(self->model))
                  : g_strdup("");
  gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_widget_queue_resize(GTK_WIDGET(self));
  return self->model != NULL;
}

static void
lz_credit_area_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
  LzCreditArea *self = LZ_CREDIT_AREA(widget);
  int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
  lzd_fault fault = {0};
  if (!self->model || width < 100)
    return;
  lzd_look look = lz_look_of(widget);
  cairo_t *cr =
      gtk_snapshot_append_cairo(snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
  if (lzd_credit_draw(cr, lz_credit_model_grid(self->model), &look, width, height, &fault) !=
      LZD_OK)
    g_warning("credit: %s %zu %s: %s", fault.where, fault.index, fault.field, fault.reason);
  cairo_destroy(cr);
}

static void
lz_credit_area_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                       int *natural, int *minimum_baseline, int *natural_baseline)
{
  LzCreditArea *self = LZ_CREDIT_AREA(widget);
  lzd_look look = lz_look_of(widget);
  *minimum = *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 300 : 0;
  if (orientation == GTK_ORIENTATION_VERTICAL && self->model)
    *minimum = *natural = (int)lzd_credit_natural_height(lz_credit_model_grid(self->model), &look);
}

static void
lz_credit_area_css_changed(GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS(lz_credit_area_parent_class)->css_changed(widget, change);
  gtk_widget_queue_resize(widget);
}

static void
lz_credit_area_dispose(GObject *object)
{
  g_clear_pointer(&LZ_CREDIT_AREA(object)->model, lz_credit_model_free);
  G_OBJECT_CLASS(lz_credit_area_parent_class)->dispose(object);
}

static void
lz_credit_area_class_init(LzCreditAreaClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_credit_area_dispose;
  widget->snapshot = lz_credit_area_snapshot;
  widget->measure = lz_credit_area_measure;
  widget->css_changed = lz_credit_area_css_changed;
  gtk_widget_class_set_css_name(widget, "credit");
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
lz_credit_area_init(LzCreditArea *self)
{
}

GtkWidget *
lz_credit_area_new(void)
{
  return g_object_new(LZ_TYPE_CREDIT_AREA, NULL);
}
