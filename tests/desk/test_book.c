// SPDX-License-Identifier: GPL-3.0-or-later
// The desk's plan, made with the book that follows every entry, is the plan of a desk that reads
// the same file anew, to the bit: over a random week with late entries, corrections, what is only
// tried or foreseen, and set-up described anew. So is that of a desk which left plain entries in
// the file when it was opened. LZ_SEED chooses another.
#include <lz_chart_data.h>
#include <lz_foresee.h>
#include <lz_rows.h>
#include <lzq_history.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../engine/plan_print.h"
#include "book_lots.h"
#include "week.h"

static char *
text_of(LzDesk *desk)
{
  desk->missed_known = FALSE; // counted once a day, and these two began on different days
  lz_desk_replan(desk);
  const lzq_plan *plan = lz_desk_plan(desk);
  ck_assert_msg(plan != NULL, "%s", lz_desk_plan_error(desk));
  return lzt_print_plan(plan, lz_desk_snapshot(desk)->n_systems);
}

// Rows that stayed as they were, since nothing that they say had changed, are those made anew.
static void
same_rows(LzDesk *anew, int step)
{
  GListModel *(*const lists[])(LzDesk *) = {lz_desk_lots,    lz_desk_systems,     lz_desk_tanks,
                                            lz_desk_bottles, lz_desk_instruments, lz_desk_matters};
  for (gsize k = 0; k < G_N_ELEMENTS(lists); k++) {
    GListModel *a = lists[k](lab.desk), *b = lists[k](anew);
    ck_assert_uint_eq(g_list_model_get_n_items(a), g_list_model_get_n_items(b));
    for (guint i = 0; i < g_list_model_get_n_items(a); i++) {
      g_autoptr(LzRow) one = g_list_model_get_item(a, i);
      g_autoptr(LzRow) other = g_list_model_get_item(b, i);
      ck_assert_str_eq(lz_row_key(one), lz_row_key(other));
      ck_assert_msg(g_str_equal(lz_row_title(one), lz_row_title(other)) &&
                        g_str_equal(lz_row_detail(one), lz_row_detail(other)),
                    "step %d: “%s, %s” and “%s, %s”", step, lz_row_title(one), lz_row_detail(one),
                    lz_row_title(other), lz_row_detail(other));
    }
  }
}

static void
same_entry(const LzEntry *a, const LzEntry *b)
{
  g_autoptr(GByteArray) p = g_byte_array_new(), q = g_byte_array_new();
  lz_entry_pack(a, p);
  lz_entry_pack(b, q);
  ck_assert(p->len == q->len && memcmp(p->data, q->data, p->len) == 0);
}

// Every entry of the file and every fact is found, wherever it lay.
static void
same_entries(LzDesk *anew)
{
  static const char *const kinds[] = {NULL, "reading", "feed", "change", "lot"};
  for (gsize k = 0; k < G_N_ELEMENTS(kinds); k++) {
    g_autoptr(GPtrArray) a = lz_desk_entries(lab.desk, kinds[k], 0, 0, NULL);
    g_autoptr(GPtrArray) b = lz_desk_entries(anew, kinds[k], 0, 0, NULL);
    g_autoptr(GPtrArray) p = lz_desk_facts(lab.desk, kinds[k], LZQ_LONG_AGO, LZQ_NEVER);
    g_autoptr(GPtrArray) q = lz_desk_facts(anew, kinds[k], LZQ_LONG_AGO, LZQ_NEVER);
    ck_assert_uint_eq(a->len, b->len);
    ck_assert_uint_eq(p->len, q->len);
    for (guint i = 0; i < a->len; i++)
      same_entry(a->pdata[i], b->pdata[i]);
    for (guint i = 0; i < p->len; i++)
      same_entry(p->pdata[i], q->pdata[i]);
  }
}

static void
same_array(const GArray *a, const GArray *b)
{
  ck_assert_uint_eq(a->len, b->len);
  ck_assert(a->len == 0 ||
            memcmp(a->data, b->data, a->len * g_array_get_element_size((GArray *)a)) == 0);
}

