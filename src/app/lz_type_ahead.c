// SPDX-License-Identifier: GPL-3.0-or-later
// GTK 4.8 opens a list on Enter only; whoever has a number pad and wet gloves should not need to.
#include "lz_type_ahead.h"

#include <string.h>

#define PAUSE_MS 1500 // after it a letter begins a new word

typedef struct {
  GString *typed; // folded
  guint32 last_ms;
} TypeAhead;

static void
type_ahead_free(gpointer data, GClosure *closure)
{
  TypeAhead *self = data;
  g_string_free(self->typed, TRUE);
  g_free(self);
}

static gboolean
step(GtkDropDown *drop, int by)
{
  int n = (int)g_list_model_get_n_items(gtk_drop_down_get_model(drop));
  int at = (int)gtk_drop_down_get_selected(drop);
  gtk_drop_down_set_selected(drop, (guint)CLAMP(at + by, 0, n - 1));
  return GDK_EVENT_STOP;
}

static void
select_beginning(GtkDropDown *drop, const char *typed)
{
  GListModel *model = gtk_drop_down_get_model(drop);
  for (guint i = 0; i < g_list_model_get_n_items(model); i++) {
    const char *label = gtk_string_list_get_string(GTK_STRING_LIST(model), i);
    g_autofree char *folded = g_utf8_casefold(label, -1);
    if (g_str_has_prefix(folded, typed)) {
      gtk_drop_down_set_selected(drop, i);
      return;
    }
  }
}

static gboolean
on_key(GtkEventControllerKey *keys, guint keyval, guint keycode, GdkModifierType state,
       TypeAhead *self)
{
  GtkWidget *drop = gtk_event_controller_get_widget(GTK_EVENT_CONTROLLER(keys));
  guint32 now = gtk_event_controller_get_current_event_time(GTK_EVENT_CONTROLLER(keys));
  gunichar letter = gdk_keyval_to_unicode(keyval);
  GtkWidget *focus = gtk_window_get_focus(GTK_WINDOW(gtk_widget_get_root(drop)));
  if (focus && gtk_widget_get_ancestor(focus, GTK_TYPE_POPOVER))
    return GDK_EVENT_PROPAGATE; // the list is open and has keys of its own
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK))
    return GDK_EVENT_PROPAGATE;
  if (keyval == GDK_KEY_Down || keyval == GDK_KEY_KP_Down)
    return step(GTK_DROP_DOWN(drop), 1);
  if (keyval == GDK_KEY_Up || keyval == GDK_KEY_KP_Up)
    return step(GTK_DROP_DOWN(drop), -1);
  if (!g_unichar_isgraph(letter) && !(letter == ' ' && self->typed->len))
    return GDK_EVENT_PROPAGATE;
  if (now - self->last_ms > PAUSE_MS)
    g_string_truncate(self->typed, 0);
  self->last_ms = now;
  g_string_append_unichar(self->typed, g_unichar_tolower(letter));
  select_beginning(GTK_DROP_DOWN(drop), self->typed->str);
  return GDK_EVENT_STOP;
}

void
lz_type_ahead_add(GtkDropDown *drop)
{
  TypeAhead *self = g_new0(TypeAhead, 1);
  GtkEventController *keys = gtk_event_controller_key_new();
  self->typed = g_string_new(NULL);
  gtk_event_controller_set_propagation_phase(keys, GTK_PHASE_CAPTURE);
  g_signal_connect_data(keys, "key-pressed", G_CALLBACK(on_key), self, type_ahead_free, 0);
  gtk_widget_add_controller(GTK_WIDGET(drop), keys);
}
