// SPDX-License-Identifier: GPL-3.0-or-later
// From the window to paper: the page of printing, its preview, a PDF, and the printer's own dialog,
// on A4 and on Letter, read back.
#include <glib/gstdio.h>
#include <string.h>

#include "journey.h"

typedef struct {
  const char *path;
  const char *words[4]; // in the text of the page
  const char *size;     // as pdfinfo says it
} Wanted;

static char *
tool(const char *name, const char *option, const char *path, const char *out_option)
{
  const char *argv[] = {name, option, path, out_option, NULL};
  char *out = NULL;
  g_autofree char *err = NULL;
  ck_assert(g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, &err,
                         NULL, NULL));
  return out;
}

static gboolean
is_whole(Stage *stage, gpointer data)
{
  const Wanted *wanted = data;
  g_autofree char *text = tool("pdftotext", "-layout", wanted->path, "-");
  g_autofree char *info = tool("pdfinfo", "-box", wanted->path, NULL);
  for (guint i = 0; i < G_N_ELEMENTS(wanted->words) && wanted->words[i]; i++)
    if (!strstr(text, wanted->words[i]))
      return FALSE;
  return strstr(info, wanted->size) != NULL;
}

static Stage *
open_at_the_sheet(Ctl *c)
{
  case_read(c, "2027-03-04 08:00 0.19\n2027-03-05 07:00 0.19\n");
  return stage_start(c, "2027-03-05T07:40+01:00", NULL);
}

START_TEST(test_handover_as_pdf)
{
  Ctl *c = case_ionic("pause", "metal");
  Stage *s = open_at_the_sheet(c);
  g_autofree char *path = g_build_filename(c->folder, "shift.pdf", NULL);
  Wanted wanted = {path, {"Shift handover", "Blue-1", "0.190", "page 1 of 1"}, "A4"};
  stage_keys(s, "ctrl+shift+p");
  stage_wait(s, "Save as PDF");
  stage_keys(s, "ctrl+a");
  stage_type(s, path);
  stage_keys(s, "Return");
  stage_until(s, "a handover in shift.pdf", is_whole, &wanted);
  stage_wait(s, "Saved");
  stage_end(s);
  ctl_free(c);
}
END_TEST

// The printed handover is read back in one step: its number goes into the ledger by itself.
START_TEST(test_handover_read_back)
{
  Ctl *c = case_ionic("pause", "metal");
  case_read(c, "2027-03-04 08:00 0.19\n2027-03-05 07:00 0.19\n");
  g_free(ctl(c, 0, "record person --who MK name='Timo Arp' initials=TA role=keeper"));
  g_free(ctl(c, 0, "record handover --who MK --happened '2027-03-04 18:00' to=TA sheet=41"));
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  stage_keys(s, "ctrl+u");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Initials");
  stage_type(s, "mk");
  stage_wait(s, "MK Mira Kessel");
  g_autofree char *path = g_build_filename(c->folder, "shift.pdf", NULL);
  Wanted wanted = {path, {"Shift handover", "sheet 0042", "page 1 of 1"}, "A4"};
  stage_keys(s, "ctrl+shift+p");
  stage_wait(s, "Save as PDF");
  stage_keys(s, "ctrl+a");
  stage_type(s, path);
  stage_keys(s, "Return");
  stage_until(s, "a numbered handover in shift.pdf", is_whole, &wanted);
  stage_wait(s, "Saved");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "Read it back…");
  stage_keys(s, "Return");
  stage_wait(s, "Read back and taken over by");
  for (int i = 0; i < 30; i++) {
    if (stage_has_focus(s, ATSPI_ROLE_TEXT, "Initials of who takes over"))
      break;
    stage_keys(s, "Return");
  }
  stage_type(s, "TA");
  stage_keys(s, "Return");
  g_autoptr(Table) handovers = stage_rows(s, "handovers", 2);
  ck_assert_str_eq(table_cell(handovers, 1, "who"), "MK");
  ck_assert_str_eq(table_cell(handovers, 1, "to"), "TA");
  ck_assert_str_eq(table_cell(handovers, 1, "sheet"), "42");
  stage_end(s);
  ctl_free(c);
}
END_TEST

