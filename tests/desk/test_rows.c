// SPDX-License-Identifier: GPL-3.0-or-later
// The rows that screens show: their figures, their order, that a row stays while its key lives, and
// that items-changed says no more than what changed, on every list.
#include <lz_rows.h>
#include <math.h>

#include "../lib/model_checker.h"
#include "lab.h"

static Lab lab;

static void
setup(void)
{
  lab_open(&lab, "2027-03-04 08:00");
  lab_station(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "2400", "role", "treatment", NULL);
  lab_say(&lab, "system", NULL, "name", "Green-1", "volume_l", "1000", "role", "finishing", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "1", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "2", NULL);
  lab_say(&lab, "tank", NULL, "system", "Green-1", "number", "1", NULL);
  lab_say(&lab, "instrument", NULL, "name", "P1", "method", "photometer", "error_abs", "0.01",
          NULL);
  lab_say(&lab, "bottle", NULL, "name", "C-01", "analyte", "copper", "form", "ionic", "strength",
          "1.00", "volume_ml", "500", "reorder_ml", "400", "batch", "B7", NULL);
  lab_say(&lab, "species", NULL, "name", "Zebrasoma flavescens", "common", "yellow tang", "copper",
          "usual", NULL);
  lab_say(&lab, "protocol", NULL, "name", "Ionic", "version", "1", "source", "invented", NULL);
  lab_say(&lab, "phase", NULL, "protocol", "Ionic", "position", "1", "name", "hold", "kind", "hold",
          "min_credit_min", "21 d", "lapse_min", "12 h", "lapse", "pause", NULL);
  lab_say(&lab, "band", NULL, "phase", "Ionic/1/1", "analyte", "copper", "form", "ionic", "side",
          "at_or_above", "works", "0.18", "target", "0.19", "plan", "0.21", "harm", "0.25",
          "gap_min", "24 h", NULL);
  lab_say(&lab, "lot", NULL, "code", "0412", "tank", "Blue-1/1", "heads", "30", "species",
          "Zebrasoma flavescens", NULL);
  lab_say(&lab, "course", NULL, "lot", "0412", "protocol", "Ionic", NULL);
}

static void
teardown(void)
{
  lab_close(&lab);
}

static gpointer
row_at(GListModel *list, guint i)
{
  g_autoptr(GObject) row = g_list_model_get_item(list, i);
  ck_assert_msg(row != NULL, "no row %u", i);
  return row; // the list holds it
}

static int64_t
read_copper(const char *value)
{
  return lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "copper", "value", value,
                 "instrument", "P1", NULL);
}

static const LzSystemInfo *
blue(void)
{
  for (guint i = 0; i < 2; i++) {
    const LzSystemInfo *info = lz_system_row_info(row_at(lz_desk_systems(lab.desk), i));
    if (g_str_equal(info->name, "Blue-1"))
      return info;
  }
  ck_abort_msg("no Blue-1");
}

// Each mark from its reading: edges 0.18 and 0.21, harm 0.25, 24 h between tests.
START_TEST(marks_follow_the_band)
{
  static const struct {
    const char *value;
    LzMark mark;
  } cases[] = {
      {"0.19", LZ_MARK_IN_BAND}, {"0.18", LZ_MARK_EDGE},
      {"0.21", LZ_MARK_EDGE},    {"0.179", LZ_MARK_LOW},
      {"0.211", LZ_MARK_HIGH},   {"0.25", LZ_MARK_DOUBT}}; // far from 0.211, and to be repeated
  ck_assert_int_eq(blue()->mark[0], LZ_MARK_UNREAD);
  ck_assert_int_eq(blue()->mark[1], LZ_MARK_NONE);
  for (gsize i = 0; i < G_N_ELEMENTS(cases); i++) {
    lzq_minute at = lab_at("2027-03-04 09:00") + (lzq_minute)i;
    lz_clock_set(lab.clock, at);
    read_copper(cases[i].value);
    ck_assert_msg(blue()->mark[0] == cases[i].mark, "%s: mark %d", cases[i].value, blue()->mark[0]);
  }
  lab_go(&lab, "2027-03-04 10:00");
  read_copper("0.19");
  lab_go(&lab, "2027-03-05 10:00"); // 24 h later, the minute included
  ck_assert_int_eq(blue()->mark[0], LZ_MARK_IN_BAND);
  lab_go(&lab, "2027-03-05 10:01");
  ck_assert_int_eq(blue()->mark[0], LZ_MARK_OLD);
}
END_TEST

