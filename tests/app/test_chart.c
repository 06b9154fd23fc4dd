// SPDX-License-Identifier: GPL-3.0-or-later
// The chart as a person moves it. No test display has two fingers or a touch pad, so pinch, drag
// and wheel are done by their handlers, keys and the menu by the functions and actions that they
// call.
#include <cairo.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "lz_app_station.h"
#include "lz_app_test.h"
#include "lz_chart_menu.h"
#include "lz_chart_model_private.h"
#include "lz_chart_private.h"
#include "lz_text_table.h"

#define DAY 1440

static LzAppStation station;
static GtkWidget *window;
static LzChart *chart;
static gint64 asked_from, asked_to;

static void
on_reload(LzChart *self, gint64 from, gint64 to)
{
  asked_from = from;
  asked_to = to;
}

static uint32_t
index_of(const char *kind, const char *name)
{
  return lz_desk_index(station.desk, kind, lz_desk_find(station.desk, kind, name));
}

static void
show(const LzChartChoice *choice)
{
  lzd_window whole = {LZ_APP_NOW - 7 * DAY, LZ_APP_NOW + 7 * DAY};
  lz_chart_set_model(
      chart,
      lz_chart_model_new(station.desk, index_of("system", "Blue-2"), whole.from, whole.to, choice),
      whole, TRUE);
}

static void
read_at(int hours_ago, const char *system, const char *analyte, const char *value, const char *unit)
{
  lz_clock_set(station.clock, LZ_APP_NOW - hours_ago * 60);
  lz_app_submit(&station, "reading", "system", system, "analyte", analyte, "value", value, "unit",
                unit, NULL);
  lz_clock_set(station.clock, LZ_APP_NOW);
  lz_desk_replan(station.desk);
}

static void
setup(void)
{
  lz_app_station_open(&station);
  lz_app_station_lot(&station);
  read_at(50, "Blue-1", "copper", "0.30", "mg/L");
  read_at(2, "Blue-1", "copper", "0.28", "mg/L");
  read_at(48, "Blue-2", "copper", "0.10", "mg/L");
  read_at(3, "Blue-2", "copper", "0.20", "mg/L");
  read_at(3, "Blue-2", "temperature", "25.1", "C");
  read_at(3, "Blue-2", "ph", "8.1", NULL);
  window = gtk_window_new();
  gtk_window_set_default_size(GTK_WINDOW(window), 850, 560);
  chart = LZ_CHART(lz_chart_new());
  g_signal_connect(chart, "reload", G_CALLBACK(on_reload), NULL);
  gtk_window_set_child(GTK_WINDOW(window), GTK_WIDGET(chart));
  show(NULL);
  gtk_window_present(GTK_WINDOW(window));
  lz_wait_until(gtk_widget_get_width(GTK_WIDGET(chart)) > 300);
  asked_from = asked_to = 0;
}

static void
teardown(void)
{
  gtk_window_destroy(GTK_WINDOW(window));
  lz_app_station_close(&station);
}

static double
x_of(lzd_minute minute)
{
  lzd_chart *drawn;
  lzd_layout out;
  ck_assert(lz_chart_layout(chart, &drawn, &out));
  return lzd_scale_at(&out.time, (double)minute);
}

static LzPadKey
key(LzPadKind kind)
{
  return (LzPadKey){.kind = kind, .digit = -1};
}

START_TEST(a_drag_keeps_the_moment_under_the_pointer)
{
  gtk_widget_set_direction(GTK_WIDGET(chart), _i ? GTK_TEXT_DIR_RTL : GTK_TEXT_DIR_LTR);
  lzd_minute held = LZ_APP_NOW - DAY;
  double x = x_of(held);
  lz_chart_grab(chart, x);
  for (int dx = 0; dx <= 120; dx += 40)
    lz_chart_drag(chart, dx); // from where it began, not step by step
  ck_assert_double_eq_tol(x_of(held), x + 120, 1);
  ck_assert_int_eq(lz_chart_window(chart).to - lz_chart_window(chart).from, 14 * DAY);
  ck_assert_int_ne(asked_from, 0); // beyond what the model covers
}
END_TEST

START_TEST(a_pinch_zooms_between_the_fingers)
{
  lzd_minute held = LZ_APP_NOW - 2 * DAY;
  double x = x_of(held);
  lz_chart_grab(chart, x);
  lz_chart_pinch(chart, 1.5);
  lz_chart_pinch(chart, 2); // the gesture's scale counts from its beginning
  ck_assert_int_eq(lz_chart_window(chart).to - lz_chart_window(chart).from, 7 * DAY);
  ck_assert_double_eq_tol(x_of(held), x, 1.5);
  lz_chart_pinch(chart, 0);
  ck_assert_int_eq(lz_chart_window(chart).to - lz_chart_window(chart).from, 7 * DAY);
}
END_TEST

