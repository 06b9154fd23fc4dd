// SPDX-License-Identifier: GPL-3.0-or-later
// Panels above the key bar: the form of an entry, and going somewhere. One at a time, none of them
// a dialog; Esc closes them and gives the focus back to the place.
#include "lz_window_private.h"

#include <glib/gi18n.h>
#include <lz_seen.h>

#include "lz_record.h"

bool
lz_window_close_panels(LzWindow *self)
{
  bool open = gtk_widget_get_visible(GTK_WIDGET(self->form)) ||
              gtk_widget_get_visible(GTK_WIDGET(self->go_to));
  gtk_widget_set_visible(GTK_WIDGET(self->form), FALSE);
  gtk_widget_set_visible(GTK_WIDGET(self->go_to), FALSE);
  LzPlace *place = lz_window_place(self);
  if (open && place)
    lz_place_enter(place);
  lz_window_keys_refresh(self);
  return open;
}

bool
lz_window_has_panel(LzWindow *self)
{
  return gtk_widget_get_visible(GTK_WIDGET(self->form)) ||
         gtk_widget_get_visible(GTK_WIDGET(self->go_to));
}

// Whoever was asked for, over the panel, goes on in the field where they stood.
static void
on_focus(LzWindow *self)
{
  GtkWidget *focus = gtk_window_get_focus(GTK_WINDOW(self));
  if (focus && (gtk_widget_is_ancestor(focus, GTK_WIDGET(self->form)) ||
                gtk_widget_is_ancestor(focus, GTK_WIDGET(self->go_to))))
    g_set_weak_pointer(&self->panel_focus, focus);
}

void
lz_window_back_to_work(LzWindow *self)
{
  LzPlace *place = lz_window_place(self);
  if (lz_window_has_panel(self) && self->panel_focus && gtk_widget_get_mapped(self->panel_focus))
    gtk_widget_grab_focus(self->panel_focus);
  else if (place)
    lz_place_enter(place);
}

void
lz_window_open_form(LzWindow *self, const char *kind, gint64 corrects, const char *entity,
                    GVariant *fields)
{
  gtk_widget_set_visible(GTK_WIDGET(self->go_to), FALSE);
  gtk_widget_set_visible(GTK_WIDGET(self->form), TRUE);
  lz_form_open(self->form, self->desk, kind, corrects, entity, fields);
  lz_window_keys_refresh(self);
}

void
lz_window_open_see(LzWindow *self)
{
  lz_record_open(GTK_WIDGET(self), "sighting", NULL);
}

void
lz_window_open_go_to(LzWindow *self)
{
  gtk_widget_set_visible(GTK_WIDGET(self->form), FALSE);
  gtk_widget_set_visible(GTK_WIDGET(self->go_to), TRUE);
  lz_go_to_open(self->go_to, self->desk);
  lz_window_keys_refresh(self);
}

// What was seen asks for an answer at once: the page of its water.
static void
show_sighting(LzWindow *self, gint64 id)
{
  g_autoptr(LzEntry) entry = lz_desk_entry(self->desk, id, NULL);
  const char *kind = entry ? lz_entry_kind(entry) : "";
  if (!g_str_equal(kind, "sighting") && !g_str_equal(kind, "scrape"))
    return;
  uint32_t n = lz_desk_snapshot(self->desk)->n_systems;
  for (uint32_t i = 0; i < n; i++) {
    g_autoptr(LzSeen) seen = lz_seen_open(self->desk, i);
    if (seen && seen->entry == (lz_entry_corrects(entry) ? lz_entry_corrects(entry) : id))
      gtk_widget_activate_action(GTK_WIDGET(self), "win.show", "(ss)", "water",
                                 lz_desk_name(self->desk, "system", i));
  }
}

static void
on_form_done(LzWindow *self, gint64 id)
{
  lz_window_close_panels(self);
  show_sighting(self, id);
}

static void
on_chosen(LzWindow *self, const char *place, const char *name)
{
  lz_window_close_panels(self);
  gtk_widget_activate_action(GTK_WIDGET(self), "win.show", "(ss)", place, name);
}

static void
on_cancelled(LzWindow *self)
{
  lz_window_close_panels(self);
}

void
lz_window_panels_init(LzWindow *self)
{
  g_signal_connect(self, "notify::focus-widget", G_CALLBACK(on_focus), NULL);
  g_signal_connect_object(self->form, "done", G_CALLBACK(on_form_done), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(self->form, "cancelled", G_CALLBACK(on_cancelled), self,
                          G_CONNECT_SWAPPED);
  g_signal_connect_object(self->go_to, "chosen", G_CALLBACK(on_chosen), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(self->go_to, "cancelled", G_CALLBACK(on_cancelled), self,
                          G_CONNECT_SWAPPED);
}
