// SPDX-License-Identifier: GPL-3.0-or-later
// See journey.h.
#include "journey.h"

#include <stdlib.h>

int
journey_run(const char *name, const TTest *const *tests)
{
  Suite *suite = suite_create(name);
  TCase *tc = tcase_create("journeys");
  tcase_set_timeout(tc, 600); // against hanging only: a loaded machine has needed four minutes
  for (; *tests; tests++)
    tcase_add_test(tc, *tests);
  suite_add_tcase(suite, tc);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}

char *
journey_plan(Ctl *c, const char *at, const char *phase, const char *what, const char *column)
{
  g_autoptr(Table) plan = ctl_table(c, "plan --at '%s' --format=csv", at);
  int row = table_find(plan, "phase", phase, "what", what, NULL);
  ck_assert_msg(row >= 0, "no %s of %s in the plan", what, phase);
  return g_strdup(table_cell(plan, (guint)row, column));
}

double
journey_number(const Table *table, guint row, const char *column)
{
  return g_ascii_strtod(table_cell(table, row, column), NULL);
}
