// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_plan_view.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <lz_rows.h>

#include "lz_fresh.h"
#include "lz_place.h"
#include "lz_ribbon_area.h"
#include "lz_ribbon_legend.h"
#include "lz_sign.h"
#include "lz_text_table.h"
#include "lz_way_list.h"
#include "lz_what_if.h"
#include "lz_working_grid.h"

#define NEXT_SHOWN 12

struct _LzPlanView {
  GtkWidget parent;
  LzDesk *desk;
  GtkWidget *box;
  GtkBox *page;
  GtkLabel *from;
  GtkStack *stack;
  LzRibbonArea *lanes;
  LzTextTable *table;
  GtkBox *conflicts;
  GtkGrid *next;
  LzWhatIf *what_if;
  const LzForesight *drawn; // compared only
  size_t n_records;
  GtkWidget *try, *present;
};

static void place_iface(LzPlaceInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE(LzPlanView, lz_plan_view, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(LZ_TYPE_PLACE, place_iface))

static void
add_conflict(LzPlanView *self, lzd_mark mark, const char *head, const char *why)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 12), *sign = lz_sign_new();
  g_autofree char *text = head ? g_strdup_printf("%s: %s", head, why) : g_strdup(why);
  GtkWidget *label = gtk_label_new(text);
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_widget_set_hexpand(label, TRUE);
  if (mark != LZD_MARK_NONE) {
    lz_sign_set_mark(LZ_SIGN(sign), mark, LZD_PLAIN, 18, NULL);
    gtk_widget_set_valign(sign, GTK_ALIGN_START);
    gtk_box_append(GTK_BOX(row), sign);
  }
  gtk_box_append(GTK_BOX(row), label);
  gtk_box_append(self->conflicts, row);
}

// Below the conflict that they end; how many.
static guint
add_ways_out(LzPlanView *self, uint32_t system, guint first)
{
  GPtrArray *ways = lz_ways_out(self->desk, system);
  guint n = ways->len;
  GtkWidget *list = lz_way_list_new();
  lz_way_list_set(LZ_WAY_LIST(list), self->desk, ways, first);
  gtk_box_append(self->conflicts, list);
  if (n == 0)
    add_conflict(self, LZD_MARK_NONE, NULL,
                 _("No move, change of protocol or stop ends this: ask a veterinarian."));
  return n;
}

static bool
take_way(LzPlanView *self, LzPadKey key)
{
  GtkWidget *child = gtk_widget_get_first_child(GTK_WIDGET(self->conflicts));
  for (; child; child = gtk_widget_get_next_sibling(child))
    if (LZ_IS_WAY_LIST(child) && lz_way_list_key(LZ_WAY_LIST(child), key))
      return true;
  return false;
}

static void
show_conflicts(LzPlanView *self)
{
  GtkWidget *child;
  GListModel *systems = lz_desk_systems(self->desk), *tasks = lz_desk_tasks(self->desk);
  const char *error = lz_desk_plan_error(self->desk);
  guint n = 1; // ways are numbered through
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(self->conflicts))))
    gtk_box_remove(self->conflicts, child);
  if (error)
    add_conflict(self, LZD_TASK_BLOCKED, NULL, error);
  for (guint i = 0; i < g_list_model_get_n_items(systems); i++) {
    g_autoptr(LzSystemRow) row = g_list_model_get_item(systems, i);
    const LzSystemInfo *info = lz_system_row_info(row);
    if (info->why) {
      add_conflict(self, LZD_TASK_CONFLICT, info->name, info->why);
      n += add_ways_out(self, info->index, n);
    }
  }
  for (guint i = 0; i < g_list_model_get_n_items(tasks); i++) {
    g_autoptr(LzTaskRow) row = g_list_model_get_item(tasks, i);
    const LzTaskInfo *info = lz_task_row_info(row);
    if (info->task->state == LZQ_TASK_BLOCKED)
      add_conflict(self, LZD_TASK_BLOCKED, info->what, info->why);
  }
  if (!gtk_widget_get_first_child(GTK_WIDGET(self->conflicts)))
    add_conflict(self, LZD_MARK_NONE, NULL, _("Nothing: every lot's way is free."));
}

