// SPDX-License-Identifier: GPL-3.0-or-later
// The handover is saved as PDF from the window and read back.
#include <glib/gstdio.h>
#include <string.h>

#include "journey.h"

static gboolean
is_whole(Stage *stage, gpointer path)
{
  const char *argv[] = {"pdftotext", "-layout", path, "-", NULL};
  g_autofree char *out = NULL, *err = NULL;
  ck_assert(g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, &err,
                         NULL, NULL));
  return strstr(out, "Shift handover") && strstr(out, "Blue-1") && strstr(out, "0.190") &&
         strstr(out, "page 1 of 1");
}

START_TEST(test_handover_as_pdf)
{
  Ctl *c = case_ionic("pause", "metal");
  case_read(c, "2027-03-04 08:00 0.19\n2027-03-05 07:00 0.19\n");
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  g_autofree char *path = g_build_filename(c->folder, "shift.pdf", NULL);
  stage_keys(s, "ctrl+shift+p");
  stage_wait(s, "Save as PDF");
  stage_keys(s, "ctrl+a");
  stage_type(s, path);
  stage_keys(s, "Return");
  stage_until(s, "a handover in shift.pdf", is_whole, path);
  stage_wait(s, "Saved");
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_handover_as_pdf, NULL};
  return journey_run("journey: paper", tests);
}
