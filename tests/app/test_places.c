// SPDX-License-Identifier: GPL-3.0-or-later
// The whole window on a station: five places by name and by action, roles and names, what opens
// above the key bar, and that nothing stays behind when it closes.
#include <string.h>

#include "lz_app_station.h"
#include "lz_app_test.h"
#include "lz_application.h"
#include "lz_go_to.h"
#include "lz_place.h"
#include "lz_print_view.h"
#include "lz_settings.h"
#include "lz_window.h"
#include "lz_window_private.h"

static LzAppStation station;
static GtkApplication *application;
static LzWindow *window;

static void
setup(void)
{
  lz_app_station_open(&station);
  lz_app_station_lot(&station);
  window = LZ_WINDOW(lz_window_new(application));
  lz_window_set_desk(window, g_object_ref(station.desk));
  gtk_window_present(GTK_WINDOW(window));
  lz_wait_until(gtk_widget_get_mapped(GTK_WIDGET(window)));
}

static void
teardown(void)
{
  gtk_window_destroy(GTK_WINDOW(window));
  lz_app_station_close(&station);
}

static const char *const places[] = {"round", "water", "lots", "plan", "station"};

START_TEST(each_place_by_its_action)
{
  GAction *action = g_action_map_lookup_action(G_ACTION_MAP(window), "place");
  g_action_change_state(action, g_variant_new_string(places[_i]));
  g_autoptr(GVariant) state = g_action_get_state(action);
  LzPlace *place = lz_window_place(window);
  ck_assert_str_eq(g_variant_get_string(state, NULL), places[_i]);
  ck_assert_ptr_eq(place, lz_window_find_place(window, places[_i]));
  gtk_test_accessible_assert_role(place, GTK_ACCESSIBLE_ROLE_REGION);
  ck_assert(gtk_test_accessible_has_property(GTK_ACCESSIBLE(place), GTK_ACCESSIBLE_PROPERTY_LABEL));
  g_autoptr(GPtrArray) hints = lz_place_hints(place);
  ck_assert_uint_gt(hints->len, 0);
}
END_TEST

START_TEST(each_place_has_the_focus_when_entered)
{
  lz_window_go(window, places[_i]);
  GtkWidget *focus = gtk_window_get_focus(GTK_WINDOW(window));
  ck_assert_ptr_nonnull(focus);
  ck_assert(gtk_widget_is_ancestor(focus, GTK_WIDGET(lz_window_place(window))));
}
END_TEST

START_TEST(a_drawing_has_a_table_and_comes_back)
{
  static const char *const drawn[] = {"water", "lots", "plan"};
  lz_window_go(window, drawn[_i]);
  LzPlace *place = lz_window_place(window);
  ck_assert(lz_place_as_table(place));
  ck_assert(lz_place_back(place));
  ck_assert(!lz_place_back(place));
}
END_TEST

START_TEST(show_leads_to_a_lot_and_a_tank)
{
  gtk_widget_activate_action(GTK_WIDGET(window), "win.show", "(ss)", "lots", "0412");
  ck_assert_ptr_eq(lz_window_place(window), lz_window_find_place(window, "lots"));
  gtk_widget_activate_action(GTK_WIDGET(window), "win.show", "(ss)", "water", "Blue-2/1");
  ck_assert_ptr_eq(lz_window_place(window), lz_window_find_place(window, "water"));
  gtk_widget_activate_action(GTK_WIDGET(window), "win.ledger", NULL);
  ck_assert_ptr_eq(lz_window_place(window), lz_window_find_place(window, "station"));
}
END_TEST

START_TEST(go_to_finds_by_part_of_a_name)
{
  LzGoTo *go_to = g_object_ref_sink(g_object_new(LZ_TYPE_GO_TO, NULL));
  lz_go_to_open(go_to, station.desk);
  guint all = lz_go_to_n_matches(go_to);
  lz_go_to_type(go_to, "blue-2");
  guint some = lz_go_to_n_matches(go_to);
  ck_assert_uint_gt(some, 0);
  ck_assert_uint_lt(some, all);
  lz_go_to_type(go_to, "0412");
  ck_assert_uint_eq(lz_go_to_n_matches(go_to), 1);
  lz_go_to_type(go_to, "no such thing");
  ck_assert_uint_eq(lz_go_to_n_matches(go_to), 0);
  g_object_unref(go_to);
}
END_TEST

