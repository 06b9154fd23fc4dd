// SPDX-License-Identifier: GPL-3.0-or-later
// What the record shows that somebody must look at: phases and releases found short, the minutes
// that a named person may accept, contacts of a sighting through water, nets and reach (nets are
// the most common vector: Fenner, "Disinfecting nets"; spray carries some metres: Roberts-Thomson
// 2006), lots under no protocol, acts that could not be done. The figures follow from the inputs.
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "cases.h"

// A day of copper in treatment, then two quiet days in a finishing water.
static const char protocol[] =
    "[protocol]\nname=House\nversion=1\nsource=invented for a test\n"
    "[phase 1]\nname=Hold\nkind=hold\nplace=role\nrole=treatment\nmin_credit_min=1440\n"
    "sighting_to=1\n"
    "[phase 1 band 1]\nanalyte=copper\nform=ionic\nside=at_or_above\nworks=0.18\ntarget=0.19\n"
    "plan=0.21\nharm=0.25\ngap_min=960\n"
    "[phase 2]\nname=Watch\nkind=observe\nplace=role\nrole=finishing\nmin_elapsed_min=2880\n"
    "quiet_min=2880\nsighting_to=1\n";

static void
read_copper(Ctl *c, const char *at, const char *value, const char *more)
{
  g_free(ctl(c, 0,
             "record reading --happened '2027-%s' system=Blue-1 analyte=copper value=%s "
             "instrument=P1 %s",
             at, value, more));
}

static Ctl *
station(void)
{
  Ctl *c = ctl_new();
  g_autofree char *name = g_build_filename(c->folder, "house.protocol", NULL);
  ctl_station(c, "accept_max_min=720");
  ck_assert(g_file_set_contents(name, protocol, -1, NULL));
  g_free(ctl(c, 0, "protocol --who MK '%s'", name));
  g_free(ctl(c, 0, "record system name=Blue-1 volume_l=1000 role=treatment nets=Red"));
  g_free(ctl(c, 0, "record system name=Gold-1 volume_l=1000 role=finishing nets=red"));
  g_free(ctl(c, 0, "record system name=Gold-2 volume_l=1000 role=finishing near=Gold-1"));
  static const char *const systems[] = {"Blue-1", "Gold-1", "Gold-2"};
  for (int i = 0; i < 3; i++)
    for (int tank = 1; tank <= 2; tank++)
      g_free(ctl(c, 0, "record tank system=%s number=%d", systems[i], tank));
  g_free(ctl(c, 0, "record instrument name=P1 method=photometer sees=all error_abs=0.01"));
  g_free(ctl(c, 0, "record customer reference=C-33"));
  return c;
}

// Read at 08:00, 20:00 and 08:00, so that the day is full; moved on an hour later. The id of the
// last reading.
static int
served_and_moved(Ctl *c)
{
  g_free(ctl(c, 0, "record lot --happened '2027-03-01 08:00' code=A tank=Blue-1/1 heads=30"));
  g_free(ctl(c, 0, "record course --happened '2027-03-01 08:00' lot=A protocol=House"));
  read_copper(c, "03-01 08:00", "0.19", "");
  read_copper(c, "03-01 20:00", "0.19", "");
  g_autofree char *id = ctl(c, 0,
                            "record reading --happened '2027-03-02 08:00' system=Blue-1 "
                            "analyte=copper value=0.19 instrument=P1");
  g_free(ctl(c, 0, "record move --happened '2027-03-02 09:00' lot=A tank=Gold-1/1"));
  return atoi(id + 1);
}

// The last reading was 0.17: the twelve hours before it earned nothing.
static void
correct(Ctl *c, int reading)
{
  g_free(ctl(c, 0,
             "record reading --corrects '#%d' --reason misread --happened '2027-03-02 08:00' "
             "system=Blue-1 analyte=copper value=0.17 instrument=P1",
             reading));
  g_autofree char *no = ctl(c, 2, "record reading --corrects 4x --reason misread value=0.17");
  ck_assert_msg(strstr(no, "corrects: “4x” is not accepted"), "%s", no);
}

static const char *
cell(const Table *t, int row, const char *column)
{
  ck_assert_int_ge(row, 0);
  return table_cell(t, (guint)row, column);
}

