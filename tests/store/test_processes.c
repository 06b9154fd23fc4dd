// SPDX-License-Identifier: GPL-3.0-or-later
// Several programs writing to one file at once: every entry gets in once, whole groups stay
// together, the chains hold, and a reader sees what others write.
#include "store_fixture.h"

#include <fcntl.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#define WRITERS 3
#define GROUPS  60

static void
create_small(void)
{
  fixture_create();
  append_small_station();
}

// A group of three, told apart by its values; exits 0 if all were acknowledged.
static int
write_groups(int writer, const char *pc_folder)
{
  lzs_options options = fx.options;
  options.pc_folder = pc_folder;
  options.busy_ms = 30000;
  lzs_store *store;
  lzs_error error;
  if (lzs_open(fx.file, &options, &store, &error) != LZS_OK)
    return 1;
  for (int g = 0; g < GROUPS; g++) {
    lzs_entry e[3] = {a_reading(3, g), a_reading(3, g), a_reading(3, g)};
    for (int i = 0; i < 3; i++)
      e[i].happened_min = 29000000 + writer;
    if (lzs_append(store, e, 3, &error) != LZS_OK)
      return 2;
    if (e[1].id != e[0].id + 1 || e[2].id != e[0].id + 2 || e[2].pc_seq != e[0].pc_seq + 2)
      return 3;
  }
  lzs_close(store);
  return 0;
}

typedef struct {
  int n[WRITERS], next[WRITERS], bad;
} tally;

static bool
count(void *ctx, const lzs_entry *entry)
{
  tally *t = ctx;
  int writer = (int)(entry->happened_min - 29000000);
  if (writer < 0 || writer >= WRITERS || entry->v[2].r != t->next[writer])
    t->bad++;
  else if (++t->n[writer] % 3 == 0)
    t->next[writer]++;
  return true;
}

static void
run_writers(bool one_pc)
{
  pid_t pids[WRITERS];
  lzs_close(fx.store); // no connection may be carried over a fork
  fx.store = NULL;
  fflush(NULL);
  for (int w = 0; w < WRITERS; w++) {
    char folder[128];
    snprintf(folder, sizeof folder, "%s/pc-%d", fx.folder, one_pc ? 0 : w);
    pids[w] = fork();
    if (pids[w] == 0)
      _exit(write_groups(w, folder));
  }
  for (int w = 0; w < WRITERS; w++) {
    int status;
    ck_assert_int_eq(waitpid(pids[w], &status, 0), pids[w]);
    ck_assert_msg(WIFEXITED(status) && WEXITSTATUS(status) == 0, "writer %d: %x", w, status);
  }
  assert_ok(lzs_open(fx.file, &fx.options, &fx.store, &fx.error));
  tally t = {0};
  assert_ok(lzs_read_kind(fx.store, LZS_READING, 0, count, &t, &fx.error));
  ck_assert_int_eq(t.bad, 0);
  for (int w = 0; w < WRITERS; w++)
    ck_assert_int_eq(t.n[w], 3 * GROUPS);
  lzs_verify_result v;
  assert_ok(lzs_verify(fx.store, &v, &fx.error));
  ck_assert_int_eq(v.entries, 4 + 3 * GROUPS * WRITERS);
  ck_assert_int_eq(v.chains, one_pc ? 2 : 1 + WRITERS);
}

START_TEST(three_pcs_at_once)
{
  run_writers(false);
}
END_TEST

// Three programs of one user share the PC's id, made by whichever is first, and its chain.
START_TEST(three_programs_of_one_user)
{
  run_writers(true);
}
END_TEST

// Another program, forked before this one opens the file: at a 'w' it opens, writes a reading and
// closes, at a 'c' it opens and answers how many entries there are. It ends when the pipe does.
static void
other_program(int commands, int answers)
{
  char command;
  while (read(commands, &command, 1) == 1) {
    lzs_store *store;
    lzs_error error;
    lzs_verify_result v = {0};
    if (lzs_open(fx.file, &fx.options, &store, &error) != LZS_OK)
      _exit(1);
    lzs_entry e = a_reading(3, 0.2);
    if (command == 'w' && lzs_append(store, &e, 1, &error) != LZS_OK)
      _exit(2);
    if (lzs_verify(store, &v, &error) != LZS_OK)
      _exit(3);
    lzs_close(store);
    if (write(answers, &v.entries, sizeof v.entries) != sizeof v.entries)
      _exit(4);
  }
  _exit(0);
}

