// SPDX-License-Identifier: GPL-3.0-or-later
// "Still you?": after the station's minutes without a key or a pointer the name in the bar asks,
// and the next Enter that would record something waits for the answer. Where PINs are asked for,
// nobody is at this PC any more after that time.
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
  self->person_menu = LZ_PERSON_MENU(lz_person_menu_new());
  gtk_menu_button_set_popover(self->person, GTK_WIDGET(self->person_menu));
  g_signal_connect_object(self->person_menu, "confirmed", G_CALLBACK(on_confirmed), self,
                          G_CONNECT_SWAPPED);
}
