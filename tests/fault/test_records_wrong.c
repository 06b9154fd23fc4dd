// SPDX-License-Identifier: GPL-3.0-or-later
// Copies of a station's records that are not what they should be: torn, older, newer, of another
// station or PC, or of a program that made records otherwise. None is believed, and the station
// opens and says what it says without a copy.
#define _GNU_SOURCE // memmem
#include "records_station.h"

#include <lz_records_head.h>

#include <glib/gstdio.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define MADE_OTHERWISE 6

START_TEST(a_torn_copy)
{
  g_autofree char *bytes = NULL, *torn = NULL;
  gsize size;
  ck_assert(g_file_get_contents(copy, &bytes, &size, NULL));
  torn = g_malloc0(size + 4096);
  for (gsize at = 0; at < size; at += 4096) {
    memcpy(torn, bytes, size);
    put(copy, torn, at); // cut
    ck_assert(!believed());
    memset(torn + at, 0, MIN((gsize)4096, size - at)); // a sector that never came
    put(copy, torn, size);
    ck_assert_int_eq(believed(), memcmp(torn, bytes, size) == 0);
    memcpy(torn, bytes, size);
    torn[MIN(at + offsetof(lzq_record, value), size - 1)] ^= 1; // a bit of what was read
    put(copy, torn, size);
    ck_assert(!believed());
  }
  memcpy(torn, bytes, size);
  put(copy, torn, size + 4096); // longer
  ck_assert(!believed());
  put(copy, bytes, size);
  ck_assert(believed());
}
END_TEST

// The copy and its row before and after, in every pairing: only the two that belong together fit.
START_TEST(an_older_and_a_newer_copy)
{
  g_autofree char *old_copy = NULL, *new_copy = NULL, *old_station = NULL;
  gsize old_size, new_size, old_length;
  ck_assert(g_file_get_contents(copy, &old_copy, &old_size, NULL));
  ck_assert(g_file_get_contents(lab.path, &old_station, &old_length, NULL));
  say_more();
  ck_assert(g_file_get_contents(copy, &new_copy, &new_size, NULL));
  put(copy, old_copy, old_size);
  ck_assert(!believed());
  put(copy, new_copy, new_size);
  ck_assert(believed());
  put(lab.path, old_station, old_length); // restored from before
  ck_assert(!believed());
  put(copy, old_copy, old_size);
  ck_assert(believed());
  lz_clock_set(lab.clock, lz_clock_now(lab.clock) + 7); // and another future from there
  say_more();
  ck_assert(believed());
  put(copy, new_copy, new_size);
  ck_assert(!believed());
}
END_TEST

// The same words under another minute, in another file: as many entries, records of the same size.
START_TEST(a_copy_of_another_station)
{
  g_autofree char *bytes = NULL, *others = NULL, *aside = NULL, *other = NULL, *here = NULL;
  gsize size, length;
  ck_assert(g_file_get_contents(copy, &bytes, &size, NULL));
  ck_assert(g_file_get_contents(lab.path, &others, &length, NULL));
  other = g_build_filename(lab.folder, "other.lazaret", NULL);
  aside = g_build_filename(lab.folder, "aside", NULL);
  put(other, others, length);
  ck_assert_int_eq(g_rename(copy, aside), 0);
  ck_assert(!opens_right(other, lab.folder)); // its row came with it, but there is no copy
  LzDesk *desk = open_by(other, lab.folder, TRUE, FALSE);
  say(desk, 1);
  g_object_unref(desk);
  ck_assert(opens_right(other, lab.folder));
  here = find_copy(lab.folder, ".records");
  ck_assert_str_ne(here, copy);
  put(here, bytes, size);
  ck_assert(!opens_right(other, lab.folder));
  // the same file on a PC that has another key: it believes no row of this one
  g_autofree char *folder = g_dir_make_tmp("lazaret-pc-XXXXXX", NULL);
  g_autofree char *name = g_path_get_basename(copy);
  g_autofree char *there = g_build_filename(folder, name, NULL);
  put(there, bytes, size);
  ck_assert(!opens_right(lab.path, folder));
  g_unlink(there);
  ck_assert_int_eq(g_rmdir(folder), 0);
  ck_assert_int_eq(g_rename(aside, copy), 0);
  ck_assert(believed());
}
END_TEST

// --- a copy that fits in all but what it says

typedef struct {
  int64_t entry;
  GByteArray *bytes;
} Row;

static void
take_row(void *ctx, int64_t entry, const void *bytes, size_t size)
{
  Row *row = ctx;
  row->entry = entry;
  g_byte_array_append(row->bytes, bytes, (guint)size);
}

// As lz_kept_file.c sums them; that it does is seen by finding it in the row.
static uint64_t
mix(uint64_t sum)
{
  sum *= UINT64_C(0x9E3779B97F4A7C15);
  return sum ^ sum >> 29;
}

static uint64_t
sum_of(const char *bytes, gsize size)
{
  uint64_t lane[4] = {0}, word, sum = 0;
  for (gsize i = 0; i + sizeof word <= size; i += sizeof word) {
    memcpy(&word, bytes + i, sizeof word);
    lane[i / sizeof word % 4] = mix(lane[i / sizeof word % 4] ^ word);
  }
  for (int i = 0; i < 4; i++)
    sum = mix(sum ^ lane[i]);
  return sum;
}