START_TEST(a_system_says_how_it_stands)
{
  lab_go(&lab, "2027-03-04 08:10");
  read_copper("0.19");
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "temperature", "value", "25.5",
          NULL);
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "salinity", "value", "21", NULL);
  lab_say(&lab, "change", NULL, "system", "Blue-1", "litres", "360", "new_copper", "0",
          "new_salinity", "21", NULL);
  const LzSystemInfo *info = blue();
  ck_assert_double_eq_tol(info->level[0], 0.1615, 1e-12); // 0.19 x (1 - 360/2,400)
  ck_assert_double_eq_tol(info->level[1], 21, 1e-12);
  ck_assert_double_eq_tol(info->temperature, 25.5, 1e-12);
  ck_assert_double_eq_tol(info->volume_l, 2400, 1e-9);
  ck_assert_int_eq(info->mark[0], LZ_MARK_LOW);
  ck_assert_int_eq(info->tanks, 2);
  ck_assert_int_eq(info->heads, 30);
  ck_assert_int_eq(info->lots, 1);
  ck_assert_int_eq(info->state, LZQ_STATE_STOCKED);
  ck_assert(info->copper_in && info->salt_low && info->has_band[0] && !info->has_band[1]);
  ck_assert_int_eq(info->open_dose_at, LZQ_LONG_AGO);
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle", "C-01", "amount_ml", "68.4", NULL);
  info = blue();
  ck_assert_double_eq_tol(info->level[0], 0.19, 1e-12); // + 68.4 mg / 2,400 L
  ck_assert_int_eq(info->open_dose_at, lab_at("2027-03-04 08:10"));
  ck_assert_double_eq_tol(info->open_dose_mg, 68.4, 1e-9);
  lab_say(&lab, "volume", NULL, "system", "Blue-1", "volume_l", "2000", NULL);
  ck_assert_double_eq_tol(blue()->volume_l, 2000, 1e-9);
}
END_TEST

// The round of 07:30 tested the copper, and the reading is in doubt: it was tested today, and has
// to be tested again.
START_TEST(a_test_in_doubt_is_no_test_left_out)
{
  lab_go(&lab, "2027-03-04 07:40");
  read_copper("0.19");
  lab_go(&lab, "2027-03-05 12:00");
  const char *detail = lz_row_detail(row_at(lz_desk_systems(lab.desk), 1));
  ck_assert_msg(strstr(detail, "copper not tested") != NULL, "%s", detail);
  lab_say(&lab, "reading", "2027-03-05 07:35", "system", "Blue-1", "analyte", "copper", "value",
          "0.4", "suspect", "yes", NULL);
  detail = lz_row_detail(row_at(lz_desk_systems(lab.desk), 1));
  ck_assert_msg(strstr(detail, "copper read in doubt, repeat") != NULL, "%s", detail);
  ck_assert_msg(strstr(detail, "not tested") == NULL, "%s", detail);
}
END_TEST

// Clean before suspicious: finishing before treatment (SPC quarantine guidelines).
START_TEST(systems_stand_in_walking_order)
{
  const LzSystemInfo *first = lz_system_row_info(row_at(lz_desk_systems(lab.desk), 0));
  ck_assert_str_eq(first->name, "Green-1");
  ck_assert_int_eq(first->state, LZQ_STATE_EMPTY);
}
END_TEST

