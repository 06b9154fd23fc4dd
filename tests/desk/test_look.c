// SPDX-License-Identifier: GPL-3.0-or-later
// What somebody must look at: contacts of a sighting, lots that nothing watches, a release found
// short, one visit for several lots, a failed check, a water that gets too full. Invented figures
// that follow from the inputs.
#include <lz_room.h>
#include <lz_rows.h>
#include <string.h>

#include "lab.h"

static Lab lab;

static void
setup(void)
{
  lab_open(&lab, "2027-03-04 08:00");
  lab_station(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "2400", "role", "treatment", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "1", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "2", NULL);
  lab_say(&lab, "protocol", NULL, "name", "Watch", "version", "1", "source", "invented", NULL);
  lab_say(&lab, "phase", NULL, "protocol", "Watch", "position", "1", "name", "two days", "kind",
          "observe", "min_elapsed_min", "2 d", "quiet_min", "2 d", NULL);
  lab_say(&lab, "lot", NULL, "code", "0412", "tank", "Blue-1/1", "heads", "30", NULL);
  lab_say(&lab, "course", NULL, "lot", "0412", "protocol", "Watch", NULL);
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

// A spot in Blue-1: the lot under a protocol goes back, the one without is to be looked at.
START_TEST(a_sighting_has_contacts)
{
  lab_say(&lab, "lot", NULL, "code", "0413", "tank", "Blue-1/2", "heads", "5", NULL);
  ck_assert_uint_eq(g_list_model_get_n_items(lz_desk_contacts(lab.desk)), 0);
  lab_go(&lab, "2027-03-04 09:00");
  int64_t spot =
      lab_say(&lab, "sighting", NULL, "system", "Blue-1", "sign", "white_spot", "heads", "1", NULL);
  GListModel *contacts = lz_desk_contacts(lab.desk);
  ck_assert_uint_eq(g_list_model_get_n_items(contacts), 2);
  const LzContactInfo *first = lz_contact_row_info(row_at(contacts, 0));
  const LzContactInfo *second = lz_contact_row_info(row_at(contacts, 1));
  ck_assert_int_eq(first->sighting, spot);
  ck_assert_str_eq(first->code, "0412");
  ck_assert(first->set_back && !first->uncoursed && !first->gone);
  ck_assert_str_eq(second->code, "0413");
  ck_assert(second->uncoursed && !second->set_back);
  ck_assert_str_eq(second->now_in, "Blue-1");
  GListModel *matters = lz_desk_matters(lab.desk);
  ck_assert_uint_eq(g_list_model_get_n_items(matters), 1);
  const LzMatterInfo *matter = lz_matter_row_info(row_at(matters, 0));
  ck_assert_int_eq(matter->matter, LZ_MATTER_UNCOURSED);
  ck_assert_str_eq(matter->code, "0413");
  // under a protocol it is a matter no more
  lab_say(&lab, "course", NULL, "lot", "0413", "protocol", "Watch", NULL);
  ck_assert_uint_eq(g_list_model_get_n_items(matters), 0);
}
END_TEST

// A spot of the day before, entered after the release: 12 of 48 quiet hours had gone by.
START_TEST(a_release_found_short)
{
  int64_t customer = lab_say(&lab, "customer", NULL, "reference", "C-33", NULL);
  lab_go(&lab, "2027-03-06 08:00");
  int64_t gone = lab_say(&lab, "release", NULL, "lot", "0412", "customer", "C-33", NULL);
  ck_assert_int_gt(gone, customer);
  GListModel *matters = lz_desk_matters(lab.desk);
  ck_assert_uint_eq(g_list_model_get_n_items(matters), 0);
  lab_say(&lab, "sighting", "2027-03-05 20:00", "system", "Blue-1", "sign", "white_spot", NULL);
  ck_assert_uint_eq(g_list_model_get_n_items(matters), 1);
  const LzMatterInfo *c = lz_matter_row_info(row_at(matters, 0));
  ck_assert_int_eq(c->matter, LZ_MATTER_RELEASED_SHORT);
  ck_assert_int_eq(c->entry, gone);
  ck_assert_int_eq(c->short_min, 36 * 60);
  ck_assert_str_eq(c->customer, "C-33");
  ck_assert_str_eq(c->phase, "two days");
  ck_assert_str_eq(c->code, "0412");
  const char *detail = lz_row_detail(row_at(matters, 0));
  ck_assert_msg(strstr(detail, "Lot 0412 released on") && strstr(detail, "1 d 12 h short"), "%s",
                detail);
}
END_TEST

// The one line of the round that asks to look at fish.
static const LzTaskInfo *
look_line(void)
{
  const LzTaskInfo *found = NULL;
  GListModel *tasks = lz_desk_tasks(lab.desk);
  for (guint i = 0; i < g_list_model_get_n_items(tasks); i++) {
    const LzTaskInfo *info = lz_task_row_info(row_at(tasks, i));
    if (info->task->kind != LZQ_TASK_INSPECT)
      continue;
    ck_assert_msg(!found, "%s; %s", found->what, info->what);
    found = info;
  }
  return found;
}

// One visit to a water is one line that names its lots; a lot of another water has its own.
START_TEST(one_visit_is_one_line)
{
  ck_assert_str_eq(look_line()->what, "Look at lot 0412");
  ck_assert_uint_eq(look_line()->n_lots, 0);
  lab_say(&lab, "lot", NULL, "code", "0413", "tank", "Blue-1/2", "heads", "5", NULL);
  lab_say(&lab, "course", NULL, "lot", "0413", "protocol", "Watch", NULL);
  lab_say(&lab, "lot", NULL, "code", "0414", "tank", "Blue-1/2", "heads", "7", NULL);
  lab_say(&lab, "course", NULL, "lot", "0414", "protocol", "Watch", NULL);
  const LzTaskInfo *all = look_line();
  ck_assert_str_eq(all->what, "Look at lots 0412, 0413, 0414");
  ck_assert_str_eq(all->where, "Blue-1");
  ck_assert_uint_eq(all->n_lots, 3);
  ck_assert_uint_eq(all->task->lot, LZQ_NONE);
  lab_say(&lab, "system", NULL, "name", "Grey-1", "volume_l", "400", "role", "isolation", NULL);
  lab_say(&lab, "tank", NULL, "system", "Grey-1", "number", "1", NULL);
  lab_say(&lab, "lot", NULL, "code", "0415", "tank", "Grey-1/1", "heads", "1", NULL);
  lab_say(&lab, "course", NULL, "lot", "0415", "protocol", "Watch", NULL);
  int lines = 0;
  GListModel *tasks = lz_desk_tasks(lab.desk);
  for (guint i = 0; i < g_list_model_get_n_items(tasks); i++) {
    const LzTaskInfo *info = lz_task_row_info(row_at(tasks, i));
    lines += info->task->kind == LZQ_TASK_INSPECT;
  }
  ck_assert_int_eq(lines, 2);
}
END_TEST

START_TEST(a_check_says_how_it_went)
{
  lab_say(&lab, "instrument", NULL, "name", "P1", "method", "photometer", NULL);
  lab_say(&lab, "check", NULL, "instrument", "P1", "ok", "no", "found", "0.31", NULL);
  const LzDoneInfo *done = lz_done_row_info(row_at(lz_desk_done(lab.desk), 0));
  ck_assert_msg(g_str_has_prefix(done->what, "P1 failed its check, ") && strstr(done->what, "0.31"),
                "%s", done->what);
  lab_say(&lab, "check", NULL, "instrument", "P1", "ok", "yes", NULL);
  done = lz_done_row_info(row_at(lz_desk_done(lab.desk), 0));
  ck_assert_str_eq(done->what, "P1 passed its check");
}
END_TEST

// Heads and grams of a litre against what a lead set, for fish on their way: 30 + 12 of 40 heads;
// 30 x 10 g + 12 x 10 g in 2400 L = 0.175 g per litre.
START_TEST(room_is_counted)
{
  gboolean over;
  uint32_t blue = 0;
  LzCrowd coming = {.heads = 10, .weighed = 10, .grams = 100};
  g_autofree char *none = lz_room_words(lab.desk, blue, &coming, &over);
  ck_assert_str_eq(none, "");
  ck_assert(!over);
  lab_say(&lab, "system", NULL, "@entity", "Blue-1", "max_heads", "40", "max_g_per_l", "0.05",
          NULL);
  g_autofree char *fits = lz_room_words(lab.desk, blue, &coming, &over);
  ck_assert_str_eq(fits, "Fits: 40 of at most 40 fish.\nAt least 0.04 of at most 0.05 g per litre: "
                         "the weight of 30 fish is not known.");
  ck_assert(!over);
  coming = (LzCrowd){.heads = 12, .weighed = 12, .grams = 240};
  g_autofree char *words = lz_room_words(lab.desk, blue, &coming, &over);
  ck_assert_str_eq(words, "Over by 2 fish: 42, at most 40.\n"
                          "Over by 0.05 g per litre: 0.1, at most 0.05.");
  ck_assert(over);
  // nobody is sent away: it is told
  g_autoptr(LzCommand) c = lz_command_build("lot", "code", "0500", "tank", "Blue-1/2", "heads",
                                            "12", "mean_mass_g", "20", NULL);
  ck_assert(lz_desk_submit_one(lab.desk, c, NULL));
  const char *const *notes = lz_command_notes(c);
  ck_assert_msg(notes[0] && g_str_has_prefix(notes[0], "Blue-1: Over by 2 fish: 42"), "%s",
                notes[0] ? notes[0] : "no note");
  ck_assert_int_eq(lz_room_now(lab.desk, blue).heads, 42);
  ck_assert_int_eq(lz_room_now(lab.desk, blue).weighed, 12);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk-look");
  TCase *tests = tcase_create("look");
  tcase_add_checked_fixture(tests, setup, teardown);
  tcase_add_test(tests, a_sighting_has_contacts);
  tcase_add_test(tests, a_release_found_short);
  tcase_add_test(tests, one_visit_is_one_line);
  tcase_add_test(tests, a_check_says_how_it_went);
  tcase_add_test(tests, room_is_counted);
  suite_add_tcase(suite, tests);
  return lab_run(suite);
}
