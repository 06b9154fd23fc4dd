// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_handover_view.h"

#include <glib/gi18n.h>
#include <lz_command.h>

#include "lz_handover_lines.h"
#include "lz_people.h"
#include "lz_place.h"
#include "lz_print.h"

struct _LzHandoverView {
  GtkWidget parent;
  LzDesk *desk;
  GPtrArray *ticks; // GtkCheckButton, one a line
  GtkWidget *box;
  GtkBox *lines;
  GtkLabel *given, *message;
  GtkEntry *sheet, *initials;
  GtkPasswordEntry *pin;
  GtkButton *sign;
};

static void place_iface(LzPlaceInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE(LzHandoverView, lz_handover_view, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(LZ_TYPE_PLACE, place_iface))

static void
say(LzHandoverView *self, const char *sentence)
{
  gtk_label_set_label(self->message, sentence ? sentence : "");
  gtk_widget_set_visible(GTK_WIDGET(self->message), sentence != NULL);
}

static guint
first_unread(LzHandoverView *self)
{
  for (guint i = 0; i < self->ticks->len; i++)
    if (!gtk_check_button_get_active(g_ptr_array_index(self->ticks, i)))
      return i;
  return self->ticks->len;
}

static void
go_on(LzHandoverView *self)
{
  guint next = first_unread(self);
  if (next < self->ticks->len)
    gtk_widget_grab_focus(g_ptr_array_index(self->ticks, next));
  else
    gtk_widget_grab_focus(GTK_WIDGET(self->initials));
}

static void
add_line(LzHandoverView *self, const char *text)
{
  GtkWidget *tick = gtk_check_button_new(), *words = gtk_label_new(text);
  gtk_widget_set_margin_start(words, 8);
  gtk_label_set_wrap(GTK_LABEL(words), TRUE);
  gtk_label_set_xalign(GTK_LABEL(words), 0);
  gtk_check_button_set_child(GTK_CHECK_BUTTON(tick), words);
  gtk_accessible_update_property(GTK_ACCESSIBLE(tick), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  gtk_box_append(self->lines, tick);
  g_ptr_array_add(self->ticks, tick);
}

static void
fill(LzHandoverView *self)
{
  GtkWidget *child;
  g_autoptr(GPtrArray) lines = lz_handover_lines(self->desk);
  const char *giver = lz_desk_person_initials(self->desk, lz_desk_actor(self->desk));
  // Translators: initials
  g_autofree char *given = *giver
                               ? g_strdup_printf(_("Given by %s, read aloud line by line"), giver)
                               : g_strdup(_("Say who you are first: Ctrl U"));
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(self->lines))))
    gtk_box_remove(self->lines, child);
  g_ptr_array_set_size(self->ticks, 0);
  for (guint i = 0; i < lines->len; i++)
    add_line(self, g_ptr_array_index(lines, i));
  gtk_label_set_label(self->given, given);
  guint printed = lz_print_printed(self->desk);
  g_autofree char *sheet = printed ? g_strdup_printf("%u", printed) : g_strdup("");
  gtk_editable_set_text(GTK_EDITABLE(self->sheet), sheet);
  gtk_editable_set_text(GTK_EDITABLE(self->initials), "");
  gtk_editable_set_text(GTK_EDITABLE(self->pin), "");
  gtk_widget_set_visible(GTK_WIDGET(self->pin), lz_people_ask_pins(self->desk));
  say(self, NULL);
}

// FALSE: a sentence says what is missing, and the focus stands there.
static gboolean
may_sign(LzHandoverView *self, const LzPersonInfo *taker, const char *pin)
{
  g_autoptr(GError) error = NULL;
  if (first_unread(self) < self->ticks->len) {
    say(self, _("Not every line has been read back yet."));
    go_on(self);
    return FALSE;
  }
  if (!taker) {
    say(self, _("Nobody here has these initials."));
    gtk_widget_grab_focus(GTK_WIDGET(self->initials));
    return FALSE;
  }
  if (!lz_people_ask_pins(self->desk))
    return TRUE;
  if (*pin && lz_desk_check_pin(self->desk, taker->id, pin, &error))
    return TRUE;
  say(self, error ? error->message : *pin ? _("This is not the PIN.") : _("The PIN, please."));
  gtk_widget_grab_focus(GTK_WIDGET(self->pin));
  return FALSE;
}