START_TEST(a_lot_says_what_it_has_served)
{
  lab_go(&lab, "2027-03-04 08:10");
  read_copper("0.19");
  lab_go(&lab, "2027-03-04 10:10");
  read_copper("0.19");
  lab_go(&lab, "2027-03-04 11:10");
  const LzLotInfo *info = lz_lot_row_info(row_at(lz_desk_lots(lab.desk), 0));
  ck_assert_str_eq(info->code, "0412");
  ck_assert_str_eq(info->species, "Zebrasoma flavescens (yellow tang)");
  ck_assert_str_eq(info->protocol, "Ionic/1");
  ck_assert_str_eq(info->phase, "hold");
  ck_assert(info->living && !info->released && !info->served && info->has_course);
  ck_assert_int_eq(info->heads, 30);
  ck_assert_int_eq(info->heads_received, 30);
  ck_assert_uint_eq(info->n_phases, 1);
  ck_assert_int_eq(info->credit_min, 180);
  ck_assert_int_eq(info->open_min, 60);
  ck_assert_int_eq(info->needed_min, 21 * 1440);
  ck_assert_int_eq(info->received_at, lab_at("2027-03-04 08:00"));
  ck_assert(*info->because);
  ck_assert(strstr(lz_row_detail(row_at(lz_desk_lots(lab.desk), 0)), "30 fish in Blue-1/1, hold"));
  lab_say(&lab, "split", NULL, "lot", "0412", "code", "0412b", "heads", "5", "tank", "Blue-1/2",
          NULL);
  info = lz_lot_row_info(row_at(lz_desk_lots(lab.desk), 1));
  ck_assert_str_eq(info->code, "0412b");
  ck_assert_str_eq(info->species, "Zebrasoma flavescens (yellow tang)");
  ck_assert_int_eq(info->heads, 5);
  const LzTankInfo *tank = lz_tank_row_info(row_at(lz_desk_tanks(lab.desk), 1));
  ck_assert_str_eq(tank->name, "Blue-1/2");
  ck_assert_int_eq(tank->heads, 5);
  ck_assert_uint_eq(tank->lot, 1);
  // one that has died stands last, and nowhere
  lab_say(&lab, "death", NULL, "lot", "0412", "heads", "25", NULL);
  info = lz_lot_row_info(row_at(lz_desk_lots(lab.desk), 1));
  ck_assert_str_eq(info->code, "0412");
  ck_assert(!info->living);
  ck_assert_uint_eq(info->tank, LZQ_NONE);
}
END_TEST

START_TEST(set_up_says_what_is_left)
{
  lab_go(&lab, "2027-03-04 08:10");
  read_copper("0.16");
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle", "C-01", "amount_ml", "60", NULL);
  const LzBottleInfo *bottle = lz_bottle_row_info(row_at(lz_desk_bottles(lab.desk), 0));
  ck_assert_double_eq_tol(bottle->left_ml, 440, 1e-9);
  ck_assert(!bottle->low);
  ck_assert_str_eq(bottle->batch, "B7");
  int64_t spilt =
      lab_say(&lab, "stock", NULL, "bottle", "C-01", "change_ml", "-50", "why", "spilled", NULL);
  bottle = lz_bottle_row_info(row_at(lz_desk_bottles(lab.desk), 0));
  ck_assert_double_eq_tol(bottle->left_ml, 390, 1e-9);
  ck_assert(bottle->low);
  g_autofree char *id = g_strdup_printf("%d", (int)spilt);
  lab_say(&lab, "stock", NULL, "@voids", id, "@reason", "it was another bottle", NULL);
  bottle = lz_bottle_row_info(row_at(lz_desk_bottles(lab.desk), 0));
  ck_assert_double_eq_tol(bottle->left_ml, 440, 1e-9);

  const LzInstrumentInfo *p1 = lz_instrument_row_info(row_at(lz_desk_instruments(lab.desk), 0));
  ck_assert(!p1->ever_checked);
  lab_say(&lab, "check", NULL, "instrument", "P1", "ok", "no", NULL);
  p1 = lz_instrument_row_info(row_at(lz_desk_instruments(lab.desk), 0));
  ck_assert(p1->ever_checked && !p1->ok);
  ck_assert_int_eq(p1->checked_at, lab_at("2027-03-04 08:10"));

  const LzProtocolInfo *ionic = lz_protocol_row_info(row_at(lz_desk_protocols(lab.desk), 0));
  ck_assert_str_eq(ionic->name, "Ionic/1");
  ck_assert_int_eq(ionic->courses, 1);
  ck_assert_uint_eq(ionic->n_phases, 1);
  const LzPersonInfo *mk = lz_person_row_info(row_at(lz_desk_people(lab.desk), 0));
  ck_assert_str_eq(mk->initials, "MK");
  ck_assert_str_eq(mk->role, "lead");
  ck_assert(mk->active);
}
END_TEST

