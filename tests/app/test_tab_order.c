// SPDX-License-Identifier: GPL-3.0-or-later
// Tab order of every place, kept as files beside this one: from where a place takes the focus, Tab
// by Tab, until it comes round. A line is the name that the widget has in its template, or its
// type. Tab never walks the rows of a list. LAZARET_WRITE_TABLES=1 writes the files anew.
#include <string.h>

#include "lz_app_station.h"
#include "lz_app_test.h"
#include "lz_application.h"
#include "lz_window.h"

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

// What made it: the nearest widget above it with a name in a template, and its own type.
static char *
called(GtkWidget *focus)
{
  for (GtkWidget *at = focus; at; at = gtk_widget_get_parent(at)) {
    const char *id = gtk_buildable_get_buildable_id(GTK_BUILDABLE(at));
    if (id && !g_str_has_prefix(id, "___"))
      return at == focus ? g_strdup(id) : g_strdup_printf("%s: %s", id, G_OBJECT_TYPE_NAME(focus));
  }
  return g_strdup(G_OBJECT_TYPE_NAME(focus));
}

// Tab sorts by where things lie: laid out, and nothing moves from one frame to the next.
static void
go(const char *place)
{
  graphene_rect_t was = GRAPHENE_RECT_INIT(0, 0, 0, 0), is;
  if (strcmp(place, "start") == 0) // stands where no station is open
    lz_window_set_desk(window, NULL);
  lz_window_go(window, place);
  for (int same = 0, i = 0; same < 3 && i < 100; i++) {
    gtk_test_widget_wait_for_draw(GTK_WIDGET(window));
    GtkWidget *focus = gtk_window_get_focus(GTK_WINDOW(window));
    gboolean laid = focus && gtk_widget_compute_bounds(focus, GTK_WIDGET(window), &is);
    same = laid && is.size.height > 0 && graphene_rect_equal(&is, &was) ? same + 1 : 0;
    was = is;
  }
}

static void
tab(GtkDirectionType direction)
{
  for (int i = 0; i < 2; i++) // laid out anew where a hint or a row has changed
    gtk_test_widget_wait_for_draw(GTK_WIDGET(window));
  g_signal_emit_by_name(window, "move-focus", direction);
}

static char *
tab_order(void)
{
  GString *order = g_string_new(NULL);
  g_autoptr(GHashTable) seen = g_hash_table_new(NULL, NULL);
  for (int i = 0; i < 100; i++) {
    GtkWidget *focus = gtk_window_get_focus(GTK_WINDOW(window));
    if (!focus || !g_hash_table_add(seen, focus))
      break;
    g_autofree char *line = called(focus);
    g_string_append_printf(order, "%s\n", line);
    tab(GTK_DIR_TAB_FORWARD);
  }
  return g_string_free(order, FALSE);
}

static const char *const places[] = {"round",    "water", "lots",   "plan",  "station", "receive",
                                     "handover", "power", "amount", "print", "start"};

START_TEST(tab_order_is_as_kept)
{
  g_autofree char *name = g_strconcat(places[_i], ".txt", NULL);
  g_autofree char *path = g_build_filename(g_getenv("TAB_ORDER"), name, NULL);
  g_autofree char *kept = NULL;
  go(places[_i]);
  g_autofree char *order = tab_order();
  if (g_getenv("LAZARET_WRITE_TABLES"))
    ck_assert(g_file_set_contents(path, order, -1, NULL));
  ck_assert_msg(g_file_get_contents(path, &kept, NULL, NULL), "no %s", path);
  ck_assert_msg(strcmp(kept, order) == 0, "%s differs; found:\n%s", path, order);
}
END_TEST

START_TEST(shift_tab_is_the_way_back)
{
  go(places[_i]);
  GtkWidget *began = gtk_window_get_focus(GTK_WINDOW(window));
  tab(GTK_DIR_TAB_FORWARD);
  ck_assert_ptr_ne(gtk_window_get_focus(GTK_WINDOW(window)), began);
  tab(GTK_DIR_TAB_BACKWARD);
  GtkWidget *back = gtk_window_get_focus(GTK_WINDOW(window));
  ck_assert_msg(back == began || gtk_widget_is_ancestor(back, began) ||
                    gtk_widget_is_ancestor(began, gtk_widget_get_parent(back)),
                "%s: %s after Tab and back", places[_i], G_OBJECT_TYPE_NAME(back));
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("tab order");
  TCase *frame = tcase_create("places");
  if (!gtk_init_check())
    return 77;
  application = lz_application_new();
  g_application_set_flags(G_APPLICATION(application), G_APPLICATION_NON_UNIQUE);
  g_application_register(G_APPLICATION(application), NULL, NULL);
  tcase_set_timeout(frame, 120);
  tcase_add_checked_fixture(frame, setup, teardown);
  tcase_add_loop_test(frame, tab_order_is_as_kept, 0, G_N_ELEMENTS(places));
  tcase_add_loop_test(frame, shift_tab_is_the_way_back, 0, G_N_ELEMENTS(places));
  suite_add_tcase(suite, frame);
  return lz_app_test_run(suite, true);
}
