// SPDX-License-Identifier: GPL-3.0-or-later
// A station's file has a bad page: the window says so, and the file can be looked at no further,
// salvaged into a new one, or left as it lies.
#define _GNU_SOURCE // memmem
#include <string.h>

#include "journey.h"

#define CLOCK "2027-03-05T07:45+01:00"
#define PAGE  4096 // of a station file; SQLite's file format, section 1.2

typedef struct {
  Ctl *c;
  char *bytes; // of the file after it was damaged
  gsize n;
} Bad;

// The page on which a note stands loses its head, as when a disk gives back something else.
static Bad
damaged_station(void)
{
  Bad bad = {.c = case_ionic("pause", "metal")};
  g_free(ctl(bad.c, 0, "record note words='the heater hums'"));
  case_read(bad.c, "2027-03-04 08:00 0.19\n2027-03-05 07:00 0.18\n");
  ck_assert(g_file_get_contents(bad.c->file, &bad.bytes, &bad.n, NULL));
  const char *at = memmem(bad.bytes, bad.n, "heater hums", strlen("heater hums"));
  ck_assert_ptr_nonnull(at);
  memset(bad.bytes + (at - bad.bytes) / PAGE * PAGE, 0x55, 64);
  ck_assert(g_file_set_contents(bad.c->file, bad.bytes, (gssize)bad.n, NULL));
  return bad;
}

static void
stays_as_it_was(Bad *bad)
{
  g_autofree char *now = NULL;
  gsize n;
  ck_assert(g_file_get_contents(bad->c->file, &now, &n, NULL));
  ck_assert_uint_eq(n, bad->n);
  ck_assert(memcmp(now, bad->bytes, n) == 0);
}

static void
bad_free(Bad *bad)
{
  g_free(bad->bytes);
  ctl_free(bad->c);
}

static char *
salvaged_of(const Bad *bad, const char *ending)
{
  return g_strconcat(bad->c->file, ".salvaged.lazaret", ending, NULL);
}

static gboolean
in_front(Stage *s, gpointer data)
{
  return stage_is_in_front(s);
}

START_TEST(looked_at_and_left)
{
  Bad bad = damaged_station();
  g_autofree char *made = salvaged_of(&bad, "");
  Stage *s = stage_start(bad.c, CLOCK, NULL);
  stage_wait(s, "This station's file is damaged");
  stage_wait(s, "It stays as it is.");
  stage_keys(s, "Escape");
  stage_wait_gone(s, "This station's file is damaged");
  stage_wait(s, "is damaged"); // the bar goes on saying why nothing is open
  stays_as_it_was(&bad);
  ck_assert(!g_file_test(made, G_FILE_TEST_EXISTS));
  stage_until(s, "the window in front again", in_front, NULL);
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_end(s);
  bad_free(&bad);
}
END_TEST

// What was on the bad page is listed; the readings are there, and the next one is recorded.
START_TEST(salvaged_into_a_new_file)
{
  Bad bad = damaged_station();
  g_autofree char *made = salvaged_of(&bad, ""), *listed = salvaged_of(&bad, ".txt");
  g_autofree char *list = NULL;
  Stage *s = stage_start(bad.c, CLOCK, NULL);
  stage_wait(s, "This station's file is damaged");
  stage_keys(s, "alt+s");
  stage_wait(s, "1 are left out and listed in");
  stays_as_it_was(&bad);
  ck_assert(g_file_get_contents(listed, &list, NULL, NULL));
  ck_assert_ptr_nonnull(strstr(list, "lost: it cannot be read"));
  g_free(bad.c->file);
  bad.c->file = g_strdup(made);
  g_autoptr(Table) kept = stage_rows(s, "readings", 2);
  ck_assert_double_eq(journey_number(kept, 1, "value"), 0.18);
  g_autofree char *proof = ctl(bad.c, 0, "verify");
  ck_assert_ptr_nonnull(strstr(proof, "verify."));
  stage_end(s);
  bad_free(&bad);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {looked_at_and_left, salvaged_into_a_new_file, NULL};
  return journey_run("journey: damaged", tests);
}