static void
on_sign(LzHandoverView *self)
{
  g_autoptr(GError) error = NULL;
  const LzPersonInfo *taker =
      lz_people_find(self->desk, gtk_editable_get_text(GTK_EDITABLE(self->initials)));
  if (!may_sign(self, taker, gtk_editable_get_text(GTK_EDITABLE(self->pin))))
    return;
  int64_t id = taker->id;
  g_autofree char *initials = g_strdup(taker->initials);
  const char *sheet = gtk_editable_get_text(GTK_EDITABLE(self->sheet));
  g_autoptr(LzCommand) command =
      lz_command_build("handover", "to", initials, *sheet ? "sheet" : NULL, sheet, NULL);
  lz_command_set_witness(command, initials);
  if (!lz_desk_submit_one(self->desk, command, &error)) {
    say(self, error->message);
    return;
  }
  lz_desk_set_actor(self->desk, id);
  // Translators: initials
  g_autofree char *done = g_strdup_printf(_("Handed over; %s is at this PC now."), initials);
  gtk_widget_activate_action(GTK_WIDGET(self), "win.notice", "s", done);
  gtk_widget_activate_action(GTK_WIDGET(self), "win.place", "s", "round");
}

// Enter ticks a line as read and goes on.
static gboolean
on_key(GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state,
       LzHandoverView *self)
{
  GtkWidget *focus = gtk_window_get_focus(GTK_WINDOW(gtk_widget_get_root(GTK_WIDGET(self))));
  if ((keyval != GDK_KEY_Return && keyval != GDK_KEY_KP_Enter) || !GTK_IS_CHECK_BUTTON(focus))
    return GDK_EVENT_PROPAGATE;
  gtk_check_button_set_active(GTK_CHECK_BUTTON(focus), TRUE);
  go_on(self);
  return GDK_EVENT_STOP;
}

static bool
lz_handover_view_back(LzPlace *place)
{
  return gtk_widget_activate_action(GTK_WIDGET(place), "win.place", "s", "round");
}

static void
lz_handover_view_enter(LzPlace *place)
{
  LzHandoverView *self = LZ_HANDOVER_VIEW(place);
  fill(self);
  go_on(self);
}

static GPtrArray *
lz_handover_view_hints(LzPlace *place)
{
  GPtrArray *hints = lz_hints_new();
  lz_hints_add(hints, "Enter", _("read back, next line"), NULL);
  lz_hints_add(hints, _("Ctrl P"), _("print the sheet"), "win.print");
  lz_hints_add(hints, "Esc", _("one step back"), "win.place::round");
  return hints;
}

static void
place_iface(LzPlaceInterface *iface)
{
  iface->back = lz_handover_view_back;
  iface->enter = lz_handover_view_enter;
  iface->hints = lz_handover_view_hints;
}

static void
lz_handover_view_dispose(GObject *object)
{
  LzHandoverView *self = LZ_HANDOVER_VIEW(object);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  g_clear_pointer(&self->ticks, g_ptr_array_unref);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_handover_view_parent_class)->dispose(object);
}

static void
lz_handover_view_class_init(LzHandoverViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_handover_view_dispose;
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_REGION);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_handover_view.ui");
  gtk_widget_class_bind_template_child(widget, LzHandoverView, box);
  gtk_widget_class_bind_template_child(widget, LzHandoverView, lines);
  gtk_widget_class_bind_template_child(widget, LzHandoverView, given);
  gtk_widget_class_bind_template_child(widget, LzHandoverView, message);
  gtk_widget_class_bind_template_child(widget, LzHandoverView, sheet);
  gtk_widget_class_bind_template_child(widget, LzHandoverView, initials);
  gtk_widget_class_bind_template_child(widget, LzHandoverView, pin);
  gtk_widget_class_bind_template_child(widget, LzHandoverView, sign);
  gtk_widget_class_bind_template_callback(widget, on_sign);
}

static void
lz_handover_view_init(LzHandoverView *self)
{
  self->ticks = g_ptr_array_new();
  gtk_widget_init_template(GTK_WIDGET(self));
  GtkEventController *keys = gtk_event_controller_key_new();
  gtk_event_controller_set_propagation_phase(keys, GTK_PHASE_CAPTURE);
  g_signal_connect(keys, "key-pressed", G_CALLBACK(on_key), self);
  gtk_widget_add_controller(GTK_WIDGET(self), keys);
}

GtkWidget *
lz_handover_view_new(LzDesk *desk)
{
  LzHandoverView *self = g_object_new(LZ_TYPE_HANDOVER_VIEW, NULL);
  self->desk = g_object_ref(desk);
  return GTK_WIDGET(self);
}
