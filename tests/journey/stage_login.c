// SPDX-License-Identifier: GPL-3.0-or-later
// Several windows at one display: another login beside the first, and which of them is in front.
#include <check.h>
#include <unistd.h>

#include "stage_look.h"
#include "stage_private.h"

Stage *
stage_login(Stage *first, const char *clock)
{
  Stage *stage = g_new0(Stage, 1);
  g_autofree char *folder = g_build_filename(first->ctl->folder, "other", NULL);
  stage->ctl = first->ctl;
  stage->session = session_login(first->session, folder);
  stage_launch(stage, clock);
  return stage;
}

void
stage_to_front(Stage *stage)
{
  g_autofree char *line = g_strdup_printf(
      "xdotool search --all --onlyvisible --pid %d --name Lazaret windowactivate", (int)stage->app);
  session_run(stage->session, line);
}

static gboolean
is_active_window(AtspiAccessible *accessible, int depth, gpointer data)
{
  return atspi_accessible_get_role(accessible, NULL) == ATSPI_ROLE_FRAME &&
         look_has_state(accessible, ATSPI_STATE_ACTIVE);
}

gboolean
stage_is_in_front(Stage *stage)
{
  stage_drain();
  return look_walk(stage->root, stage->root, 0, is_active_window, NULL);
}

guint
stage_n_windows(Stage *stage)
{
  stage_drain();
  return (guint)atspi_accessible_get_child_count(stage->root, NULL);
}

void
stage_call_again(Stage *stage)
{
  g_autofree char *by_link = g_build_filename(stage->ctl->folder, "link.lazaret", NULL);
  g_autofree char *line = stage_call(stage, NULL);
  g_autofree char *quoted = g_shell_quote(by_link);
  g_autofree char *link = g_strdup_printf("%s %s", g_getenv("LAZARET"), quoted);
  ck_assert_int_eq(symlink(stage->ctl->file, by_link), 0);
  session_run(stage->session, line);
  session_run(stage->session, link);
}
