// SPDX-License-Identifier: GPL-3.0-or-later
#include <glib/gi18n.h>

#include "lz_access.h"
#include "lz_fold.h"
#include "lz_round_line_private.h"

G_DEFINE_FINAL_TYPE(LzRoundLine, lz_round_line, GTK_TYPE_WIDGET)

enum { RECORDED, CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

void
lz_round_line_changed(LzRoundLine *self)
{
  g_signal_emit(self, signals[CHANGED], 0);
}

const char *
lz_round_line_instrument(LzRoundLine *self)
{
  LzInstrumentRow *row = gtk_drop_down_get_selected_item(self->instrument);
  if (!row || g_strcmp0(self->form->kind, "reading") != 0)
    return NULL;
  return lz_instrument_row_info(row)->name;
}

const char *
lz_round_line_subject(LzRoundLine *self, const char *kind)
{
  const lzq_task *task = self->row ? lz_task_row_info(self->row)->task : NULL;
  uint32_t index = !task                         ? LZQ_NONE
                   : g_str_equal(kind, "lot")    ? task->lot
                   : g_str_equal(kind, "system") ? task->system
                                                 : LZQ_NONE;
  return index == LZQ_NONE ? NULL : lz_desk_name(self->desk, kind, index);
}

static void
forget(LzRoundLine *self)
{
  g_clear_pointer(&self->form, lz_task_form_free);
  g_clear_pointer(&self->first, g_free);
  g_clear_pointer(&self->choice, g_free);
  g_clear_pointer(&self->reason, g_free);
  g_clear_pointer(&self->witness, g_free);
  g_clear_pointer(&self->why_not, g_free);
  self->ask = LZ_ASK_NOTHING;
  self->alone_now = FALSE;
}

void
lz_round_line_set(LzRoundLine *self, LzTaskRow *row)
{
  g_return_if_fail(LZ_IS_ROUND_LINE(self));
  if (self->row == row)
    return;
  if (self->row) {
    if (self->draft_timer)
      lz_round_draft_save(self);
    g_clear_signal_handler(&self->on_row_changed, self->row);
  }
  g_set_object(&self->row, row);
  forget(self);
  if (!row)
    return;
  self->loading = TRUE;
  self->on_row_changed =
      g_signal_connect_swapped(row, "changed", G_CALLBACK(lz_round_line_refresh), self);
  const LzTaskInfo *info = lz_task_row_info(row);
  self->form = lz_task_form_new(self->desk, info);
  lz_number_entry_set_field(self->entry, self->form->label, self->form->unit);
  gtk_widget_set_visible(GTK_WIDGET(self->words), FALSE);
  lz_gate_set(self->gate, LZ_GATE_OPEN, NULL, NULL);
  lz_round_bath_set(self->bath, self->desk, info->task);
  lz_round_draft_load(self);
  lz_round_line_refresh(self);
  lz_round_line_show_form(self);
  lz_round_line_show_choices(self);
  if (info->task->kind == LZQ_TASK_TEST)
    lz_round_line_choose_instrument(self, info->task->analyte);
  self->loading = FALSE;
  lz_round_line_check(self);
}

LzTaskRow *
lz_round_line_row(LzRoundLine *self)
{
  return self->row;
}

void
lz_round_line_recorded(LzRoundLine *self)
{
  lz_round_draft_drop(self);
  self->loading = TRUE;
  lz_number_entry_set_text(self->entry, "");
  lz_round_bath_set_text(self->bath, "");
  self->loading = FALSE;
  lz_gate_set(self->gate, LZ_GATE_OPEN, NULL, NULL);
  lz_round_line_end_alone(self);
  lz_round_line_ask(self, LZ_ASK_NOTHING);
  g_clear_pointer(&self->first, g_free);
  g_signal_emit(self, signals[RECORDED], 0);
}

// What a bath still needs, before it is asked anything; NULL = nothing, or no bath.
static GtkWidget *
next_of_bath(LzRoundLine *self)
{
  if (!lz_round_bath_is_on(self->bath) || self->ask != LZ_ASK_NOTHING || self->why_not)
    return NULL;
  return lz_round_bath_next(self->bath, GTK_WIDGET(self->entry),
                            !*lz_number_entry_text(self->entry));
}

gboolean
lz_round_line_goes_on(LzRoundLine *self)
{
  GtkWidget *next = next_of_bath(self);
  return next && gtk_widget_grab_focus(next);
}

void
lz_round_line_take_focus(LzRoundLine *self)
{
  if (gtk_widget_get_visible(GTK_WIDGET(self->words)))
    gtk_widget_grab_focus(GTK_WIDGET(self->words));
  else if (self->row && next_of_bath(self))
    gtk_widget_grab_focus(next_of_bath(self));
  else if (gtk_widget_get_visible(GTK_WIDGET(self->entry)))
    lz_number_entry_take_focus(self->entry);
  else
    gtk_widget_grab_focus(GTK_WIDGET(self));
}

LzGateKind
lz_round_line_gate(LzRoundLine *self)
{
  return lz_gate_kind(self->gate);
}

gboolean
lz_round_line_is_untouched(LzRoundLine *self)
{
  g_autofree char *bath = lz_round_bath_text(self->bath);
  return self->ask == LZ_ASK_NOTHING && !self->choice && !*bath &&
         !*lz_number_entry_text(self->entry);
}

gboolean
lz_round_line_asks_reason(LzRoundLine *self)
{
  return self->ask == LZ_ASK_SKIP;
}

static gboolean
choose(LzRoundLine *self, int digit)
{
  g_auto(GStrv) words = g_strsplit(self->form->words, "|", -1);
  if (digit < 1 || digit > (int)g_strv_length(words))
    return FALSE;
  g_free(self->choice);
  self->choice = g_strdup(words[digit - 1]);
  lz_round_line_show_choices(self);
  return TRUE;
}

gboolean
lz_round_line_key(LzRoundLine *self, LzPadKey key)
{
  if (!self->row)
    return FALSE;
  switch (key.kind) {
  case LZ_PAD_DIGIT:
    if (self->form->words)
      return choose(self, key.digit);
    if (!gtk_widget_get_visible(GTK_WIDGET(self->entry)))
      return FALSE;
    GtkWidget *next = next_of_bath(self);
    LzNumberEntry *into = next && LZ_IS_NUMBER_ENTRY(next) ? LZ_NUMBER_ENTRY(next) : self->entry;
    lz_number_entry_take_focus(into);
    lz_number_entry_type(into, (char[2]){(char)('0' + key.digit), 0});
    return TRUE;
  case LZ_PAD_ENTER: lz_round_line_submit(self); return TRUE;
  case LZ_PAD_MINUS: lz_round_line_ask(self, LZ_ASK_SKIP); return TRUE;
  default: return FALSE;
  }
}

static void on_bath(gpointer self);

gboolean
lz_round_line_back(LzRoundLine *self)
{
  if (self->alone_now) {
    lz_gate_set(self->gate, LZ_GATE_OPEN, NULL, NULL);
    lz_round_line_end_alone(self);
    return TRUE;
  }
  if (self->ask != LZ_ASK_NOTHING || lz_gate_kind(self->gate) != LZ_GATE_OPEN) {
    gboolean had_first = self->first != NULL;
    lz_gate_set(self->gate, LZ_GATE_OPEN, NULL, NULL);
    lz_round_line_ask(self, LZ_ASK_NOTHING);
    if (had_first)
      lz_number_entry_set_text(self->entry, self->first);
    g_clear_pointer(&self->first, g_free);
    return TRUE;
  }
  g_autofree char *bath = lz_round_bath_text(self->bath);
  if (!*lz_number_entry_text(self->entry) && !*bath)
    return FALSE;
  if (!*lz_number_entry_text(self->entry)) {
    lz_round_bath_set_text(self->bath, "");
    on_bath(self);
  }
  lz_number_entry_set_text(self->entry, "");
  return TRUE;
}

// A press on a choice is its digit.
static void
on_choice_pressed(GtkGestureClick *gesture, int n, double x, double y, LzRoundLine *self)
{
  GtkWidget *grid = GTK_WIDGET(self->choices);
  GtkWidget *picked = gtk_widget_pick(grid, x, y, GTK_PICK_DEFAULT);
  int column = 0, row = 0;
  while (picked && picked != grid && gtk_widget_get_parent(picked) != grid)
    picked = gtk_widget_get_parent(picked);
  if (!self->row || !picked || picked == grid)
    return;
  gtk_grid_query_child(self->choices, picked, &column, &row, NULL, NULL);
  lz_round_line_key(self, (LzPadKey){LZ_PAD_DIGIT, 2 * row + column / 2 + 1, FALSE});
}

static void
on_words_activate(LzRoundLine *self)
{
  lz_round_line_submit(self);
}

static void
on_typed(LzRoundLine *self)
{
  if (self->loading || !self->row)
    return;
  lz_round_line_check(self);
  lz_round_draft_save_soon(self);
}

// Another vessel is another amount.
static void
on_bath(gpointer self)
{
  if (LZ_ROUND_LINE(self)->row)
    lz_round_line_refresh(self);
  on_typed(self);
}

static void
on_enter(gpointer self)
{
  lz_round_line_submit(self);
}

// Taken out of the window, which closes the station next: what was typed is kept before that.
static void
lz_round_line_unroot(GtkWidget *widget)
{
  lz_round_draft_save(LZ_ROUND_LINE(widget));
  GTK_WIDGET_CLASS(lz_round_line_parent_class)->unroot(widget);
}

static void
lz_round_line_dispose(GObject *object)
{
  LzRoundLine *self = LZ_ROUND_LINE(object);
  lz_round_line_set(self, NULL);
  g_clear_pointer(&self->bath, lz_round_bath_free);
  g_clear_handle_id(&self->draft_timer, g_source_remove);
  g_clear_pointer(&self->frame, gtk_widget_unparent);
  G_OBJECT_CLASS(lz_round_line_parent_class)->dispose(object);
}

static void
lz_round_line_class_init(LzRoundLineClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_round_line_dispose;
  widget->unroot = lz_round_line_unroot;
  signals[RECORDED] = g_signal_new("recorded", LZ_TYPE_ROUND_LINE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
  signals[CHANGED] = g_signal_new("changed", LZ_TYPE_ROUND_LINE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
  g_type_ensure(LZ_TYPE_NUMBER_ENTRY);
  g_type_ensure(LZ_TYPE_SIGN);
  g_type_ensure(LZ_TYPE_FOLD);
  g_type_ensure(LZ_TYPE_GATE);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_round_line.ui");
#define CHILD(name) gtk_widget_class_bind_template_child(widget, LzRoundLine, name)
  CHILD(frame);
  CHILD(working_box);
  CHILD(asked_row);
  CHILD(instrument_row);
  CHILD(state);
  CHILD(what);
  CHILD(by);
  CHILD(why);
  CHILD(bottle);
  CHILD(asked);
  CHILD(alone);
  CHILD(age);
  CHILD(basin);
  CHILD(entry);
  CHILD(choices);
  CHILD(working);
  CHILD(working_title);
  CHILD(cautions);
  CHILD(bath_before);
  CHILD(bath_after);
  CHILD(instrument);
  CHILD(words);
  CHILD(gate);
#undef CHILD
  gtk_widget_class_bind_template_callback(widget, on_words_activate);
}

static void
lz_round_line_init(LzRoundLine *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
  gtk_widget_set_focusable(GTK_WIDGET(self), TRUE);
  GtkGesture *press = gtk_gesture_click_new();
  g_signal_connect(press, "pressed", G_CALLBACK(on_choice_pressed), self);
  gtk_widget_add_controller(GTK_WIDGET(self->choices), GTK_EVENT_CONTROLLER(press));
  self->bath = lz_round_bath_new(self->bath_before, self->bath_after, on_bath, on_enter, self);
  g_signal_connect_swapped(self->entry, "changed", G_CALLBACK(on_typed), self);
  g_signal_connect_swapped(self->entry, "activate", G_CALLBACK(lz_round_line_submit), self);
}

static void
on_actor(LzRoundLine *self)
{
  if (self->row && self->ask == LZ_ASK_NOTHING)
    lz_round_line_show_form(self);
}

GtkWidget *
lz_round_line_new(LzDesk *desk)
{
  LzRoundLine *self = g_object_new(LZ_TYPE_ROUND_LINE, NULL);
  self->desk = desk;
  g_autoptr(GtkExpression) title = gtk_property_expression_new(LZ_TYPE_ROW, NULL, "title");
  gtk_drop_down_set_expression(self->instrument, title);
  gtk_drop_down_set_model(self->instrument, lz_desk_instruments(desk));
  lz_access_inner(GTK_WIDGET(self->instrument), _("Instrument"));
  g_signal_connect_object(desk, "notify::actor", G_CALLBACK(on_actor), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET(self);
}
