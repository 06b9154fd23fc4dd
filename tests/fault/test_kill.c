// SPDX-License-Identifier: GPL-3.0-or-later
// kill -9 at random instants while entries are written: nothing acknowledged is lost, no group of
// entries is there by half, the chain verifies. A process that is killed loses what it held in
// memory but not what it gave to the kernel; loss of power is another test's matter. LAZARET_KILLS
// sets the number of kills, LAZARET_SEED repeats the delays.
#include "store_fixture.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#define KILLS        300
#define MAX_DELAY_US 45000
#define GROUP_MAX    5
#define BASE_MIN     10000000 // the group's number is kept in happened_min

static int
group_size(int64_t group)
{
  return 1 + (int)(group % GROUP_MAX);
}

// Appends one group after the other for ever; each number goes down the pipe once it is durable.
static void
write_for_ever(int64_t group, int ack)
{
  lzs_store *store;
  for (;; group++) {
    if (lzs_open(fx.file, &fx.options, &store, NULL) != LZS_OK)
      _exit(1);
    for (int64_t end = group + 12; group < end; group++) {
      lzs_entry e[GROUP_MAX];
      for (int i = 0; i < group_size(group); i++) {
        e[i] = a_reading(3, i);
        e[i].happened_min = BASE_MIN + group;
      }
      if (lzs_append(store, e, (size_t)group_size(group), NULL) != LZS_OK)
        _exit(2);
      if (write(ack, &group, sizeof group) != sizeof group)
        _exit(3);
    }
    group--;
    lzs_close(store); // so that kills also hit the folding in of the log
  }
}

typedef struct {
  int64_t last_id, group; // what was found so far
  int in_group;
  int bad;
} found;

static bool
check_next(void *ctx, const lzs_entry *entry)
{
  found *f = ctx;
  int64_t group = entry->happened_min - BASE_MIN;
  if (f->in_group == group_size(f->group)) {
    f->group++;
    f->in_group = 0;
  }
  if (group != f->group || entry->v[2].r != f->in_group || entry->id != f->last_id + 1)
    f->bad++;
  f->in_group++;
  f->last_id = entry->id;
  return true;
}

// Opens what the killed process left and looks at all that is new in it.
static void
check_file(found *f, int64_t acknowledged, bool thorough)
{
  assert_ok(lzs_open(fx.file, &fx.options, &fx.store, &fx.error));
  assert_ok(lzs_read(fx.store, f->last_id, check_next, f, &fx.error));
  ck_assert_int_eq(f->bad, 0);
  ck_assert_msg(f->in_group == group_size(f->group), "group %ld is there by half", (long)f->group);
  ck_assert_msg(f->group >= acknowledged, "group %ld was acknowledged, %ld is the last",
                (long)acknowledged, (long)f->group);
  lzs_verify_result v;
  if (thorough)
    assert_ok(lzs_verify(fx.store, &v, &fx.error));
  lzs_close(fx.store);
  fx.store = NULL;
}

// One life of a writer; answers the last group that it acknowledged, or `before`.
static int64_t
live_and_die(int64_t before, unsigned *seed)
{
  int ends[2];
  ck_assert_int_eq(pipe(ends), 0);
  fflush(NULL);
  pid_t pid = fork();
  ck_assert_int_ge(pid, 0);
  if (pid == 0) {
    close(ends[0]);
    write_for_ever(before + 1, ends[1]);
  }
  close(ends[1]);
  long us = rand_r(seed) % MAX_DELAY_US;
  nanosleep(&(struct timespec){.tv_nsec = us * 1000}, NULL);
  kill(pid, SIGKILL);
  int64_t last = before, group;
  while (read(ends[0], &group, sizeof group) == sizeof group)
    last = group;
  close(ends[0]);
  int status;
  ck_assert_int_eq(waitpid(pid, &status, 0), pid);
  ck_assert_msg(WIFSIGNALED(status), "the writer ended by itself: %d", WEXITSTATUS(status));
  return last;
}

START_TEST(killed_while_writing)
{
  const char *given = getenv("LAZARET_SEED"), *wanted = getenv("LAZARET_KILLS");
  unsigned seed = given != NULL ? (unsigned)strtoul(given, NULL, 10) : (unsigned)time(NULL);
  int kills = wanted != NULL ? atoi(wanted) : KILLS, unsaid = 0;
  printf("LAZARET_SEED=%u\n", seed);
  append_small_station();
  lzs_close(fx.store);
  fx.store = NULL;
  found f = {.last_id = 4, .in_group = 1};
  for (int k = 0; k < kills; k++) {
    int64_t acknowledged = live_and_die(f.group, &seed);
    check_file(&f, acknowledged, k % 25 == 0 || k == kills - 1);
    unsaid += f.group > acknowledged;
  }
  printf("%d kills, %ld groups, %ld entries; %d kills fell between commit and answer\n", kills,
         (long)f.group, (long)f.last_id, unsaid);
  ck_assert_int_gt(f.group, kills / 10); // a writer that never got to write proves nothing
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("kill while writing");
  TCase *t = tcase_create("kill");
  tcase_set_timeout(t, 240);
  tcase_add_checked_fixture(t, fixture_create, fixture_teardown);
  tcase_add_test(t, killed_while_writing);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return run_suite(suite());
}
