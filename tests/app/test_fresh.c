// SPDX-License-Identifier: GPL-3.0-or-later
// An entry costs what is seen: a place that nobody looks at is left as it is, and says what holds
// now as soon as it is shown or asked. What a person left there is still there.
#include <string.h>

#include "lz_app_window.h"
#include "lz_chart.h"
#include "lz_lots_view.h"
#include "lz_number_entry.h"
#include "lz_place.h"
#include "lz_plan_view.h"
#include "lz_ribbon_area.h"
#include "lz_round_view.h"
#include "lz_rows.h"
#include "lz_station_view.h"
#include "lz_text_table.h"
#include "lz_water_view.h"
#include "lz_window_private.h"

static const char *const names[] = {"round", "water", "lots", "plan", "station"};

static LzPlace *
place(const char *name)
{
  LzPlace *found = lz_window_find_place(lz_app_window(), name);
  ck_assert_ptr_nonnull(found);
  return found;
}

static char *
label_of(const char *name, GType type, const char *child)
{
  GtkLabel *label = GTK_LABEL(gtk_widget_get_template_child(GTK_WIDGET(place(name)), type, child));
  return g_strdup(gtk_label_get_label(label));
}

// Something that each place says about the station as it is now.
static char *
said(const char *name)
{
  if (g_str_equal(name, "round"))
    return label_of(name, LZ_TYPE_ROUND_VIEW, "n_done");
  if (g_str_equal(name, "water"))
    return label_of(name, LZ_TYPE_WATER_VIEW, "subtitle");
  if (g_str_equal(name, "lots"))
    return label_of(name, LZ_TYPE_LOTS_VIEW, "subtitle");
  if (g_str_equal(name, "plan"))
    return label_of(name, LZ_TYPE_PLAN_VIEW, "from");
  LzTextTable *table = lz_app_below(GTK_WIDGET(place(name)), LZ_TYPE_TEXT_TABLE);
  return g_strdup_printf("%u bottles", g_list_model_get_n_items(lz_text_table_rows(table)));
}

static const char *const before[] = {"0 done", "30 fish", "30 here now", "08:16", "1 bottles"};
static const char *const after[] = {"2 done", "27 fish", "27 here now", "08:21", "2 bottles"};

// What the desk tells once for each: at the end every place has something else to say.
static void
make_entries(void)
{
  LzAppStation *station = lz_app_window_station();
  lz_clock_set(station->clock, LZ_APP_NOW + 5);
  lz_app_submit(station, "death", "lot", "0412", "heads", "3", NULL);
  lz_app_submit(station, "reading", "system", "Blue-2", "analyte", "salinity", "value", "33.9",
                "instrument", "P2", NULL);
  lz_app_submit(station, "bottle", "name", "C-15", "analyte", "copper", "form", "amine", "strength",
                "5", NULL);
}

static void
visit_all(void)
{
  LzWindow *window = lz_app_window();
  for (guint i = 0; i < G_N_ELEMENTS(names); i++)
    lz_window_go(window, names[i]);
  lz_place_show(place("water"), "Blue-2");
  lz_place_show(place("station"), "bottles");
}

static void
says(guint i, const char *wanted)
{
  g_autofree char *words = said(names[i]);
  ck_assert_msg(strstr(words, wanted) != NULL, "%s says %s, not %s", names[i], words, wanted);
}

// The other four stay as they were; each says what holds now in the same turn in which it is shown.
START_TEST(only_the_seen_place_is_made_anew)
{
  const guint seen = (guint)_i;
  visit_all();
  lz_window_go(lz_app_window(), names[seen]);
  for (guint i = 0; i < G_N_ELEMENTS(names); i++)
    says(i, before[i]);
  make_entries();
  for (guint i = 0; i < G_N_ELEMENTS(names); i++)
    says(i, i == seen ? after[i] : before[i]);
  for (guint i = 0; i < G_N_ELEMENTS(names); i++) {
    lz_window_go(lz_app_window(), names[i]);
    says(i, after[i]);
  }
}
END_TEST

// Also in a window that is not on the display, where nothing is mapped.
START_TEST(a_window_put_away_is_not_old_when_it_comes_back)
{
  visit_all();
  lz_window_go(lz_app_window(), "lots");
  gtk_widget_set_visible(GTK_WIDGET(lz_app_window()), FALSE);
  make_entries();
  lz_window_go(lz_app_window(), names[_i]);
  says((guint)_i, after[_i]);
  gtk_window_present(GTK_WINDOW(lz_app_window()));
  says((guint)_i, after[_i]);
}
END_TEST

// Whoever asks a place that nobody looks at is not told what held before.
START_TEST(a_hidden_place_that_is_asked_knows)
{
  visit_all();
  lz_window_go(lz_app_window(), "handover");
  make_entries();
  g_autoptr(GPtrArray) hints = lz_place_hints(place(names[_i]));
  says((guint)_i, after[_i]);
}
END_TEST

