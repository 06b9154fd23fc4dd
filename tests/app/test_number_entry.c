// SPDX-License-Identifier: GPL-3.0-or-later
// The large number field: what it takes, what it refuses and says.
#include "lz_app_test.h"
#include "lz_number_entry.h"
#include "lz_settings.h"

static GtkWidget *entry;
static char *refused;

static void
on_refused(LzNumberEntry *self, const char *sentence, gpointer data)
{
  g_free(refused);
  refused = g_strdup(sentence);
}

static void
setup(void)
{
  g_settings_set_enum(lz_settings(), "decimal", LZ_DECIMAL_POINT);
  entry = g_object_ref_sink(lz_number_entry_new());
  g_signal_connect(entry, "refused", G_CALLBACK(on_refused), NULL);
}

static void
teardown(void)
{
  g_clear_pointer(&refused, g_free);
  g_assert_finalize_object(entry);
}

static const char *
typed(const char *keys)
{
  lz_number_entry_set_text(LZ_NUMBER_ENTRY(entry), "");
  for (const char *c = keys; *c; c++)
    lz_number_entry_type(LZ_NUMBER_ENTRY(entry), (char[2]){*c, 0});
  return lz_number_entry_text(LZ_NUMBER_ENTRY(entry));
}

START_TEST(comma_and_point_are_the_sign_that_is_set)
{
  ck_assert_str_eq(typed("0.19"), "0.19");
  ck_assert_str_eq(typed("0,19"), "0.19");
  g_settings_set_enum(lz_settings(), "decimal", LZ_DECIMAL_COMMA);
  ck_assert_str_eq(typed("0.19"), "0,19");
  ck_assert_str_eq(typed("0,19"), "0,19");
}
END_TEST

// A button below `root` that says this.
static GtkWidget *
button_of(GtkWidget *root, const char *label)
{
  if (GTK_IS_BUTTON(root) && g_strcmp0(gtk_button_get_label(GTK_BUTTON(root)), label) == 0)
    return root;
  GtkWidget *found = NULL;
  for (GtkWidget *child = gtk_widget_get_first_child(root); child && !found;
       child = gtk_widget_get_next_sibling(child))
    found = button_of(child, label);
  return found;
}

// A number by pointer alone; the keyboard never meets these buttons.
START_TEST(digits_can_be_pressed)
{
  static const char *const keys[] = {"0", ",", "1", "7", "⌫", "9", ","};
  g_settings_set_enum(lz_settings(), "decimal", LZ_DECIMAL_COMMA);
  GtkWidget *window = gtk_window_new();
  gtk_window_set_child(GTK_WINDOW(window), entry);
  gtk_window_present(GTK_WINDOW(window));
  lz_wait_until(gtk_widget_get_mapped(entry));
  GtkWidget *open = button_of(entry, "123");
  ck_assert(!gtk_widget_get_focusable(open));
  g_signal_emit_by_name(open, "clicked");
  for (guint i = 0; i < G_N_ELEMENTS(keys); i++) {
    GtkWidget *key = button_of(entry, keys[i]);
    ck_assert_msg(key && !gtk_widget_get_focusable(key), "%s", keys[i]);
    g_signal_emit_by_name(key, "clicked");
  }
  ck_assert_str_eq(lz_number_entry_text(LZ_NUMBER_ENTRY(entry)), "0,19");
  ck_assert_ptr_nonnull(refused); // the second sign
  gtk_window_destroy(GTK_WINDOW(window));
}
END_TEST

START_TEST(a_second_separator_is_refused_and_nothing_is_lost)
{
  ck_assert_str_eq(typed("1,8,00"), "1.800");
  ck_assert_ptr_nonnull(refused);
}
END_TEST

START_TEST(letters_are_refused)
{
  ck_assert_str_eq(typed("6a8"), "68");
  ck_assert_ptr_nonnull(refused);
}
END_TEST

START_TEST(a_pasted_group_is_refused_whole)
{
  lz_number_entry_set_text(LZ_NUMBER_ENTRY(entry), "");
  lz_number_entry_type(LZ_NUMBER_ENTRY(entry), "1.234,5");
  ck_assert_str_eq(lz_number_entry_text(LZ_NUMBER_ENTRY(entry)), "");
  ck_assert_ptr_nonnull(refused);
}
END_TEST

START_TEST(the_rule_itself)
{
  ck_assert(lz_number_text_ok("", FALSE));
  ck_assert(lz_number_text_ok("00.5", FALSE));
  ck_assert(lz_number_text_ok(".5", FALSE));
  ck_assert(lz_number_text_ok("-2", TRUE));
  ck_assert(!lz_number_text_ok("-2", FALSE));
  ck_assert(!lz_number_text_ok("2-", TRUE));
  ck_assert(!lz_number_text_ok("1 800", FALSE));
  ck_assert(!lz_number_text_ok("1.8.0", FALSE));
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("number entry");
  TCase *typing = tcase_create("typing");
  tcase_add_checked_fixture(typing, setup, teardown);
  tcase_add_test(typing, comma_and_point_are_the_sign_that_is_set);
  tcase_add_test(typing, digits_can_be_pressed);
  tcase_add_test(typing, a_second_separator_is_refused_and_nothing_is_lost);
  tcase_add_test(typing, letters_are_refused);
  tcase_add_test(typing, a_pasted_group_is_refused_whole);
  tcase_add_test(typing, the_rule_itself);
  suite_add_tcase(suite, typing);
  return lz_app_test_run(suite, true);
}
