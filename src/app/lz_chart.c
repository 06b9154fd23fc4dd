// SPDX-License-Identifier: GPL-3.0-or-later
// The chart itself is kept as a render node and drawn again only when its window, size, palette or
// data change; the cursor is painted over it.
#include "lz_chart.h"

#include <glib/gi18n.h>

#include "lz_look.h"

struct _LzChart {
  GtkWidget parent;
  LzChartModel *model;
  lzd_window window, whole;
  GskRenderNode *node; // of the chart without its cursor
  int node_width, node_height;
  lzd_hit at;          // where the cursor stands
  lzd_minute pan_from; // window.from when a drag began
};

G_DEFINE_FINAL_TYPE(LzChart, lz_chart, GTK_TYPE_WIDGET)

enum { RELOAD, N_SIGNALS };
static guint signals[N_SIGNALS];

#define HIT_RADIUS 12

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

// FALSE where there is nothing to lay out.
static gboolean
layout(LzChart *self, lzd_chart **chart, lzd_layout *out)
{
  lzd_look look = lz_look_of(GTK_WIDGET(self));
  if (!self->model || gtk_widget_get_width(GTK_WIDGET(self)) < 50)
    return FALSE;
  *chart = view(self, &look);
  return lzd_chart_layout(out, *chart, &look, gtk_widget_get_width(GTK_WIDGET(self)),
                          gtk_widget_get_height(GTK_WIDGET(self)), NULL) == LZD_OK;
}

static void
set_window(LzChart *self, lzd_window window)
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
  self->at.kind = reset ? LZD_HIT_NONE : self->at.kind;
  const LzChartData *data = model && self->at.kind == LZD_HIT_READING
                                ? lz_chart_model_data(model, (guint)self->at.row)
                                : NULL;
  if (!data || self->at.index >= data->readings->len)
    self->at.kind = LZD_HIT_NONE;
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
  return self->at.kind == LZD_HIT_READING ? self->at.minute : LZD_NEVER;
}

gboolean
lz_chart_clear_cursor(LzChart *self)
{
  gboolean had = self->at.kind != LZD_HIT_NONE;
  self->at.kind = LZD_HIT_NONE;
  gtk_widget_queue_draw(GTK_WIDGET(self));
  return had;
}

void
lz_chart_zoom(LzChart *self, double factor)
{
  lzd_minute anchor = self->at.kind == LZD_HIT_READING ? self->at.minute
                                                       : (self->window.from + self->window.to) / 2;
  set_window(self, lzd_window_zoom(self->window, anchor, factor));
}

void
lz_chart_pan(LzChart *self, double share)
{
  set_window(self, lzd_window_pan(self->window, share));
}

static void
stand_at(LzChart *self, lzd_hit hit)
{
  if (hit.kind != LZD_HIT_READING)
    return;
  lzd_cursor cursor;
  self->at = hit;
  lz_chart_model_callout(self->model, (guint)hit.row, (guint)hit.index, &cursor);
  g_autofree char *spoken = g_strdup_printf("%s: %s", cursor.title, cursor.lines[0].text);
  gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, spoken,
                                 -1);
  lzd_window shown = lzd_window_show(self->window, hit.minute);
  if (shown.from != self->window.from)
    set_window(self, shown);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

static gboolean
step(LzChart *self, int direction)
{
  lzd_chart *chart;
  lzd_layout out;
  if (!layout(self, &chart, &out))
    return FALSE;
  size_t panel = self->at.kind == LZD_HIT_READING ? self->at.row : 0;
  if (self->at.kind != LZD_HIT_READING)
    self->at = (lzd_hit){.kind = LZD_HIT_NONE, .minute = chart->now};
  for (size_t i = 0; i < chart->n_panels; i++) { // a panel never read has nothing to walk along
    lzd_hit hit = lzd_chart_step(chart, (panel + i) % chart->n_panels, self->at, direction);
    if (hit.kind == LZD_HIT_READING) {
      stand_at(self, hit);
      return TRUE;
    }
    if (self->at.kind == LZD_HIT_READING)
      break;
  }
  return TRUE;
}

