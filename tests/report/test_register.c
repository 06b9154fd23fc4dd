// SPDX-License-Identifier: GPL-3.0-or-later
// The register against the rules' own lists and the exported tables; stations that are tiny, huge
// or oddly named.
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "full_station.h"
#include "paper.h"

// Reg. (EU) 2019/6 art. 108(2) (a) to (i); Reg. (EU) 2016/429 art. 186(1); Del. Reg. (EU) 2020/691
// art. 30: a word of each point, and the heading or column under which the register has it.
static const struct {
  const char *rule, *point, *column;
} law[] = {
    {"2019/6 art. 108(2)", "date of first administration", "first, last"},
    {"2019/6 art. 108(2)", "name of the medicine", "medicine"},
    {"2019/6 art. 108(2)", "quantity given", "given mL"},
    {"2019/6 art. 108(2)", "name and address of the supplier", NULL},
    {"2019/6 art. 108(2)", "evidence of acquisition", NULL},
    {"2019/6 art. 108(2)", "identity of the animal or group", "lots reached"},
    {"2019/6 art. 108(2)", "prescriber", "prescription"},
    {"2019/6 art. 108(2)", "withdrawal period", "withdrawal period: none, not for food"},
    {"2019/6 art. 108(2)", "duration of treatment", "first, last"},
    {"2016/429 art. 186(1)", "category, species and quantity", "species"},
    {"2016/429 art. 186(1)", "movements in", "from"},
    {"2016/429 art. 186(1)", "movements out", "Dispatches"},
    {"2016/429 art. 186(1)", "health certificates", "certificate"},
    {"2016/429 art. 186(1)", "mortality", "Deaths"},
    {"2016/429 art. 186(1)", "other disease problems", "Signs, scrapes and results"},
    {"2016/429 art. 186(1)", "biosecurity and surveillance", NULL},
    {"2016/429 art. 186(1)", "treatments", "Treatments"},
    {"2016/429 art. 186(1)", "test results", "Signs, scrapes and results"},
    {"2016/429 art. 186(1)", "animal health visits", NULL},
    {"2020/691 art. 30", "approval number", NULL},
    {"2020/691 art. 30", "origin of all animals", "from"},
    {"2020/691 art. 30", "destination", "Dispatches"},
    {"2020/691 art. 30", "transporters", "carried by"},
    {"2020/691 art. 30", "surveillance, clinical and laboratory results", "Signs, scrapes"},
    {"2020/691 art. 30", "post-mortem", "Deaths"},
    {"2020/691 art. 30", "instructions of the authority", "Notes"},
    {"2020/691 art. 30", "biosecurity plan", NULL},
};

START_TEST(each_field_of_the_rules_has_its_place)
{
  g_autoptr(Paper) paper = paper_print(paper_demo(), "register --at '%s'", paper_demo_at());
  const char *table = strstr(paper->rows, "Where each field stands");
  ck_assert(table != NULL);
  g_autofree char *before = g_strndup(paper->rows, (gsize)(table - paper->rows));
  for (guint i = 0; i < G_N_ELEMENTS(law); i++) {
    g_autofree char *row = paper_row(paper, law[i].rule, law[i].point, NULL);
    ck_assert_msg(row != NULL, "%s: “%s” has no place", law[i].rule, law[i].point);
    if (law[i].column)
      ck_assert_msg(strstr(before, law[i].column) != NULL, "no column “%s”", law[i].column);
  }
}
END_TEST

static gboolean
within(const char *happened, const char *from, const char *until)
{
  return strncmp(happened, from, 10) >= 0 && strncmp(happened, until, 10) < 0;
}

static guint
rows_of(const char *kind, const char *from, const char *until, const Paper *paper)
{
  g_autoptr(Table) table = ctl_table(paper_demo(), "export %s", kind);
  guint n = 0;
  for (guint i = 0; i < table->rows->len; i++) {
    const char *happened = table_cell(table, i, "happened");
    if (strcmp(table_cell(table, i, "voided"), "no") != 0 || *table_cell(table, i, "corrects") ||
        !within(happened, from, until))
      continue;
    g_autofree char *when = g_strdup_printf("%.10s %.5s", happened, happened + 11);
    g_autofree char *row = paper_row(paper, when, NULL);
    ck_assert_msg(row != NULL, "%s of %s is missing", kind, when);
    n++;
  }
  return n;
}

