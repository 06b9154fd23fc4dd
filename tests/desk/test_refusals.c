// SPDX-License-Identifier: GPL-3.0-or-later
// What is refused, with which code, and that the sentence names field, value and what would be
// accepted; that a refusal leaves nothing behind; readings in other units against published values.
#include <math.h>
#include <string.h>

#include "lab.h"

static Lab lab;

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 12:00");
  lab_station(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "1800", "role", "treatment", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "1", NULL);
  lab_say(&lab, "lot", "2027-03-01 09:00", "code", "0412", "tank", "Blue-1/1", "heads", "30", NULL);
}

static void
teardown(void)
{
  lab_close(&lab);
}

#define has(text, part) ck_assert_msg(strstr(text, part) != NULL, "“%s” is not in: %s", part, text)

START_TEST(fields_are_named)
{
  const char *no = lab_refused(&lab, LZ_DESK_ERROR_USAGE, "reading", NULL, "system", "Blue-9",
                               "analyte", "copper", "value", "0.2", NULL);
  has(no, "system");
  has(no, "Blue-9");
  has(no, "Blue-1"); // what would be accepted
  no = lab_refused(&lab, LZ_DESK_ERROR_USAGE, "reading", NULL, "system", "Blue-1", "analyte",
                   "gold", "value", "1", NULL);
  has(no, "gold");
  has(no, "copper, salinity");
  no = lab_refused(&lab, LZ_DESK_ERROR_USAGE, "change", NULL, "system", "Blue-1", "litres",
                   "1.800,5", NULL);
  has(no, "litres");
  has(no, "1.800,5");
  no = lab_refused(&lab, LZ_DESK_ERROR_USAGE, "change", NULL, "system", "Blue-1", "litre", "5",
                   NULL);
  has(no, "litre");
  has(no, "litres, new_copper");
  no = lab_refused(&lab, LZ_DESK_ERROR_USAGE, "change", NULL, "system", "Blue-1", NULL);
  has(no, "litres: nothing was given");
  no = lab_refused(&lab, LZ_DESK_ERROR_USAGE, "system", NULL, "name", "blue-1", "volume_l", "5",
                   "role", "treatment", NULL);
  has(no, "blue-1");
  has(no, "taken");
  no = lab_refused(&lab, LZ_DESK_ERROR_USAGE, "reading", NULL, "system", "Blue-1", "analyte", "ph",
                   "value", "15", NULL);
  has(no, "0 to 14");
  no = lab_refused(&lab, LZ_DESK_ERROR_USAGE, "reading", NULL, "system", "Blue-1", "analyte",
                   "copper", "value", "0.2", "@who", "XY", NULL);
  has(no, "XY");
  has(no, "MK, TA");
}
END_TEST

// Kinds of one minute count in a fixed order, deaths before splits: whoever enters both at 09:30 is
// told at once that the death changed nothing, and how to mend it.
START_TEST(what_changes_nothing_is_said)
{
  lab_say(&lab, "split", "2027-03-01 09:30", "lot", "0412", "code", "0412a", "tank", "Blue-1/1",
          "heads", "5", NULL);
  const int64_t death =
      lab_say(&lab, "death", "2027-03-01 09:30", "lot", "0412a", "heads", "2", NULL);
  has(lab_notes(&lab), "it changes nothing");
  has(lab_notes(&lab), "a minute later");
  g_autofree char *id = g_strdup_printf("%" G_GINT64_FORMAT, death);
  lab_say(&lab, "death", "2027-03-01 09:31", "lot", "0412a", "heads", "2", "@corrects", id,
          "@reason", "minute", NULL);
  ck_assert_ptr_null(strstr(lab_notes(&lab), "it changes nothing"));
  ck_assert_int_eq(lab_credit(&lab, "0412a")->heads, 3);
  lab_say(&lab, "feed", "2027-03-01 09:40", "lot", "0412a", "eaten_share", "1", NULL);
  ck_assert_str_eq(lab_notes(&lab), "");
}
END_TEST