// What is looked up by them.
static void
same_lists(const LzModel *a, const LzModel *b)
{
  ck_assert_int_eq(a->ahead_min, b->ahead_min);
  ck_assert_int_eq(a->disordered, b->disordered);
  ck_assert_uint_eq(a->courses, b->courses);
  for (guint i = 0; i < b->entries->len; i++) // kept, or left in the file
    ck_assert_ptr_eq(lz_model_kind_of(a, lz_model_id_at(a, i)),
                     lz_model_kind_of(b, lz_model_id_at(b, i)));
  ck_assert_uint_eq(a->of_water->len, b->of_water->len);
  for (guint i = 0; i < a->of_water->len; i++)
    same_array(a->of_water->pdata[i], b->of_water->pdata[i]);
  ck_assert_uint_eq(a->of_lot->len, b->of_lot->len);
  for (guint i = 0; i < a->of_lot->len; i++)
    same_array(a->of_lot->pdata[i], b->of_lot->pdata[i]);
  same_array(a->checks, b->checks);
  same_array(a->sightings, b->sightings);
  same_array(a->volumes, b->volumes);
  same_array(a->states, b->states);
  same_array(a->stands, b->stands);
  for (guint i = 0; i < a->records->len; i++)
    ck_assert_int_le(g_array_index(a->records, lzq_record, i).at,
                     g_array_index(a->latest, lzq_minute, i / LZ_LATEST_OF));
  ck_assert_uint_eq(a->replaced->len, b->replaced->len);
  ck_assert(memcmp(a->replaced->data, b->replaced->data, a->replaced->len) == 0);
  g_autoptr(GArray) held = lz_model_held(b);
  ck_assert_uint_eq(g_hash_table_size(a->held), held->len);
  for (guint i = 0; i < held->len; i++) {
    const LzHeld *h = &g_array_index(held, LzHeld, i);
    ck_assert_uint_eq(GPOINTER_TO_UINT(g_hash_table_lookup(a->held, &h->first)), h->place);
  }
}

// Records and medicines, to the bit.
static void
same_snapshot(LzDesk *anew)
{
  const lzq_snapshot *a = lz_desk_snapshot(lab.desk), *b = lz_desk_snapshot(anew);
  ck_assert_uint_eq(a->n_records, b->n_records);
  ck_assert(memcmp(a->records, b->records, a->n_records * sizeof *a->records) == 0);
  same_lists(lab.desk->model, anew->model);
  ck_assert_uint_eq(a->n_lots, b->n_lots);
  ck_assert(memcmp(a->lots, b->lots, a->n_lots * sizeof *a->lots) == 0);
  for (guint i = 0; i < anew->model->by_kind[LZS_BOTTLE]->len; i++) {
    const LzEntity *of = anew->model->by_kind[LZS_BOTTLE]->pdata[i];
    const double p = lz_medicine_left(lab.desk, of->id, LZQ_NEVER);
    const double q = lz_medicine_left(anew, of->id, LZQ_NEVER);
    ck_assert(memcmp(&p, &q, sizeof p) == 0);
  }
}

static guint copies;  // of the records that were believed
static guint lent;    // books that went on from one
static guint rebuilt; // times that all was applied anew
static guint became;  // of these, that records became others

// The desk of the week opens its file again and leaves there what it may; how many entries.
static guint
begin_again(gboolean no_plan)
{
  const LzDeskOptions how = {.clock = lab.clock,
                             .pc_folder = lab.folder,
                             .no_plan = no_plan,
                             .leave_from = 1,
                             .keep_newest = (guint)lzt_prng_range(&prng, 1, 30)};
  const int64_t actor = lz_desk_actor(lab.desk);
  rebuilt += lab.desk->model->rebuilds;
  became += lab.desk->model->others;
  g_clear_object(&lab.desk);
  lab.desk = lz_desk_open(lab.path, &how, NULL);
  ck_assert_ptr_nonnull(lab.desk);
  lz_desk_set_actor(lab.desk, actor);
  copies += lab.desk->records_of != 0;
  lent += lzq_book_borrows(lab.desk->book);
  return lab.desk->model->left;
}

// Another program says it, and the desk of the week hears of that.
static gboolean
by_another(LzCommand *c)
{
  const LzDeskOptions how = {.clock = lab.clock, .pc_folder = lab.folder};
  g_autoptr(LzDesk) other = lz_desk_open(lab.path, &how, NULL);
  lz_desk_set_actor(other, lz_desk_actor(lab.desk));
  const gboolean done = lz_desk_submit_one(other, c, NULL);
  ck_assert_int_eq(lz_desk_pull(lab.desk, NULL), done);
  return done;
}

static gboolean
is_drawn(const lzq_record *r, uint32_t system)
{
  return r->system == system &&
         (r->kind == LZQ_REC_DOSE || r->kind == LZQ_REC_CHANGE || r->kind == LZQ_REC_TOPUP ||
          r->kind == LZQ_REC_SIGHTING || r->kind == LZQ_REC_GEAR);
}

