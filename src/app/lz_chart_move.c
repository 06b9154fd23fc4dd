// SPDX-License-Identifier: GPL-3.0-or-later
// Wheel, pinch, drag, pointer and keys on the chart. Whatever zooms keeps the moment under the
// pointer, between the fingers or at the cursor where it is.
#include "lz_chart_private.h"
#include "lz_look.h"

#define HIT_RADIUS 12

static lzd_minute
minute_at(LzChart *self, double x)
{
  lzd_chart *chart;
  lzd_layout out;
  return lz_chart_layout(self, &chart, &out) ? lzd_chart_minute_at(&out, x)
                                             : (self->window.from + self->window.to) / 2;
}

void
lz_chart_zoom(LzChart *self, double factor)
{
  lzd_minute anchor =
      self->has_cursor ? self->at.minute : (self->window.from + self->window.to) / 2;
  lz_chart_set_window(self, lzd_window_zoom(self->window, anchor, factor));
}

void
lz_chart_pan(LzChart *self, double share)
{
  lz_chart_set_window(self, lzd_window_pan(self->window, share));
}

void
lz_chart_show_whole(LzChart *self)
{
  lz_chart_set_window(self, self->whole);
}

void
lz_chart_show_span(LzChart *self, lzd_minute wide)
{
  double factor = (double)wide / (double)(self->window.to - self->window.from);
  lz_chart_zoom(self, factor);
}

// --- keys

static gboolean
step(LzChart *self, int direction)
{
  lzd_chart *chart;
  lzd_layout out;
  if (!lz_chart_layout(self, &chart, &out))
    return FALSE;
  lzd_hit at = self->has_cursor ? self->at : (lzd_hit){.minute = chart->now};
  if (at.kind == LZD_HIT_EVENT) {
    lzd_hit hit = lzd_chart_step_event(chart, at.row, at, direction);
    if (hit.kind == LZD_HIT_EVENT)
      lz_chart_stand_at(self, hit);
    return TRUE;
  }
  size_t panel = at.kind == LZD_HIT_READING ? at.row : 0;
  for (size_t i = 0; i < chart->n_panels; i++) { // a panel never read has nothing to walk along
    lzd_hit hit = lzd_chart_step(chart, (panel + i) % chart->n_panels, at, direction);
    if (hit.kind == LZD_HIT_READING) {
      lz_chart_stand_at(self, hit);
      return TRUE;
    }
    if (at.kind == LZD_HIT_READING)
      break;
  }
  return TRUE;
}

// The event of a rail nearest in time.
static lzd_hit
nearest_event(const lzd_chart *chart, size_t rail, lzd_minute minute)
{
  lzd_hit from = {.minute = minute};
  lzd_hit next = lzd_chart_step_event(chart, rail, from, 1);
  lzd_hit before = lzd_chart_step_event(chart, rail, from, -1);
  if (next.kind == LZD_HIT_NONE ||
      (before.kind == LZD_HIT_EVENT && minute - before.minute < next.minute - minute))
    return before;
  return next;
}

// Down through the panels and on through the rails, and back.
static lzd_hit
step_row(const lzd_chart *chart, lzd_hit at, int direction)
{
  lzd_hit hit = {.minute = at.minute};
  size_t rail = at.kind == LZD_HIT_EVENT ? at.row + (size_t)direction : 0;
  if (at.kind != LZD_HIT_EVENT) {
    hit = lzd_chart_step_panel(chart, at, direction);
    if (hit.kind == LZD_HIT_READING || direction < 0)
      return hit;
  }
  for (; rail < chart->n_rails; rail += (size_t)direction) { // wraps below 0
    hit = nearest_event(chart, rail, at.minute);
    if (hit.kind == LZD_HIT_EVENT)
      return hit;
  }
  if (direction > 0)
    return hit;
  at.kind = LZD_HIT_READING;
  at.row = chart->n_panels;
  return lzd_chart_step_panel(chart, at, -1);
}

gboolean
lz_chart_key(LzChart *self, LzPadKey key)
{
  lzd_chart *chart;
  lzd_layout out;
  int later = gtk_widget_get_direction(GTK_WIDGET(self)) == GTK_TEXT_DIR_RTL ? -1 : 1;
  switch (key.kind) {
  case LZ_PAD_LEFT: return step(self, -later);
  case LZ_PAD_RIGHT: return step(self, later);
  case LZ_PAD_UP:
  case LZ_PAD_DOWN:
    if (!self->has_cursor || self->at.kind == LZD_HIT_NONE || !lz_chart_layout(self, &chart, &out))
      return FALSE;
    lzd_hit hit = step_row(chart, self->at, key.kind == LZ_PAD_UP ? -1 : 1);
    if (hit.kind != LZD_HIT_NONE)
      lz_chart_stand_at(self, hit);
    return TRUE;
  case LZ_PAD_PLUS: lz_chart_zoom(self, 0.5); return TRUE;
  case LZ_PAD_MINUS: lz_chart_zoom(self, 2); return TRUE;
  default: return FALSE;
  }
}

static gboolean
on_page_key(GtkWidget *widget, GVariant *share, gpointer data)
{
  double by = g_variant_get_double(share);
  if (gtk_widget_get_direction(widget) == GTK_TEXT_DIR_RTL)
    by = -by;
  if (by == 0)
    lz_chart_show_whole(LZ_CHART(widget));
  else
    lz_chart_pan(LZ_CHART(widget), by);
  return TRUE;
}

