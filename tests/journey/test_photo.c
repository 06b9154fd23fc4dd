// SPDX-License-Identifier: GPL-3.0-or-later
// A photograph from the form to the screen, the ledger and the printed record; what is none is
// refused beside the field.
#include <string.h>

#include "journey.h"
#include "scenes.h"

// A red PNG picture of 8 x 6 pixels.
static const char red[] =
    "iVBORw0KGgoAAAANSUhEUgAAAAgAAAAGCAIAAABxZ0isAAAAEUlEQVR42mM4oaGBFTEMpAQAgPc0"
    "gTglveMAAAAASUVORK5CYII=";

static char *
write_photo(Ctl *c)
{
  gsize n;
  g_autofree guchar *bytes = g_base64_decode(red, &n);
  char *path = g_build_filename(c->folder, "spot.png", NULL);
  ck_assert(g_file_set_contents(path, (char *)bytes, (gssize)n, NULL));
  return path;
}

static Stage *
see_with(Ctl *c, const char *path)
{
  Stage *s = stage_start(c, "2027-06-18T09:00+02:00", NULL);
  stage_keys(s, "F3");
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "Pearl-2");
  stage_wait(s, "Pearl-2: Fourteen days");
  stage_keys(s, "KP_Multiply");
  stage_wait(s, "I see something");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "white");
  stage_keys(s, "Tab Tab Tab Tab Tab Tab"); // water, tank, lot, fish, words
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Photograph");
  stage_type(s, path);
  stage_keys(s, "Return");
  return s;
}

START_TEST(test_seen_kept_and_printed)
{
  Ctl *c = scene_observation();
  g_autofree char *path = write_photo(c);
  Stage *s = see_with(c, path);
  g_autoptr(Table) sightings = stage_rows(s, "sightings", 1);
  ck_assert_uint_eq(strlen(table_cell(sightings, 0, "photo")), 64);
  g_autoptr(AtspiAccessible) seen = stage_find(s, ATSPI_ROLE_IMAGE, "Photograph: ");
  stage_keys(s, "F7"); // it is the newest entry, which the ledger begins with
  stage_wait(s, "Every entry as it was written");
  g_autoptr(AtspiAccessible) kept = stage_find(s, ATSPI_ROLE_IMAGE, "Photograph: ");
  g_autofree char *verified = ctl(c, 0, "verify");
  ck_assert_ptr_nonnull(strstr(verified, "1 photograph is as it was kept."));
  g_autofree char *pdf = g_build_filename(c->folder, "record.pdf", NULL);
  g_free(ctl(c, 0, "print lot-record --lot P --at '2027-06-18 10:00' --pdf %s", pdf));
  g_autofree char *line = g_strdup_printf("pdfimages -list %s", pdf);
  g_autofree char *images = NULL;
  ck_assert(g_spawn_command_line_sync(line, &images, NULL, NULL, NULL));
  ck_assert_msg(strstr(images, "image") != NULL, "%s", images); // 8 x 6, as JPEG
  ck_assert_ptr_nonnull(strstr(images, "jpeg"));
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_what_is_none_is_refused)
{
  Ctl *c = scene_observation();
  g_autofree char *path = g_build_filename(c->folder, "list.jpg", NULL);
  ck_assert(g_file_set_contents(path, "not a picture", -1, NULL));
  Stage *s = see_with(c, path);
  stage_wait(s, "accepted is a JPEG or PNG picture");
  g_autoptr(Table) none = stage_rows(s, "sightings", 0);
  stage_keys(s, "Escape");
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_seen_kept_and_printed, test_what_is_none_is_refused, NULL};
  return journey_run("journey: photographs", tests);
}
