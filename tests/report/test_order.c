// SPDX-License-Identifier: GPL-3.0-or-later
// Every sheet can be read aloud: its text stands in the file, and comes out of poppler, in the
// order of its blocks, between the head of its first page and the foot of its last.
#include <check.h>
#include <string.h>

#include "paper.h"

#define MOST 14

static const struct {
  const char *call, *words[MOST]; // NULL after the last
} sheets[] = {
    {"handover",
     {"Shift handover", "Out of range now", "Water under treatment", "Moves", "Deaths and signs",
      "Shipments", "Not started: yours now", "Instruments out of check", "Stock below reorder",
      "By pen", "Given, read aloud", "typed in with the time"}},
    {"lot-record --lot 0315",
     {"Treatment record, lot 0315", "PRACTICE", "Species", "Medicines used", "Given to the water",
      "Water changed", "Levels measured", "Time served", "Moved, seen, dead, decided", "Contacts",
      "Fed", "Not released", "Ledger checked", "Local rules"}},
    {"tank-card --system Blue-1",
     {"Blue-1", "0313", "Species", "Course", "Release", "DO NOT MOVE", "dead", "1/6", "0314",
      "DO NOT MOVE", "2/6", "0318", "DO NOT MOVE", "6/6"}},
    {"round-sheet",
     {"Round sheet", "PRACTICE", "where", "read or given", "Red-1", "Blue-2", "Blue-1",
      "Must not be done now", "Also done, seen or read", "Carried by", "Typed in by",
      "Local rules"}},
    {"month-sheet --system Blue-1 --from 2026-11-01 --until 2026-11-30",
     {"Blue-1, 2026-11", "PRACTICE", "copper am", "initials", "Last reading of the day",
      "Local rules"}},
    {"register",
     {"Register", "PRACTICE", "Receipts", "Movements", "Treatments", "Deaths", "Local rules"}},
    {"medicines",
     {"Medicines", "Bottles", "C-14", "In and out, and thrown away", "Fish that each batch reached",
      "Batch 7731", "0301", "0321", "compared with the shelf", "Local rules"}},
    {"claim --shipment S-105",
     {"Losses on arrival", "Supplier", "Counted", "invoice", "0324", "0325", "all",
      "Announced were", "Died within 7 days", "Photographs, remarks", "counted by", "Local rules"}},
    {"take-home --volume 200 --strength 15",
     {"Plan for your tank", "Your tank", "Aim", "Check the label first", "Day by day", "Day 1",
      "Day 3", "How much to add", "you change", "It reads 0.80", "Mains power", "explained by",
      "Local rules"}},
};

static void
in_order(const char *call, const char *text, const char *const *words)
{
  const char *at = text;
  for (int i = 0; i < MOST && words[i]; i++) {
    const char *found = strstr(at, words[i]);
    ck_assert_msg(found, "%s: “%s” is missing, or stands before “%s”", call, words[i],
                  i ? words[i - 1] : "the beginning");
    at = found + strlen(words[i]);
  }
}

START_TEST(text_stands_in_the_order_of_its_blocks)
{
  static const char *const papers[] = {"a4", "letter"};
  for (gsize p = 0; p < G_N_ELEMENTS(papers); p++) {
    g_autoptr(Paper) paper = paper_print(paper_demo(), "%s --at '%s' --paper %s", sheets[_i].call,
                                         paper_demo_at(), papers[p]);
    in_order(sheets[_i].call, paper->raw, sheets[_i].words);
    in_order(sheets[_i].call, paper->flow, sheets[_i].words);
  }
}
END_TEST

// A sheet that is added has its order here, too.
START_TEST(every_sheet_is_among_them)
{
  g_autofree char *list = ctl(paper_demo(), 0, "print --list");
  g_auto(GStrv) lines = g_strsplit(g_strchomp(list), "\n", -1);
  for (guint i = 0; lines[i]; i++) {
    g_autofree char *name = g_strndup(lines[i], strcspn(lines[i], " "));
    gboolean found = FALSE;
    for (gsize k = 0; k < G_N_ELEMENTS(sheets); k++)
      found = found || g_str_has_prefix(sheets[k].call, name);
    ck_assert_msg(found, "the order of %s is not looked at", name);
  }
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("report: order");
  TCase *tc = tcase_create("order");
  tcase_set_timeout(tc, 240);
  tcase_add_unchecked_fixture(tc, NULL, paper_demo_free);
  tcase_add_loop_test(tc, text_stands_in_the_order_of_its_blocks, 0, G_N_ELEMENTS(sheets));
  tcase_add_test(tc, every_sheet_is_among_them);
  suite_add_tcase(suite, tc);
  SRunner *runner = srunner_create(suite);
  srunner_set_fork_status(runner, CK_NOFORK);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
