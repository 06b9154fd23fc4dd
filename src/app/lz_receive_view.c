// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_receive_view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "lz_access.h"
#include "lz_digits.h"
#include "lz_place.h"
#include "lz_receive_private.h"
#include "lz_receive_side.h"
#include "lz_tall.h"
#include "lz_type_ahead.h"

static void place_iface(LzPlaceInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE(LzReceiveView, lz_receive_view, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(LZ_TYPE_PLACE, place_iface))

int64_t
lz_receive_system(LzReceiveView *self)
{
  guint at = gtk_drop_down_get_selected(self->system);
  return at < self->systems->len ? g_array_index(self->systems, int64_t, at) : 0;
}

GtkEntry *
lz_receive_head(LzReceiveView *self, LzHead head)
{
  GtkEntry *const heads[LZ_N_HEADS] = {self->code, self->supplier, self->certificate,
                                       self->waybill};
  return heads[head];
}

static LzReceiveBox *
box_at(LzReceiveView *self)
{
  return g_ptr_array_index(self->boxes, MIN(self->at, self->boxes->len - 1));
}

static void
show_compare(LzReceiveView *self, const LzReceiveBox *box)
{
  GtkWidget *child;
  g_autoptr(GPtrArray) lines = lz_receive_compare(self->desk, box, lz_receive_system(self));
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(self->bag))))
    gtk_grid_remove(self->bag, child);
  for (guint i = 0; i < lines->len; i++) {
    const LzBagLine *line = g_ptr_array_index(lines, i);
    const char *const cells[] = {line->what, line->bag, line->water, line->words};
    for (int c = 0; c < 4; c++) {
      GtkWidget *label = gtk_label_new(cells[c]);
      gtk_label_set_xalign(GTK_LABEL(label), c == 1 || c == 2);
      gtk_label_set_wrap(GTK_LABEL(label), c == 3);
      if (c == 1 || (c == 3 && line->heed))
        gtk_widget_add_css_class(label, "strong");
      gtk_grid_attach(self->bag, label, c, (int)i, 1, 1);
    }
  }
  gtk_widget_set_visible(GTK_WIDGET(self->rule), lines->len > 0);
}

static void
show_side(LzReceiveView *self)
{
  const LzReceiveBox *box = box_at(self);
  int64_t system = lz_receive_system(self);
  const char *name = system ? lz_desk_name_of(self->desk, "system", system) : "–";
  // Translators: number of a box; system
  g_autofree char *title = g_strdup_printf(_("Box %1$u into %2$s"), box->number, name);
  // Translators: system
  g_autofree char *rule = g_strdup_printf(
      _("Lift the fish out by hand or cup as soon as the float is over; bag water goes to waste, "
        "never into %s."),
      name);
  g_autofree char *words = lz_receive_box_words(self->desk, box, system);
  gboolean over;
  g_autofree char *room = lz_receive_room_words(self->desk, self->boxes, system, &over);
  gtk_label_set_label(self->box_title, title);
  gtk_label_set_label(self->rule, rule);
  gtk_label_set_label(self->box_words, words);
  gtk_label_set_label(self->room, room);
  if (over)
    gtk_widget_add_css_class(GTK_WIDGET(self->room), "alarm");
  else
    gtk_widget_remove_css_class(GTK_WIDGET(self->room), "alarm");
  show_compare(self, box);
}

static void
show_sums(LzReceiveView *self)
{
  double sums[4] = {0, 0, 0, 0};
  for (guint i = 0; i < self->boxes->len; i++)
    for (int f = 0; f < 4; f++) {
      double n =
          lz_receive_box_number(g_ptr_array_index(self->boxes, i), LZ_BOX_INVOICED + (LzBoxField)f);
      sums[f] += isnan(n) ? 0 : n;
    }
  g_autofree char *text =
      g_strdup_printf(_("So far: %1$d invoiced, %2$d alive, %3$d dead, %4$d weak. Counted is what "
                        "counts; the invoice stays beside it."),
                      (int)sums[0], (int)sums[1], (int)sums[2], (int)sums[3]);
  gtk_label_set_label(self->sums, text);
}

