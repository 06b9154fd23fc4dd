// SPDX-License-Identifier: GPL-3.0-or-later
// Lots that were split and merged twice, and a claim without losses, on paper: every fish that is
// here must be told where it came from, and none that a medicine reached may be told as gone.
// Invented; the counts are added by hand: 30 - 12 = 18 stay; 10 + 12 = 22 go on, 5 + 22 - 2 = 25.
#include <check.h>
#include <string.h>

#include "paper.h"

#define AT "--at '2026-06-10 12:00'"

static Ctl *c;

static void
setup(void)
{
  static const char *const acts[] = {
      "lot --happened '2026-06-01 09:00' code=A1 tank=Blue-1/1 heads=30",
      "lot --happened '2026-06-01 09:30' code=B1 tank=Blue-1/2 heads=10",
      "lot --happened '2026-06-01 09:40' code=C1 tank=Blue-1/2 heads=5",
      "split --happened '2026-06-02 09:00' lot=A1 code=A1a heads=12 tank=Blue-1/2",
      "merge --happened '2026-06-03 09:00' lot=A1a into=B1",
      "dose --happened '2026-06-03 10:00' system=Blue-1 bottle=C-07 amount_ml=50",
      "merge --happened '2026-06-04 09:00' lot=B1 into=C1",
      "death --happened '2026-06-05 12:00' lot=C1 heads=2"};
  c = ctl_new();
  ctl_station(c, NULL);
  g_free(ctl(c, 0, "record system name=Blue-1 volume_l=2400 role=treatment"));
  g_free(ctl(c, 0, "record tank system=Blue-1 number=1"));
  g_free(ctl(c, 0, "record tank system=Blue-1 number=2"));
  g_free(
      ctl(c, 0, "record bottle name=C-07 analyte=copper form=ionic strength=1 strength_as=metal"));
  for (guint i = 0; i < G_N_ELEMENTS(acts); i++)
    g_free(ctl(c, 0, "record %s", acts[i]));
}

static void
teardown(void)
{
  ctl_free(c);
}

static void
has_row(const Paper *paper, const char *first, const char *then)
{
  g_autofree char *row = paper_row(paper, first, then, NULL);
  ck_assert_msg(row != NULL, "no row of %s with %s:\n%s", first, then, paper->rows);
}

// The words of a row, one space between them.
static void
has_words(const Paper *paper, const char *first, const char *then)
{
  g_autofree char *row = paper_row(paper, first, NULL);
  ck_assert_msg(row != NULL, "no row of %s:\n%s", first, paper->rows);
  g_autoptr(GString) words = g_string_new(NULL);
  g_auto(GStrv) each = g_strsplit(row, " ", -1);
  for (char **word = each; *word; word++)
    if (**word)
      g_string_append_printf(words, "%s%s", words->len ? " " : "", *word);
  ck_assert_msg(strstr(words->str, then) != NULL, "%s is not in %s", then, words->str);
}

START_TEST(who_merged_says_where_they_went)
{
  g_autoptr(Paper) part = paper_print(c, "lot-record --lot A1a " AT);
  has_row(part, "2026-06-03 09:00", "A1a: its 12 fish go on in lot B1");
  has_row(part, "Taken off", "12 fish of lot A1, 2026-06-02 09:00; until then");
  g_autoptr(Paper) second = paper_print(c, "lot-record --lot B1 " AT);
  has_row(second, "2026-06-03 09:00", "A1a: its 12 fish go on in lot B1");
  has_row(second, "2026-06-04 09:00", "B1: its 22 fish go on in lot C1");
}
END_TEST

START_TEST(who_took_them_in_says_whence)
{
  g_autoptr(Paper) paper = paper_print(c, "lot-record --lot C1 " AT);
  has_row(paper, "Counted", "5 (invoice");
  has_row(paper, "Here now: 25", "5 (invoice");
  has_row(paper, "Joined by", "the fish of lot B1, 2026-06-04 09:00; until then");
  has_row(paper, "2026-06-04 09:00", "B1: its 22 fish go on in lot C1");
  g_autoptr(Paper) kept = paper_print(c, "lot-record --lot A1 " AT);
  ck_assert_ptr_null(strstr(kept->raw, "Joined by"));
  has_row(kept, "Here now: 18", "30 (invoice");
}
END_TEST