gboolean
lz_chart_key(LzChart *self, LzPadKey key)
{
  lzd_chart *chart;
  lzd_layout out;
  switch (key.kind) {
  case LZ_PAD_LEFT: return step(self, -1);
  case LZ_PAD_RIGHT: return step(self, 1);
  case LZ_PAD_UP:
  case LZ_PAD_DOWN:
    if (self->at.kind != LZD_HIT_READING || !layout(self, &chart, &out))
      return FALSE;
    stand_at(self, lzd_chart_step_panel(chart, self->at, key.kind == LZ_PAD_UP ? -1 : 1));
    return TRUE;
  case LZ_PAD_PLUS: lz_chart_zoom(self, 0.5); return TRUE;
  case LZ_PAD_MINUS: lz_chart_zoom(self, 2); return TRUE;
  default: return FALSE;
  }
}

static void
on_motion(GtkEventControllerMotion *motion, double x, double y, LzChart *self)
{
  lzd_chart *chart;
  lzd_layout out;
  if (!layout(self, &chart, &out))
    return;
  lzd_hit hit = lzd_chart_hit(chart, &out, x, y, HIT_RADIUS);
  if (hit.kind == LZD_HIT_READING &&
      (self->at.kind != LZD_HIT_READING || hit.index != self->at.index || hit.row != self->at.row))
    stand_at(self, hit);
}

static gboolean
on_scroll(GtkEventControllerScroll *scroll, double dx, double dy, LzChart *self)
{
  GdkModifierType state =
      gtk_event_controller_get_current_event_state(GTK_EVENT_CONTROLLER(scroll));
  if (dx != 0 || (state & GDK_SHIFT_MASK))
    lz_chart_pan(self, (dx != 0 ? dx : dy) * 0.1);
  else
    lz_chart_zoom(self, dy > 0 ? 1.25 : 0.8);
  return TRUE;
}

static void
on_drag_begin(GtkGestureDrag *drag, double x, double y, LzChart *self)
{
  self->pan_from = self->window.from;
  gtk_widget_grab_focus(GTK_WIDGET(self));
}

static void
on_drag_update(GtkGestureDrag *drag, double dx, double dy, LzChart *self)
{
  int width = MAX(1, gtk_widget_get_width(GTK_WIDGET(self)));
  lzd_minute wide = self->window.to - self->window.from;
  lzd_minute from = self->pan_from - (lzd_minute)(dx / width * (double)wide);
  set_window(self, (lzd_window){from, from + wide});
}

static void
on_pinch(GtkGestureZoom *zoom, double scale, LzChart *self)
{
  if (scale > 0)
    lz_chart_zoom(self, scale > 1 ? 0.97 : 1.03);
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
  if (self->at.kind != LZD_HIT_READING)
    return;
  lzd_look look = lz_look_of(widget);
  lzd_chart *chart = view(self, &look);
  lz_chart_model_callout(self->model, (guint)self->at.row, (guint)self->at.index, &chart->cursor);
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
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 850 : 560;
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
  gtk_widget_class_set_css_name(widget, "chart");
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
lz_chart_init(LzChart *self)
{
  GtkEventController *motion = gtk_event_controller_motion_new();
  GtkEventController *scroll =
      gtk_event_controller_scroll_new(GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  GtkGesture *drag = gtk_gesture_drag_new(), *zoom = gtk_gesture_zoom_new();
  g_signal_connect(motion, "motion", G_CALLBACK(on_motion), self);
  g_signal_connect(scroll, "scroll", G_CALLBACK(on_scroll), self);
  g_signal_connect(drag, "drag-begin", G_CALLBACK(on_drag_begin), self);
  g_signal_connect(drag, "drag-update", G_CALLBACK(on_drag_update), self);
  g_signal_connect(zoom, "scale-changed", G_CALLBACK(on_pinch), self);
  gtk_widget_add_controller(GTK_WIDGET(self), motion);
  gtk_widget_add_controller(GTK_WIDGET(self), scroll);
  gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(drag));
  gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(zoom));
  gtk_widget_set_focusable(GTK_WIDGET(self), TRUE);
  gtk_widget_set_overflow(GTK_WIDGET(self), GTK_OVERFLOW_HIDDEN);
}

GtkWidget *
lz_chart_new(void)
{
  return g_object_new(LZ_TYPE_CHART, NULL);
}