static int
soonest_first(gconstpointer a, gconstpointer b)
{
  const LzLotInfo *left = *(const LzLotInfo *const *)a, *right = *(const LzLotInfo *const *)b;
  return left->likely < right->likely ? -1 : left->likely > right->likely;
}

static void
cell(LzPlanView *self, int column, int row, const char *text, const char *style, gboolean expand)
{
  GtkWidget *label = gtk_label_new(text);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
  gtk_label_set_wrap(GTK_LABEL(label), expand); // a species on two lines
  gtk_label_set_lines(GTK_LABEL(label), 2);
  gtk_widget_set_valign(label, GTK_ALIGN_START);
  gtk_widget_set_hexpand(label, expand);
  if (style)
    gtk_widget_add_css_class(label, style);
  gtk_grid_attach(self->next, label, column, row, 1, 1);
}

static void
show_next(LzPlanView *self)
{
  GListModel *lots = lz_desk_lots(self->desk);
  LzZone *zone = lz_desk_zone(self->desk);
  g_autoptr(GPtrArray) known = g_ptr_array_new();
  for (guint i = 0; i < g_list_model_get_n_items(lots); i++) {
    g_autoptr(LzLotRow) row = g_list_model_get_item(lots, i);
    const LzLotInfo *info = lz_lot_row_info(row);
    if (info->living && !info->released && info->likely != LZQ_NEVER)
      g_ptr_array_add(known, (gpointer)info);
  }
  g_ptr_array_sort(known, soonest_first);
  lz_grid_clear(self->next);
  for (guint i = 0; i < MIN(known->len, NEXT_SHOWN); i++) {
    const LzLotInfo *info = g_ptr_array_index(known, i);
    g_autofree char *likely = lz_format_date(zone, info->likely);
    g_autofree char *late = lz_format_date(zone, info->late);
    g_autofree char *latest = g_strdup_printf(C_("deadline", "by %s"), late);
    cell(self, 0, (int)i, info->code, "strong", FALSE);
    cell(self, 1, (int)i, info->species, NULL, TRUE);
    cell(self, 2, (int)i, likely, "strong", FALSE);
    cell(self, 3, (int)i, info->late == LZQ_NEVER || g_strcmp0(likely, late) == 0 ? "" : latest,
         "second", FALSE);
  }
  if (known->len == 0)
    cell(self, 0, 0, _("No date can be said yet."), "second", TRUE);
}

static bool
is_table(LzPlanView *self)
{
  return g_strcmp0(gtk_stack_get_visible_child_name(self->stack), "table") == 0;
}

// Above the lanes: how old the plan is, or what of it is shown.
static void
show_from(LzPlanView *self, const LzForesight *foresight)
{
  g_autofree char *now = lz_format_time(lz_desk_zone(self->desk), lz_desk_now(self->desk));
  g_autofree char *from =
      foresight ? g_strdup_printf(ngettext("What if: %u lot changes; the others stay as planned",
                                           "What if: %u lots change; the others stay as planned",
                                           foresight->lots->len),
                                  foresight->lots->len)
                : g_strdup_printf(_("Present plan, as of %s"), now);
  gtk_label_set_label(self->from, from);
}

