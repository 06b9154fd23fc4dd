// SPDX-License-Identifier: GPL-3.0-or-later
// In Lots, what was seen, counted or given of a lot opens for correction where it is read.
#include <lz_fields.h>
#include <lz_rows.h>

#include "lz_app_window.h"
#include "lz_form_private.h"
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
  ck_assert_int_eq(press(0, 2), lz_entry_id(death)); // above the arrival of the lot
  correct_heads("1");
  ck_assert_int_eq(press(0, 2), lz_entry_id(death)); // not the correction
  correct_heads("3");
}
END_TEST

START_TEST(the_last_dose_is_corrected)
{
  lz_app_submit(lz_app_window_station(), "dose", "system", "Blue-2", "bottle", "C-14", "amount_ml",
                "61.2", NULL);
  g_autoptr(LzEntry) dose = only("dose");
  ck_assert_int_eq(press(1, 2), lz_entry_id(dose)); // behind the arrival of the lot
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
  suite_add_tcase(suite, lots);
  return lz_app_test_run(suite, true);
}
