// SPDX-License-Identifier: GPL-3.0-or-later
// The ledger's filters as an inspector's question asks them: by kind, by person, by date, by water
// and all together, from the page itself; and the export from there, which is the whole chain
// whatever is filtered. Two people wrote, on four days.
#include <glib/gstdio.h>
#include <string.h>

#include "journey.h"

static Ctl *c;
static Stage *s;

// Entries of 4 to 7 March; what each filter must let through is counted by hand here:
// Mira: lot, course (4th, with the station's), reading 0.181 (4th), death (6th).
// Timo: readings 0.182 (5th) and 0.183 (6th), change of 120 L (6th), reading 0.184 (7th).
static void
open_ledger(void)
{
  static const char *const acts[] = {
      "reading --who MK --happened '2027-03-04 09:00' system=Blue-1 analyte=copper value=0.181 "
      "instrument=P1",
      "reading --who TA --happened '2027-03-05 08:00' system=Blue-1 analyte=copper value=0.182 "
      "instrument=P1",
      "reading --who TA --happened '2027-03-06 08:00' system=Blue-1 analyte=copper value=0.183 "
      "instrument=P1",
      "change --who TA --happened '2027-03-06 09:00' system=Blue-1 litres=120 new_copper=0",
      "death --who MK --happened '2027-03-06 10:00' lot=0412 heads=1",
      "reading --who TA --happened '2027-03-07 07:00' system=Blue-1 analyte=copper value=0.184 "
      "instrument=P1"};
  c = case_ionic("pause", "metal");
  g_free(ctl(c, 0, "record person --who MK name='Timo Arp' initials=TA role=keeper"));
  for (guint i = 0; i < G_N_ELEMENTS(acts); i++)
    g_free(ctl(c, 0, "record %s", acts[i]));
  s = stage_start(c, "2027-03-07T07:40+01:00", NULL);
  stage_keys(s, "F7");
  stage_wait(s, "nothing is deleted by itself");
  stage_wait(s, "0.184 mg/L");
}

static void
close_ledger(void)
{
  stage_end(s);
  ctl_free(c);
}

// How many Tabs lead there is no matter here (tests/app/tab-order has it).
static void
stand_on(AtspiRole role, const char *name)
{
  for (int i = 0; i < 40 && !stage_has_focus(s, role, name); i++)
    stage_keys(s, "Tab");
  stage_wait_focus(s, role, name);
}

static void
filter(AtspiRole role, const char *name, const char *typed)
{
  stand_on(role, name);
  stage_keys(s, "ctrl+a");
  stage_type(s, typed);
}

static void
shows_all(const char *const *words)
{
  for (; *words; words++)
    stage_wait(s, *words);
}

static void
shows_none(const char *const *words)
{
  for (; *words; words++)
    stage_wait_gone(s, *words);
}

#define SHOWS(...) shows_all((const char *const[]){__VA_ARGS__, NULL})
#define HIDES(...) shows_none((const char *const[]){__VA_ARGS__, NULL})

START_TEST(test_by_kind)
{
  open_ledger();
  stand_on(ATSPI_ROLE_PUSH_BUTTON, "Kind of entry");
  stage_type(s, "reading");
  SHOWS("0.181 mg/L", "0.182 mg/L", "0.183 mg/L", "0.184 mg/L", "4 entries.");
  HIDES("1 dead", "120 L");
  close_ledger();
}
END_TEST

START_TEST(test_by_person)
{
  open_ledger();
  stand_on(ATSPI_ROLE_PUSH_BUTTON, "Who wrote or watched it");
  stage_type(s, "ta");
  SHOWS("0.182 mg/L", "0.183 mg/L", "0.184 mg/L", "120 L", "4 entries.");
  HIDES("0.181 mg/L", "1 dead", "Number: 0412");
  close_ledger();
}
END_TEST

START_TEST(test_by_date)
{
  open_ledger();
  filter(ATSPI_ROLE_TEXT, "First day", "2027-03-05");
  HIDES("0.181 mg/L", "Number: 0412");
  SHOWS("0.182 mg/L", "0.183 mg/L", "1 dead", "120 L", "0.184 mg/L", "5 entries.");
  filter(ATSPI_ROLE_TEXT, "Last day", "2027-03-06"); // that day is meant to its end
  HIDES("0.184 mg/L");
  SHOWS("0.182 mg/L", "0.183 mg/L", "1 dead", "120 L", "4 entries.");
  filter(ATSPI_ROLE_TEXT, "Last day", "2027-13-06"); // no such day: said, with what is accepted
  stage_wait(s, "2027-13-06");
  HIDES("4 entries.");
  close_ledger();
}
END_TEST

// What did Timo read in Blue-1 on the sixth?
START_TEST(test_all_together)
{
  open_ledger();
  stage_type(s, "copper"); // letters look for words, wherever one stands
  HIDES("1 dead");
  stand_on(ATSPI_ROLE_PUSH_BUTTON, "Kind of entry");
  stage_type(s, "reading");
  SHOWS("4 entries.");
  stand_on(ATSPI_ROLE_PUSH_BUTTON, "Who wrote or watched it");
  stage_type(s, "ta");
  SHOWS("3 entries.");
  filter(ATSPI_ROLE_TEXT, "System, tank or lot", "Blue-1");
  filter(ATSPI_ROLE_TEXT, "First day", "2027-03-06");
  filter(ATSPI_ROLE_TEXT, "Last day", "2027-03-06");
  SHOWS("0.183 mg/L", "1 entry.");
  HIDES("0.181 mg/L", "0.182 mg/L", "0.184 mg/L", "120 L", "1 dead");
  close_ledger();
}
END_TEST

static gboolean
is_there(Stage *stage, gpointer path)
{
  return g_file_test(path, G_FILE_TEST_EXISTS);
}

// One line is listed; the file that leaves has every entry, and its chain holds.
START_TEST(test_export_is_whole_under_a_filter)
{
  open_ledger();
  g_autofree char *csv = g_build_filename(c->folder, "all.csv", NULL);
  g_autofree char *manifest = g_strconcat(csv, ".manifest.txt", NULL);
  stand_on(ATSPI_ROLE_PUSH_BUTTON, "Kind of entry");
  stage_type(s, "deaths");
  SHOWS("1 entry.");
  stage_keys(s, "alt+e");
  stage_wait(s, "Export the ledger");
  stage_keys(s, "ctrl+a");
  stage_type(s, csv);
  stage_keys(s, "Return");
  stage_until(s, "a manifest", is_there, manifest);
  stage_wait(s, "Saved:");
  const char *argv[] = {"python3", g_getenv("CHECK_EXPORT"), csv, manifest, NULL};
  g_autofree char *out = NULL, *err = NULL, *text = NULL;
  int status = 0;
  ck_assert(g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, &err,
                         &status, NULL));
  ck_assert_msg(status == 0 && strstr(out, "1 chains"), "%s%s", out, err);
  ck_assert(g_file_get_contents(csv, &text, NULL, NULL));
  ck_assert_msg(strstr(text, "0.181") && strstr(text, "0.184") && strstr(text, "0412"), "%s", text);
  close_ledger();
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_by_kind,
                                test_by_person,
                                test_by_date,
                                test_all_together,
                                test_export_is_whole_under_a_filter,
                                NULL};
  return journey_run("journey: filters of the ledger", tests);
}
