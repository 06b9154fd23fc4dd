// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_cost.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <math.h>
#include <stdlib.h>

#include "lz_sign.h"
#include "lz_working_grid.h"

struct _LzCost {
  GtkWidget parent;
  GtkWidget *box;
  GtkLabel *sum, *notes;
  GtkGrid *grid;
  GtkBox *conflicts, *rooms;
  guint n_rooms;
};

G_DEFINE_FINAL_TYPE(LzCost, lz_cost, GTK_TYPE_WIDGET)

static guint room_signal;

char *
lz_cost_days(const LzShift *shift)
{
  if (shift->added)
    return g_strdup(_("new"));
  if (shift->after == LZQ_NEVER)
    return g_strdup(_("no date any more"));
  if (shift->before == LZQ_NEVER)
    return g_strdup(_("has a date now"));
  int64_t minutes = llabs(shift->later_min);
  g_autofree char *span = NULL;
  if (minutes >= LZQ_DAY) {
    g_autofree char *days = lz_format_short((double)minutes / LZQ_DAY, 1);
    span = g_strdup_printf(ngettext("%s day", "%s days", minutes == LZQ_DAY ? 1 : 2), days);
  } else {
    span = lz_format_duration(minutes);
  }
  return g_strdup_printf(shift->later_min < 0 ? _("%s sooner") : _("%s later"), span);
}

static char *
fish_days(double value)
{
  g_autofree char *number = lz_format_number(value, fabs(value) < 10 ? 1 : 0);
  return g_strdup_printf(_("%s fish-days"), number);
}

gboolean
lz_cost_touches_others(const LzForesight *foresight, const char *const *own)
{
  gboolean others = foresight->conflicts->len > 0;
  for (guint i = 0; i < foresight->lots->len && !others; i++) {
    const LzShift *shift = g_ptr_array_index(foresight->lots, i);
    others = !shift->added && !(own && g_strv_contains(own, shift->lot));
  }
  return others;
}

// "Lot A: Mon 31 May → Fri 11 Jun, 11 days later × 140 fish = 1 540 fish-days; held by lot B".
static char *
line_of(LzDesk *desk, const LzShift *shift)
{
  g_autofree char *before = lz_format_date(lz_desk_zone(desk), shift->before);
  g_autofree char *after = lz_format_date(lz_desk_zone(desk), shift->after);
  g_autofree char *days = lz_cost_days(shift);
  g_autofree char *cost = fish_days(shift->fish_days);
  if (shift->added)
    return g_strdup_printf(_("Lot %1$s, new: %2$s; %3$s"), shift->lot, after, shift->because);
  if (shift->later_min == 0)
    return g_strdup_printf(_("Lot %1$s: %2$s, was %3$s; %4$s"), shift->lot, days, before,
                           shift->because);
  // Translators: lot; date before, date after; "11 days later"; fish; "1 540 fish-days"; reason
  return g_strdup_printf(_("Lot %1$s: %2$s → %3$s, %4$s × %5$d fish = %6$s; %7$s"), shift->lot,
                         before, after, days, shift->heads, cost, shift->because);
}

char *
lz_cost_sentence(LzDesk *desk, const LzForesight *foresight)
{
  GString *out = g_string_new(NULL);
  for (guint i = 0; i < foresight->lots->len; i++) {
    g_autofree char *line = line_of(desk, g_ptr_array_index(foresight->lots, i));
    g_string_append_printf(out, "%s%s.", out->len ? " " : "", line);
  }
  for (guint i = 0; i < foresight->conflicts->len; i++) {
    g_string_append(out, out->len ? " " : "");
    g_string_append_printf(out, _("No level serves all lots in %s any more."),
                           (const char *)g_ptr_array_index(foresight->conflicts, i));
  }
  if (!out->len)
    g_string_append(out, _("No other date moves."));
  return g_string_free(out, FALSE);
}

static GtkWidget *
cell(LzCost *self, int column, int row, int width, const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new(text);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_widget_set_valign(label, GTK_ALIGN_START);
  if (style)
    gtk_widget_add_css_class(label, style);
  gtk_grid_attach(self->grid, label, column, row, width, 1);
  return label;
}

