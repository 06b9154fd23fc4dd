// SPDX-License-Identifier: GPL-3.0-or-later
// The ledger from the window: an entry is found by words and corrected, the chain is checked, and
// an export is taken by hand by a script that shares no code with the program.
#include <glib/gstdio.h>
#include <string.h>

#include "journey.h"

static Stage *
open_ledger(Ctl *c)
{
  case_read(c, "2027-03-04 08:00 0.19\n2027-03-05 07:00 0.21\n");
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  stage_keys(s, "F7");
  stage_wait(s, "nothing is deleted by itself");
  stage_wait(s, "copper 0.210 mg/L");
  stage_wait(s, "copper 0.190 mg/L");
  return s;
}

START_TEST(test_words_find_an_entry)
{
  Ctl *c = case_ionic("pause", "metal");
  Stage *s = open_ledger(c);
  stage_type(s, "0.190");
  stage_wait_gone(s, "copper 0.210 mg/L");
  stage_wait(s, "copper 0.190 mg/L");
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_the_chain_is_checked)
{
  Ctl *c = case_ionic("pause", "metal");
  Stage *s = open_ledger(c);
  g_autofree char *verified = ctl(c, 0, "verify");
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "Check the chain");
  stage_wait(s, "Checked: every hash of");
  g_autofree char *words = stage_words(s);
  const char *end = strstr(words, "the chain ends in ");
  ck_assert(end);
  g_autofree char *head = g_strndup(end + strlen("the chain ends in "), 16);
  ck_assert_msg(strstr(verified, head) != NULL, "%s is not in %s", head, verified);
  stage_end(s);
  ctl_free(c);
}
END_TEST

static gboolean
is_there(Stage *stage, gpointer path)
{
  return g_file_test(path, G_FILE_TEST_EXISTS);
}

START_TEST(test_an_export_stands_on_its_own)
{
  Ctl *c = case_ionic("pause", "metal");
  Stage *s = open_ledger(c);
  g_autofree char *csv = g_build_filename(c->folder, "out.csv", NULL);
  g_autofree char *manifest = g_strconcat(csv, ".manifest.txt", NULL);
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "Export");
  stage_wait(s, "Export the ledger");
  stage_keys(s, "ctrl+a");
  stage_type(s, csv);
  stage_keys(s, "Return");
  stage_until(s, "a manifest", is_there, manifest);
  stage_wait(s, "Saved:");
  const char *argv[] = {"python3", g_getenv("CHECK_EXPORT"), csv, manifest, NULL};
  g_autofree char *out = NULL, *err = NULL;
  int status = 0;
  ck_assert(g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, &err,
                         &status, NULL));
  ck_assert_msg(status == 0 && strstr(out, "1 chains"), "%s%s", out, err);
  stage_end(s);
  ctl_free(c);
}
END_TEST

// Nothing but keys: F7, letters look for an entry, Tab and Enter correct it with a reason, Alt K
// lists what is past keeping, Alt E asks where an export goes.
START_TEST(test_by_keyboard_alone)
{
  Ctl *c = case_ionic("pause", "metal");
  Stage *s = open_ledger(c);
  stage_type(s, "0.190");
  stage_wait_gone(s, "copper 0.210 mg/L");
  stage_keys(s, "alt+k");
  stage_wait(s, "No lot and no name is past that.");
  stage_keys(s, "alt+k");
  stage_wait(s, "copper 0.190 mg/L");
  stage_keys(s, "alt+e");
  stage_wait(s, "Export the ledger");
  stage_keys(s, "Escape");
  stage_wait_gone(s, "Export the ledger");
  stage_wait(s, "copper 0.190 mg/L");
  stage_keys(s, "F7");
  stage_wait_focus(s, ATSPI_ROLE_TABLE_ROW, "copper 0.190"); // the row that is selected
  stage_keys(s, "Return");
  stage_wait(s, "Correction: New reading");
  stage_keys(s, "Return");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Why it is corrected"); // refused without a reason
  stage_type(s, "read the wrong line");
  stage_keys(s, "shift+Tab shift+Tab shift+Tab shift+Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Value");
  stage_keys(s, "ctrl+a");
  stage_type(s, "0.195");
  stage_keys(s, "Return");
  stage_wait_gone(s, "Correction: New reading");
  g_autoptr(Table) readings = ctl_table(c, "export readings");
  int corrected = table_find(readings, "value", "0.195", "reason", "read the wrong line", NULL);
  ck_assert_int_ge(corrected, 0);
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_words_find_an_entry, test_the_chain_is_checked,
                                test_an_export_stands_on_its_own, test_by_keyboard_alone, NULL};
  return journey_run("journey: ledger", tests);
}
