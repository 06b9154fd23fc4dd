// SPDX-License-Identifier: GPL-3.0-or-later
// The form of every kind: it can be built, it records, a refusal stays beside it, a correction
// keeps what it does not show.
#include <lz_fields.h>

#include "lz_app_station.h"
#include "lz_app_test.h"
#include "lz_form.h"
#include "lz_form_private.h"
#include "lz_form_shown.h"

static LzAppStation station;
static GtkWidget *form;
static gint64 done;

static void
on_done(LzForm *self, gint64 id, gpointer data)
{
  done = id;
}

static void
setup(void)
{
  lz_app_station_open(&station);
  form = g_object_ref_sink(lz_form_new());
  g_signal_connect(form, "done", G_CALLBACK(on_done), NULL);
  done = 0;
}

static void
teardown(void)
{
  g_assert_finalize_object(form);
  lz_app_station_close(&station);
}

START_TEST(every_kind_has_a_form)
{
  guint n;
  const LzKind *kinds = lz_kinds(&n);
  ck_assert_uint_gt(n, 30);
  for (guint i = 0; i < n; i++) {
    const char *const *shown = lz_form_shown(kinds[i].name);
    lz_form_open(LZ_FORM(form), station.desk, kinds[i].name, 0, NULL, NULL);
    for (guint f = 0; shown && shown[f]; f++)
      ck_assert_msg(lz_kind_field(&kinds[i], shown[f]) != NULL, "%s has no field %s", kinds[i].name,
                    shown[f]);
    for (guint f = 0; !shown && f < kinds[i].n_fields; f++) {
      g_autofree char *text = lz_form_text(LZ_FORM(form), kinds[i].fields[f].name);
      ck_assert_ptr_nonnull(text);
    }
    // a field that must be filled can be filled
    for (guint f = 0; f < kinds[i].n_fields; f++) {
      g_autofree char *text = lz_form_text(LZ_FORM(form), kinds[i].fields[f].name);
      ck_assert_msg(text || !kinds[i].fields[f].needed || g_str_equal(kinds[i].name, "protocol"),
                    "%s: %s is needed and not shown", kinds[i].name, kinds[i].fields[f].name);
    }
  }
}
END_TEST

START_TEST(a_reading_with_a_comma_is_recorded)
{
  lz_form_open(LZ_FORM(form), station.desk, "reading", 0, NULL, NULL);
  lz_form_set_text(LZ_FORM(form), "system", "Blue-1");
  lz_form_set_text(LZ_FORM(form), "analyte", "salinity");
  lz_form_set_text(LZ_FORM(form), "value", "33,9");
  lz_form_submit(LZ_FORM(form));
  ck_assert_int_gt(done, 0);
  g_autoptr(LzEntry) entry = lz_desk_entry(station.desk, done, NULL);
  ck_assert_double_eq_tol(lz_entry_number(entry, "value"), 33.9, 1e-9);
}
END_TEST

// Marked for the eye, and for whoever hears the window.
static void
is_marked(const char *name, gboolean wrong)
{
  LzFormField *field = lz_form_find(LZ_FORM(form), name);
  ck_assert_int_eq(gtk_widget_has_css_class(field->input, "wrong"), wrong);
  ck_assert_int_eq(gtk_widget_get_visible(field->sign), wrong);
  ck_assert_int_eq(
      gtk_test_accessible_has_state(GTK_ACCESSIBLE(field->input), GTK_ACCESSIBLE_STATE_INVALID),
      wrong);
  ck_assert_int_eq(gtk_test_accessible_has_relation(GTK_ACCESSIBLE(field->input),
                                                    GTK_ACCESSIBLE_RELATION_DESCRIBED_BY),
                   wrong);
}

START_TEST(a_refusal_keeps_what_was_typed)
{
  lz_form_open(LZ_FORM(form), station.desk, "reading", 0, NULL, NULL);
  lz_form_set_text(LZ_FORM(form), "system", "Blue-1");
  lz_form_set_text(LZ_FORM(form), "analyte", "salinity");
  lz_form_set_text(LZ_FORM(form), "value", "1.234,5");
  lz_form_submit(LZ_FORM(form));
  g_autofree char *text = lz_form_text(LZ_FORM(form), "value");
  is_marked("value", TRUE);
  is_marked("system", FALSE);
  ck_assert_int_eq(done, 0);
  ck_assert_str_eq(text, "1.234,5");
  ck_assert_uint_eq(lz_app_count(&station, "reading"), 0);
  lz_form_set_text(LZ_FORM(form), "value", "34.5");
  lz_form_submit(LZ_FORM(form));
  ck_assert_uint_eq(lz_app_count(&station, "reading"), 1);
}
END_TEST

static void
open_worked_out(void)
{
  GVariantBuilder all;
  g_variant_builder_init(&all, G_VARIANT_TYPE("a{ss}"));
  static const char *const pairs[][2] = {
      {"system", "Blue-1"}, {"bottle", "C-14"}, {"amount_ml", "6.8"}, {"computed_ml", "6.84"}};
  for (gsize i = 0; i < G_N_ELEMENTS(pairs); i++)
    g_variant_builder_add(&all, "{ss}", pairs[i][0], pairs[i][1]);
  g_autoptr(GVariant) filled = g_variant_ref_sink(g_variant_builder_end(&all));
  lz_form_open(LZ_FORM(form), station.desk, "dose", 0, NULL, filled);
}