// A side column gives the width itself.
static void
wrap(GtkWidget *label, gboolean narrow)
{
  gtk_label_set_width_chars(GTK_LABEL(label), narrow ? -1 : 44);
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  gtk_label_set_max_width_chars(GTK_LABEL(label), 44);
  gtk_widget_set_hexpand(label, TRUE);
}

static void
fill_head(LzCost *self, gboolean narrow)
{
  cell(self, 0, 0, 1, _("lot"), "axis");
  cell(self, 1, 0, 1, _("released was"), "axis");
  cell(self, 2, 0, 1, _("becomes"), "axis");
  cell(self, 3, 0, 1, _("days"), "axis");
  if (!narrow) {
    cell(self, 4, 0, 1, _("cost"), "axis");
    cell(self, 5, 0, 1, _("why"), "axis");
  }
}

static int
fill_row(LzCost *self, LzDesk *desk, const LzShift *shift, int row, gboolean narrow)
{
  g_autofree char *before = lz_format_date(lz_desk_zone(desk), shift->before);
  g_autofree char *after = lz_format_date(lz_desk_zone(desk), shift->after);
  g_autofree char *days = lz_cost_days(shift);
  g_autofree char *cost =
      shift->added || shift->later_min == 0 ? g_strdup("") : fish_days(shift->fish_days);
  g_autofree char *priced = *cost ? g_strdup_printf("%s; %s", cost, shift->because) : NULL;
  g_autofree char *line = line_of(desk, shift);
  GtkWidget *name = cell(self, 0, row, 1, shift->lot, "strong");
  cell(self, 1, row, 1, shift->added ? "–" : before, NULL);
  cell(self, 2, row, 1, after, "strong");
  cell(self, 3, row, 1, days, NULL);
  if (narrow) {
    wrap(cell(self, 0, ++row, 4, priced ? priced : shift->because, "second"), narrow);
  } else {
    cell(self, 4, row, 1, cost, "strong");
    wrap(cell(self, 5, row, 1, shift->because, "second"), narrow);
  }
  gtk_accessible_update_property(GTK_ACCESSIBLE(name), GTK_ACCESSIBLE_PROPERTY_LABEL, line, -1);
  return row + 1;
}

static void
clear(GtkBox *box)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(box))))
    gtk_box_remove(box, child);
}

static void
fill_conflicts(LzCost *self, const LzForesight *foresight)
{
  clear(self->conflicts);
  for (guint i = 0; i < foresight->conflicts->len; i++) {
    GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 12), *sign = lz_sign_new();
    g_autofree char *text = g_strdup_printf(_("No level serves all lots in %s any more."),
                                            (char *)g_ptr_array_index(foresight->conflicts, i));
    GtkWidget *label = gtk_label_new(text);
    lz_sign_set_mark(LZ_SIGN(sign), LZD_TASK_CONFLICT, LZD_PLAIN, 18, NULL);
    gtk_label_set_wrap(GTK_LABEL(label), TRUE);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_widget_add_css_class(label, "alarm");
    gtk_widget_add_css_class(label, "strong");
    gtk_box_append(GTK_BOX(row), sign);
    gtk_box_append(GTK_BOX(row), label);
    gtk_box_append(self->conflicts, row);
  }
}

static void
on_room(GtkButton *button, LzCost *self)
{
  g_autofree char *room = g_strdup(g_object_get_data(G_OBJECT(button), "room"));
  g_signal_emit(self, room_signal, 0, room);
}

