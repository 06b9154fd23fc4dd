// SPDX-License-Identifier: GPL-3.0-or-later
// The shift handover: one page, read aloud in the order of its blocks, true to the desk's figures.
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "full_station.h"
#include "paper.h"

// ISO 216 and ANSI/ASME Y14.1, in points.
static const struct {
  const char *name;
  double width, height;
} papers[] = {{"a4", 595.276, 841.89}, {"letter", 612, 792}};

static void
blocks_stand_in_order(const char *text)
{
  paper_in_order(text, "Shift handover", "Out of range now", "Water under treatment", "Moves",
                 "Deaths and signs since", "Shipments", "Not started: yours now",
                 "Instruments out of check", "Stock below reorder", "By pen", "Given, read aloud",
                 "Read back by", "Local rules and a veterinarian decide", NULL);
}

START_TEST(demo_fits_one_page)
{
  g_autoptr(Paper) paper =
      paper_print(paper_demo(), "handover --paper %s --at '%s'", papers[_i].name, paper_demo_at());
  ck_assert_int_eq(paper->pages, 1);
  ck_assert_double_eq_tol(paper->width, papers[_i].width, 0.5);
  ck_assert_double_eq_tol(paper->height, papers[_i].height, 0.5);
  blocks_stand_in_order(paper->flow);
  blocks_stand_in_order(paper->raw);
  paper_in_order(paper->raw, "page 1 of 1", "PRACTICE", NULL);
  paper_fonts_are_embedded(paper);
}
END_TEST

// Who takes over at 17:02 reads what is late and since when, the day of each course (spot on the
// 14th put Blue-1 back to day one), and what was seen. One reading that is late and confirms the
// dose is asked for once.
START_TEST(what_is_late_says_since_when)
{
  g_autofree char *day = g_strndup(paper_demo_at(), strlen("2026-03-01"));
  g_autoptr(Paper) paper = paper_print(paper_demo(), "handover --at '%s 17:02'", day);
  ck_assert_int_eq(paper->pages, 1);
  const char *water = strstr(paper->flow, "Water under treatment");
  paper_in_order(water, "day 6 · Hold", "late 17:00", "day 13 · Hold", "late 17:00", "Moves",
                 "Seen in Blue-1", "white spot", "Not started", "Test copper, salinity",
                 "late since 17:00", NULL);
  ck_assert_ptr_null(strstr(strstr(water, "Not started"), "today 17:02 Test copper"));
  ck_assert_ptr_null(strstr(paper->flow, "late: first"));
}
END_TEST

START_TEST(full_station_fits_one_page)
{
  Ctl *c = full_station(7, 25);
  g_autoptr(Paper) paper =
      paper_print(c, "handover --paper %s --at '2027-03-09 17:32' --number 173", papers[_i].name);
  ck_assert_int_eq(paper->pages, 1);
  blocks_stand_in_order(paper->flow);
  blocks_stand_in_order(paper->raw);
  ck_assert(strstr(paper->raw, "sheet 0173"));
  // three waters out of range, each named in block 1 before block 2 begins
  g_autofree char *first =
      g_strndup(paper->raw, (gsize)(strstr(paper->raw, "Water under treatment") - paper->raw));
  for (int i = 1; i <= 3; i++) {
    g_autofree char *alarm = g_strdup_printf("Blue-%d copper 0.", i);
    ck_assert_msg(strstr(first, alarm) != NULL, "no “%s” in\n%s", alarm, first);
  }
  for (int i = 1; i <= 7; i++) {
    g_autofree char *name = g_strdup_printf("Blue-%d", i);
    ck_assert(strstr(strstr(paper->raw, "Water under treatment"), name));
  }
  ctl_free(c);
}
END_TEST

START_TEST(same_moment_same_bytes)
{
  gsize n[2];
  g_autofree char *bytes[2] = {NULL, NULL};
  for (int i = 0; i < 2; i++) {
    g_autoptr(Paper) paper = paper_print(paper_demo(), "handover --at '%s'", paper_demo_at());
    ck_assert(g_file_get_contents(paper->path, &bytes[i], &n[i], NULL));
  }
  ck_assert_uint_eq(n[0], n[1]);
  ck_assert_mem_eq(bytes[0], bytes[1], n[0]);
  g_free(g_steal_pointer(&bytes[1]));
}
END_TEST

