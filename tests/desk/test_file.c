// SPDX-License-Identifier: GPL-3.0-or-later
// The file under the desk: the practice mark, other programs writing to it, and the snapshot kept
// in place against one made anew from the file.
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include "../lib/prng.h"
#include "lab.h"

static Lab lab;

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 12:00");
  lab_station(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "1800", "role", "treatment", NULL);
  lab_say(&lab, "system", NULL, "name", "Blue-2", "volume_l", "900", "role", "finishing", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "1", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-2", "number", "1", NULL);
}

static void
teardown(void)
{
  lab_close(&lab);
}

// A file ever written under a handed-in clock is a practice file for good.
START_TEST(a_handed_in_clock_marks_for_good)
{
  ck_assert(lz_desk_is_practice(lab.desk));
  lab_reopen(&lab);
  ck_assert(lz_desk_is_practice(lab.desk));
  g_autoptr(GPtrArray) marks = lz_desk_facts(lab.desk, "practice", LZQ_LONG_AGO, LZQ_NEVER);
  ck_assert_uint_eq(marks->len, 1);
}
END_TEST

START_TEST(the_real_clock_does_not_mark)
{
  g_autofree char *path = g_build_filename(lab.folder, "real.lazaret", NULL);
  g_autoptr(GError) error = NULL;
  LzDeskOptions how = {.pc_folder = lab.folder};
  g_autoptr(LzDesk) desk = lz_desk_create(path, &how, &error);
  ck_assert_msg(desk != NULL, "%s", error ? error->message : "");
  g_autoptr(LzCommand) station =
      lz_command_build("station", "name", "Real", "zone", "Europe/Berlin", NULL);
  ck_assert(lz_desk_submit_one(desk, station, &error));
  ck_assert(!lz_desk_is_practice(desk));
  // reading it under another clock leaves no mark
  LzDeskOptions reading = {.pc_folder = lab.folder, .read_only = TRUE, .clock = lab.clock};
  g_autoptr(LzDesk) later = lz_desk_open(path, &reading, &error);
  ck_assert_msg(later != NULL, "%s", error ? error->message : "");
  ck_assert(!lz_desk_submit_one(later, station, &error));
  ck_assert(g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_READ_ONLY));
  ck_assert(!lz_desk_is_practice(desk));
  // a time ahead of the clock is refused, or, where it is meant, marks
  g_clear_error(&error);
  g_autoptr(LzCommand) system =
      lz_command_build("system", "name", "A", "volume_l", "5", "role", "treatment", NULL);
  lz_command_set_at(system, lz_clock_now(lz_desk_clock(desk)) + 60);
  ck_assert(!lz_desk_submit_one(desk, system, &error));
  ck_assert(g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_REFUSED));
  ck_assert_msg(strstr(error->message, "ahead of the clock") != NULL, "%s", error->message);
  lz_command_set_ahead(system, TRUE);
  ck_assert(lz_desk_submit_one(desk, system, NULL));
  ck_assert(lz_desk_is_practice(desk));
}
END_TEST

// --- another program

static void
count_foreign(LzDesk *desk, guint n, gpointer total)
{
  *(guint *)total += n;
}

static gboolean
write_as_another(const char *path, guint i)
{
  LzDeskOptions how = {.clock = lz_clock_new_fixed(lab_at("2027-03-01 12:00")),
                       .pc_folder = lab.folder};
  g_autoptr(LzDesk) desk = lz_desk_open(path, &how, NULL);
  g_autofree char *value = g_strdup_printf("0.%03u", 100 + i);
  LzCommand *c =
      lz_command_build("reading", "system", "Blue-1", "analyte", "copper", "value", value, NULL);
  lz_command_set_actor(c, "TA");
  return desk && lz_desk_submit_one(desk, c, NULL);
}

// A second process that writes once for each number it is sent, and answers with it. It must be
// forked before a watching desk starts GLib's thread: a lock held by it then would never be freed.
static pid_t
fork_another(const char *path, int *talk)
{
  int ends[2];
  ck_assert_int_eq(socketpair(AF_UNIX, SOCK_STREAM, 0, ends), 0);
  pid_t child = fork();
  if (child == 0) {
    close(ends[0]);
    for (unsigned char i; read(ends[1], &i, 1) == 1;)
      if (!write_as_another(path, i) || write(ends[1], &i, 1) != 1)
        _exit(1);
    _exit(0);
  }
  close(ends[1]);
  *talk = ends[0];
  return child;
}

