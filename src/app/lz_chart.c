// SPDX-License-Identifier: GPL-3.0-or-later
// The chart itself is kept as a render node and drawn again only when its window, size, palette or
// data change; the cursor is painted over it.
#include "lz_chart.h"

#include <glib/gi18n.h>

#include "lz_chart_private.h"
#include "lz_look.h"
#include "lz_theme.h"

G_DEFINE_FINAL_TYPE(LzChart, lz_chart, GTK_TYPE_WIDGET)

enum { RELOAD, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
invalidate(LzChart *self)
{
  g_clear_pointer(&self->node, gsk_render_node_unref);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

static lzd_chart *
view(LzChart *self, const lzd_look *look)
{
  return lz_chart_model_view(self->model, self->window, gtk_widget_get_width(GTK_WIDGET(self)),
                             lzd_look_text(look));
}

gboolean
lz_chart_layout(LzChart *self, lzd_chart **chart, lzd_layout *out)
{
  lzd_look look = lz_look_of(GTK_WIDGET(self));
  if (!self->model || gtk_widget_get_width(GTK_WIDGET(self)) < 50)
    return FALSE;
  *chart = view(self, &look);
  return lzd_chart_layout(out, *chart, &look, gtk_widget_get_width(GTK_WIDGET(self)),
                          gtk_widget_get_height(GTK_WIDGET(self)), NULL) == LZD_OK;
}

void
lz_chart_set_window(LzChart *self, lzd_window window)
{
  self->window = window;
  if (self->model && (window.from < self->whole.from || window.to > self->whole.to))
    g_signal_emit(self, signals[RELOAD], 0, (gint64)window.from, (gint64)window.to);
  invalidate(self);
}

void
lz_chart_set_model(LzChart *self, LzChartModel *model, lzd_window whole, gboolean reset)
{
  g_return_if_fail(LZ_IS_CHART(self));
  g_clear_pointer(&self->model, lz_chart_model_free);
  self->model = model;
  self->whole = whole;
  const LzChartData *data = model && self->at.kind == LZD_HIT_READING
                                ? lz_chart_model_data(model, (guint)self->at.row)
                                : NULL;
  if (reset || !data || self->at.index >= data->readings->len)
    self->has_cursor = FALSE;
  if (reset)
    self->window = whole;
  g_autofree char *sentence = model ? lz_chart_model_sentence(model) : g_strdup("");
  gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, sentence,
                                 GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                 _("F8 shows the same as a table."), -1);
  invalidate(self);
}

LzChartModel *
lz_chart_model(LzChart *self)
{
  return self->model;
}

lzd_window
lz_chart_window(LzChart *self)
{
  return self->window;
}

lzd_minute
lz_chart_cursor(LzChart *self)
{
  return self->has_cursor ? self->at.minute : LZD_NEVER;
}

gint64
lz_chart_entry(LzChart *self)
{
  return self->has_cursor ? lz_chart_model_entry(self->model, self->at) : 0;
}

gboolean
lz_chart_clear_cursor(LzChart *self)
{
  gboolean had = self->has_cursor;
  self->has_cursor = FALSE;
  gtk_widget_queue_draw(GTK_WIDGET(self));
  return had;
}

void
lz_chart_stand_at(LzChart *self, lzd_hit hit)
{
  lzd_cursor cursor;
  self->at = hit;
  self->has_cursor = TRUE;
  lz_chart_model_callout(self->model, hit, &cursor);
  if (cursor.n_lines && hit.kind != LZD_HIT_NONE) {
    g_autofree char *spoken = g_strdup_printf("%s: %s", cursor.title, cursor.lines[0].text);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                   spoken, -1);
  }
  lzd_window shown = lzd_window_show(self->window, hit.minute);
  if (shown.from != self->window.from)
    lz_chart_set_window(self, shown);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void
draw_node(LzChart *self, int width, int height)
{
  lzd_look look = lz_look_of(GTK_WIDGET(self));
  lzd_chart *chart = view(self, &look);
  lzd_fault fault = {0};
  chart->cursor.minute = LZD_NEVER;
  self->node = gsk_cairo_node_new(&GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
  self->node_width = width;
  self->node_height = height;
  cairo_t *cr = gsk_cairo_node_get_draw_context(self->node);
  if (lzd_chart_draw(cr, chart, &look, width, height, &fault) != LZD_OK)
    g_warning("chart: %s %zu %s: %s", fault.where, fault.index, fault.field, fault.reason);
  cairo_destroy(cr);
}

static void
lz_chart_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
  LzChart *self = LZ_CHART(widget);
  int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
  if (!self->model || width < 50 || height < 50)
    return;
  if (!self->node || self->node_width != width || self->node_height != height) {
    g_clear_pointer(&self->node, gsk_render_node_unref);
    draw_node(self, width, height);
  }
  gtk_snapshot_append_node(snapshot, self->node);
  if (!self->has_cursor)
    return;
  lzd_look look = lz_look_of(widget);
  lzd_chart *chart = view(self, &look);
  lz_chart_model_callout(self->model, self->at, &chart->cursor);
  cairo_t *cr =
      gtk_snapshot_append_cairo(snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
  lzd_chart_draw_cursor(cr, chart, &look, width, height, NULL);
  cairo_destroy(cr);
  chart->cursor.minute = LZD_NEVER;
}

static void
lz_chart_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                 int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 320 : 260;
  *natural =
      orientation == GTK_ORIENTATION_HORIZONTAL ? 850 : (int)MAX(560, 460 * lz_theme_text_scale());
}

static void
lz_chart_css_changed(GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS(lz_chart_parent_class)->css_changed(widget, change);
  invalidate(LZ_CHART(widget));
}

static void
lz_chart_dispose(GObject *object)
{
  LzChart *self = LZ_CHART(object);
  g_clear_pointer(&self->node, gsk_render_node_unref);
  g_clear_pointer(&self->model, lz_chart_model_free);
  G_OBJECT_CLASS(lz_chart_parent_class)->dispose(object);
}

static void
lz_chart_class_init(LzChartClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_chart_dispose;
  widget->snapshot = lz_chart_snapshot;
  widget->measure = lz_chart_measure;
  widget->css_changed = lz_chart_css_changed;
  signals[RELOAD] = g_signal_new("reload", LZ_TYPE_CHART, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 2, G_TYPE_INT64, G_TYPE_INT64);
  lz_chart_move_class_init(widget);
  gtk_widget_class_set_css_name(widget, "chart");
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
lz_chart_init(LzChart *self)
{
  lz_chart_move_init(self);
  gtk_widget_set_focusable(GTK_WIDGET(self), TRUE);
  gtk_widget_set_overflow(GTK_WIDGET(self), GTK_OVERFLOW_HIDDEN);
}

GtkWidget *
lz_chart_new(void)
{
  return g_object_new(LZ_TYPE_CHART, NULL);
}
