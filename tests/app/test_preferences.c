// SPDX-License-Identifier: GPL-3.0-or-later
// What a login prefers acts at once, and never changes what the record says; the station's hours go
// through a checked entry. 78.1 °F is 25.61 °C: (78.1 - 32) x 5 / 9. Specific gravity 1.0250 on a
// 25/25 scale is a practical salinity of 33.2 (value from memory, within 0.3).
#include <string.h>

#include <lz_zone.h>

#include "lz_app_station.h"
#include "lz_app_test.h"
#include "lz_number_entry.h"
#include "lz_preferences.h"
#include "lz_settings.h"
#include "lz_task_form.h"
#include "lz_time_axis.h"

static LzAppStation station;

static void
setup(void)
{
  lz_app_station_open(&station);
}

static void
teardown(void)
{
  static const char *const keys[] = {"temperature", "salinity", "first-day"};
  for (guint i = 0; i < G_N_ELEMENTS(keys); i++)
    g_settings_reset(lz_settings(), keys[i]);
  lz_app_station_close(&station);
}

// A test of Blue-1, typed as in the round: what the ledger then holds.
static LzEntry *
read_typed(lzq_analyte analyte, const char *typed, const char *instrument, const char *unit)
{
  lzq_task task = {.kind = LZQ_TASK_TEST,
                   .system = lz_desk_index(station.desk, "system",
                                           lz_desk_find(station.desk, "system", "Blue-1")),
                   .lot = LZQ_NONE,
                   .bottle = LZQ_NONE,
                   .analyte = analyte};
  LzTaskInfo info = {.task = &task};
  g_autoptr(LzTaskForm) form = lz_task_form_new(station.desk, &info);
  g_autoptr(GPtrArray) commands = lz_task_commands(station.desk, &info, form, typed, instrument);
  g_autoptr(GError) error = NULL;
  ck_assert_str_eq(form->unit, unit);
  gboolean done = lz_desk_submit_one(station.desk, g_ptr_array_index(commands, 0), &error);
  ck_assert_msg(done, "%s", error ? error->message : "");
  return lz_desk_entry(station.desk, lz_command_id(g_ptr_array_index(commands, 0)), NULL);
}

START_TEST(a_unit_is_what_a_bare_number_is_in)
{
  g_autoptr(LzEntry) celsius = read_typed(LZQ_TEMPERATURE, "25,6", "P2", "°C");
  ck_assert_double_eq_tol(lz_entry_number(celsius, "value"), 25.6, 1e-9);
  g_settings_set_string(lz_settings(), "temperature", "fahrenheit");
  g_autoptr(LzEntry) fahrenheit = read_typed(LZQ_TEMPERATURE, "78,1", "P2", "°F");
  ck_assert_double_eq_tol(lz_entry_number(fahrenheit, "value"), 25.611, 1e-3);
  ck_assert_str_eq(lz_entry_text(fahrenheit, "typed"), "78,1"); // as it was typed, and its unit
  ck_assert_str_eq(lz_entry_text(fahrenheit, "unit"), "F");
}
END_TEST

START_TEST(a_gravity_is_on_the_scale_of_its_instrument)
{
  lz_app_submit(&station, "instrument", "name", "H1", "method", "refractometer", "scale", "25/25",
                NULL);
  g_settings_set_string(lz_settings(), "salinity", "gravity");
  g_autoptr(LzEntry) entry = read_typed(LZQ_SALINITY, "1.0250", "H1", "SG");
  ck_assert_double_eq_tol(lz_entry_number(entry, "value"), 33.2, 0.3);
}
END_TEST

START_TEST(weeks_begin_where_they_do_here)
{
  static const char *const days[][2] = {{"monday", "Mon"}, {"saturday", "Sat"}, {"sunday", "Sun"}};
  LzTimeAxis axis = {0};
  lzd_window window = {LZ_APP_NOW, LZ_APP_NOW + 60 * 1440};
  for (guint i = 0; i < G_N_ELEMENTS(days); i++) {
    g_settings_set_string(lz_settings(), "first-day", days[i][0]);
    lz_time_axis_fill(&axis, lz_desk_zone(station.desk), window, 800, 1, LZ_APP_NOW);
    ck_assert_uint_gt(axis.labels->len, 5);
    for (guint k = 0; k < axis.labels->len; k++)
      ck_assert_msg(g_str_has_prefix(g_ptr_array_index(axis.labels, k), days[i][1]), "%s",
                    (char *)g_ptr_array_index(axis.labels, k));
  }
  lz_time_axis_clear(&axis);
}
END_TEST

// The field of that accessible name is the only entry of the window that is not a number's.
static GtkWidget *
find_entry(GtkWidget *root)
{
  if (GTK_IS_ENTRY(root))
    return root;
  GtkWidget *found = NULL;
  for (GtkWidget *child = gtk_widget_get_first_child(root); child && !found;
       child = gtk_widget_get_next_sibling(child))
    found = find_entry(child);
  return found;
}

static const char *
slots_now(void)
{
  int64_t id = lz_desk_find(station.desk, "station", "Quay Street");
  return lz_entry_text(lz_desk_entity(station.desk, "station", id), "slots");
}

static void
enter(GtkWidget *entry, const char *text)
{
  gtk_editable_set_text(GTK_EDITABLE(entry), text);
  g_signal_emit_by_name(entry, "activate");
}

START_TEST(hours_are_the_stations)
{
  lz_app_submit(&station, "person", "role", "keeper", "name", "Otto", "initials", "OT", NULL);
  GtkWidget *window = lz_preferences_new(NULL, station.desk), *entry = find_entry(window);
  ck_assert_ptr_nonnull(entry);
  ck_assert_str_eq(gtk_editable_get_text(GTK_EDITABLE(entry)), "07:30 17:00");
  enter(entry, "08:00 18:30 except sun 18:30");
  ck_assert_str_eq(slots_now(), "08:00 18:30 except sun 18:30");
  enter(entry, "08:00 25:00"); // refused, and what was typed stays
  ck_assert_str_eq(slots_now(), "08:00 18:30 except sun 18:30");
  ck_assert_str_eq(gtk_editable_get_text(GTK_EDITABLE(entry)), "08:00 25:00");
  lz_desk_set_actor(station.desk, lz_desk_find(station.desk, "person", "OT"));
  ck_assert(!gtk_widget_get_sensitive(entry));
  ck_assert_str_eq(gtk_widget_get_tooltip_text(entry), "For a lead.");
  gtk_window_destroy(GTK_WINDOW(window));
}
END_TEST

START_TEST(without_a_station_there_are_none)
{
  GtkWidget *window = lz_preferences_new(NULL, NULL);
  ck_assert_ptr_null(find_entry(window));
  gtk_window_destroy(GTK_WINDOW(window));
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("preferences");
  TCase *preferences = tcase_create("preferences");
  tcase_set_timeout(preferences, 60);
  tcase_add_checked_fixture(preferences, setup, teardown);
  tcase_add_test(preferences, a_unit_is_what_a_bare_number_is_in);
  tcase_add_test(preferences, a_gravity_is_on_the_scale_of_its_instrument);
  tcase_add_test(preferences, weeks_begin_where_they_do_here);
  tcase_add_test(preferences, hours_are_the_stations);
  tcase_add_test(preferences, without_a_station_there_are_none);
  suite_add_tcase(suite, preferences);
  return lz_app_test_run(suite, true);
}
