// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_round_row.h"

#include <glib/gi18n.h>
#include <lz_desk.h>
#include <lz_format.h>

#include "lz_access.h"
#include "lz_chart_model.h"
#include "lz_fresh.h"
#include "lz_lookup.h"
#include "lz_narrow.h"
#include "lz_sign.h"

struct _LzRoundRow {
  GtkWidget parent;
  LzDesk *desk; // not owned: the view that makes rows lives with its desk
  LzTaskRow *row;
  gulong on_changed;
  GtkGrid *grid;
  int n;           // of its columns
  GtkWidget *rest; // in the place of why while that stands below, NULL
  LzSign *knot, *mark, *basin;
  GtkLabel *state, *what, *amount, *by, *why;
  char *said; // all that it says
};

enum { WHAT = 4, WHY = 7 }; // columns

G_DEFINE_FINAL_TYPE(LzRoundRow, lz_round_row, GTK_TYPE_WIDGET)

LzRoundColumns
lz_round_columns_new(void)
{
  GtkSizeGroupMode mode = GTK_SIZE_GROUP_HORIZONTAL;
  return (LzRoundColumns){gtk_size_group_new(mode), gtk_size_group_new(mode),
                          gtk_size_group_new(mode), gtk_size_group_new(mode),
                          gtk_size_group_new(mode)};
}

void
lz_round_columns_clear(LzRoundColumns *columns)
{
  g_clear_object(&columns->state);
  g_clear_object(&columns->where);
  g_clear_object(&columns->what);
  g_clear_object(&columns->amount);
  g_clear_object(&columns->by);
}

lzd_mark
lz_round_state_mark(const LzTaskInfo *info)
{
  static const lzd_mark marks[] = {
      [LZQ_TASK_DUE] = LZD_TASK_DUE,
      [LZQ_TASK_LATE] = LZD_TASK_LATE,
      [LZQ_TASK_BLOCKED] = LZD_TASK_BLOCKED,
      [LZQ_TASK_WAITS] = LZD_TASK_NOT_STARTED,
  };
  if (info->task->because.code == LZQ_BECAUSE_NO_COMMON_BAND)
    return LZD_TASK_CONFLICT;
  return marks[info->task->state];
}

char *
lz_round_state_word(LzDesk *desk, const LzTaskInfo *info)
{
  const lzq_task *task = info->task;
  switch (task->state) {
  case LZQ_TASK_LATE: {
    g_autofree char *for_long = lz_format_duration(MAX(0, lz_desk_now(desk) - task->at));
    // Translators: how long a line of the round is late: "Late 46 min".
    return g_strdup_printf(_("Late %s"), for_long);
  }
  case LZQ_TASK_BLOCKED: return g_strdup(_("Blocked"));
  case LZQ_TASK_WAITS: return g_strdup(_("Waits"));
  default: return g_strdup(_("Due"));
  }
}

char *
lz_round_by(LzDesk *desk, const LzTaskInfo *info)
{
  LzZone *zone = lz_desk_zone(desk);
  lzq_minute at = info->task->at;
  if (at != LZQ_NEVER && lz_zone_day(zone, at) == lz_zone_day(zone, lz_desk_now(desk)))
    return lz_format_clock(zone, at);
  return g_strdup(info->when);
}

void
lz_round_where_set(LzSign *sign, LzDesk *desk, const LzTaskInfo *info)
{
  const lzq_task *task = info->task;
  if (task->kind == LZQ_TASK_CALIBRATE && task->instrument != LZQ_NONE)
    lz_sign_set_instrument(sign, info->where,
                           lz_chart_instrument_mark(desk, task->instrument, NULL), LZD_SIZE_BODY);
  else
    lz_sign_set_basin(
        sign, task->system != LZQ_NONE ? lz_desk_name(desk, "system", task->system) : info->where,
        lz_lookup_water(desk, task->system), LZD_SIZE_BODY);
}

static lzd_knot
knot_of(const LzTaskInfo *info)
{
  if (info->task->state == LZQ_TASK_LATE || info->task->state == LZQ_TASK_BLOCKED)
    return LZD_KNOT_OFF_WALK;
  return info->same_water ? LZD_KNOT_SAME_WATER : LZD_KNOT_NEW_WATER;
}

// Most entries change few lines: one that says the same as before is left as it is.
static gboolean
says_the_same(LzRoundRow *self, const LzTaskInfo *info, const char *name)
{
  char *said = g_strdup_printf("%s|%s|%d|%d|%u|%d", name, info->why, (int)knot_of(info),
                               (int)lz_round_state_mark(info),
                               lz_lookup_water(self->desk, info->task->system), info->n_lots != 0);
  gboolean same = g_strcmp0(said, self->said) == 0;
  g_free(self->said);
  self->said = said;
  return same;
}

static void
make(gpointer data)
{
  LzRoundRow *self = data;
  if (!self->row)
    return;
  const LzTaskInfo *info = lz_task_row_info(self->row);
  g_autofree char *state = lz_round_state_word(self->desk, info);
  g_autofree char *by = lz_round_by(self->desk, info);
  g_autofree char *name =
      g_strdup_printf("%s, %s, %s %s, %s", state, info->where, info->what, info->amount, by);
  gboolean late = info->task->state == LZQ_TASK_LATE;
  if (says_the_same(self, info, name))
    return;
  lz_sign_set_knot(self->knot, knot_of(info));
  lz_sign_set_mark(self->mark, lz_round_state_mark(info), LZD_PLAIN, 16, NULL);
  lz_round_where_set(self->basin, self->desk, info);
  gtk_label_set_label(self->state, state);
  gtk_label_set_label(self->what, info->what);
  gtk_label_set_label(self->amount, info->amount);
  gtk_label_set_label(self->by, by);
  gtk_label_set_label(self->why, info->why);
  gtk_widget_set_tooltip_text(GTK_WIDGET(self->what), info->n_lots ? info->what : NULL);
  gtk_widget_set_tooltip_text(GTK_WIDGET(self->why), info->why);
  if (late)
    gtk_widget_add_css_class(GTK_WIDGET(self->state), "alarm");
  else
    gtk_widget_remove_css_class(GTK_WIDGET(self->state), "alarm");
  gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                 GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, info->why, -1);
  lz_access_row(GTK_WIDGET(self), name, info->why);
}