START_TEST(a_wheel_zooms_at_the_pointer_and_pans_sideways)
{
  lzd_minute held = LZ_APP_NOW + DAY;
  double x = x_of(held);
  lz_chart_point(chart, x, 200);
  lz_chart_wheel(chart, 0, -1, FALSE);
  ck_assert_double_eq_tol(x_of(held), x, 1.5);
  lzd_window zoomed = lz_chart_window(chart);
  ck_assert_int_lt(zoomed.to - zoomed.from, 14 * DAY);
  lz_chart_wheel(chart, 0, 1, TRUE);
  ck_assert_int_gt(lz_chart_window(chart).from, zoomed.from);
  ck_assert_int_eq(lz_chart_window(chart).to - lz_chart_window(chart).from,
                   zoomed.to - zoomed.from);
}
END_TEST

START_TEST(from_an_hour_to_ten_years)
{
  for (int i = 0; i < 30; i++)
    lz_chart_key(chart, key(LZ_PAD_PLUS));
  ck_assert_int_eq(lz_chart_window(chart).to - lz_chart_window(chart).from, 60);
  for (int i = 0; i < 60; i++)
    lz_chart_key(chart, key(LZ_PAD_MINUS));
  ck_assert_int_eq(lz_chart_window(chart).to - lz_chart_window(chart).from, LZD_WINDOW_MOST);
  lz_chart_show_span(chart, 365 * DAY);
  ck_assert_int_eq(lz_chart_window(chart).to - lz_chart_window(chart).from, 365 * DAY);
  lz_chart_show_whole(chart);
  ck_assert_int_eq(lz_chart_window(chart).from, LZ_APP_NOW - 7 * DAY);
}
END_TEST

START_TEST(the_keyboard_walks_readings_panels_and_events)
{
  ck_assert(lz_chart_key(chart, key(LZ_PAD_LEFT)));
  ck_assert_int_eq(lz_chart_cursor(chart), LZ_APP_NOW - 3 * 60);
  lz_chart_key(chart, key(LZ_PAD_LEFT));
  ck_assert_int_eq(lz_chart_cursor(chart), LZ_APP_NOW - 48 * 60);
  lz_chart_key(chart, key(LZ_PAD_LEFT)); // there is no earlier one
  ck_assert_int_eq(lz_chart_cursor(chart), LZ_APP_NOW - 48 * 60);
  lz_chart_key(chart, key(LZ_PAD_DOWN)); // salinity was never read: on to the rails
  ck_assert_int_eq(chart->at.kind, LZD_HIT_EVENT);
  lzd_cursor cursor;
  lz_chart_model_callout(lz_chart_model(chart), chart->at, &cursor);
  ck_assert_uint_eq(cursor.n_lines, 1);
  lz_chart_key(chart, key(LZ_PAD_UP));
  while (chart->at.kind == LZD_HIT_EVENT)
    lz_chart_key(chart, key(LZ_PAD_UP));
  ck_assert_int_eq(chart->at.kind, LZD_HIT_READING);
  ck_assert(lz_chart_clear_cursor(chart));
  ck_assert(!lz_chart_clear_cursor(chart));
}
END_TEST

// 0.10 and 0.20: what the pointer says between them lies between them.
START_TEST(the_pointer_says_the_value_between_readings)
{
  lz_chart_point(chart, x_of(LZ_APP_NOW - 30 * 60), 30);
  ck_assert_int_eq(chart->at.kind, LZD_HIT_NONE);
  ck_assert(chart->has_cursor);
  lzd_cursor cursor;
  lz_chart_model_callout(lz_chart_model(chart), chart->at, &cursor);
  ck_assert_uint_ge(cursor.n_lines, 1);
  ck_assert(g_str_has_prefix(cursor.lines[0].text, "copper 0."));
  double level = g_ascii_strtod(cursor.lines[0].text + strlen("copper "), NULL);
  ck_assert(level > 0.05 && level < 0.25);
  lzd_minute stood = lz_chart_cursor(chart);
  lz_chart_pan(chart, 0.1);
  lz_chart_point(chart, chart->pointer_x, chart->pointer_y); // it moved under a pointer at rest
  ck_assert_int_eq(lz_chart_cursor(chart), stood);
}
END_TEST

