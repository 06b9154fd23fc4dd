// SPDX-License-Identifier: GPL-3.0-or-later
// In Lots, what was seen, counted or given of a lot opens for correction where it is read.
#include <lz_fields.h>
#include <lz_rows.h>

#include "lz_app_window.h"
#include "lz_form_private.h"
#include "lz_place.h"
#include "lz_ribbon_area.h"
#include "lz_window_private.h"

// The buttons that show entries in words, below `widget`, as they stand there.
static void
find_entries(GtkWidget *widget, GPtrArray *found)
{
  if (gtk_widget_has_css_class(widget, "entry-words"))
    g_ptr_array_add(found, widget);
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child;
       child = gtk_widget_get_next_sibling(child))
    find_entries(child, found);
}

// Presses the n-th of so many; what the form that opens corrects.
static gint64
press(guint n, guint of)
{
  g_autoptr(GPtrArray) found = g_ptr_array_new();
  lz_app_window_go("lots");
  find_entries(GTK_WIDGET(lz_window_place(lz_app_window())), found);
  ck_assert_uint_eq(found->len, of);
  g_signal_emit_by_name(found->pdata[n], "clicked");
  ck_assert(gtk_widget_get_mapped(GTK_WIDGET(lz_app_window()->form)));
  return lz_app_window()->form->corrects;
}

static LzEntry *
only(const char *kind)
{
  g_autoptr(GPtrArray) facts = lz_desk_facts(lz_app_window_station()->desk, kind, 0, LZQ_NEVER - 1);
  ck_assert_uint_eq(facts->len, 1);
  return lz_entry_ref(facts->pdata[0]);
}

static void
correct_heads(const char *heads)
{
  LzForm *form = lz_app_window()->form;
  lz_form_set_text(form, "heads", heads);
  lz_form_set_text(form, "@reason", "counted anew");
  lz_form_submit(form);
  g_autoptr(LzEntry) death = only("death");
  ck_assert_int_eq(lz_entry_int(death, "heads"), g_ascii_strtoll(heads, NULL, 10));
}

START_TEST(a_death_is_corrected_twice)
{
  lz_app_submit(lz_app_window_station(), "death", "lot", "0412", "heads", "2", NULL);
  g_autoptr(LzEntry) death = only("death");
  ck_assert_int_eq(press(0, 3), lz_entry_id(death)); // above the course and the arrival of the lot
  correct_heads("1");
  ck_assert_int_eq(press(0, 3), lz_entry_id(death)); // not the correction
  correct_heads("3");
}
END_TEST

START_TEST(the_last_dose_is_corrected)
{
  lz_app_submit(lz_app_window_station(), "dose", "system", "Blue-2", "bottle", "C-14", "amount_ml",
                "61.2", NULL);
  g_autoptr(LzEntry) dose = only("dose");
  ck_assert_int_eq(press(2, 3), lz_entry_id(dose)); // behind the course and the arrival of the lot
  ck_assert_str_eq(lz_app_window()->form->kind->name, "dose");
}
END_TEST

START_TEST(a_received_lot_is_corrected_on_the_page_of_the_shipment)
{
  lz_app_submit(lz_app_window_station(), "lot", "code", "0431", "tank", "Blue-1/1", "heads", "8",
                NULL);
  g_autoptr(GPtrArray) found = g_ptr_array_new();
  LzDesk *desk = lz_app_window_station()->desk;
  lz_app_window_go("receive");
  find_entries(GTK_WIDGET(lz_window_place(lz_app_window())), found);
  ck_assert_uint_ge(found->len, 1);
  g_signal_emit_by_name(found->pdata[0], "clicked");
  LzForm *form = lz_app_window()->form;
  ck_assert_int_eq(form->corrects, lz_desk_find(desk, "lot", "0431"));
  lz_form_set_text(form, "heads", "9");
  lz_form_set_text(form, "@reason", "counted anew");
  lz_form_submit(form);
  const uint32_t lot = lz_desk_index(desk, "lot", lz_desk_find(desk, "lot", "0431"));
  ck_assert_int_eq(lz_desk_lot_info(desk, lot)->heads, 9);
}
END_TEST

// --- from Plan by pointer alone