START_TEST(test_left_short_and_accepted)
{
  Ctl *c = station();
  int reading = served_and_moved(c);
  g_autoptr(Table) before = ctl_table(c, "plan --at '2027-03-02 12:00' --format=csv");
  ck_assert_int_eq(table_find(before, "what", "short", NULL), -1);
  correct(c, reading);
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-03-02 12:00' --format=csv");
  int row = table_find(plan, "what", "short", "lot", "A", NULL);
  ck_assert_str_eq(cell(plan, row, "kind"), "left_short");
  ck_assert_str_eq(cell(plan, row, "phase"), "Hold");
  ck_assert_str_eq(cell(plan, row, "amount"), "720");
  ck_assert_str_eq(cell(plan, row, "when"), "2027-03-02T08:00Z");
  // it is fetched back, and its present water, which is free of copper, gets none
  ck_assert_str_eq(cell(plan, table_find(plan, "kind", "accept", NULL), "amount"), "720");
  ck_assert_int_ge(table_find(plan, "kind", "move", "lot", "A", "state", "due", NULL), 0);
  ck_assert_int_eq(table_find(plan, "kind", "dose", "system", "Gold-1", NULL), -1);
  g_autofree char *text = ctl(c, 0, "plan --at '2027-03-02 12:00'");
  ck_assert_msg(strstr(text, "left “Hold” 12 h short") &&
                    strstr(text, "a named person may accept 12 h"),
                "%s", text);
  // at most what the station lets a person accept, with a reason
  static const char accept[] = "record accept --happened '2027-03-02 12:10' lot=A phase=1 minutes";
  g_autofree char *more = ctl(c, 1, "%s=721 --reason seen", accept);
  ck_assert_msg(strstr(more, "at most 720"), "%s", more);
  g_autofree char *why = ctl(c, 1, "%s=720", accept);
  ck_assert_msg(strstr(why, "reason"), "%s", why);
  g_free(ctl(c, 0, "%s=720 --reason 'two good readings around it'", accept));
  g_autoptr(Table) after = ctl_table(c, "plan --at '2027-03-02 12:15' --format=csv");
  ck_assert_int_eq(table_find(after, "what", "short", NULL), -1);
  ck_assert_str_eq(cell(after, table_find(after, "what", "end", "phase", "Hold", NULL), "when"),
                   "2027-03-02T11:10Z");
  ctl_free(c);
}
END_TEST

START_TEST(test_release_found_short)
{
  Ctl *c = station();
  int reading = served_and_moved(c);
  g_free(ctl(c, 0, "record release --happened '2027-03-04 09:00' lot=A customer=C-33"));
  correct(c, reading);
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-03-05 12:00' --format=csv");
  int row = table_find(plan, "what", "short", "lot", "A", NULL);
  ck_assert_str_eq(cell(plan, row, "kind"), "released_short");
  ck_assert_str_eq(cell(plan, row, "customer"), "C-33");
  ck_assert_str_eq(cell(plan, row, "amount"), "720");
  ck_assert_str_eq(cell(plan, row, "phase"), "Hold");
  // it stays released, and its served row says what is missing
  int served = table_find(plan, "what", "served", "lot", "A", NULL);
  ck_assert_str_eq(cell(plan, served, "when"), "");
  ck_assert_str_eq(cell(plan, served, "amount"), "720");
  ck_assert_str_eq(cell(plan, served, "because_code"), "short");
  ck_assert_str_eq(cell(plan, table_find(plan, "what", "release", NULL), "planned"), "no");
  g_autofree char *text = ctl(c, 0, "plan --at '2027-03-05 12:00'");
  ck_assert_msg(strstr(text, "customer C-33: released on") && strstr(text, "12 h short of “Hold”"),
                "%s", text);
  ctl_free(c);
}
END_TEST