START_TEST(go_to_finds_fish_and_what_can_be_written_down)
{
  LzGoTo *go_to = g_object_ref_sink(g_object_new(LZ_TYPE_GO_TO, NULL));
  lz_app_submit(&station, "species", "name", "Zebrasoma flavescens", "common", "Yellow tang", NULL);
  lz_app_submit(&station, "lot", "code", "0499", "tank", "Blue-1/1", "heads", "5", "species",
                "Zebrasoma flavescens", NULL);
  lz_go_to_open(go_to, station.desk);
  lz_go_to_type(go_to, "flaves");
  ck_assert_uint_eq(lz_go_to_n_matches(go_to), 1);
  lz_go_to_type(go_to, "yellow t");
  ck_assert_uint_eq(lz_go_to_n_matches(go_to), 1);
  lz_go_to_type(go_to, "pump failure");
  ck_assert_uint_eq(lz_go_to_n_matches(go_to), 1);
  g_object_unref(go_to);
}
END_TEST

START_TEST(a_notice_is_a_sentence_and_goes_away)
{
  lz_window_notice(window, "Not saved yet, 1 waiting.");
  gtk_widget_activate_action(GTK_WIDGET(window), "win.notice-close", NULL);
  lz_window_notice(window, NULL);
}
END_TEST

static void
is_pdf(const char *path)
{
  g_autofree char *bytes = NULL;
  gsize length = 0;
  ck_assert(g_file_get_contents(path, &bytes, &length, NULL));
  ck_assert_uint_gt(length, 1000);
  ck_assert_int_eq(strncmp(bytes, "%PDF-", 5), 0);
}

// Every sheet of the list, on the page of printing, into a file.
START_TEST(every_sheet_is_previewed_and_saved)
{
  static const struct {
    const char *sheet, *about;
  } wanted[] = {{"handover", NULL},    {"lot-record", "0412"}, {"tank-card", "Blue-1"},
                {"round-sheet", NULL}, {"register", NULL},     {"month-sheet", "Blue-1"},
                {"medicines", NULL}};
  gtk_widget_activate_action(GTK_WIDGET(window), "win.print", NULL);
  ck_assert_str_eq(gtk_stack_get_visible_child_name(window->stack), "print");
  LzPrintView *view = LZ_PRINT_VIEW(lz_window_place(window));
  for (guint i = 0; i < G_N_ELEMENTS(wanted); i++) {
    g_autofree char *path = g_build_filename(station.folder, wanted[i].sheet, NULL);
    ck_assert_msg(lz_print_view_choose(view, wanted[i].sheet, wanted[i].about), "no %s of %s",
                  wanted[i].sheet, wanted[i].about);
    ck_assert_uint_ge(lz_print_view_n_pages(view), 1);
    ck_assert(lz_print_view_pdf(view, path, NULL));
    is_pdf(path);
  }
  ck_assert(!lz_print_view_choose(view, "no-such-sheet", NULL));
}
END_TEST

// What cannot be printed says why, and neither printer nor file can be chosen.
START_TEST(what_is_missing_is_said)
{
  gtk_widget_activate_action(GTK_WIDGET(window), "win.print", NULL);
  LzPrintView *view = LZ_PRINT_VIEW(lz_window_place(window));
  ck_assert(lz_print_view_choose(view, "take-home", NULL));
  ck_assert_uint_eq(lz_print_view_n_pages(view), 0);
  lz_place_show(LZ_PLACE(view), "lot-record 0412");
  ck_assert_uint_ge(lz_print_view_n_pages(view), 1);
}
END_TEST

// Esc leads back to where printing was called from; a lot's page means a lot's record.
START_TEST(printing_goes_back_where_it_came_from)
{
  gtk_widget_activate_action(GTK_WIDGET(window), "win.place", "s", "lots");
  gtk_widget_activate_action(GTK_WIDGET(window), "win.print", NULL);
  ck_assert_str_eq(gtk_stack_get_visible_child_name(window->stack), "print");
  ck_assert(lz_place_back(lz_window_place(window)));
  ck_assert_str_eq(gtk_stack_get_visible_child_name(window->stack), "lots");
}
END_TEST

// The list of lots begins with the lot on the page, that of systems with where it stands.
START_TEST(lists_begin_with_what_is_chosen)
{
  gtk_widget_activate_action(GTK_WIDGET(window), "win.show", "(ss)", "lots", "0412");
  LzPlace *lots = lz_window_place(window);
  ck_assert_str_eq(lz_place_subject(lots, "lot"), "0412");
  ck_assert_str_eq(lz_place_subject(lots, "system"), "Blue-2");
  ck_assert_ptr_null(lz_place_subject(lots, "shipment"));
  gtk_widget_activate_action(GTK_WIDGET(window), "win.show", "(ss)", "water", "Blue-1");
  ck_assert_str_eq(lz_place_subject(lz_window_place(window), "system"), "Blue-1");
  ck_assert_ptr_null(lz_place_subject(lz_window_place(window), "lot"));
  gtk_widget_activate_action(GTK_WIDGET(window), "win.place", "s", "station");
  ck_assert_ptr_null(lz_place_subject(lz_window_place(window), "lot"));
}
END_TEST

