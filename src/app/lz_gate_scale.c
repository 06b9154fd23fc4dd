// SPDX-License-Identifier: GPL-3.0-or-later
// The line with ticks: band hatched, what was asked as a disc, what was typed as a triangle.
#include <glib/gi18n.h>
#include <math.h>

#include "lz_gate.h"
#include "lz_look.h"

struct _LzGateScaleArea {
  GtkWidget parent;
  LzGateScale scale;
  bool shown;
};

G_DEFINE_FINAL_TYPE(LzGateScaleArea, lz_gate_scale, GTK_TYPE_WIDGET)

#define HEIGHT 64

void
lz_gate_scale_set(LzGateScaleArea *self, const LzGateScale *scale)
{
  self->shown = scale != NULL;
  if (scale)
    self->scale = *scale;
  gtk_widget_set_visible(GTK_WIDGET(self), self->shown);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void
lz_gate_scale_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                      int *natural, int *minimum_baseline, int *natural_baseline)
{
  lzd_look look = lz_look_of(widget);
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 120 : (int)(HEIGHT * lzd_look_text(&look));
  *natural = *minimum;
}

static double
largest(const LzGateScale *scale)
{
  double most = 0;
  const double values[] = {scale->high, scale->asked, scale->typed};
  for (size_t i = 0; i < G_N_ELEMENTS(values); i++)
    if (isfinite(values[i]))
      most = MAX(most, values[i]);
  return most > 0 ? most * 1.1 : 1;
}

static void
draw_axis(cairo_t *cr, const lzd_look *look, const lzd_scale *axis, double y)
{
  lzd_value_ticks ticks = lzd_ticks_values_most(axis->v0, axis->v1, 6);
  lzd_type label = {.size = LZD_SIZE_AXIS, .role = LZD_TEXT2, .align = LZD_MIDDLE};
  lzd_ink(cr, look->palette, LZD_TEXT2, 1);
  cairo_set_line_width(cr, 1);
  cairo_move_to(cr, axis->p0, y + 0.5);
  cairo_line_to(cr, axis->p1, y + 0.5);
  for (int i = 0; i < ticks.count; i++) {
    double x = floor(lzd_scale_at(axis, lzd_tick_value(&ticks, i))) + 0.5;
    cairo_move_to(cr, x, y);
    cairo_line_to(cr, x, y + 5);
  }
  cairo_stroke(cr);
  for (int i = 0; i < ticks.count; i++) {
    char number[48];
    double value = lzd_tick_value(&ticks, i);
    lzd_text_draw(cr, look, &label, lzd_scale_at(axis, value), y + 20 * lzd_look_text(look),
                  lzd_number(number, sizeof number, value, ticks.decimals, look));
  }
}

static void
draw_band(cairo_t *cr, const lzd_look *look, const lzd_scale *axis, const LzGateScale *scale,
          double y)
{
  if (!isfinite(scale->low) || !isfinite(scale->high))
    return;
  double x0 = lzd_scale_at(axis, scale->low), x1 = lzd_scale_at(axis, scale->high);
  cairo_rectangle(cr, x0, y - 14, x1 - x0, 14);
  lzd_hatch_fill(cr, NULL, look, LZD_HATCH_BAND);
  lzd_ink(cr, look->palette, LZD_TEXT, 1);
  cairo_set_line_width(cr, 1.5);
  cairo_move_to(cr, x0, y - 14);
  cairo_line_to(cr, x0, y);
  cairo_move_to(cr, x1, y - 14);
  cairo_line_to(cr, x1, y);
  cairo_stroke(cr);
}

static void
draw_points(cairo_t *cr, const lzd_look *look, const lzd_scale *axis, const LzGateScale *scale,
            double y)
{
  lzd_type asked = {.size = LZD_SIZE_AXIS, .role = LZD_TEXT, .align = LZD_END};
  lzd_type typed = {.size = LZD_SIZE_AXIS, .bold = true, .role = LZD_ALARM, .align = LZD_END};
  if (isfinite(scale->asked)) {
    double x = lzd_scale_at(axis, scale->asked);
    lzd_mark_draw(cr, look, LZD_READ_DISC, LZD_PLAIN, LZD_TEXT, x, y, 11);
    double left = isfinite(scale->low) ? MIN(x, lzd_scale_at(axis, scale->low)) : x;
    lzd_text_draw(cr, look, &asked, left - 10, y - 6, _("asked"));
  }
  if (isfinite(scale->typed)) {
    double x = lzd_scale_at(axis, scale->typed);
    lzd_ink(cr, look->palette, LZD_ALARM, 1);
    cairo_move_to(cr, x - 6, y - 13);
    cairo_line_to(cr, x + 6, y - 13);
    cairo_line_to(cr, x, y - 1);
    cairo_close_path(cr);
    cairo_fill(cr);
    lzd_text_draw(cr, look, &typed, x - 10, y - 6, _("typed"));
  }
}

static void
lz_gate_scale_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
  LzGateScaleArea *self = LZ_GATE_SCALE(widget);
  float width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
  if (!self->shown || width < 20)
    return;
  lzd_look look = lz_look_of(widget);
  cairo_t *cr = gtk_snapshot_append_cairo(snapshot, &GRAPHENE_RECT_INIT(0, 0, width, height));
  double y = floor(34 * lzd_look_text(&look));
  lzd_scale axis = lzd_scale_make(0, largest(&self->scale), 14, width - 14);
  draw_band(cr, &look, &axis, &self->scale, y);
  draw_axis(cr, &look, &axis, y);
  draw_points(cr, &look, &axis, &self->scale, y);
  cairo_destroy(cr);
}

static void
lz_gate_scale_css_changed(GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS(lz_gate_scale_parent_class)->css_changed(widget, change);
  gtk_widget_queue_resize(widget);
}

static void
lz_gate_scale_class_init(LzGateScaleAreaClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  widget->measure = lz_gate_scale_measure;
  widget->snapshot = lz_gate_scale_snapshot;
  widget->css_changed = lz_gate_scale_css_changed;
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
lz_gate_scale_init(LzGateScaleArea *self)
{
  gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Where the number would take the water"), -1);
}
