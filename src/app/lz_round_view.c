// SPDX-License-Identifier: GPL-3.0-or-later
// Two lists with the open line between them, over one model of the desk: there is one number field
// on the page, and no row has to keep a state of its own.
#include "lz_round_view.h"

#include <glib/gi18n.h>
#include <lz_format.h>

#include "lz_fresh.h"
#include "lz_place.h"
#include "lz_record.h"
#include "lz_reveal.h"
#include "lz_round_line.h"
#include "lz_round_find.h"
#include "lz_round_lists.h"
#include "lz_round_row.h"
#include "lz_sign.h"

#define AFTER_SHOWN 60

struct _LzRoundView {
  GtkWidget parent;
  LzDesk *desk;
  GListModel *tasks; // the desk's
  guint at;          // the open line; equals n_items where there is none
  char *key;         // of the open line, to find it again
  GHashTable *known; // keys of all lines when last looked at
  char *fresh;       // key of a line that came up due before the open one, NULL
  LzRoundColumns group;
  GtkSliceListModel *slice_before, *slice_after;
  GtkWidget *box, *columns, *open_box, *done_box;
  GtkLabel *title, *n_done, *n_first, *n_to_go, *more, *earlier, *empty;
  GtkStack *stack;
  GtkScrolledWindow *scroll;
  GtkListView *before, *after, *done;
  LzSign *now_knot;
  LzRoundLine *line;
};

static void place_iface(LzPlaceInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE(LzRoundView, lz_round_view, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(LZ_TYPE_PLACE, place_iface))

static guint
n_tasks(LzRoundView *self)
{
  return g_list_model_get_n_items(self->tasks);
}

// A gate is read first, in all the room that there is.
static void
show_done(LzRoundView *self)
{
  gtk_widget_set_visible(self->done_box, g_list_model_get_n_items(lz_desk_done(self->desk)) > 0 &&
                                             lz_round_line_gate(self->line) == LZ_GATE_OPEN);
}

static void
on_line_changed(LzRoundView *self)
{
  show_done(self);
  lz_place_hints_changed(LZ_PLACE(self));
}

static void
open_line(LzRoundView *self, guint at)
{
  guint n = n_tasks(self);
  g_autoptr(LzTaskRow) row = at < n ? g_list_model_get_item(self->tasks, at) : NULL;
  self->at = row ? at : n;
  g_free(self->key);
  self->key = row ? g_strdup(lz_row_key(LZ_ROW(row))) : NULL;
  gtk_slice_list_model_set_size(self->slice_before, self->at);
  gtk_slice_list_model_set_offset(self->slice_after, self->at + 1);
  lz_round_line_set(self->line, row);
  gtk_widget_set_visible(self->open_box, row != NULL);
  lz_reveal(self->scroll, self->open_box);
  guint shown = self->at + 1 + AFTER_SHOWN;
  g_autofree char *more =
      n > shown ? g_strdup_printf(ngettext("%u more line", "%u more lines", n - shown), n - shown)
                : g_strdup("");
  gtk_label_set_label(self->more, more);
  on_line_changed(self);
}

static void
show_counts(LzRoundView *self)
{
  guint first = 0, n = n_tasks(self), done = g_list_model_get_n_items(lz_desk_done(self->desk));
  for (guint i = 0; i < n; i++) {
    g_autoptr(LzTaskRow) row = g_list_model_get_item(self->tasks, i);
    lzq_task_state state = lz_task_row_info(row)->task->state;
    first += state == LZQ_TASK_LATE || state == LZQ_TASK_BLOCKED;
  }
  g_autofree char *n_done = g_strdup_printf(ngettext("%u done", "%u done", done), done);
  g_autofree char *n_first =
      first ? g_strdup_printf(ngettext("%u needs you first", "%u need you first", first), first)
            : g_strdup("");
  g_autofree char *to_go = g_strdup_printf(ngettext("%u to go", "%u to go", n - first), n - first);
  gtk_label_set_label(self->title, lz_round_title(self->desk));
  gtk_label_set_label(self->n_done, n_done);
  gtk_label_set_label(self->n_first, n_first);
  gtk_label_set_label(self->n_to_go, to_go);
  show_done(self);
}

static void
show_empty(LzRoundView *self)
{
  GListModel *done = lz_desk_done(self->desk);
  g_autoptr(LzDoneRow) last = g_list_model_get_item(done, 0);
  const char *error = lz_desk_plan_error(self->desk);
  g_autofree char *text = NULL;
  if (error)
    text = g_strdup(error);
  else if (last)
    text = g_strdup_printf(_("Nothing to do now. Last done %s by %s."),
                           lz_done_row_info(last)->when, lz_done_row_info(last)->who);
  else
    text = g_strdup(_("Nothing to do now. The round fills itself once a lot has a protocol."));
  gtk_label_set_label(self->empty, text);
  gtk_stack_set_visible_child_name(self->stack, n_tasks(self) ? "lines" : "empty");
  gtk_widget_set_visible(self->columns, n_tasks(self) > 0);
}

// A line that an entry has called for, due now and standing before the open one: the dose after a
// change. It opens when the person comes back to the round, never under hands that type.
static void
note_fresh(LzRoundView *self)
{
  GHashTable *now = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < n_tasks(self); i++) {
    g_autoptr(LzTaskRow) row = g_list_model_get_item(self->tasks, i);
    const char *key = lz_row_key(LZ_ROW(row));
    if (self->known && i < self->at && !g_hash_table_contains(self->known, key) && !self->fresh &&
        lz_round_is_due(lz_task_row_info(row)->task, lz_desk_now(self->desk)))
      self->fresh = g_strdup(key);
    g_hash_table_add(now, g_strdup(key));
  }
  g_clear_pointer(&self->known, g_hash_table_unref);
  self->known = now;
}