START_TEST(register_tells_merges_and_deaths_in_full)
{
  g_autoptr(Paper) paper = paper_print(c, "register --from 2026-06-01 --until 2026-06-10 " AT);
  has_row(paper, "2026-06-03 09:00", "its 12 fish go on in lot B1");
  has_row(paper, "2026-06-04 09:00", "its 22 fish go on in lot C1");
  has_row(paper, "2026-06-05 12:00", "2 dead, species not said; cause not said");
}
END_TEST

// A recall asks where they are: in the lot that they went on in.
START_TEST(a_batch_finds_the_fish_that_merged)
{
  g_autoptr(Paper) paper = paper_print(c, "medicines " AT);
  has_row(paper, "B1", "in lot C1");
  ck_assert_ptr_null(strstr(paper->raw, "no fish left"));
  // and in the part that was taken off that one later, and sold; the dose of 3 June was one of 50
  // mg
  g_free(ctl(c, 0, "record customer reference=C-33"));
  g_free(ctl(c, 0, "record split --happened '2026-06-06 09:00' lot=C1 code=X1 heads=4"));
  g_free(ctl(c, 0,
             "record release --happened '2026-06-07 09:00' lot=X1 customer=C-33 --reason 'no "
             "course was asked for'"));
  g_autoptr(Paper) later = paper_print(c, "medicines " AT);
  has_words(later, "X1, as C1", "– 4 C-07 1 2026-06-03 2026-06-03 50 released 2026-06-07");
  ck_assert(strstr(later->raw, "4 lots reached."));
  g_autoptr(Paper) before =
      paper_print(c, "medicines --at '2026-06-05 12:00'"); // nobody had taken them off yet
  ck_assert_ptr_null(strstr(before->raw, "X1"));
  g_autofree char *recall = ctl(c, 0, "reach C-07 --at '2026-06-10 12:00'");
  ck_assert_msg(strstr(recall, "lot X1, 4 fish"), "%s", recall);
}
END_TEST

// Given before the split: theirs as well. Given to the lot that they were taken off after it, or to
// the one that they joined before it: not theirs. Of baths only A1's own fish had any.
START_TEST(fish_carry_what_they_were_given)
{
  static const char *const acts[] = {
      "bottle name=K-03 analyte=praziquantel strength=50 batch=PZ-1",
      "dose --happened '2026-06-01 10:00' system=Blue-1 bottle=C-07 amount_ml=31",
      "bath --happened '2026-06-01 14:00' lot=A1 bath=praziquantel bottle=K-03 amount_ml=9 "
      "litres=100 minutes=60 air=yes temperature=25",
      "bath --happened '2026-06-02 10:00' lot=A1 bath=praziquantel bottle=K-03 amount_ml=8 "
      "litres=90 minutes=60 air=yes temperature=25"};
  for (guint i = 0; i < G_N_ELEMENTS(acts); i++)
    g_free(ctl(c, 0, "record %s", acts[i]));
  g_autoptr(Paper) part = paper_print(c, "lot-record --lot A1a " AT);
  ck_assert(paper_near(part, "2026-06-01 10:00", "lot A1", 1));
  has_row(part, "2026-06-01 10:00", "31.0 mL C-07");
  ck_assert(paper_near(part, "2026-06-01 14:00", "lot A1", 1));
  has_row(part, "2026-06-01 14:00", "praziquantel, 9.0 mL");
  ck_assert_ptr_null(strstr(part->raw, "2026-06-02 10:00"));
  ck_assert_ptr_null(strstr(part->raw, "before it joined"));
  has_row(part, "K-03", "9 mL, 450 mg in 1");
  has_row(part, "Blue-1/1", "as lot A1");
  g_autoptr(Paper) rest = paper_print(c, "lot-record --lot A1 " AT);
  has_row(rest, "K-03", "17 mL, 850 mg in 2");
  ck_assert(!paper_near(rest, "2026-06-01 14:00", "lot A1", 1));
  g_autoptr(Paper) last = paper_print(c, "lot-record --lot C1 " AT); // by way of A1a and B1
  ck_assert(paper_near(last, "2026-06-01 14:00", "lot A1", 1));
  ck_assert(!paper_near(last, "2026-06-01 10:00", "lot ", 1)); // C1 itself stood in that water
  has_row(last, "K-03", "9 mL, 450 mg in 1");
  ck_assert(paper_near(last, "K-03", "lot A1 before it joined", 1));
  ck_assert_ptr_null(strstr(last->raw, "2026-06-02 10:00"));
}
END_TEST

