// SPDX-License-Identifier: GPL-3.0-or-later
// A station that was opened by this PC's copy of its records, with its plain entries left in the
// file, says what one says that read every entry: plan, levels and what is expected of them,
// charts, lots' ways, and every sheet, to the bit. Over random weeks; LAZARET_SEED chooses others.
#include <lz_chart_data.h>
#include <lz_estimate.h>
#include <lz_rows.h>
#include <lzr_report.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "../engine/plan_print.h"
#include "week.h"

#define STEPS 220

static guint sheets, charts, points, left, believed, lent;

static LzDesk *
open_again(gboolean by_copy)
{
  g_autoptr(GError) error = NULL;
  const LzDeskOptions how = {.clock = lab.clock,
                             .pc_folder = lab.folder,
                             .leave_from = by_copy ? 1 : G_MAXUINT,
                             .keep_newest = 4};
  LzDesk *desk = lz_desk_open(lab.path, &how, &error);
  ck_assert_msg(desk != NULL, "%s", error ? error->message : "?");
  return desk;
}

static void
a_week(void)
{
  for (int step = 0; step < STEPS; step++) {
    const gboolean back = said->len && lzt_prng_chance(&prng, 0.1);
    lz_clock_set(lab.clock, lz_clock_now(lab.clock) + lzt_prng_range(&prng, 0, 120));
    g_autoptr(LzCommand) c = week_draw(step, back);
    if (!lz_desk_submit_one(lab.desk, c, NULL) || back)
      continue;
    const Said new = {lz_command_id(c), g_intern_string(lz_command_kind(c))};
    g_array_append_val(said, new);
  }
}

// --- what is compared

static void
same_bytes(const char *what, const void *a, const void *b, gsize size)
{
  ck_assert_msg(size == 0 || memcmp(a, b, size) == 0, "%s differs", what);
}

static void
same_array(const char *what, const GArray *a, const GArray *b)
{
  ck_assert_msg((a != NULL) == (b != NULL) && (!a || a->len == b->len), "%s differs", what);
  if (a)
    same_bytes(what, a->data, b->data, a->len * (gsize)g_array_get_element_size((GArray *)a));
}

static void
same_plan(LzDesk *a, LzDesk *b)
{
  char *p = lzt_print_plan(lz_desk_plan(a), lz_desk_snapshot(a)->n_systems);
  char *q = lzt_print_plan(lz_desk_plan(b), lz_desk_snapshot(b)->n_systems);
  const char *difference = lzt_print_difference(p, q);
  ck_assert_msg(!difference, "%s", difference);
  free(p);
  free(q);
}

// Field by field: between them lies what nobody set.
static void
same_readings(const GArray *a, const GArray *b)
{
  ck_assert_uint_eq(a->len, b->len);
  for (guint i = 0; i < a->len; i++) {
    const LzChartReading *x = &g_array_index(a, LzChartReading, i);
    const LzChartReading *y = &g_array_index(b, LzChartReading, i);
    same_bytes("a reading", x, y, offsetof(LzChartReading, instrument));
    ck_assert(x->instrument == y->instrument && !x->suspect == !y->suspect &&
              !x->wrong_form == !y->wrong_form && x->id == y->id);
  }
}

static void
same_bands(const GArray *a, const GArray *b)
{
  ck_assert_uint_eq(a->len, b->len);
  for (guint i = 0; i < a->len; i++) {
    const LzChartBand *x = &g_array_index(a, LzChartBand, i);
    const LzChartBand *y = &g_array_index(b, LzChartBand, i);
    ck_assert(x->from == y->from && x->to == y->to && x->band.analyte == y->band.analyte);
    same_bytes("a band", &x->band.works, &y->band.works, sizeof x->band.works);
    same_bytes("a band", &x->band.target, &y->band.target, sizeof x->band.target);
  }
}

static void
same_chart(LzDesk *a, LzDesk *b, uint32_t system, lzq_analyte analyte)
{
  lzq_minute from = 0, to = 0;
  lz_chart_data_span(a, system, &from, &to);
  from -= 14 * LZQ_DAY; // from before all that was left in the file
  g_autoptr(LzChartData) p = lz_chart_data_new(a, system, analyte, from, to);
  g_autoptr(LzChartData) q = lz_chart_data_new(b, system, analyte, from, to);
  same_readings(p->readings, q->readings);
  same_bands(p->bands, q->bands);
  same_array("estimate", p->estimate, q->estimate);
  same_array("carried", p->carried, q->carried);
  same_array("forecast", p->forecast, q->forecast);
  same_array("target", p->target, q->target);
  same_array("credit", p->credit, q->credit);
  ck_assert_uint_eq(p->events->len, q->events->len);
  for (guint i = 0; i < p->events->len; i++) {
    const LzChartEvent *x = p->events->pdata[i], *y = q->events->pdata[i];
    ck_assert_int_eq(x->at, y->at);
    ck_assert_int_eq(x->kind, y->kind);
    ck_assert_int_eq(x->id, y->id);
    ck_assert_str_eq(x->words, y->words);
  }
  same_bytes("exit", &p->exit_low, &q->exit_low, 3 * sizeof p->exit_low);
  charts++;
  points += p->readings->len + p->events->len + p->estimate->len;
}