static void
refresh(LzPlanView *self)
{
  const LzForesight *foresight = lz_what_if_foresight(self->what_if);
  if (foresight && foresight->lots->len + foresight->conflicts->len == 0)
    foresight = NULL; // nothing to draw but the plan as it is
  LzRibbonModel *model = foresight ? lz_ribbon_model_new_what_if(self->desk, foresight)
                                   : lz_ribbon_model_new(self->desk, LZQ_NONE);
  LzRibbonModel *before = lz_ribbon_area_model(self->lanes);
  gboolean any = lz_ribbon_model_n_ways(model) > 0;
  show_from(self, foresight);
  if (before && lz_ribbon_model_n_ways(before) > 0 && foresight == self->drawn)
    lz_ribbon_model_set_window(model, lz_ribbon_model_window(before));
  lz_text_table_set_rows(self->table, lz_ribbon_model_rows(model));
  lz_ribbon_area_set(self->lanes, model);
  if (!any)
    gtk_stack_set_visible_child_name(self->stack, "empty");
  else if (!is_table(self))
    gtk_stack_set_visible_child_name(self->stack, "drawn");
  self->drawn = foresight;
  show_conflicts(self);
  show_next(self);
}

// What is recorded changes what would be: a what-if does not outlive it.
static void
make(gpointer data)
{
  LzPlanView *self = data;
  size_t n = lz_desk_snapshot(self->desk)->n_records;
  while (n != self->n_records && lz_what_if_foresight(self->what_if))
    lz_what_if_back(self->what_if);
  self->n_records = n;
  refresh(self);
}

static void
open_what_if(LzPlanView *self)
{
  gtk_widget_set_visible(GTK_WIDGET(self->what_if), TRUE);
  gtk_widget_set_visible(self->try, FALSE);
  gtk_widget_set_visible(self->present, FALSE);
  lz_what_if_open(self->what_if, self->desk);
  lz_place_hints_changed(LZ_PLACE(self));
}

static void
on_closed(LzPlanView *self)
{
  gtk_widget_set_visible(GTK_WIDGET(self->what_if), FALSE);
  gtk_widget_set_visible(self->try, TRUE);
  gtk_widget_set_visible(self->present, TRUE);
  gtk_widget_grab_focus(GTK_WIDGET(self->lanes));
  lz_place_hints_changed(LZ_PLACE(self));
}

static void
lz_plan_view_show(LzPlace *place, const char *name)
{
  if (g_str_equal(name, "what-if"))
    open_what_if(LZ_PLAN_VIEW(place));
}

static bool
lz_plan_view_key(LzPlace *place, LzPadKey key)
{
  LzPlanView *self = LZ_PLAN_VIEW(place);
  if (gtk_widget_get_visible(GTK_WIDGET(self->what_if)) && lz_what_if_key(self->what_if, key))
    return true;
  if (!gtk_widget_get_visible(GTK_WIDGET(self->what_if)) && take_way(self, key))
    return true;
  return !is_table(self) && lz_ribbon_area_key(self->lanes, key);
}

static void
lz_plan_view_as_table(LzPlace *place)
{
  LzPlanView *self = LZ_PLAN_VIEW(place);
  gtk_stack_set_visible_child_name(self->stack, is_table(self) ? "drawn" : "table");
  refresh(self);
  if (is_table(self))
    gtk_widget_grab_focus(GTK_WIDGET(self->table));
  lz_place_hints_changed(place);
}

static bool
lz_plan_view_back(LzPlace *place)
{
  bool table = is_table(LZ_PLAN_VIEW(place));
  if (table)
    lz_plan_view_as_table(place);
  return table || lz_what_if_back(LZ_PLAN_VIEW(place)->what_if);
}

static void
lz_plan_view_enter(LzPlace *place)
{
  gtk_widget_grab_focus(GTK_WIDGET(LZ_PLAN_VIEW(place)->lanes));
}

static GPtrArray *
lz_plan_view_hints(LzPlace *place)
{
  LzPlanView *self = LZ_PLAN_VIEW(place);
  GPtrArray *hints = lz_hints_new();
  if (gtk_widget_get_visible(GTK_WIDGET(self->what_if)))
    lz_hints_add(hints, "Esc", _("one step back"), NULL);
  else
    lz_hints_add(hints, _("Insert"), _("what if"), "win.what-if");
  if (!is_table(self)) {
    lz_hints_add(hints, "←→", _("along the days"), "win.pad::right");
    lz_hints_add(hints, "+", _("zoom in"), "win.pad::plus");
    lz_hints_add(hints, "−", _("zoom out"), "win.pad::minus");
  }
  lz_hints_add(hints, "F8", is_table(self) ? _("as drawn") : _("as a table"), "win.as-table");
  lz_hints_add(hints, "/", _("go to"), "win.go-to");
  return hints;
}