// Twenty of twenty writes by another process are noticed within a second, and are in the plan.
START_TEST(others_are_noticed_within_a_second)
{
  int talk = -1, status = 0;
  g_clear_object(&lab.desk);
  pid_t child = fork_another(lab.path, &talk);
  LzDeskOptions how = {.clock = lab.clock, .pc_folder = lab.folder, .watch = TRUE};
  lab.desk = lz_desk_open(lab.path, &how, NULL);
  ck_assert_ptr_nonnull(lab.desk);
  guint total = 0;
  g_signal_connect(lab.desk, "foreign", G_CALLBACK(count_foreign), &total);
  for (unsigned char i = 0; i < 20; i++) {
    unsigned char done = 0;
    ck_assert(write(talk, &i, 1) == 1 && read(talk, &done, 1) == 1 && done == i);
    gint64 end = g_get_monotonic_time() + G_USEC_PER_SEC;
    while (total <= i && g_get_monotonic_time() < end)
      if (!g_main_context_iteration(NULL, FALSE))
        g_usleep(2000);
    ck_assert_msg(total == i + 1u, "write %d was not noticed", i);
    ck_assert_double_eq_tol(lz_desk_plan(lab.desk)->waters[0].level[0], (100 + i) / 1000.0, 1e-12);
  }
  close(talk);
  ck_assert_int_eq(waitpid(child, &status, 0), child);
  ck_assert_int_eq(status, 0);
}
END_TEST

// Another program wrote between our look and our write: the numbers are given out anew.
START_TEST(a_write_between_is_taken_in)
{
  LzDeskOptions how = {.clock = lab.clock, .pc_folder = lab.folder};
  g_autoptr(LzDesk) other = lz_desk_open(lab.path, &how, NULL);
  lz_desk_set_actor(other, lz_desk_find(other, "person", "MK"));
  g_autoptr(LzCommand) theirs =
      lz_command_build("system", "name", "Red-1", "volume_l", "100", "role", "display", NULL);
  ck_assert(lz_desk_submit_one(other, theirs, NULL));
  int64_t ours =
      lab_say(&lab, "system", NULL, "name", "Red-2", "volume_l", "200", "role", "display", NULL);
  ck_assert_int_eq(ours, lz_command_id(theirs) + 1);
  ck_assert_int_eq(lz_desk_find(lab.desk, "system", "Red-1"), lz_command_id(theirs));
  ck_assert_int_eq(lz_desk_find(lab.desk, "system", "Red-2"), ours);
}
END_TEST

// --- the snapshot kept in place

static void
same_bytes(const void *a, const void *b, gsize n, gsize size, const char *what)
{
  ck_assert_msg(n == 0 || memcmp(a, b, n * size) == 0, "%s differ", what);
}

// Field by field: what stands between the fields of a reason is nobody's.
static void
same_segments(const lzq_lot_plan *a, const lzq_lot_plan *b)
{
  ck_assert_uint_eq(a->n_segments, b->n_segments);
  for (uint32_t i = 0; i < a->n_segments; i++) {
    const lzq_segment *p = &a->segments[i], *q = &b->segments[i];
    ck_assert(p->lot == q->lot && p->protocol == q->protocol && p->phase == q->phase);
    ck_assert(p->system == q->system && p->tank == q->tank && p->past == q->past);
    ck_assert(p->start == q->start && p->end == q->end && p->firm == q->firm);
    ck_assert_int_eq(p->because.code, q->because.code);
    same_bytes(p->because.n, q->because.n, 4, sizeof(double), "reasons");
  }
}

static void
same_numbers(double a, double b)
{
  same_bytes(&a, &b, 1, sizeof a, "numbers of tasks"); // NAN is the same as NAN
}