// Every water with a band and fish, its level now as `water --format=csv` has it: read, or after
// what was done since.
START_TEST(levels_are_the_desk_s)
{
  g_autoptr(Paper) paper = paper_print(paper_demo(), "handover --at '%s'", paper_demo_at());
  g_autoptr(Table) water = ctl_table(paper_demo(), "water --format=csv --at '%s'", paper_demo_at());
  guint told = 0;
  for (guint i = 0; i < water->rows->len; i++) {
    const char *analyte = table_cell(water, i, "analyte");
    const char *system = table_cell(water, i, "system");
    if (!*table_cell(water, i, "band_low") && !*table_cell(water, i, "band_high"))
      continue;
    double level = g_ascii_strtod(table_cell(water, i, "carried"), NULL);
    g_autofree char *text = strcmp(analyte, "copper") == 0 ? g_strdup_printf("%.3f", level)
                                                           : g_strdup_printf("%.1f", level);
    const char *block = strstr(paper->raw, "Water under treatment");
    ck_assert_msg(strstr(strstr(block, system), text) != NULL, "%s %s: no “%s” in\n%s", system,
                  analyte, text, block);
    told++;
  }
  ck_assert_uint_gt(told, 2);
}
END_TEST

// Who dosed today, and how much: summed up by nobody, listed dose by dose.
START_TEST(doses_of_today_are_told)
{
  g_autoptr(Paper) paper = paper_print(paper_demo(), "handover --at '%s'", paper_demo_at());
  g_autoptr(Table) doses = ctl_table(paper_demo(), "export doses");
  guint told = 0;
  for (guint i = 0; i < doses->rows->len; i++) {
    if (strncmp(table_cell(doses, i, "happened"), paper_demo_at(), 10) != 0 ||
        strcmp(table_cell(doses, i, "voided"), "no") != 0)
      continue;
    g_autofree char *text =
        g_strdup_printf("%.1f mL, %s", g_ascii_strtod(table_cell(doses, i, "amount_ml"), NULL),
                        table_cell(doses, i, "who"));
    ck_assert_msg(strstr(paper->raw, text) != NULL, "no “%s”", text);
    told++;
  }
  if (!told)
    ck_assert(strstr(paper->raw, "none given"));
}
END_TEST

START_TEST(reprint_says_what_came_since)
{
  Ctl *c = full_station(1, 1);
  g_free(ctl(c, 0, "record handover --happened '2027-03-09 17:40' sheet=12"));
  g_free(ctl(c, 0, "record note --happened '2027-03-09 17:50' system=Blue-1 words='door open'"));
  g_autoptr(Paper) paper = paper_print(c, "handover --at '2027-03-09 18:00' --number 12");
  ck_assert_msg(strstr(paper->raw, "Reprint. 1 entry since this sheet was given at 17:40."), "%s",
                paper->raw);
  ctl_free(c);
}
END_TEST

// A correction changes the sheet though what it corrects was done before the sheet was given; what
// was taken back is told as that. The first print's figure is gone from the second.
START_TEST(reprint_tells_a_correction)
{
  Ctl *c = full_station(1, 1);
  const char *reading = "record reading --happened '2027-03-09 17:2%d' system=Blue-1 "
                        "analyte=copper value=%s instrument=P1";
  for (int i = 0; i < 2; i++) {
    g_autofree char *words = g_strdup_printf(reading, i, i ? "0.188" : "0.186");
    g_free(ctl(c, 0, "%s", words));
  }
  g_autoptr(Table) made = ctl_table(c, "export reading");
  const char *last = table_cell(made, made->rows->len - 1, "id") + 1; // behind “#”
  const char *before = table_cell(made, made->rows->len - 2, "id") + 1;
  g_free(ctl(c, 0, "record handover --happened '2027-03-09 17:40' sheet=12"));
  g_autoptr(Paper) first = paper_print(c, "handover --at '2027-03-09 18:00' --number 12");
  ck_assert(strstr(first->raw, "Reprint. 0 entries since") && strstr(first->raw, "0.188 mg/L"));
  g_free(ctl(c, 0,
             "record reading --corrects '%s' --reason misread --happened '2027-03-09 17:21' "
             "system=Blue-1 analyte=copper value=0.181 instrument=P1",
             last));
  g_free(ctl(c, 0, "record reading --corrects '%s' --void --reason 'another tank'", before));
  g_autoptr(Paper) second = paper_print(c, "handover --at '2027-03-09 18:00' --number 12");
  paper_in_order(second->flow, "Reprint.", "2 entries since", "Taken back:", "17:20", "0.186",
                 "Corrected:", "17:21", "0.181", "Out of range now", "0.181 mg/L", NULL);
  ck_assert(strstr(second->raw, "0.188") == NULL);
  ctl_free(c);
}
END_TEST

