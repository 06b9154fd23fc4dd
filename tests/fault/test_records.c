// SPDX-License-Identifier: GPL-3.0-or-later
// Faults of writing and reading this PC's copy of a station's records: a full disk, a bad one, a
// place that is no file, kill at random instants. Each time the station opens and says what it says
// without a copy; nothing is waited for; what was written in part goes. LAZARET_KILLS sets how many
// kills, LAZARET_SEED repeats them.
#include "records_station.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "../lib/full_disk.h"

typedef enum {
  SOUND,
  FULL,     // of writing: no room
  SHORT,    // half is written, then there is no room
  AGAIN,    // interrupted, then well
  UNSYNCED, // of the sync: a bad disk
  UNNAMED,  // of the renaming
  ROW,      // no room for the row beside the ledger
  UNREAD    // of reading
} Fault;

static Fault fault;
static guint hits, halves;

// --- the calls that make and read a copy (-Wl,--wrap)

ssize_t __real_write(int fd, const void *bytes, size_t size);
ssize_t __wrap_write(int fd, const void *bytes, size_t size);
int __real_madvise(void *at, size_t size, int advice);
int __wrap_madvise(void *at, size_t size, int advice);
int __real_fsync(int fd);
int __wrap_fsync(int fd);
int __real_rename(const char *from, const char *to);
int __wrap_rename(const char *from, const char *to);

static gboolean
is_copy(int fd)
{
  char link[64], path[4096];
  snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
  const ssize_t n = readlink(link, path, sizeof path - 1);
  path[n > 0 ? n : 0] = '\0';
  return strstr(path, ".records") != NULL;
}

static int
fail_with(int code)
{
  hits++;
  errno = code;
  return -1;
}

ssize_t
__wrap_write(int fd, const void *bytes, size_t size)
{
  if ((fault == FULL || fault == SHORT || fault == AGAIN) && is_copy(fd)) {
    if (fault == FULL || (fault == SHORT && halves++))
      return fail_with(ENOSPC);
    if (fault == AGAIN && hits == 0)
      return fail_with(EINTR);
    return __real_write(fd, bytes, MAX(1, size / 2));
  }
  return __real_write(fd, bytes, size);
}

// Of a file that is mapped: what madvise(2) says of a page that can not be read.
int
__wrap_madvise(void *at, size_t size, int advice)
{
  return fault == UNREAD && advice == MADV_POPULATE_READ ? fail_with(EFAULT)
                                                         : __real_madvise(at, size, advice);
}

int
__wrap_fsync(int fd)
{
  return fault == UNSYNCED && is_copy(fd) ? fail_with(EIO) : __real_fsync(fd);
}

int
__wrap_rename(const char *from, const char *to)
{
  return fault == UNNAMED && g_str_has_suffix(to, ".records") ? fail_with(EIO)
                                                              : __real_rename(from, to);
}

static void
arm(Fault wanted)
{
  fault = wanted;
  hits = halves = 0;
  full_disk_set(wanted == ROW ? SQLITE_FULL : 0);
}

static void
setup(void)
{
  full_disk_begin();
  records_setup();
}

static void
teardown(void)
{
  arm(SOUND);
  records_teardown();
}

// --- faults of the disk

// A copy that cannot be made costs nothing but the copy; the older one stays good.
START_TEST(a_copy_that_cannot_be_written)
{
  LzDesk *desk = open_by(lab.path, lab.folder, TRUE, FALSE);
  say(desk, MORE);
  const guint entries = desk->model->entries->len;
  const uint64_t before = desk->records_of;
  arm((Fault)_i);
  g_object_unref(desk); // closed
  const guint met = hits;
  arm(SOUND);
  ck_assert(_i == ROW || met > 0);
  no_part_left();
  // with no room for the row the copy is new and the row is old: they do not fit
  ck_assert_int_eq(believed(), _i != ROW);
  desk = open_by(lab.path, lab.folder, TRUE, FALSE);
  ck_assert_uint_eq(desk->model->entries->len, entries);
  if (_i != ROW)
    ck_assert_uint_eq(desk->records_of, _i == AGAIN ? entries : before);
  g_object_unref(desk);
  ck_assert(believed());
  desk = open_by(lab.path, lab.folder, TRUE, TRUE);
  ck_assert_uint_eq(desk->records_of, entries);
  g_object_unref(desk);
}
END_TEST

START_TEST(a_copy_that_cannot_be_read)
{
  arm(UNREAD);
  ck_assert(!believed());
  ck_assert_uint_gt(hits, 0);
  arm(SOUND);
  ck_assert(believed());
}
END_TEST

// A folder, a pipe that nobody writes to and would be waited for, or a link to nowhere in the place
// of the copy; a folder or a pipe in the place where it is written.
START_TEST(a_place_that_is_no_file)
{
  g_autofree char *part = g_strconcat(copy, ".part", NULL);
  const char *way = _i < 3 ? copy : part;
  const gboolean folder = _i == 0 || _i == 3;
  if (_i < 3)
    ck_assert_int_eq(g_unlink(copy), 0);
  if (folder)
    ck_assert_int_eq(g_mkdir(way, 0700), 0);
  else
    ck_assert_int_eq(_i == 2 ? symlink("nowhere", way) : mkfifo(way, 0600), 0);
  ck_assert_int_eq(believed(), _i >= 3);
  say_more();
  ck_assert_int_eq(believed(), _i != 0);
  if (!folder)
    no_part_left();
  else
    ck_assert_int_eq(g_rmdir(way), 0);
  say_more();
  ck_assert(believed());
}
END_TEST

// --- kills