// Printed from the page of the first lot, the record is that lot's, not the newest lot's.
START_TEST(test_record_of_the_lot_on_screen)
{
  Ctl *c = case_ionic("pause", "metal");
  g_free(ctl(c, 0, "record lot --happened '2027-03-03 09:00' code=0499 tank=Blue-1/1 heads=3"));
  Stage *s = open_at_the_sheet(c);
  stage_keys(s, "F4");
  stage_wait(s, "0499");
  stage_keys(s, "ctrl+p");
  stage_wait(s, "Preview: Treatment record");
  g_autofree char *path = g_build_filename(c->folder, "this.pdf", NULL);
  Wanted wanted = {path, {"Treatment record, lot 0412"}, "A4"};
  stage_keys(s, "ctrl+shift+p");
  stage_wait(s, "Save as PDF");
  stage_keys(s, "ctrl+a");
  stage_type(s, path);
  stage_keys(s, "Return");
  stage_until(s, "the record of lot 0412", is_whole, &wanted);
  stage_end(s);
  ctl_free(c);
}
END_TEST

// Ctrl P, another sheet by the arrow, Letter by its first letter, a file: no pointer is needed.
START_TEST(test_lot_record_on_letter)
{
  Ctl *c = case_ionic("pause", "metal");
  Stage *s = open_at_the_sheet(c);
  g_autofree char *path = g_build_filename(c->folder, "lot.pdf", NULL);
  Wanted wanted = {path, {"Treatment record", "0.190", "page 1 of"}, "612 x 792"};
  stage_keys(s, "ctrl+p");
  stage_wait(s, "Preview: Shift handover, page 1 of 1");
  stage_keys(s, "Down");
  stage_wait(s, "Preview: Treatment record, page 1");
  stage_keys(s, "Tab Tab l");
  stage_keys(s, "ctrl+shift+p");
  stage_wait(s, "Save as PDF");
  stage_keys(s, "ctrl+a");
  stage_type(s, path);
  stage_keys(s, "Return");
  stage_until(s, "a lot record in lot.pdf", is_whole, &wanted);
  stage_keys(s, "Escape");
  stage_wait_gone(s, "Preview: Treatment record");
  stage_end(s);
  ctl_free(c);
}
END_TEST

// A tank card for each lot of the system, and a second language beside the first.
START_TEST(test_cards_in_two_languages)
{
  Ctl *c = case_ionic("pause", "metal");
  Stage *s = open_at_the_sheet(c);
  g_autofree char *path = g_build_filename(c->folder, "cards.pdf", NULL);
  Wanted wanted = {path, {"DO NOT MOVE", "NICHT UMSETZEN", "Blue-1"}, "297.638 x 419.528"};
  stage_keys(s, "ctrl+p");
  stage_wait(s, "Preview: Shift handover");
  stage_keys(s, "Down Down");
  stage_wait(s, "Preview: Tank cards, page 1");
  stage_keys(s, "Tab Tab Tab d");
  stage_keys(s, "ctrl+shift+p");
  stage_wait(s, "Save as PDF");
  stage_keys(s, "ctrl+a");
  stage_type(s, path);
  stage_keys(s, "Return");
  stage_until(s, "cards in cards.pdf", is_whole, &wanted);
  stage_end(s);
  ctl_free(c);
}
END_TEST