// Presses the first point of the lanes at which a lot is drawn, if it is drawn.
static void
press_a_lane(void)
{
  lz_app_window_go("plan");
  GtkWidget *lanes =
      lz_app_below(GTK_WIDGET(lz_window_place(lz_app_window())), LZ_TYPE_RIBBON_AREA);
  g_autoptr(GListModel) controllers = gtk_widget_observe_controllers(lanes);
  for (guint i = 0; i < g_list_model_get_n_items(controllers); i++) {
    g_autoptr(GtkEventController) click = g_list_model_get_item(controllers, i);
    if (!GTK_IS_GESTURE_CLICK(click))
      continue;
    for (int y = 0; y < gtk_widget_get_height(lanes); y += 4)
      for (int x = 0; x < gtk_widget_get_width(lanes) && gtk_widget_get_mapped(lanes); x += 4)
        g_signal_emit_by_name(click, "pressed", 1, (double)x, (double)y);
  }
  ck_assert(!gtk_widget_get_mapped(lanes));
}

static void
click_labelled(GtkWidget *root, const char *label)
{
  const char *words = GTK_IS_BUTTON(root) ? gtk_button_get_label(GTK_BUTTON(root)) : NULL;
  if (words && g_str_equal(words, label))
    g_signal_emit_by_name(root, "clicked");
  for (GtkWidget *child = gtk_widget_get_first_child(root); child;
       child = gtk_widget_get_next_sibling(child))
    click_labelled(child, label);
}

// What is wrong in the plan of a lot: its course, or where it stands. Three steps: the lane, the
// entry, and Record, with what is right and why chosen in the form between.
START_TEST(a_plan_is_corrected_by_pointer_in_three_steps)
{
  static const struct {
    const char *kind, *field, *right;
  } wrong[] = {{"course", "protocol", "Observation only"}, {"move", "tank", "Blue-2/3"}};
  LzAppStation *station = lz_app_window_station();
  if (_i == 1)
    lz_app_submit(station, "move", "lot", "0412", "tank", "Blue-2/2", NULL);
  for (int i = 1; i < 9; i++) { // feeds push neither out of the list
    lz_clock_set(station->clock, LZ_APP_NOW + 30 * i);
    lz_app_submit(station, "feed", "lot", "0412", "food", "mysis", "grams", "4", "eaten_share",
                  "0.9", NULL);
  }
  press_a_lane();
  ck_assert_str_eq(lz_place_subject(lz_window_place(lz_app_window()), "lot"), "0412");
  g_autoptr(GPtrArray) found = g_ptr_array_new();
  find_entries(GTK_WIDGET(lz_window_place(lz_app_window())), found);
  LzForm *form = lz_app_window()->form;
  for (guint i = 0; i < found->len; i++) {
    g_signal_emit_by_name(found->pdata[i], "clicked");
    if (g_str_equal(form->kind->name, wrong[_i].kind))
      break;
  }
  ck_assert_str_eq(form->kind->name, wrong[_i].kind);
  g_autoptr(LzEntry) entry = only(wrong[_i].kind);
  ck_assert_int_eq(form->corrects, lz_entry_id(entry));
  lz_form_set_text(form, wrong[_i].field, wrong[_i].right);
  click_labelled(GTK_WIDGET(form), "the wrong one was chosen");
  click_labelled(GTK_WIDGET(form), "_Record");
  ck_assert(!gtk_widget_get_visible(GTK_WIDGET(form)));
  g_autoptr(LzEntry) now = only(wrong[_i].kind);
  ck_assert_int_eq(lz_entry_corrects(now), lz_entry_id(entry));
  ck_assert_str_eq(lz_entry_reason(now), "the wrong one was chosen");
}
END_TEST

int
main(void)
{
  // a session without a notification service: what became late is told to nobody here
  g_setenv("DBUS_SESSION_BUS_ADDRESS", "disabled:", TRUE);
  if (!lz_app_window_init())
    return 77;
  Suite *suite = suite_create("correct");
  TCase *lots = tcase_create("lots");
  tcase_set_timeout(lots, 60);
  tcase_add_checked_fixture(lots, lz_app_window_setup, lz_app_window_teardown);
  tcase_add_test(lots, a_death_is_corrected_twice);
  tcase_add_test(lots, the_last_dose_is_corrected);
  tcase_add_test(lots, a_received_lot_is_corrected_on_the_page_of_the_shipment);
  tcase_add_loop_test(lots, a_plan_is_corrected_by_pointer_in_three_steps, 0, 2);
  suite_add_tcase(suite, lots);
  return lz_app_test_run(suite, true);
}