void
lz_chart_move_class_init(GtkWidgetClass *widget)
{
  static const struct {
    guint key;
    GdkModifierType state;
    double share;
  } keys[] = {{GDK_KEY_Page_Up, 0, -0.5},
              {GDK_KEY_Page_Down, 0, 0.5},
              {GDK_KEY_Left, GDK_CONTROL_MASK, -0.1},
              {GDK_KEY_Right, GDK_CONTROL_MASK, 0.1},
              {GDK_KEY_Home, 0, 0}};
  for (size_t i = 0; i < G_N_ELEMENTS(keys); i++)
    gtk_widget_class_add_binding(widget, keys[i].key, keys[i].state, on_page_key, "d",
                                 keys[i].share);
}

// --- pointer

void
lz_chart_point(LzChart *self, double x, double y)
{
  lzd_chart *chart;
  lzd_layout out;
  // A layout that moves under a resting pointer is no movement of the pointer.
  if ((x == self->pointer_x && y == self->pointer_y) || !lz_chart_layout(self, &chart, &out))
    return;
  self->pointer_x = x;
  self->pointer_y = y;
  lzd_hit hit = lzd_chart_hit(chart, &out, x, y, HIT_RADIUS);
  if (hit.kind != LZD_HIT_READING && hit.kind != LZD_HIT_EVENT)
    hit = (lzd_hit){.kind = LZD_HIT_NONE, .minute = lzd_chart_minute_at(&out, x)};
  gboolean inside = hit.minute >= self->window.from && hit.minute <= self->window.to;
  if (hit.kind != LZD_HIT_NONE || inside)
    lz_chart_stand_at(self, hit);
}

void
lz_chart_wheel(LzChart *self, double dx, double dy, gboolean sideways)
{
  if (dx != 0 || sideways)
    lz_chart_pan(self, (dx != 0 ? dx : dy) * 0.1);
  else if (dy != 0)
    lz_chart_set_window(
        self, lzd_window_zoom(self->window, minute_at(self, self->pointer_x), dy > 0 ? 1.25 : 0.8));
}

void
lz_chart_grab(LzChart *self, double x)
{
  self->grabbed = self->window;
  self->pinched_at = minute_at(self, x);
}

// The moment that was taken hold of stays under the pointer, whichever way time runs.
void
lz_chart_drag(LzChart *self, double dx)
{
  lzd_minute by = minute_at(self, 0) - minute_at(self, dx);
  lz_chart_set_window(self, (lzd_window){self->grabbed.from + by, self->grabbed.to + by});
}

void
lz_chart_pinch(LzChart *self, double scale)
{
  if (scale > 0)
    lz_chart_set_window(self, lzd_window_zoom(self->grabbed, self->pinched_at, 1 / scale));
}

static void
on_motion(GtkEventControllerMotion *motion, double x, double y, LzChart *self)
{
  lz_chart_point(self, x, y);
}

static gboolean
on_scroll(GtkEventControllerScroll *scroll, double dx, double dy, LzChart *self)
{
  GdkModifierType state =
      gtk_event_controller_get_current_event_state(GTK_EVENT_CONTROLLER(scroll));
  lz_chart_wheel(self, dx, dy, (state & GDK_SHIFT_MASK) != 0);
  return TRUE;
}

static void
on_drag_begin(GtkGestureDrag *drag, double x, double y, LzChart *self)
{
  lz_chart_grab(self, x);
  gtk_widget_grab_focus(GTK_WIDGET(self));
}

static void
on_drag_update(GtkGestureDrag *drag, double dx, double dy, LzChart *self)
{
  lz_chart_drag(self, dx);
}

static void
on_pinch_begin(GtkGesture *zoom, GdkEventSequence *sequence, LzChart *self)
{
  double x = gtk_widget_get_width(GTK_WIDGET(self)) / 2.0, y;
  gtk_gesture_get_bounding_box_center(zoom, &x, &y);
  lz_chart_grab(self, x);
}

static void
on_pinch(GtkGestureZoom *zoom, double scale, LzChart *self)
{
  lz_chart_pinch(self, scale);
}

void
lz_chart_move_init(LzChart *self)
{
  GtkEventController *motion = gtk_event_controller_motion_new();
  GtkEventController *scroll =
      gtk_event_controller_scroll_new(GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  GtkGesture *drag = gtk_gesture_drag_new(), *zoom = gtk_gesture_zoom_new();
  g_signal_connect(motion, "motion", G_CALLBACK(on_motion), self);
  g_signal_connect(scroll, "scroll", G_CALLBACK(on_scroll), self);
  g_signal_connect(drag, "drag-begin", G_CALLBACK(on_drag_begin), self);
  g_signal_connect(drag, "drag-update", G_CALLBACK(on_drag_update), self);
  g_signal_connect(zoom, "begin", G_CALLBACK(on_pinch_begin), self);
  g_signal_connect(zoom, "scale-changed", G_CALLBACK(on_pinch), self);
  gtk_widget_add_controller(GTK_WIDGET(self), motion);
  gtk_widget_add_controller(GTK_WIDGET(self), scroll);
  gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(drag));
  gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(zoom));
}
