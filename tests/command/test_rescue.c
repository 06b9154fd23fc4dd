// SPDX-License-Identifier: GPL-3.0-or-later
// A file that is damaged, put back or sent, as a person at the command line meets it: each fault is
// said with what to do next, restoring shows first what would be lost, nothing is written over.
#define _GNU_SOURCE // memmem
#include <check.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>

#include "cases.h"

static char *
beside(Ctl *c, const char *name)
{
  return g_build_filename(c->folder, name, NULL);
}

#define ck_says(text, part) ck_assert_msg(strstr(text, part) != NULL, "“%s” in: %s", part, text)

// Changes a byte in the middle of the first text found in the file.
static void
spoil(const char *path, const char *text)
{
  g_autofree char *bytes = NULL;
  gsize n;
  ck_assert(g_file_get_contents(path, &bytes, &n, NULL));
  char *at = memmem(bytes, n, text, strlen(text));
  ck_assert_ptr_nonnull(at);
  at[1] ^= 1;
  ck_assert(g_file_set_contents(path, bytes, (gssize)n, NULL));
}

START_TEST(test_salvage)
{
  Ctl *c = case_ionic("pause", "metal");
  g_free(ctl(c, 0, "record note words='the heater hums'"));
  g_free(ctl(c, 0, "record note words='the heater is quiet'"));
  g_autofree char *before = ctl(c, 0, "verify");
  spoil(c->file, "heater hums");
  g_autofree char *found = ctl(c, 1, "verify");
  ck_says(found, "does not fit the chain");
  ck_says(found, "salvage");
  g_autofree char *list = ctl(c, 0, "salvage new.lazaret");
  ck_says(list, "note");
  ck_says(list, "changed");
  ck_assert_ptr_null(strstr(list, "quiet")); // the sound one is not in the list
  g_free(ctl(c, 3, "salvage new.lazaret"));  // is there already
  g_autofree char *old = c->file;
  c->file = beside(c, "new.lazaret");
  g_autofree char *after = ctl(c, 0, "verify");
  ck_says(after, "Salvaged: at 1 places");
  ck_assert_int_eq(atoi(after), atoi(before) - 1);
  g_free(ctl(c, 0, "record note words='goes on'")); // under a new id of this PC
  g_free(ctl(c, 0, "verify"));
  g_free(ctl(c, 0, "plan"));
  ctl_free(c);
}
END_TEST

// The page of values of the very last entry: that there was one stands in the ledger's own row.
START_TEST(test_salvage_says_the_last_is_lost)
{
  Ctl *c = case_ionic("pause", "metal");
  g_free(ctl(c, 0, "record note words='the pump knocks'"));
  g_free(ctl(c, 0, "verify")); // and nothing is left in the log beside the file
  g_autofree char *bytes = NULL;
  gsize n;
  ck_assert(g_file_get_contents(c->file, &bytes, &n, NULL));
  char *at = memmem(bytes, n, "the pump knocks", 15);
  ck_assert_ptr_nonnull(at);
  memset(bytes + (at - bytes) / 4096 * 4096, 0, 4096);
  ck_assert(g_file_set_contents(c->file, bytes, (gssize)n, NULL));
  g_autofree char *list = ctl(c, 0, "salvage new.lazaret");
  ck_says(list, "it cannot be read");
  ctl_free(c);
}
END_TEST

