// SPDX-License-Identifier: GPL-3.0-or-later
// A round on paper: the sheet is printed before the round, carried, filled in by pen, and typed in
// at noon in the order in which it stands. When each was taken and when it was typed in are kept
// apart, and the ledger says that they were entered late.
#include <string.h>

#include "journey.h"

#define PRINTED "2027-03-05 07:30"
#define TYPED   "2027-03-05T11:40+01:00"

// What stands in the column of the pen: water, taken at, read.
static const struct {
  const char *water, *at, *value;
} pen[] = {
    {"Blue-1", "07:36", "0.188"}, {"Blue-2", "07:41", "0.191"}, {"Blue-3", "07:49", "0.186"}};

static Ctl *
station(void)
{
  Ctl *c = case_ionic("pause", "metal");
  for (int i = 2; i <= 3; i++) {
    g_free(ctl(c, 0, "record system name=Blue-%d volume_l=1200 role=treatment", i));
    g_free(ctl(c, 0, "record tank system=Blue-%d number=1", i));
    g_free(ctl(c, 0, "record lot --happened '2027-03-04 08:00' code=041%d tank=Blue-%d/1 heads=20",
               i + 1, i));
    g_free(ctl(c, 0,
               "record course --happened '2027-03-04 08:00' lot=041%d protocol='House copper'",
               i + 1));
  }
  for (int i = 1; i <= 3; i++)
    g_free(ctl(c, 0,
               "record reading --happened '2027-03-04 09:0%d' system=Blue-%d analyte=copper "
               "value=0.19 instrument=P1",
               i, i));
  return c;
}

// The tests of the sheet stand in the order of the pen's column; its own text is the witness.
static void
print_the_sheet(Ctl *c)
{
  g_autofree char *pdf = g_build_filename(c->folder, "round.pdf", NULL);
  g_free(ctl(c, 0, "print round-sheet --at '" PRINTED "' --pdf '%s'", pdf));
  const char *argv[] = {"pdftotext", "-layout", pdf, "-", NULL};
  g_autofree char *text = NULL;
  ck_assert(g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &text, NULL,
                         NULL, NULL));
  const char *at = strstr(text, "taken at");
  for (guint i = 0; i < G_N_ELEMENTS(pen); i++) {
    at = at ? strstr(at + 1, pen[i].water) : NULL;
    ck_assert_msg(at != NULL, "%s is not in its place:\n%s", pen[i].water, text);
    g_autofree char *row = g_strndup(at, strcspn(at, "\n"));
    ck_assert_msg(strstr(row, "Test copper") && strstr(row, "....."), "%s", row);
  }
}

static void
type_line(Stage *s, guint i)
{
  stage_keys(s, "ctrl+r");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, pen[i].water);
  stage_keys(s, "Tab");
  stage_type(s, "copper");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Value");
  stage_type(s, pen[i].value);
  stage_keys(s, "Tab Tab");
  stage_type(s, "P1");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "When");
  stage_keys(s, "ctrl+a");
  stage_type(s, pen[i].at);
  stage_keys(s, "Return");
}

START_TEST(test_typed_in_the_order_of_the_sheet)
{
  Ctl *c = station();
  print_the_sheet(c);
  Stage *s = stage_start(c, TYPED, NULL);
  stage_wait(s, "Blue-1");
  for (guint i = 0; i < G_N_ELEMENTS(pen); i++) {
    type_line(s, i);
    g_autoptr(Table) so_far = stage_rows(s, "readings", 4 + i);
  }
  g_autoptr(Table) readings = stage_rows(s, "readings", 6);
  for (guint i = 0; i < G_N_ELEMENTS(pen); i++) {
    g_autofree char *taken = g_strdup_printf("2027-03-05T%s+01:00", pen[i].at);
    ck_assert_str_eq(table_cell(readings, 3 + i, "system"), pen[i].water);
    ck_assert_str_eq(table_cell(readings, 3 + i, "value"), pen[i].value);
    ck_assert_str_eq(table_cell(readings, 3 + i, "happened"), taken);
    // Berlin is an hour ahead of UTC in winter
    ck_assert_str_eq(table_cell(readings, 3 + i, "recorded"), "2027-03-05T10:40:00.000Z");
  }
  stage_keys(s, "F7");
  stage_wait(s, "nothing is deleted by itself");
  for (guint i = 0; i < G_N_ELEMENTS(pen); i++)
    stage_wait(s, pen[i].at);
  stage_wait(s, "11:40, late");
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_typed_in_the_order_of_the_sheet, NULL};
  return journey_run("journey: typed in from paper", tests);
}
