// SPDX-License-Identifier: GPL-3.0-or-later
// Case H in the window: the dates of a whole course that Lots shows are the command line's.
#include "../command/course.h"

#include <stdio.h>

#include "journey.h"

// "2027-03-18 22:59 ..." as the window writes it: "Thu 18 Mar 22:59".
static char *
as_shown(const char *local)
{
  int year, month, day, hour, minute;
  ck_assert_int_eq(sscanf(local, "%d-%d-%d%*c%d:%d", &year, &month, &day, &hour, &minute), 5);
  g_autoptr(GDateTime) time = g_date_time_new_utc(year, month, day, hour, minute, 0);
  return g_date_time_format(time, "%a %-e %b %H:%M");
}

static void
open_lots_as_table(Stage *s)
{
  stage_keys(s, "F4");
  stage_wait_focus(s, ATSPI_ROLE_LIST, "Lots");
  stage_keys(s, "F8");
  stage_wait(s, "how sure");
}

static void
shows_all_ends(Stage *s, const char *at)
{
  g_autoptr(Table) plan = ctl_table(stage_ctl(s), "plan --at '%s' --lot 0412 --format=csv", at);
  guint n = 0;
  for (guint row = 0; row < plan->rows->len; row++) {
    if (g_strcmp0(table_cell(plan, row, "what"), "end") != 0)
      continue;
    g_autofree char *shown = as_shown(table_cell(plan, row, "local"));
    stage_wait(s, shown);
    n++;
  }
  ck_assert_uint_ge(n, 3); // rise, hold, and what follows
}

START_TEST(test_whole_course)
{
  Ctl *c = course_station();
  course_rise(c);
  course_hold(c);
  Stage *s = stage_start(c, "2027-03-18T22:59+01:00", NULL);
  open_lots_as_table(s);
  // 20,160 min + 479 min + 300 min after Thursday 4 March 10:00
  g_autofree char *end = journey_plan(c, "2027-03-18 22:59", "Hold", "end", "when");
  ck_assert_str_eq(end, "2027-03-18T21:59Z");
  stage_wait(s, "Thu 4 Mar 10:00");
  stage_wait(s, "Thu 18 Mar 22:59");
  shows_all_ends(s, "2027-03-18 22:59");
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_whole_course, NULL};
  return journey_run("journey: case H", tests);
}