// Late and blocked before the rest, and each points to a kind of entry that there is.
START_TEST(the_round_puts_late_first)
{
  lab_go(&lab, "2027-03-04 08:10");
  read_copper("0.19");
  lab_go(&lab, "2027-03-05 10:30");
  GListModel *tasks = lz_desk_tasks(lab.desk);
  ck_assert_uint_gt(g_list_model_get_n_items(tasks), 1);
  gboolean rest = FALSE;
  for (guint i = 0; i < g_list_model_get_n_items(tasks); i++) {
    const LzTaskInfo *info = lz_task_row_info(row_at(tasks, i));
    gboolean first = info->task->state == LZQ_TASK_LATE || info->task->state == LZQ_TASK_BLOCKED;
    ck_assert(!first || !rest);
    rest |= !first;
    ck_assert(*info->where && *info->what && *info->when);
    ck_assert(!*info->kind || lz_desk_entities(lab.desk, info->kind) != NULL);
  }
  const LzTaskInfo *late = lz_task_row_info(row_at(tasks, 0));
  ck_assert_int_eq(late->task->state, LZQ_TASK_LATE);
  ck_assert_str_eq(late->what, "Test copper");
  ck_assert_str_eq(late->kind, "reading");
  ck_assert(!late->same_water);
}
END_TEST

// A line stays the same object while it waits, and leaves when it is done.
START_TEST(a_task_keeps_its_row)
{
  lab_go(&lab, "2027-03-04 08:10");
  read_copper("0.19");
  lab_go(&lab, "2027-03-05 10:30");
  GListModel *tasks = lz_desk_tasks(lab.desk);
  g_autoptr(LzTaskRow) late = g_list_model_get_item(tasks, 0);
  lab_go(&lab, "2027-03-05 10:31");
  ck_assert_ptr_eq(row_at(tasks, 0), late);
  read_copper("0.19");
  for (guint i = 0; i < g_list_model_get_n_items(tasks); i++)
    ck_assert_ptr_ne(row_at(tasks, i), late);
  ck_assert_int_eq(lz_task_row_info(late)->task->kind, LZQ_TASK_TEST); // still readable
}
END_TEST

// Since the last slot; since the handover where there was one.
START_TEST(done_is_of_this_shift)
{
  GListModel *done = lz_desk_done(lab.desk);
  lab_go(&lab, "2027-03-04 16:00");
  read_copper("0.19");
  lab_go(&lab, "2027-03-04 16:30");
  read_copper("0.20");
  const LzDoneInfo *info = lz_done_row_info(row_at(done, 0));
  ck_assert_str_eq(info->what, "copper 0.200 mg/L, P1");
  ck_assert_str_eq(info->where, "Blue-1");
  ck_assert_str_eq(info->who, "MK");
  ck_assert_str_eq(info->when, "16:30");
  // the lot and its course of 08:00, after the slot of 07:30, are of this shift
  ck_assert_uint_eq(g_list_model_get_n_items(done), 4);
  lab_go(&lab, "2027-03-04 17:05");
  ck_assert_uint_eq(g_list_model_get_n_items(done), 0);
  read_copper("0.20");
  lab_go(&lab, "2027-03-04 17:30");
  lab_say(&lab, "handover", NULL, "to", "TA", NULL);
  ck_assert_uint_eq(g_list_model_get_n_items(done), 0);
  read_copper("0.19");
  ck_assert_uint_eq(g_list_model_get_n_items(done), 1);
}
END_TEST

START_TEST(the_ledger_keeps_what_was_corrected)
{
  GListModel *ledger = lz_desk_ledger(lab.desk);
  lab_go(&lab, "2027-03-04 08:10");
  int64_t wrong = read_copper("0.19");
  g_autoptr(LzEntryRow) row = g_list_model_get_item(ledger, 0);
  ck_assert_int_eq(lz_entry_row_info(row)->id, wrong);
  ck_assert_str_eq(lz_entry_row_info(row)->what, "reading: copper 0.190 mg/L, P1");
  g_autofree char *id = g_strdup_printf("%d", (int)wrong);
  lab_say(&lab, "reading", NULL, "@corrects", id, "@reason", "slip", "system", "Blue-1", "analyte",
          "copper", "value", "0.20", "instrument", "P1", NULL);
  ck_assert(lz_entry_row_info(row)->corrected && !lz_entry_row_info(row)->voided);
  ck_assert_ptr_eq(row_at(ledger, 1), row);
  ck_assert_str_eq(lz_entry_row_info(row_at(ledger, 0))->reason, "slip");
  ck_assert_int_eq(lz_entry_row_info(row_at(ledger, 0))->corrects, wrong);
  lab_say(&lab, "reading", NULL, "@voids", id, "@reason", "not made at all", NULL);
  ck_assert(lz_entry_row_info(row)->voided);
  // a name that changes later changes in the words
  lab_say(&lab, "instrument", NULL, "@entity", "P1", "name", "P9", NULL);
  ck_assert_str_eq(lz_entry_row_info(row)->what, "reading: copper 0.190 mg/L, P9");
}
END_TEST