// A month of the record: what happened in it is there, the rest is not.
START_TEST(a_range_holds_what_happened_in_it)
{
  g_autoptr(GDateTime) now = g_date_time_new_now_utc();
  g_autoptr(GDateTime) begin = g_date_time_add_days(now, -45);
  g_autoptr(GDateTime) end = g_date_time_add_days(now, -15);
  g_autofree char *from = g_date_time_format(begin, "%Y-%m-%d");
  g_autofree char *until = g_date_time_format(end, "%Y-%m-%d");
  g_autoptr(Paper) paper = paper_print(paper_demo(), "register --from %s --until %s --at '%s'",
                                       from, until, paper_demo_at());
  g_autofree char *move = paper_row(paper, "from ", " to ", "/", NULL);
  ck_assert_msg(move != NULL, "no move says where the fish came from");
  static const char *const kinds[] = {"lots", "doses", "deaths", "moves", "releases"};
  guint total = 0;
  for (guint k = 0; k < G_N_ELEMENTS(kinds); k++)
    total += rows_of(kinds[k], from, until, paper);
  ck_assert_uint_gt(total, 20);
  g_autoptr(Table) doses = ctl_table(paper_demo(), "export doses");
  for (guint i = 0; i < doses->rows->len; i++) {
    const char *happened = table_cell(doses, i, "happened");
    g_autofree char *when = g_strdup_printf("%.10s %.5s", happened, happened + 11);
    if (!within(happened, from, until))
      ck_assert_msg(strstr(paper->rows, when) == NULL, "%s is outside", when);
  }
}
END_TEST

// The system in which a lot stood at that moment, from the exported tables alone; "" if in none.
static char *
stood_in(const Table *lots, guint lot, const Table *moves, const Table *releases,
         const char *happened)
{
  const char *code = table_cell(lots, lot, "code"), *tank = "";
  if (strcmp(table_cell(lots, lot, "happened"), happened) <= 0)
    tank = table_cell(lots, lot, "tank");
  for (guint i = 0; i < moves->rows->len; i++)
    if (strcmp(table_cell(moves, i, "lot"), code) == 0 &&
        strcmp(table_cell(moves, i, "voided"), "no") == 0 &&
        strcmp(table_cell(moves, i, "happened"), happened) <= 0)
      tank = table_cell(moves, i, "tank");
  for (guint i = 0; i < releases->rows->len; i++)
    if (strcmp(table_cell(releases, i, "lot"), code) == 0 &&
        strcmp(table_cell(releases, i, "happened"), happened) <= 0)
      tank = "";
  return g_strndup(tank, strcspn(tank, "/"));
}

// Which fish a dose reached: a table of moves followed by hand, lot by lot.
START_TEST(doses_name_the_lots_that_they_reached)
{
  g_autoptr(Paper) paper = paper_print(paper_demo(), "register --at '%s'", paper_demo_at());
  g_autoptr(Table) lots = ctl_table(paper_demo(), "export lots");
  g_autoptr(Table) moves = ctl_table(paper_demo(), "export moves");
  g_autoptr(Table) releases = ctl_table(paper_demo(), "export releases");
  g_autoptr(Table) doses = ctl_table(paper_demo(), "export doses");
  guint reached = 0;
  for (guint i = 0; i < doses->rows->len; i++) {
    const char *happened = table_cell(doses, i, "happened");
    const char *system = table_cell(doses, i, "system");
    if (strcmp(table_cell(doses, i, "voided"), "no") != 0 || *table_cell(doses, i, "corrects"))
      continue;
    g_autofree char *when = g_strdup_printf("%.10s %.5s", happened, happened + 11);
    g_autofree char *row = paper_row(paper, when, " mL C-14", system, NULL);
    ck_assert_msg(row != NULL, "no dose of %s", when);
    for (guint lot = 0; lot < lots->rows->len; lot++) {
      g_autofree char *where = stood_in(lots, lot, moves, releases, happened);
      gboolean there = strcmp(where, system) == 0;
      const char *code = table_cell(lots, lot, "code");
      ck_assert_msg((strstr(row, code) != NULL) == there, "lot %s %s in “%s”", code,
                    there ? "is missing" : "does not belong", row);
      reached += there;
    }
  }
  ck_assert_uint_gt(reached, 100);
}
END_TEST

