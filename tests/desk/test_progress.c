// SPDX-License-Identifier: GPL-3.0-or-later
// A table that takes long to come in or go out tells how far it is, and can be stopped at each
// step: nothing of it is there then, and the next entry goes in as before.
#include <glib/gstdio.h>
#include <lz_ledger.h>
#include <lz_tables.h>
#include <string.h>

#include "lab.h"

#define ROWS 2000

static Lab lab;

typedef struct {
  double last;
  int n, stop_at; // 0 = never
} Hearing;

static gboolean
hear(gpointer data, double share)
{
  Hearing *h = data;
  ck_assert_msg(share >= h->last && share <= 1, "%g after %g", share, h->last);
  h->last = share;
  return ++h->n != h->stop_at;
}

static guint
notes(void)
{
  g_autoptr(GPtrArray) all = lz_desk_entries(lab.desk, "note", 0, 0, NULL);
  return all->len;
}

static gboolean
take(gboolean dry_run, Hearing *h, GError **error)
{
  g_autoptr(GString) csv = g_string_new("words\r\n");
  LzImport done = {0};
  for (int i = 0; i < ROWS; i++)
    g_string_append(csv, "fed\r\n");
  g_autoptr(GInputStream) in = g_memory_input_stream_new_from_data(csv->str, -1, NULL);
  lz_desk_set_progress(lab.desk, hear, h);
  gboolean taken = lz_table_import(lab.desk, "note", in, dry_run, &done, error);
  lz_desk_set_progress(lab.desk, NULL, NULL);
  return taken;
}

START_TEST(a_table_comes_in_or_is_stopped)
{
  Hearing h = {0};
  ck_assert(take(TRUE, &h, NULL));
  ck_assert_int_gt(h.n, 100);
  h = (Hearing){0};
  ck_assert(take(FALSE, &h, NULL));
  ck_assert(h.n > 200 && h.last == 1);
  ck_assert_uint_eq(notes(), ROWS);
  const int steps = h.n;
  for (int stop = 1; stop <= steps; stop += 31) {
    g_autoptr(GError) error = NULL;
    h = (Hearing){.stop_at = stop};
    ck_assert(!take(FALSE, &h, &error));
    ck_assert(g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_STOPPED));
    ck_assert_int_eq(h.n, stop);
    ck_assert_uint_eq(notes(), ROWS);
  }
  lab_say(&lab, "note", NULL, "words", "goes on", NULL);
  ck_assert_uint_eq(notes(), ROWS + 1);
}
END_TEST

START_TEST(a_ledger_goes_out_or_is_stopped)
{
  Hearing h = {0};
  g_autofree char *csv = g_build_filename(lab.folder, "ledger.csv", NULL);
  g_autofree char *manifest = g_build_filename(lab.folder, "ledger.txt", NULL);
  ck_assert(take(FALSE, &h, NULL));
  h = (Hearing){0};
  lz_desk_set_progress(lab.desk, hear, &h);
  ck_assert(lz_ledger_export(lab.desk, csv, manifest, NULL));
  ck_assert(h.n > 100 && h.last == 1);
  const int steps = h.n;
  g_unlink(csv);
  g_unlink(manifest);
  for (int stop = 1; stop <= steps; stop += 17) {
    g_autoptr(GError) error = NULL;
    h = (Hearing){.stop_at = stop};
    ck_assert(!lz_ledger_export(lab.desk, csv, manifest, &error));
    ck_assert(g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_STOPPED));
    ck_assert(!g_file_test(csv, G_FILE_TEST_EXISTS));
    ck_assert(!g_file_test(manifest, G_FILE_TEST_EXISTS));
  }
}
END_TEST

// Another program writes after the rows were checked and before they are written.
static gboolean
write_between(gpointer data, double share)
{
  gboolean *wrote = data;
  const LzDeskOptions how = {.clock = lab.clock, .pc_folder = lab.folder};
  if (*wrote || share < 0.3) // the rows are read until then
    return TRUE;
  *wrote = TRUE;
  g_autoptr(LzDesk) other = lz_desk_open(lab.path, &how, NULL);
  lz_desk_set_actor(other, lz_desk_actor(lab.desk));
  g_autoptr(LzCommand) c =
      lz_command_build("reading", "system", "Blue-1", "analyte", "copper", "value", "0.3", NULL);
  lz_command_set_as_written(c, TRUE); // no odd one is asked for again
  g_autoptr(GError) error = NULL;
  ck_assert_msg(lz_desk_submit_one(other, c, &error), "%s", error ? error->message : "");
  return TRUE;
}

START_TEST(another_writes_between)
{
  static const char rows[] = "system,analyte,value\r\nBlue-1,copper,0.1\r\nBlue-1,copper,0.2\r\n";
  gboolean wrote = FALSE;
  LzImport done = {0};
  lab_say(&lab, "system", NULL, "name", "Blue-1", "role", "treatment", "volume_l", "2400", NULL);
  g_autoptr(GInputStream) in = g_memory_input_stream_new_from_data(rows, -1, NULL);
  g_autoptr(GError) error = NULL;
  lz_desk_set_progress(lab.desk, write_between, &wrote);
  ck_assert_msg(lz_table_import(lab.desk, "reading", in, FALSE, &done, &error), "%s",
                error ? error->message : "");
  lz_desk_set_progress(lab.desk, NULL, NULL);
  ck_assert(wrote);
  const LzDeskOptions how = {.clock = lab.clock, .pc_folder = lab.folder};
  g_autoptr(LzDesk) anew = lz_desk_open(lab.path, &how, NULL);
  const lzq_snapshot *a = lz_desk_snapshot(lab.desk), *b = lz_desk_snapshot(anew);
  ck_assert_uint_eq(a->n_records, b->n_records);
  ck_assert(memcmp(a->records, b->records, a->n_records * sizeof *a->records) == 0);
  g_autoptr(GPtrArray) readings = lz_desk_entries(lab.desk, "reading", 0, 0, NULL);
  ck_assert_uint_eq(readings->len, 3);
  ck_assert_double_eq(lz_entry_number(readings->pdata[0], "value"), 0.3);
}
END_TEST

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 08:00");
  lab_station(&lab);
}

static void
teardown(void)
{
  lab_close(&lab);
}

int
main(void)
{
  Suite *suite = suite_create("desk-progress");
  TCase *all = tcase_create("all");
  tcase_set_timeout(all, 60);
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, a_table_comes_in_or_is_stopped);
  tcase_add_test(all, a_ledger_goes_out_or_is_stopped);
  tcase_add_test(all, another_writes_between);
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
