// SPDX-License-Identifier: GPL-3.0-or-later
// A back-up, a restore and a sealed copy killed at a random instant: the station opens and verifies
// each time and is the old one whole or the back-up whole, what was put aside holds every entry,
// and a copy under its own name is whole. LAZARET_KILLS sets how many of each, LAZARET_SEED repeats
// them. And a copy takes the place of an older copy only.
#include "house.h"

#include <glib/gstdio.h>
#include <lz_rescue.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#define NOTES 30 // before the back-up; as many behind it

static Lab lab;
static char *copy, *made;
static unsigned seed;
static int64_t all, backed_up;

static char *
beside(const char *name)
{
  return g_build_filename(lab.folder, name, NULL);
}

// Entries of a file that opens and verifies; -1 if there is none.
static int64_t
entries_of(const char *path)
{
  LzDeskOptions options = {.clock = lab.clock, .read_only = TRUE, .no_plan = TRUE};
  g_autoptr(GError) error = NULL;
  LzVerify found;
  if (!g_file_test(path, G_FILE_TEST_EXISTS))
    return -1;
  g_autoptr(LzDesk) desk = lz_desk_open(path, &options, &error);
  ck_assert_msg(desk && lz_desk_verify(desk, &found, &error), "%s: %s", path,
                error ? error->message : "?");
  return found.entries;
}

static void
write_notes(void)
{
  for (int i = 0; i < NOTES; i++)
    lab_say(&lab, "note", NULL, "words", "fed", "@who", "MK", NULL);
}

static void
setup(void)
{
  const char *given = getenv("LAZARET_SEED");
  seed = given ? (unsigned)strtoul(given, NULL, 10) : (unsigned)time(NULL);
  printf("LAZARET_SEED=%u\n", seed);
  if (access("/dev/shm", W_OK) == 0) // the process dies, not the machine
    g_setenv("TMPDIR", "/dev/shm", TRUE);
  house_open(&lab);
  write_notes();
  copy = beside("copy.lazaret");
  made = beside("made.lazaret");
  ck_assert(lz_desk_backup(lab.desk, copy, NULL));
  backed_up = entries_of(copy);
  write_notes();
  lz_desk_close(lab.desk);
  all = entries_of(lab.path);
  ck_assert_int_eq(all, backed_up + NOTES);
}

static void
teardown(void)
{
  g_free(copy);
  g_free(made);
  lab_close(&lab);
}

static gboolean
back_up(void)
{
  LzDeskOptions options = {.clock = lab.clock, .read_only = TRUE, .no_plan = TRUE};
  g_autoptr(LzDesk) desk = lz_desk_open(lab.path, &options, NULL);
  return desk && lz_desk_backup(desk, made, NULL);
}

static gboolean
restore(void)
{
  g_autofree char *aside = NULL;
  return lz_rescue_restore(copy, lab.path, lab.folder, &aside, NULL);
}

static gboolean
seal(void)
{
  return lz_rescue_seal(lab.path, made, "a passphrase of some length", NULL);
}

// Killed after so many microseconds; TRUE if it was done before.
static gboolean
killed_at(gboolean (*act)(void), gint64 after)
{
  int status = 0;
  fflush(NULL);
  pid_t child = fork();
  if (child == 0)
    _exit(act() ? 0 : 1);
  g_usleep((gulong)after);
  kill(child, SIGKILL);
  ck_assert_int_eq(waitpid(child, &status, 0), child);
  ck_assert_msg(!WIFEXITED(status) || WEXITSTATUS(status) == 0, "it failed by itself");
  return WIFEXITED(status);
}

// All that lies there but the station, the copy and this PC's id goes.
static void
tidy(void)
{
  g_autoptr(GDir) dir = g_dir_open(lab.folder, 0, NULL);
  for (const char *name; (name = g_dir_read_name(dir)) != NULL;) {
    g_autofree char *path = beside(name);
    if (strcmp(path, lab.path) != 0 && strcmp(path, copy) != 0 && strcmp(name, "pc-id") != 0 &&
        strcmp(name, "pc-key") != 0)
      g_unlink(path);
  }
}

static int
times(void)
{
  const char *asked = getenv("LAZARET_KILLS");
  return asked ? atoi(asked) : 60;
}

START_TEST(a_copy_is_whole_or_not_there)
{
  gboolean (*act)(void) = _i ? seal : back_up;
  gint64 most = _i ? 1500000 : 30000;
  int done = 0, n = _i ? MAX(4, times() / 12) : times();
  for (int i = 0; i < n; i++) {
    done += killed_at(act, rand_r(&seed) % most);
    ck_assert_int_eq(entries_of(lab.path), all);
    if (_i == 0) {
      int64_t held = entries_of(made);
      ck_assert(held == all || held == -1);
    } else if (g_file_test(made, G_FILE_TEST_EXISTS)) {
      g_autofree char *opened = beside("opened.lazaret");
      ck_assert(lz_rescue_unseal(made, opened, "a passphrase of some length", NULL));
      ck_assert_int_eq(entries_of(opened), all);
    }
    tidy();
  }
  printf("%s: %d of %d were done before the kill\n", _i ? "sealed" : "backed up", done, n);
}
END_TEST