static const char *const all_of_a_bare_station[] = {
    "handover",  "round-sheet",
    "register",  "claim --shipment S-1",
    "medicines", "take-home --volume 90,5 --strength 1.25"};

static void
print_all(Ctl *c, const char *system, const char *lot)
{
  for (guint i = 0; i < G_N_ELEMENTS(all_of_a_bare_station); i++) {
    g_autoptr(Paper) paper = paper_print(c, "%s --at '2027-03-02 09:00'", all_of_a_bare_station[i]);
    paper_fonts_are_embedded(paper);
    paper_words_lie_apart(paper);
  }
  g_autoptr(Paper) handover = paper_print(c, "handover --at '2027-03-02 09:00'");
  ck_assert_int_eq(handover->pages, 1);
  ck_assert(strstr(handover->raw, "unread") && strstr(handover->raw, "never read"));
  g_autoptr(Paper) record = paper_print(c, "lot-record --lot '%s' --at '2027-03-02 09:00'", lot);
  ck_assert_int_eq(record->pages, 1);
  paper_words_lie_apart(record);
  ck_assert(strstr(record->raw, "Nothing was measured."));
  ck_assert(strstr(record->raw, "Not released:"));
  g_autoptr(Paper) card = paper_print(c, "tank-card --system '%s' --at '2027-03-02 09:00'", system);
  ck_assert_int_eq(card->pages, 1);
  paper_words_lie_apart(card);
  g_autoptr(Paper) month =
      paper_print(c, "month-sheet --system '%s' --at '2027-03-02 09:00'", system);
  ck_assert_int_eq(month->pages, 1);
  paper_words_lie_apart(month);
}

START_TEST(no_readings_and_one_lot)
{
  Ctl *c = bare_station("Blue-1", "0412", "Zebrasoma flavescens");
  print_all(c, "Blue-1", "0412");
  ctl_free(c);
}
END_TEST

START_TEST(longest_names)
{
  static const char system[] = "North wall lower row recirculating system behind the loading door";
  static const char lot[] = "2027-03-01/S-0088/box-17/second-half-after-the-recount";
  Ctl *c = bare_station(system, lot, "Pseudanthias squamipinnis of an unusually long trade name");
  print_all(c, system, lot);
  g_autoptr(Paper) record = paper_print(c, "lot-record --lot '%s' --at '2027-03-02 09:00'", lot);
  ck_assert(strstr(record->raw, "second-half-after-the-recount"));
  // a card is one page, in two languages as well; the head tells a long name whole
  g_autoptr(Paper) card =
      paper_print(c, "tank-card --system '%s' --also de --at '2027-03-02 09:00'", system);
  ck_assert_int_eq(card->pages, 1);
  g_autoptr(Paper) both =
      paper_print(c, "lot-record --lot '%s' --also de --at '2027-03-02 09:00'", lot);
  paper_words_lie_apart(both);
  ck_assert_double_gt(paper_y(both, "Los"), paper_y(both, "Treatment") + 8);
  ck_assert_double_gt(paper_y(both, "name"), paper_y(both, "Pseudanthias") + 8);
  ctl_free(c);
}
END_TEST

// Right-to-left names stand in left-to-right sheets; every letter comes back.
START_TEST(right_to_left_names)
{
  Ctl *c = bare_station("أزرق-1", "٠٤١٢", "سمكة التانغ الصفراء");
  print_all(c, "أزرق-1", "٠٤١٢");
  g_autoptr(Paper) record = paper_print(c, "lot-record --lot '٠٤١٢' --at '2027-03-02 09:00'");
  // poppler's raw order gives such letters one by one, between marks of direction
  g_autoptr(GString) letters = g_string_new(NULL);
  for (const char *p = record->raw; *p; p = g_utf8_next_char(p)) {
    gunichar letter = g_utf8_get_char(p);
    if (g_unichar_isalnum(letter))
      g_string_append_unichar(letters, letter);
  }
  g_autofree char *plain = g_utf8_normalize(letters->str, -1, G_NORMALIZE_ALL);
  ck_assert_msg(strstr(plain, "سمكةالتانغالصفراء") != NULL, "%s", plain);
  ctl_free(c);
}
END_TEST

