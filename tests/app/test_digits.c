// SPDX-License-Identifier: GPL-3.0-or-later
// Whoever has a pointer and no keys can fill every number field of every form: common practice with
// wet gloves, no source.
#include <lz_fields.h>

#include "lz_amount_view.h"
#include "lz_app_window.h"
#include "lz_form.h"
#include "lz_setup_window.h"
#include "lz_window_private.h"

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

static GtkWidget *
digits_beside(GtkWidget *entry)
{
  GtkWidget *next = gtk_widget_get_next_sibling(entry);
  return next ? button_of(next, "123") : NULL;
}

// How many number entries there are below `root`; each has its digits.
static guint
count(GtkWidget *root, const char *where)
{
  if (GTK_IS_ENTRY(root)) {
    if (gtk_entry_get_input_purpose(GTK_ENTRY(root)) != GTK_INPUT_PURPOSE_NUMBER)
      return 0;
    GtkWidget *digits = digits_beside(root);
    ck_assert_msg(digits != NULL, "%s: a number without digits", where);
    ck_assert(!gtk_widget_get_focusable(digits));
    ck_assert(
        gtk_test_accessible_has_relation(GTK_ACCESSIBLE(digits), GTK_ACCESSIBLE_RELATION_CONTROLS));
    return 1;
  }
  guint n = 0;
  for (GtkWidget *child = gtk_widget_get_first_child(root); child;
       child = gtk_widget_get_next_sibling(child))
    n += count(child, where);
  return n;
}

static guint
n_numbers(const LzKind *kind, LzForm *form)
{
  guint n = 0;
  for (guint i = 0; i < kind->n_fields; i++) {
    g_autofree char *shown = lz_form_text(form, kind->fields[i].name);
    LzFieldType type = kind->fields[i].type;
    n += shown && (type == LZ_FIELD_INT || type == LZ_FIELD_REAL);
  }
  return n;
}

START_TEST(every_number_of_every_form_has_digits)
{
  guint n, all = 0;
  const LzKind *kinds = lz_kinds(&n);
  GtkWidget *form = g_object_ref_sink(lz_form_new());
  for (guint i = 0; i < n; i++) {
    lz_form_open(LZ_FORM(form), lz_app_window_station()->desk, kinds[i].name, 0, NULL, NULL);
    ck_assert_uint_eq(count(form, kinds[i].name), n_numbers(&kinds[i], LZ_FORM(form)));
    all += n_numbers(&kinds[i], LZ_FORM(form));
  }
  ck_assert_uint_gt(all, 50);
  g_assert_finalize_object(form);
}
END_TEST

START_TEST(the_pages_have_them_too)
{
  GtkWidget *amount = g_object_ref_sink(lz_amount_view_new(lz_app_window_station()->desk));
  GtkWidget *setup = lz_setup_window_new(NULL, NULL);
  ck_assert_uint_gt(count(amount, "amount"), 10);
  ck_assert_uint_eq(count(setup, "set-up"), 3); // litres, tanks, salinity
  lz_window_go(lz_app_window(), "print");
  // the sheet's number, and litres and medicine of the take-home plan
  ck_assert_uint_eq(count(GTK_WIDGET(lz_window_place(lz_app_window())), "print"), 3);
  gtk_window_destroy(GTK_WINDOW(setup));
  g_assert_finalize_object(amount);
}
END_TEST

static void
press(GtkWidget *root, const char *label)
{
  GtkWidget *button = button_of(root, label);
  ck_assert_msg(button && gtk_widget_is_sensitive(button), "%s cannot be pressed", label);
  g_signal_emit_by_name(button, "clicked");
}

START_TEST(a_form_is_filled_without_keys)
{
  LzWindow *window = lz_app_window();
  gtk_widget_activate_action(GTK_WIDGET(window), "win.record", "(sxa{ss})", "topup", (gint64)0,
                             NULL);
  GtkWidget *form = GTK_WIDGET(window->form);
  lz_form_set_text(LZ_FORM(form), "system", "Blue-1");
  press(form, "123");
  static const char *const keys[] = {"1", "2", "⌫", ".", "−", "5", "−", "Ready"};
  for (guint i = 0; i < G_N_ELEMENTS(keys); i++)
    press(form, keys[i]);
  g_autofree char *text = lz_form_text(LZ_FORM(form), "litres");
  ck_assert_str_eq(text, "1.5");
  lz_form_submit(LZ_FORM(form));
  ck_assert_uint_eq(lz_app_count(lz_app_window_station(), "topup"), 1);
}
END_TEST

// The text field that has the focus.
static const char *
here(void)
{
  GtkWidget *focus = gtk_window_get_focus(GTK_WINDOW(lz_app_window()));
  return GTK_IS_TEXT(focus) ? gtk_editable_get_text(GTK_EDITABLE(focus)) : "";
}

START_TEST(a_box_is_filled_field_by_field)
{
  lz_window_go(lz_app_window(), "receive");
  GtkWidget *place = GTK_WIDGET(lz_window_place(lz_app_window())), *open = button_of(place, "123");
  ck_assert(!gtk_widget_get_sensitive(open)); // the supplier is no number
  g_signal_emit_by_name(gtk_window_get_focus(GTK_WINDOW(lz_app_window())), "activate");
  // on to the first box
  lz_wait_until(gtk_widget_get_sensitive(open));
  press(place, "123");
  press(place, "2");
  press(place, "4");
  ck_assert_str_eq(here(), "24"); // °C
  press(place, "Next");
  ck_assert_str_eq(here(), "");
  press(place, "3");
  ck_assert_str_eq(here(), "3"); // ppt
  press(place, "Next");
  press(place, "Next");
  press(place, "Next"); // pH and ammonia stay empty: the species is no number
  ck_assert(!gtk_widget_get_sensitive(open));
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("digits");
  TCase *digits = tcase_create("digits");
  // a session without a notification service: what became late is told to nobody here
  g_setenv("DBUS_SESSION_BUS_ADDRESS", "disabled:", TRUE);
  if (!lz_app_window_init()) {
    g_print("no display: skipped\n");
    return 77;
  }
  tcase_set_timeout(digits, 60);
  tcase_add_checked_fixture(digits, lz_app_window_setup, lz_app_window_teardown);
  tcase_add_test(digits, every_number_of_every_form_has_digits);
  tcase_add_test(digits, the_pages_have_them_too);
  tcase_add_test(digits, a_form_is_filled_without_keys);
  tcase_add_test(digits, a_box_is_filled_field_by_field);
  suite_add_tcase(suite, digits);
  return lz_app_test_run(suite, true);
}
