// SPDX-License-Identifier: GPL-3.0-or-later
// "Still you?": after the station's minutes without a key or a pointer the name in the bar asks,
// and the next Enter, space or click that would record something waits for the answer. Where PINs
// are asked for, nobody is at this PC any more after that time.
#include "lz_people.h"
#include "lz_window_private.h"

static void
forget_person(LzWindow *self)
{
  if (lz_people_ask_pins(self->desk))
    lz_desk_set_actor(self->desk, 0);
  else
    self->asks_still = true;
}

void
lz_window_touched(LzWindow *self)
{
  gint64 now = g_get_monotonic_time();
  lz_window_idle_check(self, now);
  self->touched_us = now;
}

void
lz_window_idle_check(LzWindow *self, gint64 now_us)
{
  if (!self->desk || !lz_desk_actor(self->desk) || self->asks_still)
    return;
  if (now_us - self->touched_us < lz_people_idle_min(self->desk) * 60 * G_USEC_PER_SEC)
    return;
  forget_person(self);
  lz_window_refresh_bar(self);
}

bool
lz_window_asks_person(LzWindow *self)
{
  if (!self->desk)
    return false;
  return self->asks_still || (!lz_desk_actor(self->desk) && lz_people_ask_pins(self->desk));
}

static void
on_actor(LzWindow *self)
{
  self->asks_still = false;
  self->touched_us = g_get_monotonic_time();
}

static void
on_confirmed(LzWindow *self)
{
  on_actor(self);
  lz_window_refresh_bar(self);
}

static void
on_motion(LzWindow *self)
{
  lz_window_touched(self);
}

// A button of a place or panel, which may record; not the bar above, not a list to choose from.
static gboolean
may_record(LzWindow *self, GtkWidget *picked)
{
  GtkWidget *button = picked ? gtk_widget_get_ancestor(picked, GTK_TYPE_BUTTON) : NULL;
  return button && !gtk_widget_is_ancestor(button, GTK_WIDGET(self->bar)) &&
         !gtk_widget_get_ancestor(button, GTK_TYPE_DROP_DOWN) &&
         !gtk_widget_get_ancestor(button, GTK_TYPE_POPOVER);
}

gboolean
lz_window_waits_for_person(LzWindow *self, GtkWidget *at)
{
  if (!lz_window_asks_person(self) || !may_record(self, at))
    return FALSE;
  gtk_menu_button_popup(self->person);
  return TRUE;
}

static void
on_pressed(GtkGestureClick *gesture, int n, double x, double y, LzWindow *self)
{
  lz_window_touched(self);
  if (lz_window_waits_for_person(self, gtk_widget_pick(GTK_WIDGET(self), x, y, GTK_PICK_DEFAULT)))
    gtk_gesture_set_state(GTK_GESTURE(gesture), GTK_EVENT_SEQUENCE_CLAIMED);
}

void
lz_window_person_set_desk(LzWindow *self)
{
  on_actor(self);
  if (self->desk)
    g_signal_connect_object(self->desk, "notify::actor", G_CALLBACK(on_actor), self,
                            G_CONNECT_SWAPPED);
}

void
lz_window_person_init(LzWindow *self)
{
  GtkEventController *motion = gtk_event_controller_motion_new();
  gtk_event_controller_set_propagation_phase(motion, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped(motion, "motion", G_CALLBACK(on_motion), self);
  gtk_widget_add_controller(GTK_WIDGET(self), motion);
  GtkGesture *click = gtk_gesture_click_new();
  gtk_event_controller_set_propagation_phase(GTK_EVENT_CONTROLLER(click), GTK_PHASE_CAPTURE);
  g_signal_connect(click, "pressed", G_CALLBACK(on_pressed), self);
  gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(click));
  self->person_menu = LZ_PERSON_MENU(lz_person_menu_new());
  gtk_menu_button_set_popover(self->person, GTK_WIDGET(self->person_menu));
  g_signal_connect_object(self->person_menu, "confirmed", G_CALLBACK(on_confirmed), self,
                          G_CONNECT_SWAPPED);
}