// First, since nobody waits there.
static void
fill_rooms(LzCost *self, const LzForesight *foresight)
{
  clear(self->rooms);
  self->n_rooms = foresight->rooms->len;
  gtk_widget_set_visible(GTK_WIDGET(self->rooms), self->n_rooms > 0);
  if (!self->n_rooms)
    return;
  GtkWidget *label = gtk_label_new(_("Delays nobody, and holds no fish:"));
  gtk_box_append(self->rooms, label);
  for (guint i = 0; i < foresight->rooms->len; i++) {
    const char *room = g_ptr_array_index(foresight->rooms, i);
    g_autofree char *text = g_strdup_printf(_("%s instead"), room);
    GtkWidget *button = gtk_button_new_with_label(text);
    g_object_set_data_full(G_OBJECT(button), "room", g_strdup(room), g_free);
    g_signal_connect(button, "clicked", G_CALLBACK(on_room), self);
    gtk_box_append(self->rooms, button);
  }
}

void
lz_cost_set(LzCost *self, LzDesk *desk, const LzForesight *foresight, gboolean narrow)
{
  g_return_if_fail(LZ_IS_COST(self));
  int row = 1;
  lz_grid_clear(self->grid);
  fill_rooms(self, foresight);
  fill_conflicts(self, foresight);
  gtk_widget_set_visible(GTK_WIDGET(self->grid), foresight->lots->len > 0);
  fill_head(self, narrow);
  for (guint i = 0; i < foresight->lots->len; i++)
    row = fill_row(self, desk, g_ptr_array_index(foresight->lots, i), row, narrow);
  g_autofree char *sum = fish_days(foresight->fish_days);
  g_autofree char *text = foresight->lots->len == 0 ? g_strdup(_("No date moves."))
                                                    : g_strdup_printf(_("All together %s."), sum);
  gtk_label_set_label(self->sum, text);
  gtk_widget_set_visible(GTK_WIDGET(self->sum),
                         foresight->lots->len == 0 || fabs(foresight->fish_days) > 0);
  g_ptr_array_add(foresight->notes, NULL);
  g_autofree char *notes = g_strjoinv("\n", (char **)foresight->notes->pdata);
  g_ptr_array_remove_index(foresight->notes, foresight->notes->len - 1);
  gtk_label_set_label(self->notes, notes);
  gtk_widget_set_visible(GTK_WIDGET(self->notes), *notes != 0);
  g_autofree char *sentence = lz_cost_sentence(desk, foresight);
  gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, sentence, -1);
}

guint
lz_cost_n_rooms(LzCost *self)
{
  return self->n_rooms;
}

static void
lz_cost_dispose(GObject *object)
{
  g_clear_pointer(&LZ_COST(object)->box, gtk_widget_unparent);
  G_OBJECT_CLASS(lz_cost_parent_class)->dispose(object);
}

static void
lz_cost_class_init(LzCostClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_cost_dispose;
  room_signal = g_signal_new("room", LZ_TYPE_COST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                             G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
lz_cost_init(LzCost *self)
{
  self->box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  self->rooms = GTK_BOX(gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 12));
  self->conflicts = GTK_BOX(gtk_box_new(GTK_ORIENTATION_VERTICAL, 6));
  self->grid = GTK_GRID(gtk_grid_new());
  self->sum = GTK_LABEL(gtk_label_new(NULL));
  gtk_grid_set_column_spacing(self->grid, 20);
  gtk_grid_set_row_spacing(self->grid, 4);
  gtk_label_set_xalign(self->sum, 0);
  gtk_widget_add_css_class(GTK_WIDGET(self->sum), "strong");
  gtk_box_append(GTK_BOX(self->box), GTK_WIDGET(self->rooms));
  gtk_box_append(GTK_BOX(self->box), GTK_WIDGET(self->conflicts));
  gtk_box_append(GTK_BOX(self->box), GTK_WIDGET(self->grid));
  gtk_box_append(GTK_BOX(self->box), GTK_WIDGET(self->sum));
  self->notes = GTK_LABEL(gtk_label_new(NULL));
  gtk_label_set_xalign(self->notes, 0);
  gtk_label_set_wrap(self->notes, TRUE);
  gtk_box_append(GTK_BOX(self->box), GTK_WIDGET(self->notes));
  gtk_widget_set_parent(self->box, GTK_WIDGET(self));
}

GtkWidget *
lz_cost_new(void)
{
  return g_object_new(LZ_TYPE_COST, NULL);
}
