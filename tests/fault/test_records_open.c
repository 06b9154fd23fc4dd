// SPDX-License-Identifier: GPL-3.0-or-later
// Opening and closing a station of which this PC keeps a copy: stopped at whichever moment, two at
// once, where memory for the mapping is refused, and when the copy is written anew.
#include "records_station.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <lz_error.h>
#include <lz_kept_file.h>
#include <sys/mman.h>

// --- memory for the mapping (-Wl,--wrap)

static int refused_call, calls; // which call is refused, 0 = none

void *__real_mmap64(void *at, size_t size, int protection, int flags, int fd, off_t from);
void *__wrap_mmap64(void *at, size_t size, int protection, int flags, int fd, off_t from);

void *
__wrap_mmap64(void *at, size_t size, int protection, int flags, int fd, off_t from)
{
  if (++calls != refused_call)
    return __real_mmap64(at, size, protection, flags, fd, from);
  errno = ENOMEM; // as where more than there is must not be promised: vm.overcommit_memory = 2
  return MAP_FAILED;
}

// The station is read whole, and by the copy again once there is memory.
START_TEST(the_mapping_is_refused)
{
  int n = 0;
  calls = refused_call = 0;
  ck_assert(believed());
  const int all = calls;
  ck_assert_int_ge(all, 4);
  for (refused_call = 1; refused_call <= all; refused_call++, n++) {
    calls = 0;
    ck_assert(!believed());
  }
  refused_call = 0;
  ck_assert(believed());
  ck_assert_int_eq(n, all);
}
END_TEST

// --- an opening that is stopped

typedef struct {
  int calls, most;
  double share;
} Patience;

static gboolean
hear_until(gpointer data, double share)
{
  Patience *p = data;
  ck_assert(share >= p->share && share <= 1);
  p->share = share;
  return ++p->calls < p->most;
}

// At whichever call: there is no desk, the file is as it was, and no copy is kept of a part.
START_TEST(an_opening_that_is_stopped)
{
  LzDesk *desk = NULL;
  int stops = 0;
  ck_assert_int_eq(g_unlink(copy), 0);
  for (; !desk; stops += desk == NULL) {
    g_autoptr(GError) error = NULL;
    Patience patience = {.most = stops + 1};
    const LzDeskOptions how = {.clock = lab.clock,
                               .pc_folder = lab.folder,
                               .leave_from = 1,
                               .keep_newest = NEWEST,
                               .progress = hear_until,
                               .hearer = &patience};
    desk = lz_desk_open(lab.path, &how, &error);
    ck_assert(desk || g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_STOPPED));
    ck_assert(!desk || patience.share == 1);
    ck_assert(!g_file_test(copy, G_FILE_TEST_EXISTS));
  }
  ck_assert_int_ge(stops, 2);
  g_object_unref(desk);
  ck_assert(believed());
}
END_TEST

// To verify and to copy a large file its entries are not read, and no copy is kept.
START_TEST(the_file_alone)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *to = g_build_filename(lab.folder, "beside.lazaret", NULL);
  const LzDeskOptions how = {
      .clock = lab.clock, .pc_folder = lab.folder, .leave_from = 1, .file_only = TRUE};
  LzVerify found;
  ck_assert_int_eq(g_unlink(copy), 0);
  LzDesk *desk = lz_desk_open(lab.path, &how, &error);
  ck_assert_ptr_nonnull(desk);
  ck_assert_uint_eq(desk->model->entries->len, 0);
  ck_assert_msg(lz_desk_verify(desk, &found, &error), "%s", error ? error->message : "");
  ck_assert_int_gt(found.entries, 400);
  ck_assert_msg(lz_desk_backup(desk, to, &error), "%s", error ? error->message : "");
  g_object_unref(desk);
  ck_assert(!g_file_test(copy, G_FILE_TEST_EXISTS));
  desk = open_by(to, lab.folder, FALSE, TRUE);
  ck_assert_uint_eq(desk->model->entries->len, (guint)found.entries);
  g_object_unref(desk);
}
END_TEST

// Two of one login that close at once do not write into one file.
START_TEST(another_writes_the_copy)
{
  LzKeptFile *other = lz_kept_file_new(copy);
  gsize size;
  guint64 sum;
  LzDesk *desk = open_by(lab.path, lab.folder, TRUE, FALSE);
  say(desk, MORE);
  ck_assert(lz_desk_closes_slowly(desk));
  g_object_unref(desk);
  ck_assert(believed()); // by the older one
  ck_assert(lz_kept_file_put(other, "12345678", 8));
  ck_assert(lz_kept_file_end(other, &size, &sum));
  ck_assert(!believed());
  g_object_unref(open_by(lab.path, lab.folder, TRUE, FALSE));
  ck_assert(believed());
}
END_TEST

// What has all applied anew would have it so at each opening: the next closing keeps it.
START_TEST(what_was_set_up_is_described_anew)
{
  g_autoptr(GError) error = NULL;
  LzDesk *desk = open_by(lab.path, lab.folder, TRUE, FALSE);
  const uint64_t before = desk->records_of;
  g_autoptr(GArray) bottles = lz_desk_entities(desk, "bottle");
  g_autoptr(LzCommand) c = lz_command_build("bottle", "expiry", "2029-01", NULL);
  lz_command_set_corrects(c, g_array_index(bottles, int64_t, 0), FALSE);
  lz_command_set_reason(c, "the label");
  ck_assert_msg(lz_desk_submit_one(desk, c, &error), "%s", error ? error->message : "");
  g_object_unref(desk);
  ck_assert(believed());
  desk = open_by(lab.path, lab.folder, TRUE, TRUE);
  ck_assert_uint_eq(desk->records_of, before + 1);
  g_object_unref(desk);
}
END_TEST

int
main(void)
{
  Suite *s = suite_create("records opened");
  TCase *t = tcase_create("opening and closing");
  tcase_set_timeout(t, 280);
  tcase_add_checked_fixture(t, records_setup, records_teardown);
  tcase_add_test(t, the_mapping_is_refused);
  tcase_add_test(t, an_opening_that_is_stopped);
  tcase_add_test(t, the_file_alone);
  tcase_add_test(t, another_writes_the_copy);
  tcase_add_test(t, what_was_set_up_is_described_anew);
  suite_add_tcase(s, t);
  return lab_run(s);
}