START_TEST(further_analytes_have_panels)
{
  LzChartChoice choice = LZ_CHART_PLAIN;
  choice.more = 1u << LZQ_TEMPERATURE | 1u << LZQ_PH;
  show(&choice);
  const LzChartModel *model = lz_chart_model(chart);
  ck_assert_uint_eq(model->n_panels, 4);
  ck_assert_int_eq(model->analyte[2], LZQ_TEMPERATURE);
  ck_assert_uint_eq(model->panels[2].n_readings, 1);
  ck_assert_double_eq(model->panels[3].readings[0].value, 8.1);
  choice.more = ~0u; // more than fit: the first ones
  show(&choice);
  ck_assert_uint_eq(lz_chart_model(chart)->n_panels, LZD_MAX_PANELS);
}
END_TEST

START_TEST(another_water_lies_over_this_one)
{
  LzChartChoice choice = LZ_CHART_PLAIN;
  choice.other_system = index_of("system", "Blue-1");
  show(&choice);
  const LzChartModel *model = lz_chart_model(chart);
  const lzd_panel *copper = &model->panels[0];
  ck_assert_uint_gt(copper->n_other, 1);
  double most = 0;
  for (size_t i = 0; i < copper->n_other; i++) {
    ck_assert_int_le(copper->other[i].minute, LZ_APP_NOW);
    if (!isnan(copper->other[i].mid))
      most = MAX(most, copper->other[i].mid);
  }
  ck_assert_double_eq_tol(most, 0.30, 0.02);
  ck_assert_str_eq(model->legend.other, "Blue-1");
  g_autofree char *sentence = lz_chart_model_sentence(model);
  ck_assert_ptr_nonnull(strstr(sentence, "Blue-1"));
}
END_TEST

// A course begun three days before this one, in another water: its day one lies on this day one.
START_TEST(a_course_lies_over_this_one_from_day_one)
{
  lz_clock_set(station.clock, LZ_APP_NOW - 60 - 3 * DAY);
  lz_app_submit(&station, "lot", "code", "0401", "tank", "Blue-1/1", "heads", "10", NULL);
  lz_app_submit(&station, "course", "lot", "0401", "protocol",
                "Complexed copper with lowered salinity", NULL);
  lz_clock_set(station.clock, LZ_APP_NOW);
  lz_desk_replan(station.desk);
  LzChartChoice choice = LZ_CHART_PLAIN;
  choice.other_lot = index_of("lot", "0401");
  show(&choice);
  const LzChartModel *model = lz_chart_model(chart);
  lzq_minute day_one = LZ_APP_NOW - 60;
  ck_assert_int_eq(lz_chart_model_day_one(model), day_one);
  const lzd_panel *copper = &model->panels[0];
  ck_assert_uint_gt(copper->n_other, 0);
  // Its first reading, 50 hours ago, was 23 hours after its own day one.
  ck_assert_int_eq(copper->other[0].minute, day_one + 23 * 60);
  const LzChartOther *other = g_ptr_array_index(model->others, 0);
  ck_assert_int_eq(other->shift, 3 * DAY);
  g_autoptr(GListModel) rows = lz_chart_model_rows(model);
  guint theirs = 0;
  for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzTextRow) row = g_list_model_get_item(rows, i);
    theirs += strstr(lz_text_row_cell(row, 1), "0401") != NULL;
  }
  ck_assert_uint_eq(theirs, 2);
}
END_TEST

static void
check_file(const char *name, lzd_format format, const char *begins)
{
  g_autofree char *path = g_build_filename(station.folder, name, NULL);
  g_autofree char *bytes = NULL;
  gsize length;
  g_autoptr(GError) error = NULL;
  ck_assert_msg(lz_chart_save(chart, path, format, &error), "%s", error ? error->message : "");
  ck_assert(g_file_get_contents(path, &bytes, &length, NULL));
  ck_assert_uint_gt(length, 2000);
  ck_assert_int_eq(memcmp(bytes, begins, strlen(begins)), 0);
}

START_TEST(saved_as_three_kinds_of_file)
{
  check_file("chart.png", LZD_PNG, "\x89PNG");
  check_file("chart.svg", LZD_SVG, "<?xml");
  check_file("chart.pdf", LZD_PDF, "%PDF");
  g_autofree char *path = g_build_filename(station.folder, "chart.png", NULL);
  cairo_surface_t *png = cairo_image_surface_create_from_png(path);
  ck_assert_int_eq(cairo_image_surface_get_width(png),
                   2 * MAX(850, gtk_widget_get_width(GTK_WIDGET(chart))));
  const unsigned char *corner = cairo_image_surface_get_data(png);
  ck_assert(corner[0] > 0xF0 && corner[1] > 0xF0 && corner[2] > 0xF0); // light, in every theme
  cairo_surface_destroy(png);
  g_autoptr(GError) error = NULL;
  ck_assert(!lz_chart_save(chart, "/nowhere/at/all/chart.png", LZD_PNG, &error));
  ck_assert_ptr_nonnull(strstr(error->message, "/nowhere/at/all/chart.png"));
}
END_TEST

