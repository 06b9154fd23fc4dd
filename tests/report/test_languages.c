// SPDX-License-Identifier: GPL-3.0-or-later
// Sheets in every shipped language, and in two beside each other.
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "full_station.h"
#include "paper.h"

// Headings of the handover in the order of its blocks, as staff of that language read them aloud.
static const struct {
  const char *language, *paper, *headings[9];
} cases[] = {
    {"en",
     "a4",
     {"Out of range now", "Water under treatment", "Moves", "Deaths and signs", "Shipments",
      "Not started", "Instruments out of check", "Stock below reorder", "By pen"}},
    {"en",
     "letter",
     {"Out of range now", "Water under treatment", "Moves", "Deaths and signs", "Shipments",
      "Not started", "Instruments out of check", "Stock below reorder", "By pen"}},
    {"de",
     "a4",
     {"Jetzt außerhalb", "Wasser in Behandlung", "Umsetzen", "Todesfälle und Anzeichen",
      "Sendungen", "Nicht begonnen", "Messgeräte ohne", "Bestand unter", "Mit dem Stift"}},
    {"de",
     "letter",
     {"Jetzt außerhalb", "Wasser in Behandlung", "Umsetzen", "Todesfälle und Anzeichen",
      "Sendungen", "Nicht begonnen", "Messgeräte ohne", "Bestand unter", "Mit dem Stift"}},
};

static void
in_block_order(const char *text, const char *const *headings)
{
  const char *at = text;
  for (int i = 0; i < 9; i++) {
    const char *found = strstr(at, headings[i]);
    ck_assert_msg(found != NULL, "“%s” is missing or out of its place in\n%s", headings[i], text);
    at = found;
  }
}

// Six waters, twenty-five lots, three alarms: one page in every language on both papers.
START_TEST(a_full_day_fits_one_page)
{
  g_setenv("LANGUAGE", cases[_i].language, TRUE);
  Ctl *c = full_station(6, 25);
  g_autoptr(Paper) paper =
      paper_print(c, "handover --paper %s --at '2027-03-09 17:32' --number 173", cases[_i].paper);
  g_unsetenv("LANGUAGE");
  ck_assert_int_eq(paper->pages, 1);
  in_block_order(paper->raw, cases[_i].headings);
  in_block_order(paper->flow, cases[_i].headings);
  for (int i = 1; i <= 3; i++) {
    g_autofree char *name = g_strdup_printf("Blue-%d", i);
    const char *alarm = strstr(paper->raw, name), *two = strstr(paper->raw, cases[_i].headings[1]);
    ck_assert_msg(alarm && alarm < two, "%s is not in block 1", name);
  }
  // and with the other language beside it
  g_setenv("LANGUAGE", cases[_i].language, TRUE);
  g_autoptr(Paper) both =
      paper_print(c, "handover --paper %s --at '2027-03-09 17:32' --number 173 --also %s",
                  cases[_i].paper, strcmp(cases[_i].language, "de") == 0 ? "en" : "de");
  g_unsetenv("LANGUAGE");
  in_block_order(both->raw, cases[_i].headings);
  ck_assert_int_eq(both->pages, 1);
  ctl_free(c);
}
END_TEST

START_TEST(two_languages_stand_beside_each_other)
{
  static const struct {
    const char *sheet, *first, *second;
  } both[] = {{"handover", "Water under treatment", "Wasser in Behandlung"},
              {"handover", "Given, read aloud", "Übergeben, vorgelesen"},
              {"handover", "Test copper", "Kupfer"},
              {"round-sheet", "Test copper", "Kupfer messen"},
              {"round-sheet", "Also done, seen or read", "Auch getan"},
              {"tank-card --system Blue-1", "DO NOT MOVE", "NICHT UMSETZEN"},
              {"tank-card --system Blue-1", "Own net and bucket", "Eigenes Netz"}};
  for (guint i = 0; i < G_N_ELEMENTS(both); i++) {
    g_autoptr(Paper) paper =
        paper_print(paper_demo(), "%s --also de --at '%s'", both[i].sheet, paper_demo_at());
    paper_in_order(paper->raw, both[i].first, both[i].second, NULL);
    if (strcmp(both[i].sheet, "handover") == 0)
      ck_assert_int_eq(paper->pages, 1);
  }
}
END_TEST

