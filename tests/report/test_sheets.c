// SPDX-License-Identifier: GPL-3.0-or-later
// Every other sheet of the demo station: its figures against the exported tables, which are read
// and added up here anew.
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "paper.h"

static Table *export(const char *table)
{
  return ctl_table(paper_demo(), "export %s", table);
}

static gboolean
in_force(const Table *t, guint i)
{
  return strcmp(table_cell(t, i, "voided"), "no") == 0 && !*table_cell(t, i, "corrects");
}

static double
number(const Table *t, guint i, const char *column)
{
  return g_ascii_strtod(table_cell(t, i, column), NULL);
}

// "2026-09-28T09:30+00:00" as it is printed in the demo's zone, UTC.
static char *
printed(const char *happened)
{
  return g_strdup_printf("%.10s %.5s", happened, happened + 11);
}

START_TEST(all_sheets_are_listed)
{
  static const char *const names[] = {"handover", "lot-record",  "tank-card", "round-sheet",
                                      "register", "month-sheet", "claim",     "take-home"};
  g_autofree char *list = ctl(paper_demo(), 0, "print --list");
  for (guint i = 0; i < G_N_ELEMENTS(names); i++)
    ck_assert_msg(strstr(list, names[i]) != NULL, "%s is not listed", names[i]);
}
END_TEST

static const char *const everything[] = {
    "lot-record --lot 0301",
    "lot-record --lot 0313",
    "tank-card --system Blue-1",
    "round-sheet",
    "register",
    "month-sheet --system Blue-1",
    "claim --shipment S-101",
    "take-home --volume 120 --strength 5",
};

START_TEST(each_sheet_twice_is_the_same_and_numbered)
{
  for (int paper = 0; paper < 2; paper++) {
    g_autofree char *bytes = NULL, *again = NULL;
    gsize n, m;
    const char *size = paper ? "letter" : "a4";
    g_autoptr(Paper) a =
        paper_print(paper_demo(), "%s --paper %s --at '%s'", everything[_i], size, paper_demo_at());
    g_autoptr(Paper) b =
        paper_print(paper_demo(), "%s --paper %s --at '%s'", everything[_i], size, paper_demo_at());
    ck_assert(g_file_get_contents(a->path, &bytes, &n, NULL));
    ck_assert(g_file_get_contents(b->path, &again, &m, NULL));
    ck_assert_uint_eq(n, m);
    ck_assert_mem_eq(bytes, again, n);
    paper_fonts_are_embedded(a);
    ck_assert(strstr(a->raw, "Quay Lane station"));
    ck_assert(strstr(a->raw, "PRACTICE"));
    gboolean card = strstr(everything[_i], "card") != NULL;
    for (int page = 1; page <= a->pages; page++) {
      g_autofree char *of = g_strdup_printf(card ? "%d/%d" : "page %d of %d", page, a->pages);
      ck_assert_msg(strstr(a->raw, of) != NULL, "no “%s”", of);
    }
  }
}
END_TEST

// When lot 0301 came into and left Blue-1, from the tables of moves alone.
static gboolean
in_blue_1(const Table *moves, const char *lot, const char *happened)
{
  gboolean in = FALSE;
  for (guint i = 0; i < moves->rows->len; i++)
    if (in_force(moves, i) && strcmp(table_cell(moves, i, "lot"), lot) == 0 &&
        strcmp(table_cell(moves, i, "happened"), happened) <= 0)
      in = g_str_has_prefix(table_cell(moves, i, "tank"), "Blue-1/");
  return in;
}

// Every dose into the lot's water: when, how much, by whom, and their sum.
START_TEST(lot_record_tells_every_dose)
{
  g_autoptr(Paper) paper =
      paper_print(paper_demo(), "lot-record --lot 0301 --at '%s'", paper_demo_at());
  g_autoptr(Table) moves = export("moves");
  g_autoptr(Table) doses = export("doses");
  double sum = 0;
  guint told = 0;
  for (guint i = 0; i < doses->rows->len; i++) {
    const char *happened = table_cell(doses, i, "happened");
    if (!in_force(doses, i) || strcmp(table_cell(doses, i, "system"), "Blue-1") != 0 ||
        !in_blue_1(moves, "0301", happened))
      continue;
    g_autofree char *when = printed(happened);
    g_autofree char *ml = g_strdup_printf("%.1f mL", number(doses, i, "amount_ml"));
    g_autofree char *row = paper_row(paper, when, ml, table_cell(doses, i, "who"), NULL);
    ck_assert_msg(row != NULL, "no row %s %s", when, ml);
    sum += number(doses, i, "amount_ml");
    told++;
  }
  ck_assert_uint_gt(told, 5);
  g_autofree char *total = g_strdup_printf("%.1f mL", sum);
  g_autofree char *row = paper_row(paper, "C-14", "7731", total, NULL);
  ck_assert_msg(row != NULL, "no total %s", total);
}
END_TEST