static void
same_waters(LzDesk *a, LzDesk *b)
{
  for (uint32_t system = 0; system < lz_desk_snapshot(a)->n_systems; system++)
    for (int analyte = 0; analyte < LZQ_N_ANALYTES; analyte++) {
      LzEstimate p, q;
      memset(&p, 0, sizeof p);
      memset(&q, 0, sizeof q);
      const gboolean one = lz_desk_estimate(a, system, (lzq_analyte)analyte, a->now, &p);
      ck_assert_int_eq(one, lz_desk_estimate(b, system, (lzq_analyte)analyte, b->now, &q));
      ck_assert_int_eq(p.known, q.known);
      same_bytes("an estimate", &p.mean, &q.mean, 3 * sizeof p.mean);
      same_bytes("a top-up", &p.expected, &q.expected, 2 * sizeof p.expected);
      ck_assert_int_eq(p.next_test, q.next_test);
      same_chart(a, b, system, (lzq_analyte)analyte);
    }
}

static char *
print(LzDesk *desk, const char *sheet, const LzrOptions *options, gsize *size)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *path = g_build_filename(lab.folder, "sheet.pdf", NULL);
  char *bytes = NULL;
  g_autoptr(LzrPages) pages = lzr_make(desk, sheet, options, &error);
  if (!pages) { // the sentence is compared
    *size = strlen(error->message);
    return g_strdup(error->message);
  }
  ck_assert_msg(lzr_pages_pdf(pages, path, &error), "%s", error ? error->message : "?");
  ck_assert(g_file_get_contents(path, &bytes, size, NULL));
  unlink(path);
  return bytes;
}

static void
same_sheet(LzDesk *a, LzDesk *b, const LzrSheet *sheet, LzrOptions options)
{
  gsize n, m;
  g_autofree char *p = print(a, sheet->name, &options, &n);
  g_autofree char *q = print(b, sheet->name, &options, &m);
  ck_assert_msg(n == m && memcmp(p, q, n) == 0, "%s differs", sheet->name);
  sheets += g_str_has_prefix(p, "%PDF");
}

static void
same_sheets(LzDesk *a, LzDesk *b)
{
  guint n;
  const LzrSheet *all = lzr_sheets(&n);
  const lzq_snapshot *s = lz_desk_snapshot(a);
  for (guint i = 0; i < n; i++) {
    LzrOptions options = {.system = LZQ_NONE, .lot = LZQ_NONE};
    if (g_str_equal(all[i].about, "volume"))
      options.volume_l = 200;
    if (all[i].range) {
      options.from = a->now - 30 * LZQ_DAY;
      options.until = a->now;
    }
    const gboolean of_system = g_str_equal(all[i].about, "system");
    const gboolean of_lot = g_str_equal(all[i].about, "lot");
    const uint32_t times = of_system ? s->n_systems : of_lot ? MIN(s->n_lots, 4) : 1;
    for (uint32_t k = 0; k < times; k++) {
      options.system = of_system ? k : LZQ_NONE;
      options.lot = of_lot ? k : LZQ_NONE;
      same_sheet(a, b, &all[i], options);
    }
  }
}

START_TEST(as_one_that_read_every_entry)
{
  const char *given = getenv("LAZARET_SEED");
  const uint64_t seed = (given ? g_ascii_strtoull(given, NULL, 10) : 8) + (uint64_t)_i;
  lzt_prng_seed(&prng, seed);
  a_week();
  g_clear_object(&lab.desk);
  g_object_unref(open_again(TRUE)); // closed with a copy
  g_autoptr(LzDesk) a = open_again(TRUE);
  g_autoptr(LzDesk) b = open_again(FALSE);
  believed += a->records_of != 0;
  lent += lzq_book_borrows(a->book);
  left += a->model->left;
  same_plan(a, b);
  same_waters(a, b);
  for (uint32_t lot = 0; lot < lz_desk_snapshot(a)->n_lots; lot++) {
    g_autoptr(GArray) p = lz_lot_segments(a, lot);
    g_autoptr(GArray) q = lz_lot_segments(b, lot);
    ck_assert_uint_eq(p->len, q->len);
  }
  same_sheets(a, b);
  printf("LAZARET_SEED=%" G_GUINT64_FORMAT
         ": %u left in the file, %u charts of %u points, %u sheets\n",
         seed, left, charts, points, sheets);
  ck_assert_uint_gt(believed, 0);
  ck_assert_uint_gt(lent, 0);
  ck_assert_uint_gt(left, 40);
  ck_assert_uint_gt(points, 100);
  ck_assert_uint_gt(sheets, 8);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("report: by the copy");
  TCase *t = tcase_create("random weeks");
  tcase_set_timeout(t, 240);
  tcase_add_checked_fixture(t, week_begin, week_end);
  tcase_add_loop_test(t, as_one_that_read_every_entry, 0, 3);
  suite_add_tcase(suite, t);
  return lab_run(suite);
}
