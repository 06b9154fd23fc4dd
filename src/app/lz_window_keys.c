// SPDX-License-Identifier: GPL-3.0-or-later
// Keys reach the place before the focused widget sees them (capture phase), except where a person
// writes words. A number field gets its digits whatever Num Lock says.
#include "lz_window_private.h"

#include <glib/gi18n.h>

#include "lz_number_entry.h"
#include "lz_what_if.h"

typedef struct {
  bool words;   // a text field of words: only Esc is ours
  bool number;  // a number field
  bool button;  // Enter and space press it
  bool popover; // Esc closes it
} Focus;

static Focus
focus_of(LzWindow *self)
{
  GtkWidget *widget = gtk_window_get_focus(GTK_WINDOW(self));
  Focus focus = {false, false, false, false};
  if (!widget)
    return focus;
  focus.number = gtk_widget_get_ancestor(widget, LZ_TYPE_NUMBER_ENTRY) != NULL;
  focus.words = !focus.number && (GTK_IS_EDITABLE(widget) || GTK_IS_TEXT_VIEW(widget) ||
                                  (gtk_widget_get_ancestor(widget, GTK_TYPE_DROP_DOWN) &&
                                   gtk_widget_get_ancestor(widget, LZ_TYPE_WHAT_IF)));
  focus.popover = gtk_widget_get_ancestor(widget, GTK_TYPE_POPOVER) != NULL;
  // On a closed drop-down Enter does what the key bar says; space opens its list.
  bool closed = !focus.popover && gtk_widget_get_ancestor(widget, GTK_TYPE_DROP_DOWN);
  focus.button = !closed && (GTK_IS_BUTTON(widget) || GTK_IS_CHECK_BUTTON(widget) || focus.popover);
  return focus;
}

static gboolean
type_into(GtkWidget *widget, LzPadKey key)
{
  LzNumberEntry *entry = LZ_NUMBER_ENTRY(gtk_widget_get_ancestor(widget, LZ_TYPE_NUMBER_ENTRY));
  if (key.kind == LZ_PAD_DIGIT && key.from_pad) {
    char digit[2] = {(char)('0' + key.digit), 0};
    lz_number_entry_type(entry, digit);
    return TRUE;
  }
  if (key.kind == LZ_PAD_POINT) {
    lz_number_entry_type(entry, ".");
    return TRUE;
  }
  return FALSE;
}

static gboolean
on_key(GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state,
       LzWindow *self)
{
  Focus focus = focus_of(self);
  LzPadKey key = lz_pad_read(keyval, state, focus.number);
  LzPlace *place = lz_window_place(self);
  lz_window_touched(self);
  if (key.kind == LZ_PAD_ENTER && !focus.popover && lz_window_asks_person(self)) {
    gtk_menu_button_popup(self->person);
    return GDK_EVENT_STOP;
  }
  if ((keyval == GDK_KEY_space || keyval == GDK_KEY_KP_Space) &&
      lz_window_waits_for_person(self, gtk_window_get_focus(GTK_WINDOW(self))))
    return GDK_EVENT_STOP;
  if (key.kind == LZ_PAD_OTHER)
    return GDK_EVENT_PROPAGATE;
  if (focus.words && key.kind != LZ_PAD_ESCAPE)
    return GDK_EVENT_PROPAGATE;
  if (focus.popover || (focus.button && key.kind == LZ_PAD_ENTER))
    return GDK_EVENT_PROPAGATE;
  if (key.kind == LZ_PAD_ESCAPE)
    return lz_form_back(self->form) || lz_window_close_panels(self) ||
           (place && lz_place_back(place));
  if (lz_window_has_panel(self))
    return GDK_EVENT_PROPAGATE;
  if (focus.number && type_into(gtk_window_get_focus(GTK_WINDOW(self)), key))
    return GDK_EVENT_STOP;
  if (focus.number && (key.kind == LZ_PAD_DIGIT || key.kind == LZ_PAD_ERASE ||
                       key.kind == LZ_PAD_LEFT || key.kind == LZ_PAD_RIGHT))
    return GDK_EVENT_PROPAGATE;
  if (place && lz_place_key(place, key))
    return GDK_EVENT_STOP;
  if (key.kind == LZ_PAD_SLASH && self->desk)
    return gtk_widget_activate_action(GTK_WIDGET(self), "win.go-to", NULL);
  if (key.kind == LZ_PAD_STAR && self->desk)
    return gtk_widget_activate_action(GTK_WIDGET(self), "win.see", NULL);
  return GDK_EVENT_PROPAGATE;
}

void
lz_window_press(LzWindow *self, LzPadKey key)
{
  LzPlace *place = lz_window_place(self);
  if (place)
    lz_place_key(place, key);
}

void
lz_window_keys_init(LzWindow *self)
{
  GtkEventController *keys = gtk_event_controller_key_new();
  gtk_event_controller_set_propagation_phase(keys, GTK_PHASE_CAPTURE);
  g_signal_connect(keys, "key-pressed", G_CALLBACK(on_key), self);
  gtk_widget_add_controller(GTK_WIDGET(self), keys);
}

void
lz_window_keys_refresh(LzWindow *self)
{
  LzPlace *place = lz_window_place(self);
  g_autoptr(GPtrArray) hints =
      place && !lz_window_has_panel(self) ? lz_place_hints(place) : lz_hints_new();
  if (lz_window_has_panel(self)) {
    if (gtk_widget_get_visible(GTK_WIDGET(self->go_to))) {
      lz_hints_add(hints, "↑↓", _("other match"), NULL);
      lz_hints_add(hints, "Enter", _("open it"), NULL);
    } else {
      lz_hints_add(hints, "Enter", _("record"), NULL);
      lz_hints_add(hints, "Tab", _("next field"), NULL);
      lz_hints_add(hints, _("Space"), _("open a list"), NULL);
    }
    lz_hints_add(hints, "Esc", _("one step back"), NULL);
  }
  lz_hints_add(hints, "F1", _("keys"), "win.show-help-overlay");
  lz_key_bar_set(self->key_bar, hints);
}