// The drawings too: their models are made by a change only where they are seen.
START_TEST(hidden_drawings_are_left_alone)
{
  visit_all();
  LzChart *chart = lz_app_below(GTK_WIDGET(place("water")), LZ_TYPE_CHART);
  LzRibbonArea *ways = lz_app_below(GTK_WIDGET(place("lots")), LZ_TYPE_RIBBON_AREA);
  LzRibbonArea *lanes = lz_app_below(GTK_WIDGET(place("plan")), LZ_TYPE_RIBBON_AREA);
  gpointer drawn[] = {lz_chart_model(chart), lz_ribbon_area_model(ways),
                      lz_ribbon_area_model(lanes)};
  lz_window_go(lz_app_window(), "round");
  make_entries();
  ck_assert_ptr_eq(lz_chart_model(chart), drawn[0]);
  ck_assert_ptr_eq(lz_ribbon_area_model(ways), drawn[1]);
  ck_assert_ptr_eq(lz_ribbon_area_model(lanes), drawn[2]);
  lz_window_go(lz_app_window(), "plan");
  ck_assert_ptr_ne(lz_ribbon_area_model(lanes), drawn[2]);
  ck_assert_ptr_eq(lz_ribbon_area_model(ways), drawn[1]);
}
END_TEST

typedef struct {
  const char *word;
  guint n;
} Count;

static void
count(GtkWidget *root, Count *of)
{
  const char *words = GTK_IS_LABEL(root) ? gtk_label_get_label(GTK_LABEL(root)) : NULL;
  of->n += words && strstr(words, of->word) != NULL;
  for (GtkWidget *child = gtk_widget_get_first_child(root); child;
       child = gtk_widget_get_next_sibling(child))
    count(child, of);
}

static guint
lines_that_say(const char *word)
{
  GtkWidget *lines = GTK_WIDGET(
      gtk_widget_get_template_child(GTK_WIDGET(place("round")), LZ_TYPE_ROUND_VIEW, "after"));
  Count found = {word, 0};
  count(lines, &found);
  return found.n;
}

// A table that stands in for a drawing has a widget for each cell: it is filled when it is asked
// for.
START_TEST(a_hidden_table_is_not_filled)
{
  static const struct {
    const char *name;
    GType (*type)(void);
  } tables[] = {{"water", lz_water_view_get_type},
                {"lots", lz_lots_view_get_type},
                {"plan", lz_plan_view_get_type}};
  visit_all();
  lz_window_go(lz_app_window(), tables[_i].name);
  lz_app_window_settle();
  GtkWidget *table = GTK_WIDGET(gtk_widget_get_template_child(GTK_WIDGET(place(tables[_i].name)),
                                                              tables[_i].type(), "table"));
  GtkColumnView *view = lz_app_below(table, GTK_TYPE_COLUMN_VIEW);
  GListModel *shown = G_LIST_MODEL(gtk_column_view_get_model(view));
  make_entries();
  ck_assert_uint_eq(g_list_model_get_n_items(shown), 0);
  ck_assert(lz_place_as_table(place(tables[_i].name)));
  const guint n = g_list_model_get_n_items(shown);
  ck_assert_uint_gt(n, 0);
  ck_assert_uint_eq(n, g_list_model_get_n_items(lz_text_table_rows(LZ_TEXT_TABLE(table))));
}
END_TEST

// Rows of a list are widgets of their own, that nobody asks.
START_TEST(hidden_rows_are_left_alone)
{
  LzAppStation *station = lz_app_window_station();
  visit_all();
  lz_window_go(lz_app_window(), "round");
  lz_app_window_settle();
  ck_assert_uint_eq(lines_that_say("Late 46 min"), 1);
  lz_window_go(lz_app_window(), "power");
  lz_clock_set(station->clock, LZ_APP_NOW + 2);
  lz_desk_replan(station->desk);
  ck_assert_uint_eq(lines_that_say("Late 46 min"), 1);
  lz_window_go(lz_app_window(), "round");
  ck_assert_uint_eq(lines_that_say("Late 46 min"), 0);
  ck_assert_uint_eq(lines_that_say("Late 48 min"), 1);
}
END_TEST

static char *
open_key(void)
{
  LzPlace *round = place("round");
  return g_strdup(lz_place_subject(round, "system"));
}

