// SPDX-License-Identifier: GPL-3.0-or-later
// The key bar and the start page: roles, names, and that a hint is a button that acts.
#include "lz_app_test.h"
#include "lz_key_bar.h"
#include "lz_place.h"
#include "lz_start_view.h"

START_TEST(key_bar_shows_only_what_it_was_given)
{
  GtkWidget *bar = g_object_ref_sink(g_object_new(LZ_TYPE_KEY_BAR, NULL));
  g_autoptr(GPtrArray) hints = lz_hints_new();
  lz_hints_add(hints, "Enter", "record", "win.record");
  lz_hints_add(hints, "0-9", "type it again", NULL);
  lz_key_bar_set(LZ_KEY_BAR(bar), hints);
  GtkWidget *first = gtk_widget_get_first_child(bar);
  gtk_test_accessible_assert_role(bar, GTK_ACCESSIBLE_ROLE_TOOLBAR);
  gtk_test_accessible_assert_property(first, GTK_ACCESSIBLE_PROPERTY_LABEL, "record");
  gtk_test_accessible_assert_property(first, GTK_ACCESSIBLE_PROPERTY_KEY_SHORTCUTS, "Enter");
  ck_assert_str_eq(gtk_actionable_get_action_name(GTK_ACTIONABLE(first)), "win.record");
  ck_assert(!gtk_widget_get_can_target(gtk_widget_get_next_sibling(first)));
  // too narrow for all: whole hints go, the last one (all keys) stays
  gtk_widget_allocate(bar, 40, 40, -1, NULL);
  ck_assert(!gtk_widget_get_child_visible(first));
  ck_assert(gtk_widget_get_child_visible(gtk_widget_get_last_child(bar)));
  g_ptr_array_set_size(hints, 1);
  lz_key_bar_set(LZ_KEY_BAR(bar), hints);
  ck_assert_ptr_null(gtk_widget_get_next_sibling(gtk_widget_get_first_child(bar)));
  g_assert_finalize_object(bar);
}
END_TEST

static int demos;

static void
on_demo(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  demos++;
}

START_TEST(a_digit_chooses_a_way_in)
{
  GtkWidget *start = g_object_ref_sink(lz_start_view_new());
  g_autoptr(GSimpleActionGroup) group = g_simple_action_group_new();
  const GActionEntry entry = {.name = "demo", .activate = on_demo};
  g_action_map_add_action_entries(G_ACTION_MAP(group), &entry, 1, NULL);
  gtk_widget_insert_action_group(start, "app", G_ACTION_GROUP(group));
  LzPadKey one = {LZ_PAD_DIGIT, 1, true}, nine = {LZ_PAD_DIGIT, 9, true};
  ck_assert(lz_place_key(LZ_PLACE(start), one));
  ck_assert_int_eq(demos, 1);
  ck_assert(!lz_place_key(LZ_PLACE(start), nine));
  g_autoptr(GPtrArray) hints = lz_place_hints(LZ_PLACE(start));
  ck_assert_uint_eq(hints->len, 4);
  gtk_test_accessible_assert_role(start, GTK_ACCESSIBLE_ROLE_REGION);
  g_assert_finalize_object(start);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("frame");
  TCase *parts = tcase_create("parts");
  tcase_add_test(parts, key_bar_shows_only_what_it_was_given);
  tcase_add_test(parts, a_digit_chooses_a_way_in);
  suite_add_tcase(suite, parts);
  return lz_app_test_run(suite, true);
}