// Of records, of what stands beside them, of the book.
static void
sums_of(const LzRecordsHead *head, const char *bytes, uint64_t sums[3])
{
  sums[0] = sum_of(bytes, head->beside);
  sums[1] = sum_of(bytes + head->beside, head->book - head->beside);
  sums[2] = sum_of(bytes + head->book, head->size - head->book);
}

// What `change` does to the copy and its row is summed and sealed.
static void
reseal(void (*change)(LzDesk *desk, LzRecordsHead *head, char *bytes))
{
  g_autofree char *bytes = NULL;
  gsize size;
  uint64_t sums[3];
  LzRecordsHead head;
  lzs_error failure = {0};
  g_autoptr(GByteArray) held = g_byte_array_new();
  Row row = {.bytes = held};
  ck_assert(g_file_get_contents(copy, &bytes, &size, NULL));
  g_autoptr(LzDesk) desk = open_by(lab.path, lab.folder, FALSE, FALSE);
  ck_assert_int_eq(lzs_cache_get(desk->store, "records", take_row, &row, &failure), LZS_OK);
  ck_assert_uint_eq(held->len, sizeof head);
  memcpy(&head, held->data, sizeof head);
  ck_assert_uint_eq(head.size, size);
  sums_of(&head, bytes, sums);
  ck_assert(memcmp(sums, head.sum, sizeof sums) == 0);
  change(desk, &head, bytes);
  sums_of(&head, bytes, head.sum);
  ck_assert_int_eq(lzs_cache_set(desk->store, "records", row.entry, &head, sizeof head, &failure),
                   LZS_OK);
  put(copy, bytes, size);
}

static void
change_nothing(LzDesk *desk, LzRecordsHead *head, char *bytes)
{
}

// By another build, which may make other entries and records.
static void
change_build(LzDesk *desk, LzRecordsHead *head, char *bytes)
{
  head->edition++;
}

// Of another table of time zones.
static void
change_days(LzDesk *desk, LzRecordsHead *head, char *bytes)
{
  head->days++;
}

static void
change_last(LzDesk *desk, LzRecordsHead *head, char *bytes)
{
  head->hash[31] ^= 1;
}

// The first kept entry has another id than any place.
static void
change_place(LzDesk *desk, LzRecordsHead *head, char *bytes)
{
  int64_t *id = (int64_t *)(void *)(bytes + head->beside + 16);
  ck_assert_int_eq(*id, lz_model_id_at(desk->model, 0));
  *id += 1000000;
}

// More entries than there are.
static void
change_length(LzDesk *desk, LzRecordsHead *head, char *bytes)
{
  ((uint64_t *)(void *)(bytes + head->beside))[0]++;
}

// A program that says something else left it: seal and sums are right, and it is not believed.
START_TEST(a_copy_made_otherwise)
{
  static void (*const changes[])(LzDesk *, LzRecordsHead *, char *) = {
      change_nothing, change_build, change_days, change_last, change_place, change_length};
  ck_assert_uint_eq(G_N_ELEMENTS(changes), MADE_OTHERWISE);
  reseal(changes[_i]);
  ck_assert_int_eq(believed(), _i == 0);
}
END_TEST

static char *
book_in(char *bytes, gsize size)
{
  char *book = memmem(bytes, size, "lzqbook", 8);
  ck_assert_ptr_nonnull(book);
  ck_assert_uint_eq((gsize)(book - bytes) % LZ_MAPPED_UNIT, 0);
  return book;
}

static void
change_edition(LzDesk *desk, LzRecordsHead *head, char *bytes)
{
  book_in(bytes, head->size)[8]++;
}

// Its newest records, by which it knows what it has followed, are others.
static void
change_tail(LzDesk *desk, LzRecordsHead *head, char *bytes)
{
  const guint last = desk->model->records->len - 1;
  const lzq_record *r = &g_array_index(desk->model->records, lzq_record, last);
  char *book = book_in(bytes, head->size);
  char *there = memmem(book, (gsize)(bytes + head->size - book), r, sizeof *r);
  ck_assert_ptr_nonnull(there);
  there -= last % LZQ_BOOK_TAIL * sizeof *r; // where they begin
  for (guint i = 0; i < LZQ_BOOK_TAIL; i++)
    there[i * sizeof *r] ^= 1;
}

// Records as they are, and a book of other ones or by another program: the engine begins anew.
START_TEST(a_book_that_does_not_fit)
{
  ck_assert(believed() && borrowed);
  reseal(_i ? change_tail : change_edition);
  ck_assert(believed() && !borrowed);
  g_object_unref(open_by(lab.path, lab.folder, TRUE, FALSE)); // which keeps one that fits
  ck_assert(believed() && borrowed);
}
END_TEST

int
main(void)
{
  Suite *s = suite_create("wrong records");
  TCase *t = tcase_create("a copy that does not fit");
  tcase_set_timeout(t, 280);
  tcase_add_checked_fixture(t, records_setup, records_teardown);
  tcase_add_test(t, a_torn_copy);
  tcase_add_test(t, an_older_and_a_newer_copy);
  tcase_add_test(t, a_copy_of_another_station);
  tcase_add_loop_test(t, a_copy_made_otherwise, 0, MADE_OTHERWISE);
  tcase_add_loop_test(t, a_book_that_does_not_fit, 0, 2);
  suite_add_tcase(s, t);
  return lab_run(s);
}