// The events of each chart are those of the whole record as the engine has it.
static void
events_of_the_whole_record(void)
{
  const lzq_snapshot *s = lz_desk_snapshot(lab.desk);
  const lzq_minute now = lz_desk_now(lab.desk), from = now - 5 * LZQ_DAY;
  lzq_arena arena;
  lzq_history all;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  ck_assert_int_eq(lzq_history_make(s, UINT64_MAX, now, &arena, &all), LZQ_OK);
  for (uint32_t system = 0; system < s->n_systems; system++) {
    g_autoptr(LzChartData) data = lz_chart_data_new(lab.desk, system, LZQ_COPPER, from, now);
    gsize asked = 0, drawn = 0;
    for (size_t i = 0; i < all.n; i++)
      asked += is_drawn(all.items[i], system) && all.items[i]->at >= from;
    for (guint i = 0; i < data->events->len; i++) {
      const LzChartEvent *event = data->events->pdata[i];
      drawn += !event->planned && event->kind != LZ_CHART_MOVE_IN &&
               event->kind != LZ_CHART_MOVE_OUT && event->kind != LZ_CHART_DEATH;
    }
    ck_assert_uint_eq(drawn, asked);
  }
  lzq_arena_free(&arena);
}

static void
same_as_from_file(int step)
{
  g_autoptr(GError) error = NULL;
  const LzDeskOptions how = {.clock = lab.clock, .pc_folder = lab.folder};
  g_autoptr(LzDesk) anew = lz_desk_open(lab.path, &how, &error);
  ck_assert_msg(anew != NULL, "%s", error ? error->message : "?");
  char *a = text_of(lab.desk), *b = text_of(anew);
  const char *difference = lzt_print_difference(a, b);
  ck_assert_msg(!difference, "step %d: %s", step, difference);
  same_rows(anew, step);
  same_snapshot(anew);
  book_lots_by_their_own_records();
  book_places_as_the_engine_has_them(step);
  events_of_the_whole_record();
  if (step % 16 == 0) // it brings all back that was left
    same_entries(anew);
  free(a);
  free(b);
}

START_TEST(as_read_from_the_file)
{
  const char *seed = g_getenv("LZ_SEED");
  int accepted = 0, corrected = 0, foreseen = 0;
  guint left = 0, others = 0;
  lzt_prng_seed(&prng, seed ? g_ascii_strtoull(seed, NULL, 10) : 1);
  for (int step = 0; step < 250; step++) {
    g_autoptr(GError) error = NULL;
    const gboolean correction = said->len && lzt_prng_chance(&prng, 0.15);
    lz_clock_set(lab.clock, lz_clock_now(lab.clock) + lzt_prng_range(&prng, 0, 120));
    const gboolean must = step == 60 || step == 170;
    g_autoptr(LzCommand) c = must ? week_without_spare(step == 60) : week_draw(step, correction);
    if (must)
      begin_again(FALSE);
    if (must || lzt_prng_chance(&prng, 0.2)) {
      const gboolean done = by_another(c);
      ck_assert(done || !must);
      others += done;
    } else if (lzt_prng_chance(&prng, 0.15)) {
      lz_desk_check(lab.desk, &c, 1, NULL);
    } else if (lzt_prng_chance(&prng, 0.1)) {
      LzForesight *foresight = lz_desk_foresee(lab.desk, &c, 1, NULL);
      foreseen += foresight != NULL;
      g_clear_pointer(&foresight, lz_foresight_free);
    } else if (lz_desk_submit_one(lab.desk, c, &error)) {
      const Said new = {lz_command_id(c), g_intern_string(lz_command_kind(c))};
      accepted++;
      corrected += correction;
      if (!correction)
        g_array_append_val(said, new);
    }
    same_as_from_file(step);
    if (lzt_prng_chance(&prng, 0.1))
      left += begin_again(FALSE);
  }
  printf("desk book: %d entries, %d corrections, %d foreseen, %u left in the file, %u copies, %u "
         "lent, %u times anew, %u with others\n",
         accepted, corrected, foreseen, left, copies, lent, rebuilt, became);
  ck_assert_uint_gt(left, 50);
  ck_assert_uint_gt(others, 5);
  ck_assert_uint_gt(copies, 5);
  ck_assert_uint_gt(lent, 2);
  ck_assert_uint_gt(became, 0);
  ck_assert_uint_gt(rebuilt, 2 * became);
  ck_assert_int_gt(accepted, 80);
  ck_assert_int_gt(corrected, 5);
  ck_assert_int_gt(foreseen, 5);
}
END_TEST

