// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_water_view.h"

#include <glib/gi18n.h>
#include <lz_words.h>

#include "lz_chart.h"
#include "lz_chart_menu.h"
#include "lz_fresh.h"
#include "lz_lookup.h"
#include "lz_place.h"
#include "lz_record.h"
#include "lz_panes.h"
#include "lz_seen_view.h"
#include "lz_sign.h"
#include "lz_text_table.h"
#include "lz_water_head.h"
#include "lz_water_state.h"

struct _LzWaterView {
  GtkWidget parent;
  LzDesk *desk;
  char *system; // name of the one shown
  GtkWidget *box;
  GtkBox *systems;
  GtkLabel *title, *subtitle, *why;
  LzSign *cells;
  GtkStack *stack;
  LzChart *chart;
  LzChartMenu *chart_menu;
  LzTextTable *table;
  LzSeenView *seen;
  GtkWidget *alarm; // strip above the chart that leads back to the sighting
  GtkLabel *alarm_words;
  LzWaterState *state;
  gboolean filling;
};

static void place_iface(LzPlaceInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE(LzWaterView, lz_water_view, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(LZ_TYPE_PLACE, place_iface))

static gboolean
is_page(LzWaterView *self, const char *page)
{
  return g_strcmp0(gtk_stack_get_visible_child_name(self->stack), page) == 0;
}

static const LzSystemInfo *
shown(LzWaterView *self)
{
  return lz_water_shown(self->desk, self->system);
}

static void
load(LzWaterView *self, const LzSystemInfo *system, gboolean reset)
{
  lzd_window window = lz_chart_window(self->chart), whole;
  lzq_minute from, to;
  lz_chart_data_span(self->desk, system->index, &from, &to);
  whole = (lzd_window){from, to};
  if (!reset && window.from < window.to) { // as much again on either side, for panning on
    lzd_minute wide = window.to - window.from;
    whole.from = window.from < whole.from ? window.from - wide : whole.from;
    whole.to = window.to > whole.to ? window.to + wide : whole.to;
  }
  LzChartModel *model = lz_chart_model_new(self->desk, system->index, whole.from, whole.to,
                                           lz_chart_menu_choice(self->chart_menu));
  lz_chart_set_model(self->chart, model, whole, reset);
  lz_text_table_set_rows(self->table, lz_chart_model_rows(model));
  lz_water_state_set(self->state, self->desk, system->index, model);
}

static void
show_page(LzWaterView *self, const char *page)
{
  gtk_stack_set_visible_child_name(self->stack, page);
  gtk_widget_set_visible(self->alarm, lz_seen_view_words(self->seen) && !is_page(self, "seen"));
  lz_place_hints_changed(LZ_PLACE(self));
}

// An unanswered sighting stands in front of the chart when its water is opened.
static void
show_seen(LzWaterView *self, const LzSystemInfo *system, gboolean reset)
{
  gboolean open = lz_seen_view_set(self->seen, self->desk, system->index);
  gtk_label_set_label(self->alarm_words, open ? lz_seen_view_words(self->seen) : "");
  if (open && reset)
    show_page(self, "seen");
  else if (!open && is_page(self, "seen"))
    show_page(self, "chart");
  else
    gtk_widget_set_visible(self->alarm, open && !is_page(self, "seen"));
}

static void
show_system(LzWaterView *self, gboolean reset)
{
  const LzSystemInfo *system = shown(self);
  if (!system) {
    gtk_stack_set_visible_child_name(self->stack, "empty");
    return;
  }
  if (is_page(self, "empty"))
    gtk_stack_set_visible_child_name(self->stack, "chart");
  g_autofree char *course = lz_water_courses(self->desk, system);
  g_autofree char *subtitle = lz_water_burden(system);
  g_autofree char *title = g_strdup_printf("%s: %s", system->name, course);
  gtk_label_set_label(self->title, title);
  gtk_label_set_label(self->subtitle, subtitle);
  gtk_label_set_label(self->why, system->why ? system->why : "");
  gtk_widget_set_visible(GTK_WIDGET(self->why), system->why != NULL);
  lz_water_cells(self->cells, self->desk, system);
  lz_chart_menu_set_system(self->chart_menu, system->index);
  load(self, system, reset);
  show_seen(self, system, reset);
}

static void
on_system(GtkToggleButton *button, LzWaterView *self)
{
  if (self->filling || !gtk_toggle_button_get_active(button))
    return;
  g_free(self->system);
  self->system = g_strdup(g_object_get_data(G_OBJECT(button), "system"));
  show_system(self, TRUE);
  lz_place_hints_changed(LZ_PLACE(self));
}

static void
fill_systems(LzWaterView *self)
{
  self->filling = TRUE;
  lz_water_fill_systems(self->systems, self->desk, shown(self), G_CALLBACK(on_system), self);
  self->filling = FALSE;
}

static void
make(gpointer data)
{
  LzWaterView *self = data;
  fill_systems(self);
  show_system(self, lz_chart_model(self->chart) == NULL);
}

static void
on_reload(LzWaterView *self, gint64 from, gint64 to)
{
  const LzSystemInfo *system = shown(self);
  if (system && !self->filling) {
    self->filling = TRUE; // the chart asks while it is being changed
    load(self, system, FALSE);
    self->filling = FALSE;
  }
}

static void
on_choice(LzWaterView *self)
{
  const LzSystemInfo *system = shown(self);
  if (system)
    load(self, system, FALSE);
}

static void
choose(LzWaterView *self, guint n)
{
  GtkWidget *button = gtk_widget_get_first_child(GTK_WIDGET(self->systems));
  while (button && --n)
    button = gtk_widget_get_next_sibling(button);
  if (button)
    gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(button), TRUE);
}