// Every change that the page has room for is told: all of a few, and of many as many as fill it.
// One page either way, and what is left out is counted.
START_TEST(reprint_tells_as_many_as_fit)
{
  for (int lots = 2; lots <= 24; lots += 22) {
    const int changes = lots == 2 ? 8 : 30;
    Ctl *c = full_station(lots == 2 ? 2 : 6, lots);
    g_free(ctl(c, 0, "record handover --happened '2027-03-09 17:40' sheet=12"));
    for (int i = 0; i < changes; i++)
      g_free(ctl(c, 0, "record note --happened '2027-03-09 17:50' system=Blue-1 words='door %02d'",
                 i));
    for (int also = 0; also < 2; also++) {
      g_autoptr(Paper) paper = paper_print(c, "handover --at '2027-03-09 18:00' --number 12%s",
                                           also ? " --also de" : "");
      const char *flow = strstr(paper->flow, "Reprint.");
      g_autofree char *part = g_strndup(flow, (gsize)(strstr(flow, "Out of range") - flow));
      int told = 0, left = 0;
      for (int i = 0; i < changes; i++) {
        g_autofree char *door = g_strdup_printf("door %02d", i);
        told += strstr(part, door) != NULL;
      }
      const char *more = strstr(part, "and ");
      if (more)
        left = (int)g_ascii_strtoll(more + 4, NULL, 10);
      ck_assert_int_eq(paper->pages, 1);
      ck_assert_msg(told + left == changes, "%d told, %d left of %d", told, left, changes);
      ck_assert_msg(changes == 8 ? told == 8 : told >= 2, "%d of %d told", told, changes);
      const double room = paper_y(paper, "Given,") - paper_y(paper, "By");
      ck_assert_msg(!left || room < 62, "%d left out, %.0f pt free", left, room);
    }
    ctl_free(c);
  }
}
END_TEST

START_TEST(station_s_paper_is_used)
{
  Ctl *c = full_station(1, 1);
  g_free(ctl(c, 0,
             "record station --entity 'Test station' --happened '2027-03-01 04:00' "
             "paper=letter address='Unit 7, Harbour Road\nApproval 0815'"));
  g_autoptr(Paper) paper = paper_print(c, "handover --at '2027-03-09 18:00'");
  ck_assert_double_eq_tol(paper->width, 612, 0.5);
  ck_assert(strstr(paper->raw, "Approval 0815"));
  ctl_free(c);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("report");
  TCase *t = tcase_create("handover");
  tcase_set_timeout(t, 120);
  tcase_add_unchecked_fixture(t, NULL, paper_demo_free);
  tcase_add_loop_test(t, demo_fits_one_page, 0, G_N_ELEMENTS(papers));
  tcase_add_test(t, what_is_late_says_since_when);
  tcase_add_loop_test(t, full_station_fits_one_page, 0, G_N_ELEMENTS(papers));
  tcase_add_test(t, same_moment_same_bytes);
  tcase_add_test(t, levels_are_the_desk_s);
  tcase_add_test(t, doses_of_today_are_told);
  tcase_add_test(t, station_s_paper_is_used);
  tcase_add_test(t, reprint_says_what_came_since);
  tcase_add_test(t, reprint_tells_a_correction);
  tcase_add_test(t, reprint_tells_as_many_as_fit);
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