// All given up as dead on 8 June, three found alive on the 9th: what went into their water between
// is not theirs, what came after is.
START_TEST(fish_counted_again_stand_where_they_stood)
{
  static const char *const acts[] = {
      "count --happened '2026-06-08 09:00' lot=C1 heads=0",
      "dose --happened '2026-06-08 10:00' system=Blue-1 bottle=C-07 amount_ml=41 "
      "given_in_error=yes --reason 'test of a record'",
      "count --happened '2026-06-09 09:00' lot=C1 heads=3",
      "dose --happened '2026-06-09 10:00' system=Blue-1 bottle=C-07 amount_ml=42 "
      "given_in_error=yes --reason 'test of a record'"};
  for (guint i = 0; i < G_N_ELEMENTS(acts); i++)
    g_free(ctl(c, 0, "record %s", acts[i]));
  g_autoptr(Paper) record = paper_print(c, "lot-record --lot C1 " AT);
  has_row(record, "2026-06-09 10:00", "42.0 mL C-07");
  ck_assert_ptr_null(strstr(record->raw, "2026-06-08 10:00"));
  g_autoptr(Paper) paper = paper_print(c, "register --from 2026-06-01 --until 2026-06-10 " AT);
  has_words(paper, "2026-06-08 10:00", "41.0 mL C-07 Blue-1 A1 MK");
  has_words(paper, "2026-06-09 10:00", "42.0 mL C-07 Blue-1 A1, C1 MK");
}
END_TEST

// Nothing lost, and half of it not said: 12 counted of 12; what nobody counted is no zero.
START_TEST(a_claim_without_losses)
{
  g_free(ctl(c, 0, "record supplier name='Batu Selat Export'"));
  g_free(ctl(c, 0,
             "record shipment --happened '2026-06-01 08:00' code=S-9 supplier='Batu Selat "
             "Export' expected_heads=12"));
  g_free(ctl(c, 0,
             "record lot --happened '2026-06-01 09:00' code=D1 shipment=S-9 tank=Blue-1/1 "
             "heads=8 invoiced=8 dead_on_arrival=0"));
  g_free(ctl(c, 0,
             "record lot --happened '2026-06-01 09:00' code=E1 shipment=S-9 tank=Blue-1/1 "
             "heads=4"));
  g_autoptr(Paper) paper = paper_print(c, "claim --shipment S-9 " AT);
  has_words(paper, "D1", "– – 8 8 0 0 – 0 not read");
  has_words(paper, "E1", "– – – 4 – – – 0 not read");
  has_words(paper, "all", "8 12 0 0 – 0");
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("report: merged");
  TCase *t = tcase_create("lots");
  tcase_add_checked_fixture(t, setup, teardown);
  tcase_set_timeout(t, 300);
  tcase_add_test(t, who_merged_says_where_they_went);
  tcase_add_test(t, who_took_them_in_says_whence);
  tcase_add_test(t, register_tells_merges_and_deaths_in_full);
  tcase_add_test(t, a_batch_finds_the_fish_that_merged);
  tcase_add_test(t, fish_carry_what_they_were_given);
  tcase_add_test(t, fish_counted_again_stand_where_they_stood);
  tcase_add_test(t, a_claim_without_losses);
  suite_add_tcase(suite, t);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed != 0;
}