START_TEST(counts_fit)
{
  const char *no =
      lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "death", NULL, "lot", "0412", "heads", "31", NULL);
  has(no, "31");
  has(no, "30 fish");
  no = lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "death", "2027-03-01 08:59", "lot", "0412", "heads",
                   "1", NULL);
  has(no, "not here yet");
  no = lab_refused(&lab, LZ_DESK_ERROR_USAGE, "lot", NULL, "code", "0412", "tank", "Blue-1/1",
                   "heads", "3", NULL);
  has(no, "taken");
  no = lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "change", NULL, "system", "Blue-1", "litres",
                   "2000", NULL);
  has(no, "1\u202f800 L");
}
END_TEST

START_TEST(corrections_need_a_reason)
{
  int64_t id =
      lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "copper", "value", "0.9", NULL);
  g_autofree char *number = g_strdup_printf("%d", (int)id);
  lab_refused(&lab, LZ_DESK_ERROR_NEEDS_REASON, "reading", NULL, "value", "0.19", "@corrects",
              number, NULL);
  int64_t fixed =
      lab_say(&lab, "reading", NULL, "value", "0.19", "@corrects", number, "@reason", "slip", NULL);
  g_autoptr(GPtrArray) facts = lz_desk_facts(lab.desk, "reading", LZQ_LONG_AGO, LZQ_NEVER);
  ck_assert_uint_eq(facts->len, 1);
  ck_assert_int_eq(lz_entry_id(facts->pdata[0]), fixed);
  ck_assert_double_eq(lz_entry_number(facts->pdata[0], "value"), 0.19);
  ck_assert_str_eq(lz_entry_text(facts->pdata[0], "analyte"), "copper"); // what is not typed stays
  lab_say(&lab, "reading", NULL, "@voids", number, "@reason", "wrong system", NULL);
  g_autoptr(GPtrArray) none = lz_desk_facts(lab.desk, "reading", LZQ_LONG_AGO, LZQ_NEVER);
  ck_assert_uint_eq(none->len, 0);
}
END_TEST

// A move is taken away only if no later act rests on it; else the acts are listed.
START_TEST(acts_that_others_rest_on_stay)
{
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "2", NULL);
  int64_t first =
      lab_say(&lab, "move", "2027-03-01 10:00", "lot", "0412", "tank", "Blue-1/2", NULL);
  int64_t second =
      lab_say(&lab, "move", "2027-03-01 11:00", "lot", "0412", "tank", "Blue-1/1", NULL);
  g_autofree char *a = g_strdup_printf("%d", (int)first), *b = g_strdup_printf("%d", (int)second);
  const char *no =
      lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "move", NULL, "@voids", a, "@reason", "slip", NULL);
  g_autofree char *later = g_strdup_printf("move %s", b);
  has(no, later);
  lab_say(&lab, "move", NULL, "@voids", b, "@reason", "slip", NULL);
  lab_say(&lab, "move", NULL, "@voids", a, "@reason", "slip", NULL);
}
END_TEST

START_TEST(release_waits_for_proof)
{
  lab_say(&lab, "protocol", NULL, "name", "Watch", "version", "1", NULL);
  lab_say(&lab, "phase", NULL, "protocol", "Watch", "position", "1", "name", "watch", "kind",
          "observe", "min_credit_min", "1 h", NULL);
  lab_say(&lab, "course", "2027-03-01 11:30", "lot", "0412", "protocol", "Watch", NULL);
  const char *no = lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "release", NULL, "lot", "0412", NULL);
  has(no, "may not be released");
  has(no, "30 min of 1 h");
  lab_go(&lab, "2027-03-01 12:30");
  lab_say(&lab, "release", NULL, "lot", "0412", NULL);
  no = lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "death", NULL, "lot", "0412", "heads", "1", NULL);
  has(no, "released");
}
END_TEST