// What was dosed long ago, more records back than the book looks at by itself, becomes another
// dose.
START_TEST(an_old_dose_described_anew)
{
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "copper", "value", "0",
          "instrument", "P1", NULL);
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle", "C-14", "amount_ml", "60", "@reason",
          "a test", NULL);
  for (int i = 0; i < 2 * LZQ_BOOK_TAIL; i++)
    lab_say(&lab, "reading", NULL, "system", "Blue-3", "analyte", "salinity", "value", "34",
            "instrument", "M1", NULL);
  const double level = lz_desk_plan(lab.desk)->waters[0].level[LZQ_COPPER];
  g_autoptr(LzCommand) anew = week_bottle_anew();
  ck_assert(lz_desk_submit_one(lab.desk, anew, NULL));
  ck_assert_double_ne(lz_desk_plan(lab.desk)->waters[0].level[LZQ_COPPER], level);
  same_as_from_file(0);
}
END_TEST

static void
say_readings(int n)
{
  for (int i = 0; i < n; i++)
    lab_say(&lab, "reading", NULL, "system", "Blue-3", "analyte", "salinity", "value", "34",
            "instrument", "M1", NULL);
}

// What another program corrects is found corrected where it was left.
START_TEST(another_corrects_what_was_left)
{
  const int64_t id = lab_say(&lab, "reading", NULL, "system", "Blue-3", "analyte", "salinity",
                             "value", "30", "instrument", "M1", NULL);
  lzt_prng_seed(&prng, 1);
  say_readings(40);
  ck_assert_uint_gt(begin_again(TRUE), 5);
  g_autoptr(LzCommand) c = lz_command_build("reading", "value", "33", NULL);
  lz_command_set_corrects(c, id, FALSE);
  lz_command_set_reason(c, "misread");
  ck_assert(by_another(c));
  g_autoptr(GPtrArray) all = lz_desk_facts(lab.desk, "reading", LZQ_LONG_AGO, LZQ_NEVER);
  ck_assert_uint_eq(all->len, 41);
  for (guint i = 0; i < all->len; i++)
    ck_assert_double_ne(lz_entry_number(all->pdata[i], "value"), 30);
  same_as_from_file(0);
}
END_TEST

// What cannot be read again is not passed over: the desk says so, and makes no plan.
START_TEST(what_was_left_cannot_be_read)
{
  g_autoptr(GError) error = NULL;
  lzt_prng_seed(&prng, 1);
  say_readings(40);
  ck_assert_uint_gt(begin_again(TRUE), 5);
  lz_desk_close(lab.desk);
  ck_assert_ptr_null(lz_desk_entries(lab.desk, "reading", 0, 0, &error));
  ck_assert(g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_IO));
  lz_desk_replan(lab.desk);
  ck_assert_ptr_null(lz_desk_plan(lab.desk));
  ck_assert_str_eq(lz_desk_plan_error(lab.desk), error->message);
}
END_TEST

// A copy that is not what was kept is not believed, nor one of other entries.
START_TEST(a_copy_that_does_not_fit)
{
  g_autofree char *bytes = NULL, *path = NULL;
  gsize size;
  lzt_prng_seed(&prng, 1);
  copies = 0;
  say_readings(40);
  begin_again(TRUE); // the first that keeps a copy when it is closed
  begin_again(TRUE);
  ck_assert_uint_eq(copies, 1);
  g_autoptr(GDir) folder = g_dir_open(lab.folder, 0, NULL);
  for (const char *name; (name = g_dir_read_name(folder)) && !path;)
    if (g_str_has_suffix(name, ".records"))
      path = g_build_filename(lab.folder, name, NULL);
  ck_assert_ptr_nonnull(path);
  ck_assert(g_file_get_contents(path, &bytes, &size, NULL));
  for (gsize i = 0; i < size; i += MAX(77, size / 149)) {
    bytes[i] ^= 4;
    ck_assert(g_file_set_contents(path, bytes, (gssize)size, NULL));
    bytes[i] ^= 4;
    const LzDeskOptions how = {.clock = lab.clock,
                               .pc_folder = lab.folder,
                               .read_only = TRUE,
                               .leave_from = 1,
                               .keep_newest = 5};
    g_autoptr(LzDesk) desk = lz_desk_open(lab.path, &how, NULL);
    ck_assert_uint_eq(desk->records_of, 0);
  }
  ck_assert(g_file_set_contents(path, bytes, (gssize)size, NULL));
  begin_again(TRUE);
  ck_assert_uint_eq(copies, 2);
  same_as_from_file(0);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk book");
  TCase *tcase = tcase_create("random week");
  tcase_add_checked_fixture(tcase, week_begin, week_end);
  tcase_set_timeout(tcase, 0);
  tcase_add_test(tcase, as_read_from_the_file);
  tcase_add_test(tcase, an_old_dose_described_anew);
  tcase_add_test(tcase, another_corrects_what_was_left);
  tcase_add_test(tcase, what_was_left_cannot_be_read);
  tcase_add_test(tcase, a_copy_that_does_not_fit);
  suite_add_tcase(suite, tcase);
  return lab_run(suite);
}