START_TEST(lot_record_stands_in_order)
{
  g_autoptr(Paper) paper =
      paper_print(paper_demo(), "lot-record --lot 0301 --at '%s'", paper_demo_at());
  paper_in_order(paper->raw, "Treatment record, lot 0301", "Species", "Came", "Counted",
                 "Medicines used", "withdrawal", "Given to the water", "Water changed",
                 "Levels measured", "Time served", "Moved, seen, dead, decided", "Fed", "Released",
                 "Rule met", "Ledger checked", "veterinarian", NULL);
}
END_TEST

// Phases end where `plan --format=csv` says; every reading of copper in the lot's water is told.
START_TEST(lot_record_proves_the_course)
{
  g_autoptr(Paper) paper =
      paper_print(paper_demo(), "lot-record --lot 0301 --at '%s'", paper_demo_at());
  g_autoptr(Table) plan =
      ctl_table(paper_demo(), "plan --format=csv --lot 0301 --at '%s'", paper_demo_at());
  g_autoptr(Table) moves = export("moves");
  g_autoptr(Table) readings = export("readings");
  guint ends = 0, told = 0;
  for (guint i = 0; i < plan->rows->len; i++) {
    if (strcmp(table_cell(plan, i, "what"), "end") != 0)
      continue;
    g_autofree char *when = printed(table_cell(plan, i, "when"));
    g_autofree char *row = paper_row(paper, table_cell(plan, i, "phase"), when, NULL);
    ck_assert_msg(row != NULL, "no end of %s at %s", table_cell(plan, i, "phase"), when);
    ends++;
  }
  ck_assert_uint_ge(ends, 3);
  for (guint i = 0; i < readings->rows->len; i++) {
    const char *happened = table_cell(readings, i, "happened");
    if (!in_force(readings, i) || strcmp(table_cell(readings, i, "analyte"), "copper") != 0 ||
        strcmp(table_cell(readings, i, "system"), "Blue-1") != 0 ||
        !in_blue_1(moves, "0301", happened))
      continue;
    g_autofree char *level =
        g_strdup_printf("%.5s %.3f", happened + 11, number(readings, i, "value"));
    g_autofree char *day = g_strndup(happened, 10);
    ck_assert_msg(paper_near(paper, day, level, 2), "no reading %s of %s", level, day);
    told++;
  }
  ck_assert_uint_gt(told, 20);
}
END_TEST

START_TEST(one_card_for_each_lot_of_the_system)
{
  g_autoptr(Paper) paper =
      paper_print(paper_demo(), "tank-card --system Blue-1 --at '%s'", paper_demo_at());
  g_autoptr(Table) plan = ctl_table(paper_demo(), "water --format=csv --at '%s'", paper_demo_at());
  guint lots = paper_count(paper->raw, "DO NOT MOVE") + paper_count(paper->raw, "SERVED:");
  ck_assert_int_eq(paper->pages, (int)lots);
  ck_assert_double_eq_tol(paper->width, 105 * 72 / 25.4, 0.5); // ISO 216, A6
  ck_assert_double_eq_tol(paper->height, 148 * 72 / 25.4, 0.5);
  ck_assert(strstr(paper->raw, "Blue-1"));
  ck_assert(strstr(paper->raw, "Own net and bucket"));
}
END_TEST

// Morning and evening copper, sum of doses and of changes of every day of the month so far.
START_TEST(month_sheet_adds_up)
{
  g_autoptr(Paper) paper =
      paper_print(paper_demo(), "month-sheet --system Blue-1 --at '%s'", paper_demo_at());
  g_autoptr(Table) doses = export("doses");
  int today = atoi(paper_demo_at() + 8);
  ck_assert_int_eq(paper->pages, 1);
  for (int day = 1; day <= today; day++) {
    g_autofree char *date = g_strdup_printf("%.8s%02d", paper_demo_at(), day);
    double ml = 0;
    for (guint i = 0; i < doses->rows->len; i++)
      if (in_force(doses, i) && strcmp(table_cell(doses, i, "system"), "Blue-1") == 0 &&
          g_str_has_prefix(table_cell(doses, i, "happened"), date))
        ml += number(doses, i, "amount_ml");
    if (ml == 0)
      continue;
    g_autofree char *sum = g_strdup_printf(fmod(round(ml * 10), 10) != 0 ? "%.1f" : "%.0f", ml);
    g_autofree char *pattern = g_strdup_printf("(?m)^\\s*%d\\s.*\\b%s\\b", day, sum);
    ck_assert_msg(g_regex_match_simple(pattern, paper->rows, 0, 0), "day %d: no %s mL in\n%s", day,
                  sum, paper->rows);
  }
}
END_TEST