static int64_t
ask(int commands, int answers, char command)
{
  int64_t n = -1;
  ck_assert_int_eq(write(commands, &command, 1), 1);
  ck_assert_int_eq(read(answers, &n, sizeof n), sizeof n);
  return n;
}

// What a file chooser does to tell what kind of file each one in a folder is.
static void
look_at(const char *suffix)
{
  char path[128], begin[16];
  snprintf(path, sizeof path, "%s%s", fx.file, suffix);
  int fd = open(path, O_RDONLY | O_CLOEXEC);
  ck_assert_int_ge(fd, 0);
  ck_assert_int_ge(read(fd, begin, sizeof begin), 0);
  close(fd);
}

// POSIX gives a process's locks on a file up as soon as the process closes any descriptor of it
// (IEEE Std 1003.1-2017, fcntl: "All locks associated with a file for a given process shall be
// removed when a file descriptor for that file is closed by that process"; SQLite, "How To Corrupt
// An SQLite Database File", 2.2). A toolkit that looks at our file must not take the locks away.
START_TEST(a_look_at_the_file_keeps_the_locks)
{
  lzs_close(fx.store);
  fx.store = NULL;
  int commands[2], answers[2];
  ck_assert_int_eq(pipe(commands), 0);
  ck_assert_int_eq(pipe(answers), 0);
  pid_t pid = fork();
  if (pid == 0) {
    close(commands[1]);
    other_program(commands[0], answers[1]);
  }
  assert_ok(lzs_open(fx.file, &fx.options, &fx.store, &fx.error));
  lzs_entry e = a_reading(3, 0.19);
  append_ok(&e, 1);
  look_at("");
  look_at("-wal");
  look_at("-shm");
  ck_assert_int_eq(ask(commands[1], answers[0], 'w'), 6);
  for (int i = 0; i < 3; i++) {
    e = a_reading(3, 0.21);
    append_ok(&e, 1);
    ck_assert_int_eq(ask(commands[1], answers[0], 'c'), 7 + i);
  }
  close(commands[1]);
  int status;
  ck_assert_int_eq(waitpid(pid, &status, 0), pid);
  ck_assert_msg(WIFEXITED(status) && WEXITSTATUS(status) == 0, "the other program: %x", status);
}
END_TEST

// Somebody who tidies up deletes the log. What is acknowledged after that is in the file itself,
// even if the program is killed: a copy of the file alone holds it.
START_TEST(a_deleted_log_is_folded_in)
{
  char path[128];
  snprintf(path, sizeof path, "%s-wal", fx.file);
  ck_assert_int_eq(unlink(path), 0);
  lzs_entry e = a_reading(3, 0.19);
  append_ok(&e, 1);
  snprintf(path, sizeof path, "file:%s?immutable=1", fx.file);
  sqlite3 *db = NULL;
  sqlite3_stmt *count = NULL;
  ck_assert_int_eq(sqlite3_open_v2(path, &db, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, NULL),
                   SQLITE_OK);
  ck_assert_int_eq(sqlite3_prepare_v2(db, "SELECT count(*) FROM reading", -1, &count, NULL),
                   SQLITE_OK);
  ck_assert_int_eq(sqlite3_step(count), SQLITE_ROW);
  ck_assert_int_eq(sqlite3_column_int(count, 0), 1);
  sqlite3_finalize(count);
  sqlite3_close(db);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("store processes");
  TCase *t = tcase_create("processes");
  tcase_set_timeout(t, 120);
  tcase_add_checked_fixture(t, create_small, fixture_teardown);
  tcase_add_test(t, three_pcs_at_once);
  tcase_add_test(t, three_programs_of_one_user);
  tcase_add_test(t, a_look_at_the_file_keeps_the_locks);
  tcase_add_test(t, a_deleted_log_is_folded_in);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return run_suite(suite());
}