#define N_LISTS 12

static void
ck_lists(LztModelChecker **checkers, const char *after)
{
  for (int i = 0; i < N_LISTS; i++)
    ck_assert_msg(!lzt_model_checker_fault(checkers[i]), "list %d after %s: %s", i, after,
                  lzt_model_checker_fault(checkers[i]));
}

START_TEST(every_list_tells_what_changed)
{
  GListModel *lists[N_LISTS] = {
      lz_desk_systems(lab.desk),   lz_desk_tanks(lab.desk),       lz_desk_lots(lab.desk),
      lz_desk_tasks(lab.desk),     lz_desk_done(lab.desk),        lz_desk_ledger(lab.desk),
      lz_desk_people(lab.desk),    lz_desk_instruments(lab.desk), lz_desk_bottles(lab.desk),
      lz_desk_protocols(lab.desk), lz_desk_matters(lab.desk),     lz_desk_contacts(lab.desk)};
  LztModelChecker *checkers[N_LISTS];
  for (int i = 0; i < N_LISTS; i++)
    checkers[i] = lzt_model_checker_new(lists[i]);
  for (int day = 0; day < 6; day++) {
    lz_clock_set(lab.clock, lab_at("2027-03-04 08:10") + day * LZQ_DAY);
    read_copper("0.19");
    ck_lists(checkers, "a reading");
    lz_clock_set(lab.clock, lab_at("2027-03-04 17:20") + day * LZQ_DAY);
    lz_desk_replan(lab.desk);
    ck_lists(checkers, "time passing");
    g_autofree char *name = g_strdup_printf("X-%d", day);
    lab_say(&lab, "system", NULL, "name", name, "volume_l", "100", "role",
            day % 2 ? "finishing" : "isolation", NULL);
    lab_say(&lab, "tank", NULL, "system", name, "number", "1", NULL);
    g_autofree char *tank = g_strdup_printf("X-%d/1", day);
    lab_say(&lab, "lot", NULL, "code", name, "tank", tank, "heads", "3", NULL);
    ck_lists(checkers, "a lot received");
    if (day > 0) {
      g_autofree char *before = g_strdup_printf("X-%d", day - 1);
      lab_say(&lab, "death", NULL, "lot", before, "heads", "3", NULL);
      ck_lists(checkers, "a lot gone");
      lab_say(&lab, "sighting", NULL, "system", name, "sign", "white_spot", NULL);
      ck_lists(checkers, "a sighting");
    }
  }
  // nothing that a list shows came or went: no signal
  guint tanks = lzt_model_checker_signals(checkers[1]);
  lab_say(&lab, "note", NULL, "words", "quiet", NULL);
  ck_assert_uint_eq(lzt_model_checker_signals(checkers[1]), tanks);
  ck_lists(checkers, "a note");
  for (int i = 0; i < N_LISTS; i++)
    lzt_model_checker_free(checkers[i]);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk-rows");
  TCase *tests = tcase_create("rows");
  tcase_add_checked_fixture(tests, setup, teardown);
  tcase_add_test(tests, marks_follow_the_band);
  tcase_add_test(tests, a_system_says_how_it_stands);
  tcase_add_test(tests, a_test_in_doubt_is_no_test_left_out);
  tcase_add_test(tests, systems_stand_in_walking_order);
  tcase_add_test(tests, a_lot_says_what_it_has_served);
  tcase_add_test(tests, set_up_says_what_is_left);
  tcase_add_test(tests, the_round_puts_late_first);
  tcase_add_test(tests, a_task_keeps_its_row);
  tcase_add_test(tests, done_is_of_this_shift);
  tcase_add_test(tests, the_ledger_keeps_what_was_corrected);
  tcase_add_test(tests, every_list_tells_what_changed);
  tcase_set_timeout(tests, 60);
  suite_add_tcase(suite, tests);
  return lab_run(suite);
}