// Unicode's rule for numbers behind Arabic letters (UAX 9, W2) would turn 2027-03-02 round.
START_TEST(dates_behind_a_right_to_left_name)
{
  Ctl *c = ctl_new();
  g_free(ctl(c, 0,
             "new --name 'Store شركة الأسماك' --zone Europe/Berlin --slots '07:30 17:00' --person "
             "'Mira Kessel' --initials MK"));
  g_autoptr(Paper) paper =
      paper_print(c, "register --from 2027-03-02 --until 2027-03-09 --at '2027-03-09 17:32'");
  ck_assert_msg(strstr(paper->rows, "2027-03-02 until 2027-03-08") != NULL, "%.300s", paper->rows);
  ctl_free(c);
}
END_TEST

// The same in a line that begins with such a name in bold, and in what stands beside a fact.
START_TEST(dates_and_litres_behind_right_to_left_names)
{
  Ctl *c = bare_station("أزرق-1", "٠٤١٢", "سمكة");
  g_free(ctl(c, 0,
             "record shipment --happened '2027-03-01 05:00' code='ش-2' due='2027-03-11 10:00' "
             "expected_heads=45"));
  g_autoptr(Paper) handover = paper_print(c, "handover --at '2027-03-02 09:00'");
  ck_assert_msg(strstr(handover->rows, "2027-03-11 10:00, about 45"), "%s", handover->rows);
  g_autoptr(Paper) record = paper_print(c, "lot-record --lot '٠٤١٢' --at '2027-03-02 09:00'");
  ck_assert_msg(paper_row(record, "L net) from 2027-03-01 06:00", NULL), "%s", record->rows);
  ctl_free(c);
}
END_TEST

START_TEST(two_hundred_lots)
{
  Ctl *c = full_station(7, 200);
  g_autoptr(Paper) handover = paper_print(c, "handover --at '2027-03-09 17:32'");
  ck_assert_int_eq(handover->pages, 1);
  paper_words_lie_apart(handover);
  g_autoptr(Paper) record = paper_print(c, "register --at '2027-03-09 17:32'");
  paper_words_lie_apart(record);
  for (int lot = 401; lot <= 600; lot++) {
    g_autofree char *code = g_strdup_printf("%04d", lot);
    g_autofree char *row = paper_row(record, code, "2027-03-01 06:00", NULL);
    ck_assert_msg(row != NULL, "lot %s is missing", code);
  }
  g_autoptr(Paper) cards = paper_print(c, "tank-card --system Blue-3 --at '2027-03-09 17:32'");
  paper_words_lie_apart(cards);
  ck_assert_int_eq(cards->pages, 29); // lots 3, 10, ... 199 of 200 over 7 systems
  // what may not be moved for one reason is one line, not one for each lot
  g_autoptr(Paper) round = paper_print(c, "round-sheet --at '2027-03-09 17:32'");
  paper_words_lie_apart(round);
  ck_assert_int_le(round->pages, 2);
  ck_assert_uint_eq(paper_count(round->raw, " stay:"), 1);
  for (int lot = 401; lot <= 600; lot++) {
    g_autofree char *code = g_strdup_printf("%04d", lot);
    ck_assert_msg(strstr(round->raw, code), "lot %s may not move, and is not told", code);
  }
  ctl_free(c);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("report");
  TCase *t = tcase_create("register");
  tcase_set_timeout(t, 240);
  tcase_add_unchecked_fixture(t, NULL, paper_demo_free);
  tcase_add_test(t, each_field_of_the_rules_has_its_place);
  tcase_add_test(t, a_range_holds_what_happened_in_it);
  tcase_add_test(t, doses_name_the_lots_that_they_reached);
  tcase_add_test(t, no_readings_and_one_lot);
  tcase_add_test(t, longest_names);
  tcase_add_test(t, right_to_left_names);
  tcase_add_test(t, dates_behind_a_right_to_left_name);
  tcase_add_test(t, dates_and_litres_behind_right_to_left_names);
  tcase_add_test(t, two_hundred_lots);
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