void
lz_round_row_set(LzRoundRow *self, LzTaskRow *row)
{
  g_return_if_fail(LZ_IS_ROUND_ROW(self));
  if (self->row)
    g_clear_signal_handler(&self->on_changed, self->row);
  g_set_object(&self->row, row);
  if (row) {
    self->on_changed = g_signal_connect_swapped(row, "changed", G_CALLBACK(lz_fresh_old), self);
    lz_fresh_old(self);
  }
}

static GtkLabel *
column(LzRoundRow *self, GtkSizeGroup *group, float xalign, const char *style)
{
  GtkWidget *label = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(label), xalign);
  gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
  if (style)
    gtk_widget_add_css_class(label, style);
  if (group)
    gtk_size_group_add_widget(group, label);
  gtk_grid_attach(self->grid, label, self->n++, 0, 1, 1);
  return GTK_LABEL(label);
}

static LzSign *
sign(LzRoundRow *self, GtkSizeGroup *group)
{
  GtkWidget *widget = lz_sign_new();
  if (group)
    gtk_size_group_add_widget(group, widget);
  gtk_grid_attach(self->grid, widget, self->n++, 0, 1, 1);
  return LZ_SIGN(widget);
}

static void
place(LzRoundRow *self, GtkWidget *widget, int column, int row, int wide, int high)
{
  g_object_ref(widget);
  gtk_grid_remove(self->grid, widget);
  gtk_grid_attach(self->grid, widget, column, row, wide, high);
  g_object_unref(widget);
}

// Why, below what, where there is no room beside it; an empty column keeps the others together.
static void
follow_narrow(GtkWidget *widget, gboolean narrow)
{
  LzRoundRow *self = LZ_ROUND_ROW(widget);
  gboolean is_below = self->rest != NULL;
  if (narrow == is_below)
    return;
  if (narrow) {
    place(self, GTK_WIDGET(self->why), WHAT, 1, WHY - WHAT + 1, 1);
    self->rest = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0);
    gtk_widget_set_hexpand(self->rest, TRUE);
    gtk_grid_attach(self->grid, self->rest, WHY, 0, 1, 1);
  } else {
    gtk_grid_remove(self->grid, self->rest);
    self->rest = NULL;
    place(self, GTK_WIDGET(self->why), WHY, 0, 1, 1);
  }
}

GtkWidget *
lz_round_row_new(LzDesk *desk, const LzRoundColumns *columns)
{
  LzRoundRow *self = g_object_new(LZ_TYPE_ROUND_ROW, NULL);
  self->desk = desk;
  self->knot = sign(self, NULL);
  place(self, GTK_WIDGET(self->knot), 0, 0, 1, 2); // the cord goes on beside a second line
  gtk_widget_set_valign(GTK_WIDGET(self->knot), GTK_ALIGN_FILL);
  gtk_widget_set_margin_end(GTK_WIDGET(self->knot), 6);
  self->mark = sign(self, NULL);
  gtk_widget_set_margin_end(GTK_WIDGET(self->mark), 12);
  self->state = column(self, columns->state, 0, NULL);
  gtk_label_set_width_chars(self->state, 10);
  self->basin = sign(self, columns->where);
  gtk_widget_set_margin_start(GTK_WIDGET(self->basin), 12);
  gtk_widget_set_margin_end(GTK_WIDGET(self->basin), 28);
  self->what = column(self, columns->what, 0, "row-name");
  gtk_label_set_width_chars(self->what, 14);
  gtk_label_set_max_width_chars(self->what, 34);
  self->amount = column(self, columns->amount, 1, "row-name");
  gtk_label_set_ellipsize(self->amount, PANGO_ELLIPSIZE_NONE);
  gtk_widget_set_margin_end(GTK_WIDGET(self->amount), 20);
  self->by = column(self, columns->by, 0, NULL);
  gtk_label_set_ellipsize(self->by, PANGO_ELLIPSIZE_NONE);
  gtk_widget_set_margin_end(GTK_WIDGET(self->by), 24);
  self->why = column(self, NULL, 0, "second");
  gtk_widget_set_hexpand(GTK_WIDGET(self->why), TRUE);
  lz_narrow_follow(GTK_WIDGET(self), follow_narrow);
  return GTK_WIDGET(self);
}

static void
lz_round_row_dispose(GObject *object)
{
  LzRoundRow *self = LZ_ROUND_ROW(object);
  lz_round_row_set(self, NULL);
  if (self->grid)
    gtk_widget_unparent(GTK_WIDGET(self->grid));
  self->grid = NULL;
  g_clear_pointer(&self->said, g_free);
  G_OBJECT_CLASS(lz_round_row_parent_class)->dispose(object);
}

static void
lz_round_row_class_init(LzRoundRowClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_round_row_dispose;
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name(widget, "roundrow");
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
lz_round_row_init(LzRoundRow *self)
{
  self->grid = GTK_GRID(gtk_grid_new());
  gtk_widget_set_parent(GTK_WIDGET(self->grid), GTK_WIDGET(self));
  gtk_widget_add_css_class(GTK_WIDGET(self), "line");
  lz_fresh_keep(self, make);
}