START_TEST(copied_as_a_picture_and_as_text)
{
  g_autoptr(GdkContentProvider) content = lz_chart_copy(chart);
  g_auto(GValue) picture = G_VALUE_INIT, text = G_VALUE_INIT;
  g_value_init(&picture, GDK_TYPE_TEXTURE);
  g_value_init(&text, G_TYPE_STRING);
  ck_assert(gdk_content_provider_get_value(content, &picture, NULL));
  ck_assert(gdk_content_provider_get_value(content, &text, NULL));
  ck_assert_int_ge(gdk_texture_get_width(g_value_get_object(&picture)), 2 * 850);
  const char *table = g_value_get_string(&text);
  ck_assert(g_str_has_prefix(table, "when\twhat\tvalue\twith\tremark\n"));
  ck_assert_ptr_nonnull(strstr(table, "\tcopper\t0.2"));
}
END_TEST

// The menu's actions without its popover: ticks, one of several, and another water forgets.
START_TEST(the_menu_keeps_a_choice)
{
  LzChartMenu *menu = g_object_ref_sink(g_object_new(LZ_TYPE_CHART_MENU, NULL));
  GtkWidget *place = g_object_ref_sink(gtk_box_new(GTK_ORIENTATION_VERTICAL, 0));
  lz_chart_menu_set(menu, station.desk, chart, place);
  lz_chart_menu_set_system(menu, index_of("system", "Blue-2"));
  static const char *const four[] = {"more-2", "more-3", "more-4", "more-5"};
  for (size_t i = 0; i < G_N_ELEMENTS(four); i++) {
    g_autofree char *action = g_strdup_printf("chart.%s", four[i]);
    gtk_widget_activate_action(GTK_WIDGET(menu), action, NULL);
  }
  ck_assert_uint_eq(lz_chart_menu_choice(menu)->more, 0xFu << 2);
  gtk_widget_activate_action(GTK_WIDGET(menu), "chart.more-6", NULL); // a fifth does not fit
  ck_assert_uint_eq(lz_chart_menu_choice(menu)->more, 0xFu << 2);
  gtk_widget_activate_action(GTK_WIDGET(menu), "chart.more-2", NULL);
  gtk_widget_activate_action(GTK_WIDGET(menu), "chart.more-6", NULL);
  ck_assert_uint_eq(lz_chart_menu_choice(menu)->more, 0xFu << 3);
  gtk_widget_activate_action(GTK_WIDGET(menu), "chart.against", "(su)", "lot", 0u);
  ck_assert_uint_eq(lz_chart_menu_choice(menu)->other_lot, 0);
  gtk_widget_activate_action(GTK_WIDGET(menu), "chart.against", "(su)", "system", 0u);
  ck_assert_uint_eq(lz_chart_menu_choice(menu)->other_lot, LZQ_NONE);
  ck_assert_uint_eq(lz_chart_menu_choice(menu)->other_system, 0);
  gtk_widget_activate_action(GTK_WIDGET(menu), "chart.span", "x", (gint64)60);
  ck_assert_int_eq(lz_chart_window(chart).to - lz_chart_window(chart).from, 60);
  lz_chart_menu_set_system(menu, index_of("system", "Blue-1"));
  ck_assert_uint_eq(lz_chart_menu_choice(menu)->other_system, LZQ_NONE);
  ck_assert_uint_eq(lz_chart_menu_choice(menu)->more, 0xFu << 3);
  g_object_unref(menu);
  g_object_unref(place);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("chart widget");
  TCase *moved = tcase_create("moved"), *shown = tcase_create("shown");
  tcase_add_checked_fixture(moved, setup, teardown);
  tcase_add_loop_test(moved, a_drag_keeps_the_moment_under_the_pointer, 0, 2);
  tcase_add_test(moved, a_pinch_zooms_between_the_fingers);
  tcase_add_test(moved, a_wheel_zooms_at_the_pointer_and_pans_sideways);
  tcase_add_test(moved, from_an_hour_to_ten_years);
  tcase_add_test(moved, the_keyboard_walks_readings_panels_and_events);
  tcase_add_test(moved, the_pointer_says_the_value_between_readings);
  tcase_add_checked_fixture(shown, setup, teardown);
  tcase_add_test(shown, further_analytes_have_panels);
  tcase_add_test(shown, another_water_lies_over_this_one);
  tcase_add_test(shown, a_course_lies_over_this_one_from_day_one);
  tcase_add_test(shown, saved_as_three_kinds_of_file);
  tcase_add_test(shown, copied_as_a_picture_and_as_text);
  tcase_add_test(shown, the_menu_keeps_a_choice);
  suite_add_tcase(suite, moved);
  suite_add_tcase(suite, shown);
  return lz_app_test_run(suite, true);
}