// On the smaller of the two papers, in both orders.
START_TEST(two_languages_are_one_page)
{
  static const char *const sheets[] = {"handover", "medicines", "round-sheet"};
  const char *first = _i % 2 ? "de" : "en", *second = _i % 2 ? "en" : "de";
  Ctl *small = _i < 4 ? NULL : full_station(1, 2);
  g_setenv("LANGUAGE", first, TRUE);
  g_autoptr(Paper) paper =
      paper_print(small ? small : paper_demo(), "%s --paper letter --also %s --at '%s'",
                  sheets[_i / 2], second, small ? "2027-03-09 17:32" : paper_demo_at());
  g_unsetenv("LANGUAGE");
  ck_assert_int_eq(paper->pages, 1);
  paper_words_lie_apart(paper);
  if (small)
    ctl_free(small);
}
END_TEST

// What is a name or a figure stands once: the second language adds words, not numbers.
START_TEST(figures_stand_once)
{
  g_autoptr(Paper) one = paper_print(paper_demo(), "handover --at '%s'", paper_demo_at());
  g_autoptr(Paper) two = paper_print(paper_demo(), "handover --also de --at '%s'", paper_demo_at());
  static const char *const once[] = {"0.490 mg/L", "mL, ", "page 1 of 1"};
  for (guint i = 0; i < G_N_ELEMENTS(once); i++)
    ck_assert_uint_eq(paper_count(two->raw, once[i]), paper_count(one->raw, once[i]));
}
END_TEST

// A page that was set denser for its second language leaves nothing out for which it has room.
START_TEST(no_line_is_left_out_beside_an_empty_half)
{
  g_autoptr(Paper) one = paper_print(paper_demo(), "handover --at '%s'", paper_demo_at());
  g_autoptr(Paper) two = paper_print(paper_demo(), "handover --also de --at '%s'", paper_demo_at());
  ck_assert_ptr_null(strstr(one->raw, "more line"));
  ck_assert_ptr_null(strstr(two->raw, "more line"));
  ck_assert_int_eq(two->pages, 1);
}
END_TEST

// What stands beside a heading goes below it, whole, where two languages have no room there. (What
// is cut with an ellipsis is in the text of the PDF all the same: where it stands tells.)
START_TEST(asides_are_told_whole)
{
  static const struct {
    const char *sheet, *heading, *aside;
  } asides[] = {{"lot-record --lot 0301", "Gemessene", "Klammern:"},
                {"lot-record --lot 0301", "Abgeleistete", "schraffiert"},
                {"register", "Angabe", "Landesrecht"}};
  for (guint i = 0; i < G_N_ELEMENTS(asides); i++) {
    g_autoptr(Paper) paper =
        paper_print(paper_demo(), "%s --also de --at '%s'", asides[i].sheet, paper_demo_at());
    ck_assert_double_gt(paper_y(paper, asides[i].aside), paper_y(paper, asides[i].heading) + 8);
    paper_words_lie_apart(paper);
  }
}
END_TEST

START_TEST(german_first_english_second)
{
  g_setenv("LANGUAGE", "de", TRUE);
  g_autoptr(Paper) paper =
      paper_print(paper_demo(), "round-sheet --also en --at '%s'", paper_demo_at());
  g_unsetenv("LANGUAGE");
  paper_in_order(paper->raw, "Rundgangsblatt", "Round sheet", "Kupfer messen", "Test copper", NULL);
}
END_TEST

START_TEST(a_language_that_is_not_there)
{
  g_autofree char *said = ctl(paper_demo(), 2, "print handover --also xx --pdf x.pdf");
  ck_assert_msg(strstr(said, "“xx”. Accepted: de, en") != NULL, "%s", said);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("report");
  TCase *t = tcase_create("languages");
  tcase_set_timeout(t, 120);
  tcase_add_unchecked_fixture(t, NULL, paper_demo_free);
  tcase_add_loop_test(t, a_full_day_fits_one_page, 0, G_N_ELEMENTS(cases));
  tcase_add_test(t, two_languages_stand_beside_each_other);
  tcase_add_loop_test(t, two_languages_are_one_page, 0, 6);
  tcase_add_test(t, figures_stand_once);
  tcase_add_test(t, no_line_is_left_out_beside_an_empty_half);
  tcase_add_test(t, asides_are_told_whole);
  tcase_add_test(t, german_first_english_second);
  tcase_add_test(t, a_language_that_is_not_there);
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