static void
holds_ml(const char *expected)
{
  g_autofree char *ml = lz_form_text(LZ_FORM(form), "amount_ml");
  ck_assert_str_eq(ml, expected);
}

// 34.2 mg are 6.84 mL of 5 mg/mL and 3.42 mL of 10 mg/mL; a syringe in steps of 0.2 gives 3.4.
START_TEST(another_bottle_is_another_amount)
{
  lz_app_submit(&station, "bottle", "name", "C-15", "analyte", "copper", "form", "amine",
                "strength", "10", NULL);
  lz_app_submit(&station, "bottle", "name", "I-1", "analyte", "copper", "form", "ionic", "strength",
                "10", NULL);
  open_worked_out();
  lz_form_set_text(LZ_FORM(form), "bottle", "C-15");
  holds_ml("3.4");
  lz_form_set_text(LZ_FORM(form), "bottle", "C-14"); // and back
  holds_ml("6.8");
  lz_form_set_text(LZ_FORM(form), "amount_ml", "6.6"); // a person's own number is not taken away
  lz_form_set_text(LZ_FORM(form), "bottle", "C-15");
  holds_ml("6.6");
  open_worked_out();
  lz_form_set_text(LZ_FORM(form), "bottle", "I-1"); // its levels are others: nothing carries over
  holds_ml("");
}
END_TEST

// 15 mg to one lot, 10 mg to the other, in one act.
START_TEST(each_lot_gets_its_own_amount)
{
  for (int i = 0; i < 2; i++)
    lz_app_submit(&station, "lot", "code", i ? "0413" : "0412", "tank", "Blue-1/1", "heads", "30",
                  NULL);
  lz_app_submit(&station, "bottle", "name", "M-1", "analyte", "praziquantel", "strength", "100",
                "prescription", "R-1", NULL);
  lz_form_open(LZ_FORM(form), station.desk, "feed", 0, NULL, NULL);
  lz_form_set_text(LZ_FORM(form), "bottle", "M-1");
  lz_form_set_text(LZ_FORM(form), "lot", "0412");
  lz_form_set_text(LZ_FORM(form), "eaten_share", "1");
  lz_form_set_text(LZ_FORM(form), "medicine_mg", "15");
  lz_form_set_text(LZ_FORM(form), "@also", "0413\tmedicine_mg=10");
  lz_form_submit(LZ_FORM(form));
  ck_assert_int_gt(done, 0);
  g_autoptr(LzEntry) first = lz_desk_entry(station.desk, done, NULL),
                     second = lz_desk_entry(station.desk, done + 1, NULL);
  ck_assert_double_eq(lz_entry_number(first, "medicine_mg"), 15);
  ck_assert_double_eq(lz_entry_number(second, "medicine_mg"), 10);
  ck_assert_int_eq(lz_entry_int(second, "lot"), lz_desk_find(station.desk, "lot", "0413"));
}
END_TEST

START_TEST(a_correction_keeps_hidden_fields)
{
  lz_app_submit(&station, "reading", "system", "Blue-1", "analyte", "salinity", "value", "33.9",
                "error", "0.3", NULL);
  g_autoptr(GPtrArray) before = lz_desk_facts(station.desk, "reading", 0, LZQ_NEVER - 1);
  gint64 first = lz_entry_id(g_ptr_array_index(before, 0));
  lz_form_open(LZ_FORM(form), station.desk, "reading", first, NULL, NULL);
  lz_form_set_text(LZ_FORM(form), "value", "33.4");
  lz_form_submit(LZ_FORM(form));
  ck_assert_int_eq(done, 0); // a correction needs its reason
  lz_form_set_text(LZ_FORM(form), "@reason", "misread");
  lz_form_submit(LZ_FORM(form));
  ck_assert_int_gt(done, first);
  g_autoptr(GPtrArray) facts = lz_desk_facts(station.desk, "reading", 0, LZQ_NEVER - 1);
  ck_assert_uint_eq(facts->len, 1);
  ck_assert_double_eq_tol(lz_entry_number(g_ptr_array_index(facts, 0), "value"), 33.4, 1e-9);
  ck_assert_double_eq_tol(lz_entry_number(g_ptr_array_index(facts, 0), "error"), 0.3, 1e-9);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("form");
  TCase *forms = tcase_create("forms");
  tcase_set_timeout(forms, 60);
  tcase_add_checked_fixture(forms, setup, teardown);
  tcase_add_test(forms, every_kind_has_a_form);
  tcase_add_test(forms, a_reading_with_a_comma_is_recorded);
  tcase_add_test(forms, a_refusal_keeps_what_was_typed);
  tcase_add_test(forms, another_bottle_is_another_amount);
  tcase_add_test(forms, each_lot_gets_its_own_amount);
  tcase_add_test(forms, a_correction_keeps_hidden_fields);
  suite_add_tcase(suite, forms);
  return lz_app_test_run(suite, true);
}
