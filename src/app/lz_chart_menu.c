// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_chart_menu.h"

#include <glib/gi18n.h>
#include <lz_rows.h>
#include <lz_words.h>
#include <stdlib.h>

#include "lz_files.h"
#include "lz_task_form.h"

#define MOST_COURSES 12 // to compare with, the latest

struct _LzChartMenu {
  GtkWidget parent;
  GtkWidget *button;
  LzDesk *desk;
  LzChart *chart;
  uint32_t system;
  LzChartChoice choice;
  GSimpleActionGroup *actions;
  lzd_format format; // that a dialog asks a name for
};

G_DEFINE_FINAL_TYPE(LzChartMenu, lz_chart_menu, GTK_TYPE_WIDGET)

static guint changed_signal;

static void
changed(LzChartMenu *self)
{
  g_signal_emit(self, changed_signal, 0);
}

// --- further analytes: one action each, with a tick

static guint
n_more(const LzChartMenu *self)
{
  guint n = 0;
  for (guint a = 0; a < LZQ_N_READ; a++)
    n += (self->choice.more >> a) & 1;
  return n;
}

static GSimpleAction *
more_action(LzChartMenu *self, guint analyte)
{
  g_autofree char *name = g_strdup_printf("more-%u", analyte);
  return G_SIMPLE_ACTION(g_action_map_lookup_action(G_ACTION_MAP(self->actions), name));
}

// Those that no longer fit cannot be chosen.
static void
enable_more(LzChartMenu *self)
{
  for (guint a = LZQ_TEMPERATURE; a < LZQ_N_READ; a++)
    g_simple_action_set_enabled(more_action(self, a),
                                (self->choice.more & (1u << a)) || n_more(self) < LZ_CHART_MORE);
}

static void
on_more(GSimpleAction *action, GVariant *state, LzChartMenu *self)
{
  guint analyte = (guint)strtoul(g_action_get_name(G_ACTION(action)) + strlen("more-"), NULL, 10);
  if (g_variant_get_boolean(state))
    self->choice.more |= 1u << analyte;
  else
    self->choice.more &= ~(1u << analyte);
  g_simple_action_set_state(action, state);
  enable_more(self);
  changed(self);
}

// --- tank, comparison: one of several

static void
on_tank(GSimpleAction *action, GVariant *state, LzChartMenu *self)
{
  self->choice.tank = g_variant_get_uint32(state);
  g_simple_action_set_state(action, state);
  changed(self);
}

static void
on_against(GSimpleAction *action, GVariant *state, LzChartMenu *self)
{
  const char *kind;
  uint32_t index;
  g_variant_get(state, "(&su)", &kind, &index);
  self->choice.other_system = g_str_equal(kind, "system") ? index : LZQ_NONE;
  self->choice.other_lot = g_str_equal(kind, "lot") ? index : LZQ_NONE;
  g_simple_action_set_state(action, state);
  changed(self);
}

// --- what is done with it

static void
act_span(GSimpleAction *action, GVariant *minutes, gpointer data)
{
  LzChartMenu *self = data;
  if (g_variant_get_int64(minutes) == 0)
    lz_chart_show_whole(self->chart);
  else
    lz_chart_show_span(self->chart, g_variant_get_int64(minutes));
}

static void
act_copy(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  LzChartMenu *self = data;
  g_autoptr(GdkContentProvider) content = lz_chart_copy(self->chart);
  if (!content)
    return;
  gdk_clipboard_set_content(gtk_widget_get_clipboard(GTK_WIDGET(self)), content);
  gtk_widget_activate_action(GTK_WIDGET(self), "win.notice", "s",
                             _("Copied: the chart as a picture, its table as text."));
}

static void
on_path(GtkNativeDialog *dialog, int response, LzChartMenu *self)
{
  g_autofree char *path = lz_files_saved_path(dialog, response);
  g_autoptr(GError) error = NULL;
  if (path && lz_chart_save(self->chart, path, self->format, &error)) {
    g_autofree char *done = g_strdup_printf(_("Saved: %s"), path);
    gtk_widget_activate_action(GTK_WIDGET(self), "win.notice", "s", done);
  } else if (error) {
    gtk_widget_activate_action(GTK_WIDGET(self), "win.notice", "s", error->message);
  }
}

