// SPDX-License-Identifier: GPL-3.0-or-later
// Looking for entries where most of the ledger was left in the file: in slices or at once, it finds
// what a desk that keeps all finds, counts them, and leaves in the file what lay there.
#include <lz_ledger.h>
#include <lz_retention.h>
#include <lz_tables.h>

#include "lab.h"
#include "lz_desk_private.h"

#define READINGS 600

static Lab lab;
static LzDesk *leaves; // the same file, with all but the newest left in it

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 08:00");
  lab_station(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "500", "role", "treatment", NULL);
  lab_say(&lab, "system", NULL, "name", "Blue-2", "volume_l", "500", "role", "treatment", NULL);
  g_autoptr(GString) csv = g_string_new("system,analyte,value\n");
  g_autoptr(GError) error = NULL;
  LzImport done = {0};
  for (int i = 0; i < READINGS; i++)
    g_string_append_printf(csv, "%s,temperature,2%d.%d\n", i % 3 ? "Blue-1" : "Blue-2", i / 10 % 5,
                           i % 10);
  g_autoptr(GInputStream) in = g_memory_input_stream_new_from_data(csv->str, -1, NULL);
  gboolean taken = lz_table_import(lab.desk, "reading", in, FALSE, &done, &error);
  ck_assert_msg(taken, "%s", error ? error->message : "");
  lab_say(&lab, "note", NULL, "words", "the last one", NULL);
  lab_go(&lab, "2034-03-01 08:00");
  lz_desk_replan(lab.desk);
  const LzDeskOptions how = {.clock = lab.clock,
                             .pc_folder = lab.folder,
                             .read_only = TRUE,
                             .no_plan = TRUE,
                             .leave_from = 1,
                             .keep_newest = 7};
  leaves = lz_desk_open(lab.path, &how, NULL);
  ck_assert_ptr_nonnull(leaves);
  leaves->now = lab.desk->now; // a plan would have looked at some
  ck_assert_uint_gt(leaves->model->left, READINGS - 20);
}

static void
teardown(void)
{
  g_clear_object(&leaves);
  lab_close(&lab);
}

static const LzLedgerFilter filters[] = {
    {0},
    {.words = "20.7"},
    {.words = "temperature 21"},
    {.kind = "reading", .about = "Blue-2"},
    {.kind = "system"},
    {.words = "#17"},
    {.words = "no such words"},
};

static LzLedgerSearch *
found(LzDesk *desk, const LzLedgerFilter *filter, gint64 slice_us)
{
  LzLedgerSearch *search = lz_ledger_search_new(desk, filter, 50, NULL);
  double share = 0;
  ck_assert_ptr_nonnull(search);
  while (lz_ledger_search_go(search, slice_us ? g_get_monotonic_time() - 1 : 0)) {
    ck_assert_double_gt(lz_ledger_search_share(search), share);
    share = lz_ledger_search_share(search);
  }
  ck_assert_double_eq(lz_ledger_search_share(search), 1);
  return search;
}

START_TEST(finds_the_same)
{
  g_autoptr(LzLedgerSearch) kept = found(lab.desk, &filters[_i], 0);
  guint left = leaves->model->left;
  for (int slices = 0; slices < 2; slices++) {
    g_autoptr(LzLedgerSearch) other = found(leaves, &filters[_i], slices);
    const GPtrArray *a = lz_ledger_search_lines(kept), *b = lz_ledger_search_lines(other);
    ck_assert_uint_eq(lz_ledger_search_fitting(other), lz_ledger_search_fitting(kept));
    ck_assert_uint_eq(b->len, a->len);
    for (guint i = 0; i < a->len; i++) {
      const LzLedgerLine *one = a->pdata[i], *two = b->pdata[i];
      ck_assert_int_eq(two->id, one->id);
      ck_assert_str_eq(two->what, one->what);
      ck_assert_str_eq(two->where, one->where);
      ck_assert_str_eq(two->when, one->when);
    }
  }
  ck_assert_uint_eq(leaves->model->left, left);
}
END_TEST

START_TEST(counts_what_is_past_keeping)
{
  guint left = leaves->model->left, one = 0, two = 0;
  g_autoptr(GArray) kept = lz_retention_past(lab.desk, &one);
  g_autoptr(GArray) other = lz_retention_past(leaves, &two);
  ck_assert_uint_gt(one, READINGS);
  ck_assert_uint_eq(two, one);
  ck_assert_uint_eq(other->len, kept->len);
  ck_assert_uint_eq(leaves->model->left, left);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk-ledger");
  TCase *all = tcase_create("all");
  tcase_set_timeout(all, 60);
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_loop_test(all, finds_the_same, 0, G_N_ELEMENTS(filters));
  tcase_add_test(all, counts_what_is_past_keeping);
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