START_TEST(sharks_do_not_meet_copper)
{
  lab_say(&lab, "species", NULL, "name", "Chiloscyllium punctatum", "copper", "avoid",
          "cartilaginous", "yes", NULL);
  lab_say(&lab, "protocol", NULL, "name", "Ionic", "version", "1", NULL);
  lab_say(&lab, "phase", NULL, "protocol", "Ionic", "position", "1", "name", "hold", "kind", "hold",
          "min_credit_min", "21 d", NULL);
  lab_say(&lab, "band", NULL, "phase", "Ionic/1/1", "analyte", "copper", "form", "ionic", "side",
          "at_or_above", "works", "0.18", "gap_min", "24 h", NULL);
  lab_say(&lab, "lot", NULL, "code", "0413", "tank", "Blue-1/1", "heads", "1", "species",
          "Chiloscyllium punctatum", NULL);
  const char *no = lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "course", NULL, "lot", "0413",
                               "protocol", "Ionic", NULL);
  has(no, "must not meet copper");
  lab_say(&lab, "bottle", NULL, "name", "C-01", "analyte", "copper", "form", "ionic", "strength",
          "1", NULL);
  no = lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "dose", NULL, "system", "Blue-1", "bottle", "C-01",
                   "amount_ml", "10", NULL);
  has(no, "0413");
}
END_TEST

// A free-copper kit says nothing about complexed copper: kept, and said.
START_TEST(a_wrong_method_is_kept_and_said)
{
  lab_say(&lab, "instrument", NULL, "name", "K1", "method", "drop_test", "sees", "ionic", NULL);
  lab_say(&lab, "bottle", NULL, "name", "C-02", "analyte", "copper", "form", "amine", "strength",
          "5", NULL);
  lab_say(&lab, "dose", "2027-03-01 10:00", "system", "Blue-1", "bottle", "C-02", "amount_ml", "60",
          NULL);
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "copper", "value", "0.02",
          "instrument", "K1", NULL);
  has(lab_notes(&lab), "kept, not used");
}
END_TEST

static double
salinity(const char *value, const char *unit, const char *instrument, const char *temperature)
{
  int64_t id =
      lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "salinity", "value", value,
              "unit", unit, "instrument", instrument, "read_temperature", temperature, NULL);
  g_autoptr(LzEntry) entry = lz_desk_entry(lab.desk, id, NULL);
  ck_assert_str_eq(lz_entry_text(entry, "typed"), value);
  return lz_entry_number(entry, "value");
}

// EOS-80 at the scale's own temperature (UNESCO technical papers in marine science 44): SG 1.016
// is 21.3 on 25/25, 20.9 on 60/60 F, 23.5 on 20/4. PSS-78: 42.914 mS/cm at 15 C is 35; 32 F is 0 C.
START_TEST(readings_in_the_unit_they_were_read_in)
{
  ck_assert_double_eq_tol(salinity("1.016", "SG 25/25", NULL, NULL), 21.3, 0.05);
  ck_assert_double_eq_tol(salinity("1,016", "SG 60/60F", NULL, NULL), 20.9, 0.06);
  lab_say(&lab, "instrument", NULL, "name", "H1", "method", "refractometer", "scale", "20/4", NULL);
  ck_assert_double_eq_tol(salinity("1.016", "SG", "H1", NULL), 23.5, 0.06);
  ck_assert_double_eq_tol(salinity("42.914", "mS/cm", NULL, "15"), 35.0, 0.01);
  const char *no = lab_refused(&lab, LZ_DESK_ERROR_USAGE, "reading", NULL, "system", "Blue-1",
                               "analyte", "salinity", "value", "1.016", "unit", "SG", NULL);
  has(no, "scale");
  no = lab_refused(&lab, LZ_DESK_ERROR_USAGE, "reading", NULL, "system", "Blue-1", "analyte",
                   "salinity", "value", "1.016", NULL);
  has(no, "SG");
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "temperature", "value", "77",
          "unit", "F", NULL);
  g_autoptr(GPtrArray) facts = lz_desk_facts(lab.desk, "reading", LZQ_LONG_AGO, LZQ_NEVER);
  ck_assert_double_eq_tol(lz_entry_number(facts->pdata[facts->len - 1], "value"), 25.0, 1e-9);
  // one US gallon is 231 cubic inches
  int64_t id = lab_say(&lab, "change", NULL, "system", "Blue-1", "litres", "95 gal", NULL);
  g_autoptr(LzEntry) change = lz_desk_entry(lab.desk, id, NULL);
  ck_assert_double_eq_tol(lz_entry_number(change, "litres"), 95 * 231 * 0.254 * 0.254 * 0.254,
                          1e-9);
}
END_TEST