static void
on_changed(LzReceiveView *self)
{
  if (self->loading)
    return;
  gtk_widget_set_visible(GTK_WIDGET(self->message), FALSE);
  show_sums(self);
  show_side(self);
  lz_receive_draft_save_soon(self);
}

static gboolean
go_to_field(LzReceiveView *self, guint at, LzBoxField field)
{
  if (at >= self->boxes->len || field >= LZ_N_BOX_FIELDS)
    return FALSE;
  LzReceiveBox *box = g_ptr_array_index(self->boxes, at);
  return gtk_widget_grab_focus(GTK_WIDGET(box->fields[field]));
}

// Where the focus stands among the boxes; FALSE = elsewhere.
static gboolean
where(LzReceiveView *self, guint *at, LzBoxField *field)
{
  GtkWidget *focus = gtk_window_get_focus(GTK_WINDOW(gtk_widget_get_root(GTK_WIDGET(self))));
  for (guint i = 0; i < self->boxes->len; i++) {
    *field = lz_receive_box_field_of(g_ptr_array_index(self->boxes, i), focus);
    *at = i;
    if (*field < LZ_N_BOX_FIELDS)
      return TRUE;
  }
  return FALSE;
}

// Enter: the next field, the next box, a new box; from an empty box to the button that records.
static void
on_activate(LzReceiveView *self)
{
  guint at;
  LzBoxField field;
  if (!where(self, &at, &field))
    go_to_field(self, 0, 0);
  else if (at + 1 == self->boxes->len &&
           lz_receive_box_is_empty(g_ptr_array_index(self->boxes, at)))
    gtk_widget_grab_focus(GTK_WIDGET(self->record));
  else if (!go_to_field(self, at, field + 1) && !go_to_field(self, at + 1, 0)) {
    lz_receive_add_box(self);
    go_to_field(self, at + 1, 0);
  }
}

static void
on_focus_in(GtkEventControllerFocus *controller, LzReceiveView *self)
{
  GtkWidget *entry = gtk_event_controller_get_widget(GTK_EVENT_CONTROLLER(controller));
  for (guint i = 0; i < self->boxes->len; i++)
    if (lz_receive_box_field_of(g_ptr_array_index(self->boxes, i), entry) < LZ_N_BOX_FIELDS)
      self->at = i;
  show_side(self);
}

LzReceiveBox *
lz_receive_add_box(LzReceiveView *self)
{
  guint n = self->boxes->len;
  LzReceiveBox *box = lz_receive_box_new(self->grid, n + 1);
  g_autofree char *code = lz_receive_next_code(self->desk, "lot", "0000", n);
  lz_receive_box_set(box, LZ_BOX_LOT, code);
  g_ptr_array_add(self->boxes, box);
  for (int f = 0; f < LZ_N_BOX_FIELDS; f++) {
    GtkEventController *focus = gtk_event_controller_focus_new();
    g_signal_connect_object(focus, "enter", G_CALLBACK(on_focus_in), self, 0);
    gtk_widget_add_controller(GTK_WIDGET(box->fields[f]), focus);
    g_signal_connect_swapped(box->fields[f], "changed", G_CALLBACK(on_changed), self);
    g_signal_connect_swapped(box->fields[f], "activate", G_CALLBACK(on_activate), self);
  }
  return box;
}

void
lz_receive_clear(LzReceiveView *self)
{
  self->loading = TRUE;
  while (self->boxes->len)
    lz_receive_box_remove(g_ptr_array_steal_index(self->boxes, self->boxes->len - 1), self->grid);
  for (int i = 0; i < LZ_N_HEADS; i++)
    gtk_editable_set_text(GTK_EDITABLE(lz_receive_head(self, i)), "");
  g_autofree char *code = lz_receive_next_code(self->desk, "shipment", "S-0000", 0);
  gtk_editable_set_text(GTK_EDITABLE(self->code), code);
  self->at = 0;
  lz_receive_add_box(self);
  self->loading = FALSE;
  show_sums(self);
  show_side(self);
}