// A spot in Gold-1: A is there and goes back; B left it in the look-back; C stands in Blue-1, which
// shares its nets; D in Gold-2, within reach; E is in Gold-1 under no protocol.
START_TEST(test_contacts_of_a_sighting)
{
  Ctl *c = station();
  served_and_moved(c);
  static const char *const lots[] = {"B", "C", "D", "E"};
  static const char *const tanks[] = {"Gold-1/2", "Blue-1/2", "Gold-2/1", "Gold-1/2"};
  for (int i = 0; i < 4; i++)
    g_free(ctl(c, 0, "record lot --happened '2027-03-02 10:00' code=%s tank=%s heads=4", lots[i],
               tanks[i]));
  g_free(ctl(c, 0, "record move --happened '2027-03-03 09:00' lot=B tank=Gold-2/2"));
  static const char spot[] = "record sighting --happened '2027-03-03 12:00' system=Gold-1 "
                             "sign=white_spot heads=1";
  g_autofree char *dry = ctl(c, 0, "%s --dry-run", spot);
  ck_assert_msg(strstr(dry, "lot C was in Blue-1, which shares nets with Gold-1"), "%s", dry);
  g_free(ctl(c, 0, "%s", spot));
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-03-03 13:00' --format=csv");
  static const char *const expected[][3] = {{"A", "water", "set_back"},
                                            {"E", "water", "uncoursed"},
                                            {"B", "moved_out", ""},
                                            {"C", "nets", ""},
                                            {"D", "near", ""}};
  for (int i = 0; i < 5; i++) {
    int row =
        table_find(plan, "what", "contact", "lot", expected[i][0], "kind", expected[i][1], NULL);
    ck_assert_msg(row >= 0, "lot %s is no contact by %s", expected[i][0], expected[i][1]);
    ck_assert_str_eq(table_cell(plan, (guint)row, "state"), expected[i][2]);
  }
  ck_assert_int_ge(table_find(plan, "what", "uncoursed", "lot", "E", "system", "Gold-1", NULL), 0);
  g_autofree char *text = ctl(c, 0, "plan --at '2027-03-03 13:00'");
  // Blue-1 held copper: its nets keep that mark, whatever they serve afterwards
  ck_assert_msg(strstr(text, "shares nets with Gold-1 (nets that held copper)"), "%s", text);
  ck_assert_msg(strstr(text, "D was in Gold-2, within reach of Gold-1"), "%s", text);
  ctl_free(c);
}
END_TEST

START_TEST(test_within_reach_names_systems)
{
  Ctl *c = station();
  g_autofree char *no =
      ctl(c, 2, "record system name=Red-9 volume_l=10 role=display near='Blue-1, X'");
  ck_assert_msg(strstr(no, "near") && strstr(no, "“X”"), "%s", no);
  ctl_free(c);
}
END_TEST

// A move that was entered before its lot was received by a later correction could not be done.
START_TEST(test_act_that_changed_nothing)
{
  Ctl *c = station();
  g_autofree char *id =
      ctl(c, 0, "record lot --happened '2027-03-01 08:00' code=A tank=Blue-1/1 heads=30");
  g_free(ctl(c, 0, "record move --happened '2027-03-01 09:00' lot=A tank=Blue-1/2"));
  g_free(ctl(c, 0,
             "record lot --corrects %d --reason 'wrong day' --happened '2027-03-02 08:00' code=A "
             "tank=Blue-1/1 heads=30",
             atoi(id + 1)));
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-03-03 13:00' --format=csv");
  int row = table_find(plan, "what", "ignored", "lot", "A", NULL);
  ck_assert_ptr_nonnull(strstr(cell(plan, row, "because"), "it was not here then"));
  ctl_free(c);
}
END_TEST

// 0.18 at least and 0.12 at most leave no common level: each lot moves to the free water, goes over
// to the other's protocol, or stops.
START_TEST(test_ways_out_of_an_empty_band)
{
  static const char low[] =
      "[protocol]\nname=Low\nversion=1\nsource=invented for a test\n"
      "[phase 1]\nname=Hold\nkind=hold\nplace=stay\nmin_credit_min=30240\nsighting_to=1\n"
      "[phase 1 band 1]\nanalyte=copper\nform=ionic\nside=at_or_above\nworks=0.1\ntarget=0.11\n"
      "plan=0.12\nharm=0.25\ngap_min=1440\n";
  Ctl *c = case_ionic("pause", "metal");
  g_autofree char *name = g_build_filename(c->folder, "low.protocol", NULL);
  ck_assert(g_file_set_contents(name, low, -1, NULL));
  g_free(ctl(c, 0, "protocol --who MK '%s'", name));
  g_free(ctl(c, 0, "record system name=Blue-2 volume_l=2400 role=treatment"));
  g_free(ctl(c, 0, "record tank system=Blue-2 number=1"));
  g_free(ctl(c, 0, "record tank system=Blue-1 number=2"));
  g_free(ctl(c, 0, "record lot --happened '2027-03-04 08:00' code=B tank=Blue-1/2 heads=10"));
  g_free(ctl(c, 0, "record course --happened '2027-03-04 08:00' lot=B protocol=Low"));
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-03-04 09:00' --format=csv");
  static const char *const ways[] = {"Lot B moves to Blue-2", "Lot 0412 moves to Blue-2",
                                     "Lot B begins House copper", "Lot B stops its protocol"};
  for (int i = 0; i < 4; i++) {
    int row = table_find(plan, "what", "way_out", "system", "Blue-1", "because", ways[i], NULL);
    ck_assert_msg(row >= 0, "no way out “%s”", ways[i]);
    ck_assert_str_eq(table_cell(plan, (guint)row, "unit"), "fish_days");
  }
  g_autofree char *text = ctl(c, 0, "plan --at '2027-03-04 09:00'");
  ck_assert_msg(strstr(text, "Blue-1: Lot B moves to Blue-2: "), "%s", text);
  ctl_free(c);
}
END_TEST

