// SPDX-License-Identifier: GPL-3.0-or-later
// What every test of a window needs: a display or exit 77, and a main loop that stops waiting.
#ifndef LZ_APP_TEST_H
#define LZ_APP_TEST_H

#include <check.h>
#include <gtk/gtk.h>
#include <stdbool.h>
#include <stdlib.h>

// Turns the main loop until `condition` holds, at most about five seconds.
#define lz_wait_until(condition)                                                                   \
  do {                                                                                             \
    gint64 lz_deadline = g_get_monotonic_time() + 5 * G_USEC_PER_SEC;                              \
    while (!(condition) && g_get_monotonic_time() < lz_deadline)                                   \
      g_main_context_iteration(NULL, FALSE);                                                       \
    ck_assert_msg((condition), "waited in vain for " #condition);                                  \
  } while (0)

// Runs a suite without forking (GTK lives once in a process). Returns main's answer.
static inline int
lz_app_test_run(Suite *suite, bool needs_display)
{
  if (needs_display && !gtk_init_check()) {
    g_print("no display: skipped\n");
    return 77;
  }
  SRunner *runner = srunner_create(suite);
  srunner_set_fork_status(runner, CK_NOFORK);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}

#endif