START_TEST(claim_adds_up)
{
  g_autoptr(Paper) paper =
      paper_print(paper_demo(), "claim --shipment S-101 --at '%s'", paper_demo_at());
  g_autoptr(Table) lots = export("lots");
  int invoiced = 0, counted = 0, dead = 0;
  for (guint i = 0; i < lots->rows->len; i++)
    if (in_force(lots, i) && strcmp(table_cell(lots, i, "shipment"), "S-101") == 0) {
      invoiced += (int)number(lots, i, "invoiced");
      counted += (int)number(lots, i, "heads");
      dead += (int)number(lots, i, "dead_on_arrival");
      ck_assert(strstr(paper->raw, table_cell(lots, i, "code")));
    }
  ck_assert_int_gt(counted, 0);
  g_autofree char *sums = g_strdup_printf("(?m)^\\s*all\\s+%d\\s+%d\\s+%d\\s+%d\\s", invoiced,
                                          counted, dead, invoiced - counted - dead);
  ck_assert_msg(g_regex_match_simple(sums, paper->rows, 0, 0), "%s in\n%s", sums, paper->rows);
}
END_TEST

// Worked by hand: 120 L to 0.50 mg/L in three steps with 5 mg/mL: 120 x 0.50 / 3 / 5 = 4.0 mL;
// 0.05 mg/L too low: 120 x 0.05 / 5 = 1.2 mL; 10 L changed: 10 x 0.50 / 5 = 1.0 mL; from 0.80 to
// 0.50: 120 x 0.30 / 0.80 = 45 L. Three daily steps to 0.50, harm at 0.80: common practice, no
// source.
START_TEST(take_home_is_worked_out)
{
  g_autoptr(Paper) paper = paper_print(paper_demo(), "take-home --volume 120 --strength 5");
  ck_assert_int_eq(paper->pages, 1);
  ck_assert_uint_eq(paper_count(paper->raw, "4.0 mL"), 3);
  g_autofree char *below = paper_row(paper, "0.45 mg/L", "1.2 mL", NULL);
  g_autofree char *change = paper_row(paper, "10 L", "1.0 mL", NULL);
  ck_assert(below && change);
  ck_assert(strstr(paper->flow, "change 45 L"));
  paper_in_order(paper->raw, "Check the label first", "Copper kills", "Day 1", "Day 2", "Day 3",
                 "Days 4 to 17", "residual-current", "veterinarian", NULL);
}
END_TEST

// The demo has neither: a customer's protocols are read from the files that are shipped.
static void
shipped(const char *file)
{
  g_autofree char *path = g_build_filename(g_getenv("LAZARET_DATA_DIR"), "protocols", file, NULL);
  g_free(ctl(paper_demo(), 0, "protocol '%s' --who IO", path));
}