static void
open_fresh(LzRoundView *self)
{
  g_autofree char *key = g_steal_pointer(&self->fresh);
  guint at = lz_round_find(self->tasks, key);
  if (at < self->at && lz_round_line_is_untouched(self->line))
    open_line(self, at);
}

static void
make(gpointer data)
{
  LzRoundView *self = data;
  guint at = lz_round_find(self->tasks, self->key);
  if (at == GTK_INVALID_LIST_POSITION)
    at = self->key && self->at < n_tasks(self) ? self->at : lz_round_first_doable(self->tasks);
  open_line(self, at);
  show_counts(self);
  show_empty(self);
}

// Where the open line stands, and what came up before it, is followed also while nobody looks.
static void
refresh(LzRoundView *self)
{
  guint at = lz_round_find(self->tasks, self->key);
  self->at = at == GTK_INVALID_LIST_POSITION ? self->at : at;
  note_fresh(self);
  lz_fresh_old(self);
}

static void
walk(LzRoundView *self, int by)
{
  guint n = n_tasks(self);
  if (n == 0)
    return;
  open_line(self, (guint)CLAMP((int)self->at + by, 0, (int)n - 1));
  lz_round_line_take_focus(self->line);
}

// After an entry the desk has taken the line away, and the next one stands under the cursor.
static void
on_recorded(LzRoundView *self)
{
  refresh(self);
  open_fresh(self);
  lz_round_line_take_focus(self->line);
}

static bool
lz_round_view_key(LzPlace *place, LzPadKey key)
{
  LzRoundView *self = LZ_ROUND_VIEW(place);
  switch (key.kind) {
  case LZ_PAD_UP: walk(self, -1); return true;
  case LZ_PAD_DOWN: walk(self, 1); return true;
  case LZ_PAD_PLUS: return lz_record_repeat(GTK_WIDGET(self), self->desk);
  default: return lz_round_line_key(self->line, key);
  }
}

static bool
lz_round_view_back(LzPlace *place)
{
  return lz_round_line_back(LZ_ROUND_VIEW(place)->line);
}

static void
lz_round_view_enter(LzPlace *place)
{
  LzRoundView *self = LZ_ROUND_VIEW(place);
  open_fresh(self);
  if (n_tasks(self))
    lz_round_line_take_focus(self->line);
  else
    gtk_widget_grab_focus(GTK_WIDGET(self->empty)); // read out, and keys reach the place
}

static void
lz_round_view_show(LzPlace *place, const char *name)
{
  LzRoundView *self = LZ_ROUND_VIEW(place);
  for (guint i = 0; i < n_tasks(self); i++) {
    g_autoptr(LzTaskRow) row = g_list_model_get_item(self->tasks, i);
    if (g_str_has_prefix(lz_task_row_info(row)->where, name)) {
      open_line(self, i);
      return;
    }
  }
}

static GPtrArray *
lz_round_view_hints(LzPlace *place)
{
  LzRoundView *self = LZ_ROUND_VIEW(place);
  GPtrArray *hints = lz_hints_new();
  if (lz_round_line_row(self->line)) {
    LzGateKind gate = lz_round_line_gate(self->line);
    if (gate == LZ_GATE_STOP)
      lz_hints_add(hints, "0–9", _("type it again"), NULL);
    else
      lz_hints_add(hints, "Enter",
                   lz_round_line_asks_reason(self->line) ? _("record the reason")
                                                         : _("record, next line"),
                   "win.pad::enter");
    lz_hints_add(hints, "↑↓", _("other line"), "win.pad::down");
    if (!lz_round_line_asks_reason(self->line))
      lz_hints_add(hints, "−", _("cannot do it"), "win.pad::minus");
  }
  lz_hints_add(hints, "+", _("read again"), "win.pad::plus");
  lz_hints_add(hints, "*", _("I see something"), "win.see");
  lz_hints_add(hints, "/", _("go to tank or lot"), "win.go-to");
  lz_hints_add(hints, _("Ctrl B"), _("receive boxes"), "win.receive");
  return hints;
}