#define COPPER_HOLD(name, days, works, target, plan)                                               \
  "[protocol]\nname=" name "\nversion=1\nsource=invented for a test\n[phase 1]\nname=Hold\n"       \
  "kind=hold\nplace=stay\nmin_credit_min=" days "\nsighting_to=1\n[phase 1 band 1]\n"              \
  "analyte=copper\nform=ionic\nside=at_or_above\nworks=" works "\ntarget=" target "\nplan=" plan   \
  "\nharm=0.25\ngap_min=960\n"

// Both stand in 0.19 mg/L since 08:00. Alone A (21 days, 30 fish) goes on 25 March 17:00 with the
// test that makes 08:00 firm, B (10 days, 10 fish) on 14 March 17:00. B on A's protocol begins anew
// at 09:00 and goes with the test of 17:00 too, 11 days later: 110 fish-days.
START_TEST(test_ways_out_are_priced)
{
  static const char *const texts[] = {COPPER_HOLD("High", "30240", "0.18", "0.19", "0.21"),
                                      COPPER_HOLD("Low", "14400", "0.1", "0.11", "0.12")};
  Ctl *c = station();
  for (int i = 0; i < 2; i++) {
    g_autofree char *name = g_strdup_printf("%s/%d.protocol", c->folder, i);
    ck_assert(g_file_set_contents(name, texts[i], -1, NULL));
    g_free(ctl(c, 0, "protocol --who MK '%s'", name));
  }
  g_free(ctl(c, 0, "record system name=Blue-2 volume_l=1000 role=treatment"));
  g_free(ctl(c, 0, "record tank system=Blue-2 number=1"));
  g_free(ctl(c, 0, "record bottle name=C-1 analyte=copper form=ionic strength=1"));
  g_free(ctl(c, 0, "record lot --happened '2027-03-04 08:00' code=A tank=Blue-1/1 heads=30"));
  g_free(ctl(c, 0, "record course --happened '2027-03-04 08:00' lot=A protocol=High"));
  g_free(ctl(c, 0, "record lot --happened '2027-03-04 08:00' code=B tank=Blue-1/2 heads=10"));
  g_free(ctl(c, 0, "record course --happened '2027-03-04 08:00' lot=B protocol=Low"));
  read_copper(c, "03-04 08:00", "0.19", "");
  g_free(ctl(c, 0,
             "record reading --happened '2027-03-04 08:00' system=Blue-2 analyte=copper value=0.11 "
             "instrument=P1"));
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-03-04 09:00' --format=csv");
  int anew = table_find(plan, "what", "way_out", "because", "Lot B begins High", NULL);
  int moves = table_find(plan, "what", "way_out", "because", "Lot B moves to Blue-2", NULL);
  int stops = table_find(plan, "what", "way_out", "because", "Lot B stops its protocol", NULL);
  ck_assert_str_eq(cell(plan, anew, "amount"), "110");
  ck_assert_str_eq(cell(plan, anew, "when"), "2027-03-25T16:00Z"); // the last of both
  ck_assert_str_eq(cell(plan, moves, "amount"), "0");
  ck_assert_str_eq(cell(plan, moves, "when"), "2027-03-25T16:00Z");
  ck_assert_str_eq(cell(plan, stops, "amount"), ""); // no date, so no price
  ck_assert_int_lt(moves, anew);
  ctl_free(c);
}
END_TEST

