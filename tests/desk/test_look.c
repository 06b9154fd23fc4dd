// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of what somebody must look at: contacts of a sighting, lots that nothing watches, a release
// found short. Invented figures that follow from the inputs.
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

int
main(void)
{
  Suite *suite = suite_create("desk-look");
  TCase *tests = tcase_create("look");
  tcase_add_checked_fixture(tests, setup, teardown);
  tcase_add_test(tests, a_sighting_has_contacts);
  tcase_add_test(tests, a_release_found_short);
  suite_add_tcase(suite, tests);
  return lab_run(suite);
}