static void
act_save(GSimpleAction *action, GVariant *ending, gpointer data)
{
  LzChartMenu *self = data;
  const char *end = g_variant_get_string(ending, NULL);
  self->format = g_str_equal(end, "png") ? LZD_PNG : g_str_equal(end, "svg") ? LZD_SVG : LZD_PDF;
  const char *water = self->choice.tank != LZQ_NONE
                          ? lz_desk_name(self->desk, "tank", self->choice.tank)
                          : lz_desk_name(self->desk, "system", self->system);
  g_autofree char *name = g_strdup_printf("%s.%s", water, end);
  g_strdelimit(name, "/", '-');
  GtkNativeDialog *dialog = lz_files_ask_save(GTK_WINDOW(gtk_widget_get_root(GTK_WIDGET(self))),
                                              _("Save the chart"), name);
  g_signal_connect_object(dialog, "response", G_CALLBACK(on_path), self, 0);
  gtk_native_dialog_show(dialog);
}

// --- the menu itself, made anew when it is opened

static void
add_item(GMenu *menu, const char *label, const char *action, GVariant *target)
{
  g_autoptr(GMenuItem) item = g_menu_item_new(label, NULL);
  g_menu_item_set_action_and_target_value(item, action, target);
  g_menu_append_item(menu, item);
}

static GMenu *
more_section(LzChartMenu *self)
{
  GMenu *menu = g_menu_new();
  const uint32_t read = self->choice.more | lz_chart_read_analytes(self->desk, self->system);
  for (guint a = LZQ_TEMPERATURE; a < LZQ_N_READ; a++) {
    if (!(read & (1u << a)))
      continue;
    g_autofree char *label = lz_capital(lz_words_analyte((lzq_analyte)a));
    g_autofree char *action = g_strdup_printf("chart.more-%u", a);
    add_item(menu, label, action, NULL);
  }
  return menu;
}

static GMenu *
tank_section(LzChartMenu *self)
{
  GMenu *menu = g_menu_new();
  GListModel *tanks = lz_desk_tanks(self->desk);
  add_item(menu, _("The whole system"), "chart.tank", g_variant_new_uint32(LZQ_NONE));
  for (guint i = 0; i < g_list_model_get_n_items(tanks); i++) {
    g_autoptr(LzTankRow) row = g_list_model_get_item(tanks, i);
    const LzTankInfo *info = lz_tank_row_info(row);
    if (info->system == self->system)
      add_item(menu, info->name, "chart.tank", g_variant_new_uint32(info->index));
  }
  return menu;
}

static int
latest_first(gconstpointer a, gconstpointer b, gpointer desk)
{
  lzq_minute x = lz_lot_course_start(desk, *(const uint32_t *)a);
  lzq_minute y = lz_lot_course_start(desk, *(const uint32_t *)b);
  return (x < y) - (x > y);
}

static void
add_courses(LzChartMenu *self, GMenu *menu)
{
  const lzq_snapshot *s = lz_desk_snapshot(self->desk);
  g_autoptr(GArray) lots = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  for (uint32_t lot = 0; lot < s->n_lots; lot++)
    if (lz_lot_course_start(self->desk, lot) != LZQ_NEVER)
      g_array_append_val(lots, lot);
  g_array_sort_with_data(lots, latest_first, self->desk);
  for (guint i = 0; i < MIN(lots->len, MOST_COURSES); i++) {
    uint32_t lot = g_array_index(lots, uint32_t, i);
    g_autofree char *label =
        g_strdup_printf(_("Lot %s, from its day one"), lz_desk_name(self->desk, "lot", lot));
    add_item(menu, label, "chart.against", g_variant_new("(su)", "lot", lot));
  }
}