// Case F on the command line, ahead of the clock: while nobody has answered what was seen, nothing
// goes in or out of that water without a reason.
START_TEST(test_seen_stops_moves_in_and_out)
{
  Ctl *c = station();
  g_free(ctl(c, 0, "record lot --happened '2027-06-08 09:00' code=A tank=Gold-1/1 heads=24"));
  g_free(ctl(c, 0, "record move --happened '2027-06-18 10:50' lot=A tank=Gold-1/2"));
  g_free(ctl(c, 0, "record sighting --happened '2027-06-18 11:00' system=Gold-1 sign=white_spot"));
  g_autofree char *out = ctl(c, 1, "record move --happened '2027-06-18 11:10' lot=A tank=Gold-2/1");
  g_autofree char *in =
      ctl(c, 1, "record lot --happened '2027-06-18 11:10' code=B tank=Gold-1/1 heads=3");
  ck_assert_msg(strstr(in, "moves in and out of Gold-1 are stopped"), "%s", in);
  g_free(ctl(c, 0, "record scrape --happened '2027-06-18 12:00' lot=A finding=nothing"));
  g_free(ctl(c, 0, "record lot --happened '2027-06-18 12:10' code=B tank=Gold-1/1 heads=3"));
  ctl_free(c);
}
END_TEST

// Case A: 360 of 2,400 L changed, 0.1615 mg/L by mass balance. The 68.4 mL that put it back are due
// while people are at the tanks, and the next test comes after them.
START_TEST(test_replacement_before_the_next_test)
{
  Ctl *c = case_ionic("pause", "metal");
  read_copper(c, "03-04 08:00", "0.19", "");
  read_copper(c, "03-05 07:00", "0.19", "");
  g_free(ctl(c, 0,
             "record change --happened '2027-03-05 07:40' system=Blue-1 litres=360 new_copper=0"));
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-03-05 07:45' --format=csv");
  int dose = table_find(plan, "kind", "dose", NULL);
  ck_assert_str_eq(cell(plan, dose, "when"), "2027-03-05T06:45Z");
  ck_assert_str_eq(cell(plan, dose, "amount"), "68.4");
  ck_assert_str_eq(cell(plan, dose, "state"), "due");
  int test = table_find(plan, "kind", "test", NULL);
  ck_assert_int_gt(test, dose);
  // given, nothing more goes in before a reading
  g_free(ctl(c, 0,
             "record dose --happened '2027-03-05 07:50' system=Blue-1 bottle=C-07 "
             "amount_ml=68.4"));
  g_autoptr(Table) after = ctl_table(c, "plan --at '2027-03-05 07:55' --format=csv");
  ck_assert_int_eq(table_find(after, "kind", "dose", "state", "due", NULL), -1);
  ctl_free(c);
}
END_TEST

// Scales marked 60/60 mean degrees F (ISO/R 650:1968).
START_TEST(test_gravity_at_sixty)
{
  Ctl *c = station();
  for (int i = 0; i < 2; i++)
    g_free(ctl(c, 0,
               "record reading --happened '2027-03-04 0%d:00' system=Blue-1 analyte=salinity "
               "value=1.016 unit='SG %s'",
               8 + i, i ? "60/60F" : "60/60"));
  g_autoptr(Table) readings = ctl_table(c, "export readings");
  ck_assert_str_eq(table_cell(readings, 0, "value"), table_cell(readings, 1, "value"));
  ctl_free(c);
}
END_TEST

// Signing off is the veterinarian's (common practice, no source).
START_TEST(test_a_vet_signs_a_protocol_off)
{
  Ctl *c = station();
  g_free(ctl(c, 0, "record person role=vet name=Vera initials=VV"));
  static const char sign[] = "record protocol --entity House/1 name=House version=1 signed_off=yes";
  g_autofree char *no = ctl(c, 1, "%s --who MK", sign);
  ck_assert_msg(strstr(no, "only a person whose role is vet"), "%s", no);
  g_free(ctl(c, 0, "%s --who VV", sign));
  ctl_free(c);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("look");
  TCase *tcase = tcase_create("look");
  tcase_set_timeout(tcase, 120);
  tcase_add_test(tcase, test_left_short_and_accepted);
  tcase_add_test(tcase, test_release_found_short);
  tcase_add_test(tcase, test_contacts_of_a_sighting);
  tcase_add_test(tcase, test_within_reach_names_systems);
  tcase_add_test(tcase, test_act_that_changed_nothing);
  tcase_add_test(tcase, test_ways_out_of_an_empty_band);
  tcase_add_test(tcase, test_ways_out_are_priced);
  tcase_add_test(tcase, test_seen_stops_moves_in_and_out);
  tcase_add_test(tcase, test_replacement_before_the_next_test);
  tcase_add_test(tcase, test_gravity_at_sixty);
  tcase_add_test(tcase, test_a_vet_signs_a_protocol_off);
  suite_add_tcase(suite, tcase);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