// Half typed, while entries made elsewhere take lines away that stood before it.
START_TEST(a_half_typed_number_waits)
{
  visit_all();
  lz_window_go(lz_app_window(), "round");
  LzPlace *round = place("round");
  LzNumberEntry *entry = lz_app_below(GTK_WIDGET(round), LZ_TYPE_NUMBER_ENTRY);
  GListModel *tasks = lz_desk_tasks(lz_app_window_station()->desk);
  for (guint i = 0; i + 1 < g_list_model_get_n_items(tasks); i++)
    lz_place_key(round, (LzPadKey){LZ_PAD_DOWN, -1, true});
  lz_place_key(round, (LzPadKey){LZ_PAD_UP, -1, true});
  lz_number_entry_set_text(entry, "7");
  g_autofree char *typed_for = open_key();
  lz_window_go(lz_app_window(), "water");
  make_entries();
  lz_window_go(lz_app_window(), "round");
  g_autofree char *shown_for = open_key();
  ck_assert_str_eq(lz_number_entry_text(entry), "7");
  ck_assert_str_eq(shown_for, typed_for);
}
END_TEST

START_TEST(what_was_chosen_stays_chosen)
{
  LzAppStation *station = lz_app_window_station();
  lz_app_submit(station, "lot", "code", "0413", "tank", "Blue-1/1", "heads", "5", NULL);
  visit_all();
  lz_place_show(place("lots"), "0412");
  lz_place_show(place("water"), "Blue-2");
  LzRibbonArea *lanes = lz_app_below(GTK_WIDGET(place("plan")), LZ_TYPE_RIBBON_AREA);
  lz_window_go(lz_app_window(), "plan");
  lz_place_key(place("plan"), (LzPadKey){LZ_PAD_PLUS, -1, true});
  const lzd_window window = lz_ribbon_model_window(lz_ribbon_area_model(lanes));
  lz_window_go(lz_app_window(), "round");
  make_entries();
  lz_app_submit(station, "lot", "code", "0411", "tank", "Blue-1/2", "heads", "5", NULL);
  ck_assert_str_eq(lz_place_subject(place("lots"), "lot"), "0412");
  ck_assert_str_eq(lz_place_subject(place("water"), "system"), "Blue-2");
  lz_window_go(lz_app_window(), "plan");
  const lzd_window now = lz_ribbon_model_window(lz_ribbon_area_model(lanes));
  ck_assert(now.from == window.from && now.to == window.to);
}
END_TEST

// The button of a water keeps the focus through an entry that makes its place anew.
START_TEST(a_water_keeps_the_focus)
{
  LzWindow *window = lz_app_window();
  lz_window_go(window, "water");
  GObject *systems =
      gtk_widget_get_template_child(GTK_WIDGET(place("water")), LZ_TYPE_WATER_VIEW, "systems");
  g_autoptr(GtkWidget) button = g_object_ref(gtk_widget_get_last_child(GTK_WIDGET(systems)));
  ck_assert(gtk_widget_grab_focus(button));
  make_entries();
  ck_assert_ptr_eq(gtk_window_get_focus(GTK_WINDOW(window)), button);
  ck_assert(gtk_widget_get_mapped(button));
}
END_TEST

// Told while the round is not the place that is seen.
START_TEST(what_is_late_is_counted_from_everywhere)
{
  LzAppStation *station = lz_app_window_station();
  LzWindow *window = lz_app_window();
  visit_all();
  lz_window_go(window, "plan");
  const guint late = window->told_late;
  lz_clock_set(station->clock, LZ_APP_NOW + 2 * LZQ_DAY);
  lz_desk_replan(station->desk);
  ck_assert_uint_gt(window->told_late, late);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("fresh");
  TCase *frame = tcase_create("window");
  // a session without a notification service: what became late is told to nobody here
  g_setenv("DBUS_SESSION_BUS_ADDRESS", "disabled:", TRUE);
  if (!lz_app_window_init())
    return 77;
  tcase_set_timeout(frame, 120);
  tcase_add_checked_fixture(frame, lz_app_window_setup, lz_app_window_teardown);
  tcase_add_loop_test(frame, only_the_seen_place_is_made_anew, 0, G_N_ELEMENTS(names));
  tcase_add_loop_test(frame, a_window_put_away_is_not_old_when_it_comes_back, 0,
                      G_N_ELEMENTS(names));
  tcase_add_loop_test(frame, a_hidden_place_that_is_asked_knows, 0, G_N_ELEMENTS(names));
  tcase_add_test(frame, hidden_drawings_are_left_alone);
  tcase_add_loop_test(frame, a_hidden_table_is_not_filled, 0, 3);
  tcase_add_test(frame, hidden_rows_are_left_alone);
  tcase_add_test(frame, a_half_typed_number_waits);
  tcase_add_test(frame, what_was_chosen_stays_chosen);
  tcase_add_test(frame, a_water_keeps_the_focus);
  tcase_add_test(frame, what_is_late_is_counted_from_everywhere);
  suite_add_tcase(suite, frame);
  return lz_app_test_run(suite, true);
}