static void
fill_systems(LzReceiveView *self)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new();
  g_autoptr(GArray) ids = lz_desk_entities(self->desk, "system");
  guint first = 0;
  g_array_set_size(self->systems, 0);
  for (guint i = 0; ids && i < ids->len; i++) {
    int64_t id = g_array_index(ids, int64_t, i);
    LzEntry *system = lz_desk_entity(self->desk, "system", id);
    if (!first && g_strcmp0(lz_entry_text(system, "role"), "receiving") == 0)
      first = i;
    g_array_append_val(self->systems, id);
    g_ptr_array_add(names, (gpointer)lz_desk_name_of(self->desk, "system", id));
  }
  g_ptr_array_add(names, NULL);
  g_autoptr(GtkStringList) list = gtk_string_list_new((const char *const *)names->pdata);
  gtk_drop_down_set_model(self->system, G_LIST_MODEL(list));
  gtk_drop_down_set_selected(self->system, first);
}

static void
move_box(LzReceiveView *self, int by)
{
  guint at;
  LzBoxField field;
  if (!where(self, &at, &field)) {
    go_to_field(self, self->at, 0);
    return;
  }
  if (by > 0 && at + 1 == self->boxes->len &&
      !lz_receive_box_is_empty(g_ptr_array_index(self->boxes, at)))
    lz_receive_add_box(self);
  go_to_field(self, (guint)MAX(0, (int)at + by), field);
}

// Before the field sees it: other box, all recorded, and digits of a pad whose Num Lock is off.
static gboolean
on_key(GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state,
       LzReceiveView *self)
{
  guint at;
  LzBoxField field;
  gboolean enter = keyval == GDK_KEY_Return || keyval == GDK_KEY_KP_Enter;
  if (enter && (state & GDK_CONTROL_MASK)) {
    lz_receive_submit(self);
    return GDK_EVENT_STOP;
  }
  GtkWidget *focus = gtk_window_get_focus(GTK_WINDOW(gtk_widget_get_root(GTK_WIDGET(self))));
  if (enter && focus && gtk_widget_get_ancestor(focus, GTK_TYPE_DROP_DOWN) &&
      !gtk_widget_get_ancestor(focus, GTK_TYPE_POPOVER)) {
    on_activate(self); // space opens the list
    return GDK_EVENT_STOP;
  }
  if (!where(self, &at, &field) || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)))
    return GDK_EVENT_PROPAGATE;
  LzPadKey key = lz_pad_read(keyval, state, lz_box_field_is_number(field));
  if (keyval == GDK_KEY_Page_Down || key.kind == LZ_PAD_DOWN || key.kind == LZ_PAD_PLUS)
    move_box(self, 1);
  else if (keyval == GDK_KEY_Page_Up || key.kind == LZ_PAD_UP)
    move_box(self, -1);
  else if (key.kind == LZ_PAD_DIGIT && key.from_pad && lz_box_field_is_number(field)) {
    lz_digits_type(GTK_EDITABLE(box_at(self)->fields[field]),
                   (char[2]){(char)('0' + key.digit), 0});
  } else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

static bool
lz_receive_view_back(LzPlace *place)
{
  LzReceiveView *self = LZ_RECEIVE_VIEW(place);
  lz_receive_draft_save(self);
  return gtk_widget_activate_action(GTK_WIDGET(self), "win.place", "s", "round");
}

static void
lz_receive_view_enter(LzPlace *place)
{
  LzReceiveView *self = LZ_RECEIVE_VIEW(place);
  if (lz_receive_box_is_empty(g_ptr_array_index(self->boxes, 0))) { // numbers may be taken by now
    self->loading = TRUE;
    lz_receive_clear(self);
    lz_receive_draft_load(self);
    self->loading = FALSE;
    show_sums(self);
  }
  if (*gtk_editable_get_text(GTK_EDITABLE(self->supplier)))
    go_to_field(self, self->at, 0);
  else
    gtk_widget_grab_focus(GTK_WIDGET(self->supplier));
  show_side(self);
  lz_receive_last_show(self->last, self->desk);
}