static GMenu *
against_section(LzChartMenu *self)
{
  GMenu *menu = g_menu_new();
  GListModel *systems = lz_desk_systems(self->desk);
  add_item(menu, _("Nothing"), "chart.against", g_variant_new("(su)", "", 0u));
  for (guint i = 0; i < g_list_model_get_n_items(systems); i++) {
    g_autoptr(LzSystemRow) row = g_list_model_get_item(systems, i);
    const LzSystemInfo *info = lz_system_row_info(row);
    if (info->index != self->system)
      add_item(menu, info->name, "chart.against", g_variant_new("(su)", "system", info->index));
  }
  const LzChartModel *model = lz_chart_model(self->chart);
  if (model && lz_chart_model_day_one(model) != LZQ_NEVER)
    add_courses(self, menu);
  return menu;
}

static GMenu *
span_section(void)
{
  static const struct {
    const char *label;
    lzd_minute wide;
  } spans[] = {{N_("All that matters now"), 0},
               {N_("One hour"), 60},
               {N_("One day"), 1440},
               {N_("One week"), 7 * 1440},
               {N_("Thirty days"), 30 * 1440},
               {N_("One year"), 365 * 1440},
               {N_("Ten years"), LZD_WINDOW_MOST}};
  GMenu *menu = g_menu_new();
  for (size_t i = 0; i < G_N_ELEMENTS(spans); i++)
    add_item(menu, _(spans[i].label), "chart.span", g_variant_new_int64(spans[i].wide));
  return menu;
}

static GMenu *
file_section(void)
{
  GMenu *menu = g_menu_new();
  add_item(menu, _("Save as PNG…"), "chart.save", g_variant_new_string("png"));
  add_item(menu, _("Save as SVG…"), "chart.save", g_variant_new_string("svg"));
  add_item(menu, _("Save as PDF…"), "chart.save", g_variant_new_string("pdf"));
  add_item(menu, _("Copy"), "chart.copy", NULL);
  return menu;
}

static void
make_menu(GtkMenuButton *button, gpointer data)
{
  LzChartMenu *self = data;
  g_autoptr(GMenu) menu = g_menu_new();
  g_autoptr(GMenu) more = more_section(self), tank = tank_section(self);
  g_autoptr(GMenu) against = against_section(self), span = span_section(), file = file_section();
  if (g_menu_model_get_n_items(G_MENU_MODEL(more)))
    g_menu_append_section(menu, _("Also shown"), G_MENU_MODEL(more));
  g_autoptr(GMenu) ways = g_menu_new();
  g_menu_append_submenu(ways, _("Events and credit of"), G_MENU_MODEL(tank));
  g_menu_append_submenu(ways, _("Compare with"), G_MENU_MODEL(against));
  g_menu_append_submenu(ways, _("How long"), G_MENU_MODEL(span));
  g_menu_append_section(menu, NULL, G_MENU_MODEL(ways));
  g_menu_append_section(menu, NULL, G_MENU_MODEL(file));
  gtk_menu_button_set_menu_model(button, G_MENU_MODEL(menu));
  gtk_popover_set_has_arrow(gtk_menu_button_get_popover(button), FALSE);
}

static gboolean
on_menu_key(GtkWidget *widget, GVariant *parameter, gpointer data)
{
  gtk_menu_button_popup(GTK_MENU_BUTTON(LZ_CHART_MENU(data)->button));
  return TRUE;
}

static gboolean
on_copy_key(GtkWidget *widget, GVariant *parameter, gpointer data)
{
  return gtk_widget_activate_action(data, "chart.copy", NULL);
}

static void
add_key(LzChartMenu *self, GtkEventController *keys, const char *trigger, GtkShortcutFunc act)
{
  gtk_shortcut_controller_add_shortcut(GTK_SHORTCUT_CONTROLLER(keys),
                                       gtk_shortcut_new(gtk_shortcut_trigger_parse_string(trigger),
                                                        gtk_callback_action_new(act, self, NULL)));
}