START_TEST(test_restore_in_two_steps)
{
  Ctl *c = case_ionic("pause", "metal");
  g_free(ctl(c, 0, "backup copy.lazaret"));
  g_autofree char *same = ctl(c, 1, "restore copy.lazaret");
  g_free(ctl(c, 0, "record note words='after the copy'"));
  g_free(ctl(c, 0, "record note words='and one more'"));
  g_autofree char *mine = ctl(c, 0, "verify");
  g_free(ctl(c, 1, "restore copy.lazaret"));
  g_autofree char *still = ctl(c, 0, "verify");
  ck_assert_str_eq(mine, still); // the first step changes nothing
  g_autofree char *said = ctl(c, 0, "restore copy.lazaret --yes");
  ck_says(said, "2 entries of the station are not in the back-up");
  ck_says(said, "before-restore");
  g_autofree char *now = ctl(c, 0, "verify");
  ck_assert_int_eq(atoi(now), atoi(mine) - 2);
  g_free(ctl(c, 0, "record note words='goes on'"));
  g_free(ctl(c, 0, "verify"));
  // what was there is kept whole
  g_autofree char *station = c->file;
  c->file = beside(c, "q.before-restore.lazaret");
  if (!g_file_test(c->file, G_FILE_TEST_EXISTS)) {
    g_autofree char *base = g_path_get_basename(station);
    g_autofree char *stem = g_strndup(base, strlen(base) - strlen(".lazaret"));
    g_autofree char *name = g_strconcat(stem, ".before-restore.lazaret", NULL);
    g_free(c->file);
    c->file = beside(c, name);
  }
  g_autofree char *kept = ctl(c, 0, "verify");
  ck_assert_str_eq(kept, mine);
  ctl_free(c);
}
END_TEST

START_TEST(test_restore_over_a_damaged_file)
{
  Ctl *c = case_ionic("pause", "metal");
  g_free(ctl(c, 0, "backup copy.lazaret"));
  g_autofree char *good = ctl(c, 0, "verify");
  ck_assert(g_file_set_contents(c->file, "no station at all", -1, NULL));
  g_autofree char *strange = ctl(c, 3, "plan");
  ck_says(strange, "not a station");
  g_autofree char *said = ctl(c, 0, "restore copy.lazaret --yes");
  ck_says(said, "cannot be said");
  g_autofree char *back = ctl(c, 0, "verify");
  ck_assert_str_eq(good, back);
  // a damaged back-up is refused, and the station is left alone
  g_autofree char *copy = beside(c, "copy.lazaret");
  spoil(copy, "Blue-1");
  g_free(ctl(c, 3, "restore copy.lazaret --yes"));
  g_autofree char *same = ctl(c, 0, "verify");
  ck_assert_str_eq(good, same);
  ctl_free(c);
}
END_TEST

START_TEST(test_sealed_for_sending)
{
  Ctl *c = case_ionic("pause", "metal");
  g_autofree char *good = ctl(c, 0, "verify"), *pass = beside(c, "pass"),
                  *other = beside(c, "other");
  ck_assert(g_file_set_contents(pass, "three grey herons\n", -1, NULL));
  ck_assert(g_file_set_contents(other, "three grey heronz\n", -1, NULL));
  g_free(ctl(c, 0, "seal vet.sealed --passphrase-file pass"));
  g_free(ctl(c, 3, "seal vet.sealed --passphrase-file pass")); // is there already
  g_autofree char *moved = beside(c, "old.lazaret");
  ck_assert_int_eq(g_rename(c->file, moved), 0);
  g_autofree char *wrong = ctl(c, 1, "unseal vet.sealed --passphrase-file other");
  ck_says(wrong, "passphrase");
  ck_assert(!g_file_test(c->file, G_FILE_TEST_EXISTS));
  g_free(ctl(c, 0, "unseal vet.sealed --passphrase-file pass"));
  g_autofree char *there = ctl(c, 0, "verify");
  ck_assert_str_eq(good, there);
  ctl_free(c);
}
END_TEST

START_TEST(test_usual_back_up)
{
  Ctl *c = case_ionic("pause", "metal");
  g_autofree char *said = ctl(c, 0, "backup");
  ck_says(said, "lazaret");
  ck_says(said, "the copy verifies");
  ctl_free(c);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("command: damaged, put back, sent");
  TCase *tc = tcase_create("rescue");
  tcase_set_timeout(tc, 120);
  tcase_add_test(tc, test_salvage);
  tcase_add_test(tc, test_salvage_says_the_last_is_lost);
  tcase_add_test(tc, test_restore_in_two_steps);
  tcase_add_test(tc, test_restore_over_a_damaged_file);
  tcase_add_test(tc, test_sealed_for_sending);
  tcase_add_test(tc, test_usual_back_up);
  suite_add_tcase(suite, tc);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