static GPtrArray *
lz_receive_view_hints(LzPlace *place)
{
  GPtrArray *hints = lz_hints_new();
  lz_hints_add(hints, "Enter", _("next field"), NULL);
  lz_hints_add(hints, "+", _("next box"), NULL);
  lz_hints_add(hints, "↑↓", _("other box"), NULL);
  lz_hints_add(hints, _("Ctrl Enter"), _("record all boxes"), NULL);
  lz_hints_add(hints, "Esc", _("keep it and go back"), "win.place::round");
  return hints;
}

static void
place_iface(LzPlaceInterface *iface)
{
  iface->back = lz_receive_view_back;
  iface->enter = lz_receive_view_enter;
  iface->hints = lz_receive_view_hints;
}

static void
lz_receive_view_dispose(GObject *object)
{
  LzReceiveView *self = LZ_RECEIVE_VIEW(object);
  self->loading = TRUE;
  g_clear_handle_id(&self->draft_timer, g_source_remove);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  g_clear_pointer(&self->boxes, g_ptr_array_unref);
  g_clear_pointer(&self->systems, g_array_unref);
  g_clear_pointer(&self->cost_said, g_free);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_receive_view_parent_class)->dispose(object);
}

static void
lz_receive_view_class_init(LzReceiveViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_receive_view_dispose;
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_REGION);
  g_type_ensure(LZ_TYPE_TALL);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_receive_view.ui");
#define CHILD(name) gtk_widget_class_bind_template_child(widget, LzReceiveView, name)
  CHILD(box);
  CHILD(code);
  CHILD(supplier);
  CHILD(certificate);
  CHILD(waybill);
  CHILD(system);
  CHILD(acclimation);
  CHILD(grid);
  CHILD(bag);
  CHILD(sums);
  CHILD(message);
  CHILD(why);
  CHILD(reason);
  CHILD(box_title);
  CHILD(box_words);
  CHILD(room);
  CHILD(rule);
  CHILD(record);
  CHILD(ready);
  CHILD(last);
#undef CHILD
  gtk_widget_class_bind_template_callback(widget, on_changed);
  gtk_widget_class_bind_template_callback(widget, on_activate);
  gtk_widget_class_bind_template_callback(widget, lz_receive_submit);
}

static void
lz_receive_view_init(LzReceiveView *self)
{
  self->boxes = g_ptr_array_new_with_free_func(g_free);
  self->systems = g_array_new(FALSE, FALSE, sizeof(int64_t));
  self->loading = TRUE;
  gtk_widget_init_template(GTK_WIDGET(self));
  GtkEventController *keys = gtk_event_controller_key_new();
  gtk_event_controller_set_propagation_phase(keys, GTK_PHASE_CAPTURE);
  g_signal_connect(keys, "key-pressed", G_CALLBACK(on_key), self);
  gtk_widget_add_controller(GTK_WIDGET(self), keys);
}

GtkWidget *
lz_receive_view_new(LzDesk *desk)
{
  LzReceiveView *self = g_object_new(LZ_TYPE_RECEIVE_VIEW, NULL);
  self->desk = g_object_ref(desk);
  lz_type_ahead_add(self->system);
  lz_type_ahead_add(self->acclimation);
  fill_systems(self);
  lz_access_inner(GTK_WIDGET(self->system), _("Into system"));
  lz_access_inner(GTK_WIDGET(self->acclimation), _("How they go over"));
  lz_receive_heads(self->grid);
  gtk_box_prepend(self->ready, lz_digits_button_new(NULL, LZ_DIGITS_NEXT));
  lz_receive_clear(self);
  return GTK_WIDGET(self);
}