// Field by field, too.
static void
same_tasks(const lzq_plan *p, const lzq_plan *q)
{
  ck_assert_uint_eq(p->n_tasks, q->n_tasks);
  for (uint32_t i = 0; i < p->n_tasks; i++) {
    const lzq_task *a = &p->tasks[i], *b = &q->tasks[i];
    ck_assert(a->kind == b->kind && a->state == b->state && a->analyte == b->analyte);
    ck_assert(a->system == b->system && a->tank == b->tank && a->lot == b->lot);
    ck_assert(a->bottle == b->bottle && a->to_system == b->to_system && a->gear == b->gear);
    ck_assert(a->instrument == b->instrument && a->unit == b->unit && a->walk == b->walk);
    ck_assert(a->at == b->at && a->deadline == b->deadline);
    same_numbers(a->amount, b->amount);
    same_numbers(a->level_before, b->level_before);
    same_numbers(a->level_after, b->level_after);
    same_numbers(a->dose_mg, b->dose_mg);
    same_numbers(a->with_change_l, b->with_change_l);
    same_numbers(a->new_salinity, b->new_salinity);
    ck_assert_int_eq(a->because.code, b->because.code);
    same_bytes(a->because.n, b->because.n, 4, sizeof(double), "reasons of tasks");
  }
}

static void
compare(LzDesk *kept, LzDesk *made)
{
  const lzq_snapshot *a = lz_desk_snapshot(kept), *b = lz_desk_snapshot(made);
  ck_assert_uint_eq(a->n_records, b->n_records);
  ck_assert_uint_eq(a->n_lots, b->n_lots);
  ck_assert_uint_eq(a->n_systems, b->n_systems);
  same_bytes(a->records, b->records, a->n_records, sizeof *a->records, "records");
  same_bytes(a->systems, b->systems, a->n_systems, sizeof *a->systems, "systems");
  same_bytes(a->tanks, b->tanks, a->n_tanks, sizeof *a->tanks, "tanks");
  same_bytes(a->lots, b->lots, a->n_lots, sizeof *a->lots, "lots");
  same_bytes(a->phases, b->phases, a->n_phases, sizeof *a->phases, "phases");
  const lzq_plan *p = lz_desk_plan(kept), *q = lz_desk_plan(made);
  ck_assert_msg(p != NULL, "%s", lz_desk_plan_error(kept));
  ck_assert_ptr_nonnull(q);
  same_tasks(p, q);
  for (uint32_t i = 0; i < a->n_lots; i++) {
    ck_assert_int_eq(p->lots[i].served, q->lots[i].served);
    ck_assert_int_eq(p->lots[i].release_late, q->lots[i].release_late);
    same_segments(&p->lots[i], &q->lots[i]);
  }
}

// What happened of late is found from the newest entry back: it must be what a look at every entry
// finds. Acts are entered late and corrected later still, so time and order of entry differ.
static void
compare_facts(LzDesk *desk, const char *kind, lzq_minute from, lzq_minute until)
{
  g_autoptr(GPtrArray) all = lz_desk_facts(desk, kind, LZQ_LONG_AGO, LZQ_NEVER);
  g_autoptr(GPtrArray) some = lz_desk_facts(desk, kind, from, until);
  guint n = 0;
  for (guint i = 0; i < all->len; i++) {
    const lzq_minute at = lz_entry_at(all->pdata[i]);
    if (at >= from && at < until)
      ck_assert_msg(n < some->len && some->pdata[n++] == all->pdata[i], "entry %d is missed",
                    (int)lz_entry_id(all->pdata[i]));
  }
  ck_assert_uint_eq(n, some->len);
}

static uint32_t
below(lzt_prng *prng, int n)
{
  return (uint32_t)lzt_prng_range(prng, 0, n - 1);
}

// One act that may or may not be accepted.
static LzCommand *
random_act(lzt_prng *prng, int lots)
{
  static const char *const systems[] = {"Blue-1", "Blue-2"};
  const char *system = systems[below(prng, 2)];
  g_autofree char *lot = g_strdup_printf("L%d", lots ? (int)below(prng, lots) : 0);
  g_autofree char *tank = g_strdup_printf("%s/1", system), *code = g_strdup_printf("L%d", lots);
  g_autofree char *number = g_strdup_printf("%d.%02d", (int)below(prng, 2), (int)below(prng, 100));
  switch (below(prng, 11)) {
  case 0: return lz_command_build("lot", "code", code, "tank", tank, "heads", "20", NULL);
  case 1: return lz_command_build("course", "lot", lot, "protocol", "Ionic", NULL);
  case 2: return lz_command_build("move", "lot", lot, "tank", tank, NULL);
  case 3:
    return lz_command_build("split", "lot", lot, "code", code, "heads", "3", "tank", tank, NULL);
  case 4: return lz_command_build("change", "system", system, "litres", "120", NULL);
  case 5:
    return lz_command_build("dose", "system", system, "bottle", "C-01", "amount_ml", "30", NULL);
  case 6: return lz_command_build("system", "volume_l", "1500", NULL); // describes Blue-1 anew
  case 7: return lz_command_build("sighting", "system", system, "sign", "white_spot", NULL);
  case 8: return lz_command_build("death", "lot", lot, "heads", "1", NULL);
  default:
    return lz_command_build("reading", "system", system, "analyte", "copper", "value", number,
                            NULL);
  }
}