START_TEST(a_restore_is_whole_or_not_begun)
{
  g_autofree char *sound = NULL, *aside = beside("lab.before-restore.lazaret");
  gsize n;
  int old = 0, done = 0;
  ck_assert(g_file_get_contents(lab.path, &sound, &n, NULL));
  for (int i = 0; i < times(); i++) {
    done += killed_at(restore, rand_r(&seed) % 40000);
    int64_t held = entries_of(lab.path);
    ck_assert_msg(held == all || held == backed_up, "%d", (int)held);
    old += held == all;
    ck_assert(held == all || entries_of(aside) == all);
    tidy();
    ck_assert(g_file_set_contents(lab.path, sound, (gssize)n, NULL));
  }
  printf("restored: %d still the old one, %d done before the kill\n", old, done);
}
END_TEST

// Not of the station itself, by whatever name, nor of another station or any other file.
START_TEST(a_copy_replaces_a_copy_only)
{
  g_autofree char *other = beside("other.lazaret"), *link = beside("link.lazaret");
  g_autofree char *text = beside("letter.lazaret");
  const char *const not_copies[] = {lab.path, link, other, text};
  LzDeskOptions options = {.clock = lab.clock, .pc_folder = lab.folder};
  g_autoptr(LzDesk) another = lz_desk_create(other, &options, NULL);
  ck_assert_ptr_nonnull(another);
  ck_assert_int_eq(symlink(lab.path, link), 0);
  ck_assert(g_file_set_contents(text, "dear supplier", -1, NULL));
  lab_reopen(&lab);
  for (guint i = 0; i < G_N_ELEMENTS(not_copies); i++) {
    g_autoptr(GError) error = NULL;
    ck_assert_msg(!lz_desk_backup(lab.desk, not_copies[i], &error), "%s", not_copies[i]);
    ck_assert(g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_EXISTS));
    ck_assert_ptr_nonnull(strstr(error->message, not_copies[i]));
  }
  lab_say(&lab, "note", NULL, "words", "fed", "@who", "MK", NULL);
  lab_reopen(&lab);
  ck_assert_int_eq(entries_of(lab.path), all + 1);
  ck_assert(lz_desk_backup(lab.desk, copy, NULL));
  ck_assert_int_eq(entries_of(copy), all + 1);
}
END_TEST

START_TEST(a_strange_backup_and_an_open_station_are_said)
{
  g_autofree char *other = beside("other.lazaret"), *aside = NULL;
  g_autoptr(GError) error = NULL;
  LzDeskOptions options = {.clock = lab.clock, .pc_folder = lab.folder};
  LzRestore seen;
  lz_clock_set(lab.clock, lab_at("2027-03-02 08:00")); // else even its first entry would be alike
  g_autoptr(LzDesk) another = lz_desk_create(other, &options, NULL);
  g_autoptr(LzCommand) station = lz_command_build("station", "name", "Far", "zone", "UTC", NULL);
  ck_assert(lz_desk_submit_one(another, station, NULL));
  ck_assert(lz_rescue_preview(other, lab.path, NULL, NULL, &seen, NULL));
  ck_assert(seen.other_station);
  ck_assert_int_eq(seen.would_lose, all);
  ck_assert(lz_rescue_preview(copy, lab.path, NULL, NULL, &seen, NULL));
  ck_assert(!seen.other_station);
  ck_assert_int_eq(seen.would_lose, NOTES);
  lab_reopen(&lab);
  ck_assert(!lz_rescue_restore(copy, lab.path, lab.folder, &aside, &error));
  ck_assert(g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_BUSY));
  ck_assert_int_eq(entries_of(lab.path), all);
}
END_TEST

int
main(void)
{
  Suite *s = suite_create("copies");
  TCase *t = tcase_create("kills");
  tcase_set_timeout(t, 280);
  tcase_add_checked_fixture(t, setup, teardown);
  tcase_add_loop_test(t, a_copy_is_whole_or_not_there, 0, 2);
  tcase_add_test(t, a_restore_is_whole_or_not_begun);
  tcase_add_test(t, a_copy_replaces_a_copy_only);
  tcase_add_test(t, a_strange_backup_and_an_open_station_are_said);
  suite_add_tcase(s, t);
  return lab_run(s);
}