static bool
lz_water_view_key(LzPlace *place, LzPadKey key)
{
  LzWaterView *self = LZ_WATER_VIEW(place);
  const LzSystemInfo *system = shown(self);
  if (!system)
    return false;
  if (is_page(self, "seen") && key.kind == LZ_PAD_DIGIT)
    return lz_seen_view_key(self->seen, key);
  if (key.kind == LZ_PAD_DIGIT && key.digit > 0) {
    choose(self, (guint)key.digit);
    return true;
  }
  if (key.kind == LZ_PAD_ENTER) {
    lz_record_open(GTK_WIDGET(self), "reading", "system", system->name, NULL);
    return true;
  }
  if (key.kind == LZ_PAD_STAR) {
    lz_record_open(GTK_WIDGET(self), "sighting", "system", system->name, NULL);
    return true;
  }
  return !is_page(self, "table") && lz_chart_key(self->chart, key);
}

static void
show_chart(LzWaterView *self)
{
  show_page(self, "chart");
  gtk_widget_grab_focus(GTK_WIDGET(self->chart));
}

static void
on_alarm(LzWaterView *self)
{
  show_page(self, "seen");
  gtk_widget_child_focus(GTK_WIDGET(self->seen), GTK_DIR_TAB_FORWARD);
}

static bool
lz_water_view_back(LzPlace *place)
{
  LzWaterView *self = LZ_WATER_VIEW(place);
  if (is_page(self, "table") || is_page(self, "seen")) {
    show_chart(self);
    return true;
  }
  return lz_chart_clear_cursor(self->chart);
}

static void
lz_water_view_as_table(LzPlace *place)
{
  LzWaterView *self = LZ_WATER_VIEW(place);
  show_page(self, is_page(self, "table") ? "chart" : "table");
  gtk_widget_grab_focus(is_page(self, "table") ? GTK_WIDGET(self->table) : GTK_WIDGET(self->chart));
}

static void
lz_water_view_show(LzPlace *place, const char *name)
{
  LzWaterView *self = LZ_WATER_VIEW(place);
  g_auto(GStrv) parts = g_strsplit(name, "/", 2);
  g_free(self->system);
  self->system = g_strdup(parts[0]);
  fill_systems(self);
  show_system(self, TRUE);
  if (is_page(self, "seen"))
    gtk_widget_child_focus(GTK_WIDGET(self->seen), GTK_DIR_TAB_FORWARD);
}

static void
lz_water_view_enter(LzPlace *place)
{
  LzWaterView *self = LZ_WATER_VIEW(place);
  if (is_page(self, "seen"))
    gtk_widget_child_focus(GTK_WIDGET(self->seen), GTK_DIR_TAB_FORWARD);
  else
    gtk_widget_grab_focus(GTK_WIDGET(self->chart));
}

static GPtrArray *
lz_water_view_hints(LzPlace *place)
{
  LzWaterView *self = LZ_WATER_VIEW(place);
  GPtrArray *hints = lz_hints_new();
  if (is_page(self, "seen")) {
    lz_hints_add(hints, "1–9", _("take a way"), NULL);
    lz_hints_add(hints, "Esc", _("chart"), NULL);
  } else if (shown(self) && !is_page(self, "table")) {
    lz_hints_add(hints, "←→", _("walk along the readings"), "win.pad::left");
    lz_hints_add(hints, "+", _("zoom in"), "win.pad::plus");
    lz_hints_add(hints, "−", _("zoom out"), "win.pad::minus");
    lz_hints_add(hints, "F9", _("what it shows"), NULL);
  }
  if (shown(self)) {
    lz_hints_add(hints, "Enter", _("new reading"), "win.pad::enter");
    lz_hints_add(hints, "*", _("I see something"), "win.see");
    lz_hints_add(hints, "F8", is_page(self, "table") ? _("as a chart") : _("as a table"),
                 "win.as-table");
    if (!is_page(self, "seen"))
      lz_hints_add(hints, "1–9", _("other system"), NULL);
  }
  lz_hints_add(hints, _("Ctrl M"), _("how much"), "win.how-much");
  lz_hints_add(hints, "/", _("go to"), "win.go-to");
  return hints;
}