static const char *
lz_round_view_subject(LzPlace *place, const char *kind)
{
  return lz_round_line_subject(LZ_ROUND_VIEW(place)->line, kind);
}

static void
place_iface(LzPlaceInterface *iface)
{
  iface->subject = lz_round_view_subject;
  iface->key = lz_round_view_key;
  iface->back = lz_round_view_back;
  iface->enter = lz_round_view_enter;
  iface->show = lz_round_view_show;
  iface->hints = lz_round_view_hints;
}

static void
on_before_activate(LzRoundView *self, guint position)
{
  open_line(self, position);
  lz_round_line_take_focus(self->line);
}

static void
on_after_activate(LzRoundView *self, guint position)
{
  open_line(self, self->at + 1 + position);
  lz_round_line_take_focus(self->line);
}

static void
on_done_activate(LzRoundView *self, guint position)
{
  g_autoptr(LzDoneRow) row = g_list_model_get_item(lz_desk_done(self->desk), position);
  gtk_widget_activate_action(GTK_WIDGET(self), "win.ledger-at", "x", lz_done_row_info(row)->id);
}

GtkWidget *
lz_round_view_new(LzDesk *desk)
{
  LzRoundView *self = g_object_new(LZ_TYPE_ROUND_VIEW, NULL);
  self->desk = g_object_ref(desk);
  self->tasks = lz_desk_tasks(desk);
  self->slice_before = gtk_slice_list_model_new(g_object_ref(self->tasks), 0, 0);
  self->slice_after = gtk_slice_list_model_new(g_object_ref(self->tasks), 0, AFTER_SHOWN);
  self->line = LZ_ROUND_LINE(lz_round_line_new(desk));
  gtk_widget_set_hexpand(GTK_WIDGET(self->line), TRUE);
  gtk_box_append(GTK_BOX(self->open_box), GTK_WIDGET(self->line));
  lz_reveal_keep(self->scroll, self->open_box);
  lz_sign_set_knot(self->now_knot, LZD_KNOT_NOW);
  lz_round_list_fill(self->before, desk, &self->group, G_LIST_MODEL(self->slice_before));
  lz_round_list_fill(self->after, desk, &self->group, G_LIST_MODEL(self->slice_after));
  lz_done_list_fill(self->done, lz_desk_done(desk), self->earlier);
  lz_round_heads_fill(GTK_BOX(self->columns), &self->group);
  g_signal_connect_object(self->line, "recorded", G_CALLBACK(on_recorded), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(self->line, "changed", G_CALLBACK(on_line_changed), self,
                          G_CONNECT_SWAPPED);
  g_signal_connect_object(desk, "changed", G_CALLBACK(refresh), self, G_CONNECT_SWAPPED);
  note_fresh(self);
  lz_fresh_keep(self, make);
  return GTK_WIDGET(self);
}

static void
lz_round_view_dispose(GObject *object)
{
  LzRoundView *self = LZ_ROUND_VIEW(object);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  g_clear_object(&self->slice_before);
  g_clear_object(&self->slice_after);
  lz_round_columns_clear(&self->group);
  g_clear_pointer(&self->key, g_free);
  g_clear_pointer(&self->fresh, g_free);
  g_clear_pointer(&self->known, g_hash_table_unref);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_round_view_parent_class)->dispose(object);
}

static void
lz_round_view_class_init(LzRoundViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_round_view_dispose;
  g_type_ensure(LZ_TYPE_SIGN);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_REGION);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_round_view.ui");
#define CHILD(name) gtk_widget_class_bind_template_child(widget, LzRoundView, name)
  CHILD(box);
  CHILD(columns);
  CHILD(open_box);
  CHILD(done_box);
  CHILD(title);
  CHILD(n_done);
  CHILD(n_first);
  CHILD(n_to_go);
  CHILD(more);
  CHILD(earlier);
  CHILD(empty);
  CHILD(stack);
  CHILD(scroll);
  CHILD(before);
  CHILD(after);
  CHILD(done);
  CHILD(now_knot);
#undef CHILD
  gtk_widget_class_bind_template_callback(widget, on_before_activate);
  gtk_widget_class_bind_template_callback(widget, on_after_activate);
  gtk_widget_class_bind_template_callback(widget, on_done_activate);
}

static void
lz_round_view_init(LzRoundView *self)
{
  self->group = lz_round_columns_new();
  gtk_widget_init_template(GTK_WIDGET(self));
}