// By hand, for 120 L and 5 mg of copper in 1 mL. Ionic, 0.19 in four steps: 120 x 0.0475 / 5 = 1.14
// mL; 14 days of watch behind 21. Salinity 34 to 28 in 120 L: 120 x (1 - 28/34) = 21.2 L. It goes
// down before copper goes in, which a change would take out. Praziquantel 120 x 2 = 240 mg.
START_TEST(take_home_follows_a_protocol)
{
  shipped("ionic-copper.protocol");
  shipped("flukes.protocol");
  g_autoptr(Paper) ionic =
      paper_print(paper_demo(), "take-home --protocol 'Ionic copper' --volume 120 --strength 5");
  ck_assert_uint_eq(paper_count(ionic->raw, "1.1 mL"), 4);
  paper_in_order(ionic->raw, "reads ionic copper", "0.25 change water", "Before you begin",
                 "Copper kills", "veterinarian", "Day 4", "Days 5 to 25", "Test twice a day",
                 "Day 26", "copper out", "Days 27 to 40", NULL);
  g_autoptr(Paper) both = paper_print(
      paper_demo(),
      "take-home --protocol 'Complexed copper with lowered salinity' --volume 120 --strength 5");
  ck_assert_int_eq(both->pages, 1);
  paper_in_order(both->raw, "Day 1", "34.0 to 28.0", "21 L", "Day 3", "22.0 to 21.3", "Day 4",
                 "4.0 mL", "Day 6", "Days 7 to 20", "Day 21", "copper out", "Days 22 to 26", NULL);
  g_autoptr(Paper) salt =
      paper_print(paper_demo(), "take-home --protocol 'Lowered salinity alone' --volume 120");
  paper_in_order(salt->raw, "Not for velvet", "16.0 to 13.3", "Days 5 to 32", NULL);
  ck_assert(!strstr(salt->raw, "mL") && !strstr(salt->raw, "How much to add"));
  g_autoptr(Paper) flukes = paper_print(paper_demo(), "take-home --protocol Flukes --volume 120");
  ck_assert_uint_eq(paper_count(flukes->raw, "240 mg"), 3);
  paper_in_order(flukes->raw, "Days 1 to 4", "Days 5 to 8", "Days 9 to 12", "Days 13 to 22", NULL);
}
END_TEST

// What needs a prescription, a trained hand, or a second system does not go home.
START_TEST(take_home_refuses_what_cannot_go_home)
{
  static const struct {
    const char *file, *name, *says;
  } refused[] = {
      {"formalin-bath", "Formalin short bath", "somebody who stays"},
      {"chloroquine", "Chloroquine in water", "prescription"},
      {"medicated-feed", "Medicated feed", "veterinarian"},
      {"copper-and-flukes", "Copper and flukes together", "two medicines"},
      {"tank-transfer", "Tank transfer", "second system"},
  };
  for (guint i = 0; i < G_N_ELEMENTS(refused); i++) {
    g_autofree char *file = g_strconcat(refused[i].file, ".protocol", NULL);
    shipped(file);
    g_autofree char *said = ctl(
        paper_demo(), 2, "print take-home --protocol '%s' --volume 120 --strength 5 --pdf x.pdf",
        refused[i].name);
    ck_assert_msg(strstr(said, refused[i].says) != NULL, "%s: %s", refused[i].name, said);
  }
  g_autofree char *said =
      ctl(paper_demo(), 2, "print take-home --protocol 'Ionic copper' --volume 120 --pdf x.pdf");
  ck_assert_msg(strstr(said, "strength") != NULL, "%s", said);
}
END_TEST

START_TEST(wrong_calls_say_what_is_missing)
{
  static const struct {
    const char *words, *says;
  } calls[] = {{"lot-record", "needs a lot"},
               {"tank-card", "needs a system"},
               {"claim", "needs a shipment"},
               {"take-home", "volume"},
               {"take-home --volume 0 --strength 5", "--volume is “0”"},
               {"round", "There is no sheet “round”"},
               {"register --from 2026-10-02 --until 2026-10-01", "ends before it begins"},
               {"handover --number -1", "--number"}};
  for (guint i = 0; i < G_N_ELEMENTS(calls); i++) {
    g_autofree char *said = ctl(paper_demo(), 2, "print %s --pdf x.pdf", calls[i].words);
    ck_assert_msg(strstr(said, calls[i].says) != NULL, "%s: %s", calls[i].words, said);
  }
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("report");
  TCase *t = tcase_create("sheets");
  tcase_set_timeout(t, 120);
  tcase_add_unchecked_fixture(t, NULL, paper_demo_free);
  tcase_add_test(t, all_sheets_are_listed);
  tcase_add_loop_test(t, each_sheet_twice_is_the_same_and_numbered, 0, G_N_ELEMENTS(everything));
  tcase_add_test(t, lot_record_tells_every_dose);
  tcase_add_test(t, lot_record_stands_in_order);
  tcase_add_test(t, lot_record_proves_the_course);
  tcase_add_test(t, one_card_for_each_lot_of_the_system);
  tcase_add_test(t, month_sheet_adds_up);
  tcase_add_test(t, claim_adds_up);
  tcase_add_test(t, take_home_is_worked_out);
  tcase_add_test(t, take_home_follows_a_protocol);
  tcase_add_test(t, take_home_refuses_what_cannot_go_home);
  tcase_add_test(t, wrong_calls_say_what_is_missing);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  SRunner *runner = srunner_create(suite());
  srunner_set_fork_status(runner, CK_NOFORK);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