// A card for each lot of the water in one go: by keys the pages are turned, by the pointer they are
// turned back and saved; what is printed are the pages that were seen.
START_TEST(test_all_cards_of_a_system)
{
  Ctl *c = case_ionic("pause", "metal");
  for (int i = 3; i <= 4; i++)
    g_free(ctl(c, 0, "record lot --happened '2027-03-04 09:0%d' code=041%d tank=Blue-1/1 heads=%d",
               i, i, i));
  Stage *s = open_at_the_sheet(c);
  g_autofree char *path = g_build_filename(c->folder, "cards.pdf", NULL);
  Wanted wanted = {path, {"0412", "0413", "0414", "3/3"}, "297.638 x 419.528"};
  stage_keys(s, "ctrl+p");
  stage_wait(s, "Preview: Shift handover");
  stage_keys(s, "Down Down");
  stage_wait(s, "Preview: Tank cards, page 1 of 3");
  stage_keys(s, "Next Next");
  stage_wait(s, "Preview: Tank cards, page 3 of 3");
  stage_click(s, ATSPI_ROLE_PUSH_BUTTON, "Page before");
  stage_wait(s, "Preview: Tank cards, page 2 of 3");
  stage_click(s, ATSPI_ROLE_PUSH_BUTTON, "Page after");
  stage_wait(s, "Preview: Tank cards, page 3 of 3");
  stage_click(s, ATSPI_ROLE_PUSH_BUTTON, "Save as PDF");
  stage_wait(s, "Save as PDF");
  stage_keys(s, "ctrl+a");
  stage_type(s, path);
  stage_keys(s, "Return");
  stage_until(s, "three cards in cards.pdf", is_whole, &wanted);
  stage_end(s);
  ctl_free(c);
}
END_TEST

// The number of a sheet that was given already makes a reprint of it, which says what came since.
START_TEST(test_reprint_says_so)
{
  Ctl *c = case_ionic("pause", "metal");
  case_read(c, "2027-03-04 08:00 0.19\n");
  g_free(ctl(c, 0, "record handover --who MK --happened '2027-03-04 18:00' sheet=41"));
  case_read(c, "2027-03-05 07:00 0.191\n");
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  g_autofree char *path = g_build_filename(c->folder, "again.pdf", NULL);
  Wanted wanted = {path, {"Reprint. 1 entry since", "0.191 mg/L", "sheet 0041"}, "A4"};
  stage_keys(s, "ctrl+p");
  stage_wait(s, "Preview: Shift handover, page 1 of 1");
  stage_keys(s, "Tab ctrl+a");
  stage_type(s, "41");
  stage_keys(s, "ctrl+shift+p");
  stage_wait(s, "Save as PDF");
  stage_keys(s, "ctrl+a");
  stage_type(s, path);
  stage_keys(s, "Return");
  stage_until(s, "a reprint in again.pdf", is_whole, &wanted);
  stage_end(s);
  ctl_free(c);
}
END_TEST

// What a customer carries on at home, by a protocol of the station; one that is not for a
// customer's tank says so where the page would be.
START_TEST(test_course_for_a_customer)
{
  Ctl *c = case_ionic("pause", "metal");
  g_free(ctl(c, 0, "protocol --who MK flukes"));
  Stage *s = open_at_the_sheet(c);
  g_autofree char *path = g_build_filename(c->folder, "home.pdf", NULL);
  Wanted wanted = {path, {"Plan for your tank", "Flukes", "praziquantel"}, "A4"};
  stage_keys(s, "ctrl+p");
  stage_wait(s, "Preview: Shift handover");
  stage_keys(s, "p");
  stage_wait(s, "Course that the customer carries on");
  stage_keys(s, "Tab f Tab");
  stage_type(s, "200");
  stage_wait(s, "Preview: Plan for your tank, page 1");
  stage_keys(s, "ctrl+shift+p");
  stage_wait(s, "Save as PDF");
  stage_keys(s, "ctrl+a");
  stage_type(s, path);
  stage_keys(s, "Return");
  stage_until(s, "the flukes course in home.pdf", is_whole, &wanted);
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {
      test_handover_as_pdf,      test_handover_read_back,     test_record_of_the_lot_on_screen,
      test_lot_record_on_letter, test_cards_in_two_languages, test_all_cards_of_a_system,
      test_reprint_says_so,      test_course_for_a_customer,  NULL};
  return journey_run("journey: paper", tests);
}