START_TEST(one_field_while_typed)
{
  g_autoptr(LzCommand) c =
      lz_command_build("reading", "system", "Blue-1", "analyte", "copper", NULL);
  LzFieldCheck check;
  g_autoptr(GError) error = NULL;
  ck_assert(lz_desk_check_field(lab.desk, c, "value", "0,19", &check, &error));
  ck_assert_double_eq(check.value, 0.19);
  ck_assert_str_eq(check.echo, "0.190 mg/L");
  ck_assert(lz_desk_check_field(lab.desk, c, "value", "190 ug/L", &check, &error));
  ck_assert_double_eq_tol(check.value, 0.19, 1e-12);
  ck_assert(lz_desk_check_field(lab.desk, c, "value", "", &check, &error));
  ck_assert(!lz_desk_check_field(lab.desk, c, "value", "0.1.9", &check, &error));
  has(error->message, "0.1.9");
  g_clear_error(&error);
  g_autoptr(LzCommand) dose = lz_command_new("dose");
  ck_assert(lz_desk_check_field(lab.desk, dose, "amount_ml", "68,4", &check, &error));
  ck_assert_str_eq(check.echo, "68.4 mL");
  ck_assert(!lz_desk_check_field(lab.desk, dose, "system", "Blue-9", &check, &error));
}
END_TEST

// Several commands: all or none, and the refusal says which.
START_TEST(all_or_nothing)
{
  g_autoptr(LzCommand) good =
      lz_command_build("system", "name", "Blue-2", "volume_l", "500", "role", "treatment", NULL);
  g_autoptr(LzCommand) tank = lz_command_build("tank", "system", "Blue-2", "number", "1", NULL);
  g_autoptr(LzCommand) bad = lz_command_build("tank", "system", "Blue-3", "number", "1", NULL);
  LzCommand *three[] = {good, tank, bad};
  g_autoptr(GError) error = NULL;
  ck_assert(!lz_desk_submit(lab.desk, three, 3, &error));
  has(error->message, "tank 3: ");
  has(error->message, "Blue-3");
  ck_assert_int_eq(lz_desk_find(lab.desk, "system", "Blue-2"), 0);
  ck_assert_msg(lz_desk_check(lab.desk, three, 2, NULL), "a check alone passes");
  ck_assert_int_eq(lz_desk_find(lab.desk, "system", "Blue-2"), 0);
  ck_assert(
      lz_desk_submit(lab.desk, three, 2, NULL)); // the tank names a system of the same submission
  ck_assert_str_eq(lz_desk_name_of(lab.desk, "tank", lz_command_id(tank)), "Blue-2/1");
}
END_TEST

START_TEST(exit_status)
{
  static const int of[][2] = {{LZ_DESK_ERROR_REFUSED, 1}, {LZ_DESK_ERROR_NEEDS_READBACK, 1},
                              {LZ_DESK_ERROR_USAGE, 2},   {LZ_DESK_ERROR_AMBIGUOUS_TIME, 2},
                              {LZ_DESK_ERROR_BUSY, 3},    {LZ_DESK_ERROR_IO, 3}};
  ck_assert_int_eq(lz_error_exit_status(NULL), 0);
  for (guint i = 0; i < G_N_ELEMENTS(of); i++) {
    g_autoptr(GError) error = g_error_new_literal(LZ_DESK_ERROR, of[i][0], "x");
    ck_assert_int_eq(lz_error_exit_status(error), of[i][1]);
  }
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk-refusals");
  TCase *all = tcase_create("all");
  tcase_set_timeout(all, 60);
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, fields_are_named);
  tcase_add_test(all, what_changes_nothing_is_said);
  tcase_add_test(all, counts_fit);
  tcase_add_test(all, corrections_need_a_reason);
  tcase_add_test(all, acts_that_others_rest_on_stay);
  tcase_add_test(all, release_waits_for_proof);
  tcase_add_test(all, sharks_do_not_meet_copper);
  tcase_add_test(all, a_wrong_method_is_kept_and_said);
  tcase_add_test(all, readings_in_the_unit_they_were_read_in);
  tcase_add_test(all, one_field_while_typed);
  tcase_add_test(all, all_or_nothing);
  tcase_add_test(all, exit_status);
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