// Says more, tells so, and closes.
static void
child_closes(int end)
{
  LzDesk *desk = open_by(lab.path, lab.folder, TRUE, FALSE);
  say(desk, MORE);
  const guint entries = desk->model->entries->len;
  if (write(end, &entries, sizeof entries) != sizeof entries)
    _exit(1);
  g_object_unref(desk);
  _exit(0);
}

// What was acknowledged; *done = it had closed before the kill.
static guint
killed_closing(gint64 after, gboolean *done)
{
  int ends[2], status = 0;
  guint entries = 0;
  fflush(NULL);
  ck_assert_int_eq(pipe(ends), 0);
  const pid_t child = fork();
  if (child == 0)
    child_closes(ends[1]);
  close(ends[1]);
  ck_assert_int_eq(read(ends[0], &entries, sizeof entries), sizeof entries);
  g_usleep((gulong)after);
  kill(child, SIGKILL);
  ck_assert_int_eq(waitpid(child, &status, 0), child);
  close(ends[0]);
  ck_assert_msg(!WIFEXITED(status) || WEXITSTATUS(status) == 0, "it failed by itself");
  *done = WIFEXITED(status);
  return entries;
}

START_TEST(killed_while_it_closes)
{
  const char *asked = getenv("LAZARET_KILLS");
  const int n = asked ? atoi(asked) : 40;
  int done = 0, fits = 0;
  gint64 most = 20000;
  for (int i = 0; i < n; i++) {
    gboolean whole;
    const guint entries = killed_closing(rand_r(&seed) % most, &whole);
    most = whole ? MAX(500, most * 3 / 4) : most + 500; // about as long as it takes
    g_autoptr(LzDesk) desk = open_by(lab.path, lab.folder, TRUE, TRUE);
    ck_assert_uint_eq(desk->model->entries->len, entries);
    const gboolean fit = believed();
    ck_assert(fit || !whole);
    done += whole;
    fits += fit;
  }
  g_object_unref(open_by(lab.path, lab.folder, TRUE, FALSE));
  say_more();
  no_part_left();
  ck_assert(believed());
  printf("killed while closing: %d, %d done before, %d with a copy that fits\n", n, done, fits);
}
END_TEST

// Whoever has the copy mapped can not go on once it is cut short: the process ends, the copy with
// it, and the next one reads the station.
START_TEST(cut_short_while_it_is_used)
{
  int ends[2], status;
  char ready = 0;
  ck_assert_int_eq(pipe(ends), 0);
  const pid_t child = fork();
  ck_assert_int_ge(child, 0);
  if (child == 0) {
    LzDesk *desk = open_by(lab.path, lab.folder, TRUE, TRUE);
    const LzRecordArray *records = desk->model->records;
    if (!desk->records_of || !records->mapped || truncate(copy, 0) != 0)
      _exit(81);
    ready = write(ends[1], "r", 1) == 1;
    for (guint i = 0; i < records->len; i++)
      ready ^= records->data[i * sizeof(lzq_record)];
    _exit(ready ? 82 : 83);
  }
  close(ends[1]);
  ck_assert_int_eq(read(ends[0], &ready, 1), 1);
  ck_assert_int_eq(waitpid(child, &status, 0), child);
  close(ends[0]);
  ck_assert_msg(!WIFEXITED(status) || WEXITSTATUS(status) < 81, "it read what is not there");
  ck_assert(!g_file_test(copy, G_FILE_TEST_EXISTS));
  ck_assert(!believed());
  g_object_unref(open_by(lab.path, lab.folder, TRUE, FALSE));
  ck_assert(believed());
}
END_TEST

// Another login of the same PC writes it anew meanwhile, by a file of its own: who has the older
// one mapped goes on with that.
START_TEST(written_anew_while_it_is_used)
{
  g_autoptr(LzDesk) desk = open_by(lab.path, lab.folder, TRUE, TRUE);
  g_autoptr(LzDesk) whole = open_by(lab.path, lab.folder, FALSE, TRUE);
  const LzRecordArray *a = desk->model->records, *b = whole->model->records;
  ck_assert(desk->records_of && a->mapped && !b->mapped);
  say_more();
  ck_assert(believed());
  ck_assert_uint_eq(a->len, b->len);
  ck_assert(memcmp(a->data, b->data, a->len * sizeof(lzq_record)) == 0);
}
END_TEST

// What a kill left is not kept for ever, though its station never comes back.
START_TEST(what_a_kill_left_goes)
{
  g_autofree char *lost = g_build_filename(lab.folder, "0123.records.part", NULL);
  const time_t long_ago = time(NULL) - 100 * 24 * 3600;
  const struct timespec then[] = {{.tv_sec = long_ago}, {.tv_sec = long_ago}};
  put(lost, "half", 4);
  ck_assert_int_eq(utimensat(AT_FDCWD, lost, then, 0), 0);
  say_more();
  ck_assert(!g_file_test(lost, G_FILE_TEST_EXISTS));
  ck_assert(believed());
}
END_TEST

int
main(void)
{
  Suite *s = suite_create("records");
  TCase *t = tcase_create("writing and reading the copy");
  tcase_set_timeout(t, getenv("LAZARET_KILLS") ? 0 : 280);
  tcase_add_checked_fixture(t, setup, teardown);
  tcase_add_loop_test(t, a_copy_that_cannot_be_written, FULL, UNREAD);
  tcase_add_test(t, a_copy_that_cannot_be_read);
  tcase_add_loop_test(t, a_place_that_is_no_file, 0, 5);
  tcase_add_test(t, killed_while_it_closes);
  tcase_add_test(t, what_a_kill_left_goes);
  tcase_add_test(t, cut_short_while_it_is_used);
  tcase_add_test(t, written_anew_while_it_is_used);
  suite_add_tcase(s, t);
  return lab_run(s);
}