// Three minutes where the station says nothing; a key within them asks nothing.
START_TEST(the_name_asks_after_the_stations_time)
{
  const gint64 minute = 60 * G_USEC_PER_SEC;
  gint64 began = window->touched_us;
  lz_window_idle_check(window, began + 3 * minute - 1);
  ck_assert(!lz_window_asks_person(window));
  lz_window_idle_check(window, began + 3 * minute);
  ck_assert(lz_window_asks_person(window));
  ck_assert_str_eq(gtk_label_get_label(window->person_name), "Still MK?");
  ck_assert(lz_person_menu_choose(window->person_menu, "mk", NULL));
  ck_assert(!lz_window_asks_person(window));
  ck_assert_str_eq(gtk_label_get_label(window->person_name), "MK Mira Kessel");
}
END_TEST

// A pointer or a space on a button is no way round the question.
START_TEST(a_click_waits_for_the_answer_too)
{
  GtkWidget *record =
      GTK_WIDGET(gtk_widget_get_template_child(GTK_WIDGET(window->form), LZ_TYPE_FORM, "record"));
  GtkWidget *popover = GTK_WIDGET(window->person_menu);
  ck_assert(!lz_window_waits_for_person(window, record));
  lz_window_idle_check(window, window->touched_us + 3 * 60 * G_USEC_PER_SEC);
  ck_assert(!lz_window_waits_for_person(window, GTK_WIDGET(window->person)));
  ck_assert(!gtk_widget_get_visible(popover));
  ck_assert(lz_window_waits_for_person(window, record));
  ck_assert(gtk_widget_get_visible(popover));
}
END_TEST

START_TEST(with_pins_nobody_is_left_at_the_pc)
{
  g_autofree char *entity =
      g_strdup_printf("#%" G_GINT64_FORMAT, lz_desk_find(station.desk, "station", "Quay Street"));
  g_autoptr(LzCommand) command = lz_command_build("station", "pins", "yes", "idle_min", "5", NULL);
  g_autoptr(GError) error = NULL;
  lz_command_set_entity(command, entity);
  lz_command_set_reason(command, "several people");
  gboolean done = lz_desk_submit_one(station.desk, command, &error);
  ck_assert_msg(done, "%s", error ? error->message : "");
  lz_window_idle_check(window, window->touched_us + 4 * 60 * G_USEC_PER_SEC);
  ck_assert_int_ne(lz_desk_actor(station.desk), 0);
  lz_window_idle_check(window, window->touched_us + 5 * 60 * G_USEC_PER_SEC);
  ck_assert_int_eq(lz_desk_actor(station.desk), 0);
  ck_assert(lz_window_asks_person(window));
}
END_TEST

START_TEST(a_station_is_let_go_with_its_window)
{
  LzDesk *desk = station.desk;
  g_object_add_weak_pointer(G_OBJECT(desk), (gpointer *)&desk);
  lz_window_set_desk(window, NULL);
  g_clear_object(&station.desk);
  ck_assert_ptr_null(desk); // no view, model or closure holds it
  lz_app_station_close(&station);
  lz_app_station_open(&station);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("places");
  TCase *frame = tcase_create("window");
  // a session without a notification service: what became late is told to nobody here
  g_setenv("DBUS_SESSION_BUS_ADDRESS", "disabled:", TRUE);
  if (!gtk_init_check())
    return 77;
  application = lz_application_new();
  g_application_set_flags(G_APPLICATION(application), G_APPLICATION_NON_UNIQUE);
  g_application_register(G_APPLICATION(application), NULL, NULL);
  tcase_set_timeout(frame, 120);
  tcase_add_checked_fixture(frame, setup, teardown);
  tcase_add_loop_test(frame, each_place_by_its_action, 0, G_N_ELEMENTS(places));
  tcase_add_loop_test(frame, each_place_has_the_focus_when_entered, 0, G_N_ELEMENTS(places));
  tcase_add_loop_test(frame, a_drawing_has_a_table_and_comes_back, 0, 3);
  tcase_add_test(frame, show_leads_to_a_lot_and_a_tank);
  tcase_add_test(frame, go_to_finds_by_part_of_a_name);
  tcase_add_test(frame, go_to_finds_fish_and_what_can_be_written_down);
  tcase_add_test(frame, a_notice_is_a_sentence_and_goes_away);
  tcase_add_test(frame, every_sheet_is_previewed_and_saved);
  tcase_add_test(frame, what_is_missing_is_said);
  tcase_add_test(frame, printing_goes_back_where_it_came_from);
  tcase_add_test(frame, lists_begin_with_what_is_chosen);
  tcase_add_test(frame, the_name_asks_after_the_stations_time);
  tcase_add_test(frame, a_click_waits_for_the_answer_too);
  tcase_add_test(frame, with_pins_nobody_is_left_at_the_pc);
  tcase_add_test(frame, a_station_is_let_go_with_its_window);
  suite_add_tcase(suite, frame);
  return lz_app_test_run(suite, true);
}