static const char *
lz_water_view_subject(LzPlace *place, const char *kind)
{
  return g_str_equal(kind, "system") ? LZ_WATER_VIEW(place)->system : NULL;
}

static gint64
lz_water_view_entry(LzPlace *place)
{
  LzWaterView *self = LZ_WATER_VIEW(place);
  if (is_page(self, "seen"))
    return lz_seen_view_entry(self->seen);
  return is_page(self, "table") ? lz_text_table_selected(self->table) : lz_chart_entry(self->chart);
}

static void
place_iface(LzPlaceInterface *iface)
{
  iface->key = lz_water_view_key;
  iface->back = lz_water_view_back;
  iface->as_table = lz_water_view_as_table;
  iface->show = lz_water_view_show;
  iface->enter = lz_water_view_enter;
  iface->subject = lz_water_view_subject;
  iface->entry = lz_water_view_entry;
  iface->hints = lz_water_view_hints;
}

static void
on_row_chosen(LzWaterView *self, gint64 id)
{
  if (id)
    gtk_widget_activate_action(GTK_WIDGET(self), "win.ledger-at", "x", id);
}

const char *
lz_water_view_system(LzWaterView *self)
{
  g_return_val_if_fail(LZ_IS_WATER_VIEW(self), NULL);
  const LzSystemInfo *info = shown(self);
  return info ? info->name : NULL;
}

GtkWidget *
lz_water_view_new(LzDesk *desk)
{
  LzWaterView *self = g_object_new(LZ_TYPE_WATER_VIEW, NULL);
  self->desk = g_object_ref(desk);
  const char *titles[] = {_("when"), _("what"), _("value"), _("with"), _("remark"), NULL};
  lz_text_table_set_columns(self->table, _("Readings and events"), titles, 0);
  g_signal_connect_object(desk, "changed", G_CALLBACK(lz_fresh_old), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(self->chart, "reload", G_CALLBACK(on_reload), self, G_CONNECT_SWAPPED);
  lz_chart_menu_set(self->chart_menu, desk, self->chart, GTK_WIDGET(self));
  g_signal_connect_object(self->chart_menu, "changed", G_CALLBACK(on_choice), self,
                          G_CONNECT_SWAPPED);
  g_signal_connect_object(self->table, "chosen", G_CALLBACK(on_row_chosen), self,
                          G_CONNECT_SWAPPED);
  lz_fresh_keep(self, make);
  return GTK_WIDGET(self);
}

static void
lz_water_view_dispose(GObject *object)
{
  LzWaterView *self = LZ_WATER_VIEW(object);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  g_clear_pointer(&self->system, g_free);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_water_view_parent_class)->dispose(object);
}

static void
lz_water_view_class_init(LzWaterViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_water_view_dispose;
  g_type_ensure(LZ_TYPE_SIGN);
  g_type_ensure(LZ_TYPE_CHART);
  g_type_ensure(LZ_TYPE_CHART_MENU);
  g_type_ensure(LZ_TYPE_PANES);
  g_type_ensure(LZ_TYPE_SEEN_VIEW);
  g_type_ensure(LZ_TYPE_TEXT_TABLE);
  g_type_ensure(LZ_TYPE_WATER_STATE);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_REGION);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_water_view.ui");
#define CHILD(name) gtk_widget_class_bind_template_child(widget, LzWaterView, name)
  CHILD(box);
  CHILD(systems);
  CHILD(title);
  CHILD(subtitle);
  CHILD(why);
  CHILD(cells);
  CHILD(stack);
  CHILD(chart);
  CHILD(chart_menu);
  CHILD(table);
  CHILD(seen);
  CHILD(alarm);
  CHILD(alarm_words);
  CHILD(state);
#undef CHILD
  gtk_widget_class_bind_template_callback(widget, show_chart);
  gtk_widget_class_bind_template_callback(widget, on_alarm);
}

static void
lz_water_view_init(LzWaterView *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
}