void
lz_chart_menu_set(LzChartMenu *self, LzDesk *desk, LzChart *chart, GtkWidget *place)
{
  GtkEventController *keys = gtk_shortcut_controller_new();
  g_set_object(&self->desk, desk);
  self->chart = chart;
  gtk_menu_button_set_create_popup_func(GTK_MENU_BUTTON(self->button), make_menu, self, NULL);
  add_key(self, keys, "F9", on_menu_key);
  add_key(self, keys, "<Control>c", on_copy_key);
  gtk_widget_add_controller(place, keys);
}

void
lz_chart_menu_set_system(LzChartMenu *self, uint32_t system)
{
  if (system == self->system)
    return;
  self->system = system;
  self->choice.tank = self->choice.other_system = self->choice.other_lot = LZQ_NONE;
  GActionMap *map = G_ACTION_MAP(self->actions);
  g_simple_action_set_state(G_SIMPLE_ACTION(g_action_map_lookup_action(map, "tank")),
                            g_variant_new_uint32(LZQ_NONE));
  g_simple_action_set_state(G_SIMPLE_ACTION(g_action_map_lookup_action(map, "against")),
                            g_variant_new("(su)", "", 0u));
}

const LzChartChoice *
lz_chart_menu_choice(LzChartMenu *self)
{
  return &self->choice;
}

static void
lz_chart_menu_dispose(GObject *object)
{
  LzChartMenu *self = LZ_CHART_MENU(object);
  g_clear_pointer(&self->button, gtk_widget_unparent);
  g_clear_object(&self->actions);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_chart_menu_parent_class)->dispose(object);
}

static void
lz_chart_menu_class_init(LzChartMenuClass *klass)
{
  G_OBJECT_CLASS(klass)->dispose = lz_chart_menu_dispose;
  gtk_widget_class_set_layout_manager_type(GTK_WIDGET_CLASS(klass), GTK_TYPE_BIN_LAYOUT);
  changed_signal = g_signal_new("changed", LZ_TYPE_CHART_MENU, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                NULL, G_TYPE_NONE, 0);
}

static void
add_state(LzChartMenu *self, const char *name, const GVariantType *type, GVariant *state,
          GCallback on_change)
{
  g_autoptr(GSimpleAction) action = g_simple_action_new_stateful(name, type, state);
  g_signal_connect(action, "change-state", on_change, self);
  g_action_map_add_action(G_ACTION_MAP(self->actions), G_ACTION(action));
}

static void
lz_chart_menu_init(LzChartMenu *self)
{
  static const GActionEntry entries[] = {
      {.name = "span", .parameter_type = "x", .activate = act_span},
      {.name = "copy", .activate = act_copy},
      {.name = "save", .parameter_type = "s", .activate = act_save}};
  self->system = LZQ_NONE;
  self->choice = (LzChartChoice)LZ_CHART_PLAIN;
  self->actions = g_simple_action_group_new();
  g_action_map_add_action_entries(G_ACTION_MAP(self->actions), entries, G_N_ELEMENTS(entries),
                                  self);
  for (guint a = LZQ_TEMPERATURE; a < LZQ_N_READ; a++) {
    g_autofree char *name = g_strdup_printf("more-%u", a);
    add_state(self, name, NULL, g_variant_new_boolean(FALSE), G_CALLBACK(on_more));
  }
  add_state(self, "tank", G_VARIANT_TYPE_UINT32, g_variant_new_uint32(LZQ_NONE),
            G_CALLBACK(on_tank));
  add_state(self, "against", G_VARIANT_TYPE("(su)"), g_variant_new("(su)", "", 0u),
            G_CALLBACK(on_against));
  gtk_widget_insert_action_group(GTK_WIDGET(self), "chart", G_ACTION_GROUP(self->actions));
  self->button = gtk_menu_button_new();
  gtk_menu_button_set_label(GTK_MENU_BUTTON(self->button), _("Chart"));
  gtk_widget_set_tooltip_text(self->button, _("What the chart shows, and where it goes (F9)"));
  gtk_widget_set_parent(self->button, GTK_WIDGET(self));
}