static void
maybe_correct(lzt_prng *prng, LzCommand **command)
{
  if (below(prng, 8) != 0)
    return;
  g_autoptr(GPtrArray) all = lz_desk_entries(lab.desk, NULL, 0, 0, NULL);
  LzEntry *entry = all->pdata[below(prng, (int)all->len)];
  lz_command_free(*command);
  *command = lz_command_new(lz_entry_kind(entry));
  lz_command_set_corrects(*command, lz_entry_id(entry), below(prng, 2) == 0);
  lz_command_set_reason(*command, "slip");
}

START_TEST(kept_in_place_equals_made_anew)
{
  lzt_prng prng;
  lzt_prng_seed(&prng, 0x1a2a5e7u + (uint64_t)_i);
  int lots = 0, accepted = 0;
  // what is compared is the end; a plan after each act would only cost time
  LzDeskOptions bulk = {.clock = lab.clock, .pc_folder = lab.folder, .no_plan = TRUE};
  int64_t actor = lz_desk_actor(lab.desk);
  g_clear_object(&lab.desk);
  lab.desk = lz_desk_open(lab.path, &bulk, NULL);
  lz_desk_set_actor(lab.desk, actor);
  lab_say(&lab, "bottle", NULL, "name", "C-01", "analyte", "copper", "form", "ionic", "strength",
          "5", NULL);
  lab_say(&lab, "protocol", NULL, "name", "Ionic", "version", "1", NULL);
  lab_say(&lab, "phase", NULL, "protocol", "Ionic", "position", "1", "name", "hold", "kind", "hold",
          "min_credit_min", "3 d", NULL);
  lab_say(&lab, "band", NULL, "phase", "Ionic/1/1", "analyte", "copper", "form", "ionic", "side",
          "at_or_above", "works", "0.18", "target", "0.19", "gap_min", "24 h", NULL);
  for (int i = 0; i < 120; i++) {
    LzCommand *c = random_act(&prng, lots);
    gboolean makes_lot =
        g_str_equal(lz_command_kind(c), "lot") || g_str_equal(lz_command_kind(c), "split");
    if (g_str_equal(lz_command_kind(c), "system"))
      lz_command_set_entity(c, "Blue-1");
    lz_command_set_at(c, lab_at("2027-03-01 12:00") + (int64_t)i * 47 - (int64_t)below(&prng, 600));
    maybe_correct(&prng, &c);
    lz_clock_set(lab.clock, lab_at("2027-03-01 12:00") + (int64_t)i * 47);
    gboolean ok = lz_desk_submit_one(lab.desk, c, NULL);
    accepted += ok;
    compare_facts(lab.desk, i % 2 ? NULL : "reading", lab_at("2027-03-01 12:00") + i * 40,
                  lab_at("2027-03-01 12:00") + i * 40 + (lzq_minute)below(&prng, 900));
    lots += ok && makes_lot && lz_command_id(c);
    lz_command_free(c);
  }
  lz_desk_replan(lab.desk);
  ck_assert_int_gt(accepted, 40);
  LzDeskOptions how = {.clock = lab.clock, .pc_folder = lab.folder, .read_only = TRUE};
  g_autoptr(LzDesk) made = lz_desk_open(lab.path, &how, NULL);
  compare(lab.desk, made);
  for (int i = 0; i < 120; i++) {
    lzq_minute from = lab_at("2027-03-01 12:00") + i * 47;
    compare_facts(made, NULL, from, LZQ_NEVER);
    compare_facts(made, "reading", from, from + 500);
    compare_facts(made, "change", from, from + 500);
  }
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk-file");
  TCase *all = tcase_create("all");
  tcase_set_timeout(all, 120);
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, a_handed_in_clock_marks_for_good);
  tcase_add_test(all, the_real_clock_does_not_mark);
  tcase_add_test(all, others_are_noticed_within_a_second);
  tcase_add_test(all, a_write_between_is_taken_in);
  tcase_add_loop_test(all, kept_in_place_equals_made_anew, 0, 8);
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