static void
place_iface(LzPlaceInterface *iface)
{
  iface->key = lz_plan_view_key;
  iface->back = lz_plan_view_back;
  iface->as_table = lz_plan_view_as_table;
  iface->show = lz_plan_view_show;
  iface->enter = lz_plan_view_enter;
  iface->hints = lz_plan_view_hints;
}

static void
show_lot(LzPlanView *self, uint32_t lot)
{
  if (lot < lz_desk_snapshot(self->desk)->n_lots) // one of a what-if is nowhere yet
    gtk_widget_activate_action(GTK_WIDGET(self), "win.show", "(ss)", "lots",
                               lz_desk_name(self->desk, "lot", lot));
}

static void
on_lane_chosen(LzPlanView *self, guint lot)
{
  show_lot(self, lot);
}

static void
on_row_chosen(LzPlanView *self, gint64 id)
{
  if (id > 0)
    show_lot(self, (uint32_t)(id - 1));
}

GtkWidget *
lz_plan_view_new(LzDesk *desk)
{
  LzPlanView *self = g_object_new(LZ_TYPE_PLAN_VIEW, NULL);
  const char *titles[] = {_("lot"),   _("from"),     _("to"),  _("system"),
                          _("phase"), _("how sure"), _("why"), NULL};
  self->desk = g_object_ref(desk);
  self->n_records = lz_desk_snapshot(desk)->n_records;
  lz_text_table_set_columns(self->table, _("Plan"), titles, 0);
  g_signal_connect_object(self->lanes, "chosen", G_CALLBACK(on_lane_chosen), self,
                          G_CONNECT_SWAPPED);
  g_signal_connect_object(self->table, "chosen", G_CALLBACK(on_row_chosen), self,
                          G_CONNECT_SWAPPED);
  g_signal_connect_object(desk, "changed", G_CALLBACK(lz_fresh_old), self, G_CONNECT_SWAPPED);
  lz_fresh_keep(self, make);
  return GTK_WIDGET(self);
}

static void
lz_plan_view_dispose(GObject *object)
{
  LzPlanView *self = LZ_PLAN_VIEW(object);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_plan_view_parent_class)->dispose(object);
}

static void
lz_plan_view_class_init(LzPlanViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_plan_view_dispose;
  g_type_ensure(LZ_TYPE_RIBBON_AREA);
  g_type_ensure(LZ_TYPE_TEXT_TABLE);
  g_type_ensure(LZ_TYPE_WHAT_IF);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_REGION);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_plan_view.ui");
  gtk_widget_class_bind_template_child(widget, LzPlanView, box);
  gtk_widget_class_bind_template_child(widget, LzPlanView, page);
  gtk_widget_class_bind_template_child(widget, LzPlanView, from);
  gtk_widget_class_bind_template_child(widget, LzPlanView, stack);
  gtk_widget_class_bind_template_child(widget, LzPlanView, lanes);
  gtk_widget_class_bind_template_child(widget, LzPlanView, table);
  gtk_widget_class_bind_template_child(widget, LzPlanView, conflicts);
  gtk_widget_class_bind_template_child(widget, LzPlanView, next);
  gtk_widget_class_bind_template_child(widget, LzPlanView, what_if);
  gtk_widget_class_bind_template_child(widget, LzPlanView, try);
  gtk_widget_class_bind_template_child(widget, LzPlanView, present);
  gtk_widget_class_bind_template_callback(widget, refresh);
  gtk_widget_class_bind_template_callback(widget, on_closed);
}

static void
lz_plan_view_init(LzPlanView *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
  gtk_box_append(self->page, lz_ribbon_legend_new());
}
