// SPDX-License-Identifier: GPL-3.0-or-later
// Paper: sizes of the standards, flow over pages, equal bytes, text read back in order.
#include <unistd.h>

#include "picture.h"
#include "scene.h"

static char folder[] = "/tmp/lzd-page-XXXXXX";
static char path_a[64], path_b[64];

static void
setup(void)
{
  strcpy(folder, "/tmp/lzd-page-XXXXXX");
  ck_assert_ptr_nonnull(mkdtemp(folder));
  snprintf(path_a, sizeof path_a, "%s/a.pdf", folder);
  snprintf(path_b, sizeof path_b, "%s/b.pdf", folder);
}

static void
teardown(void)
{
  unlink(path_a);
  unlink(path_b);
  ck_assert_int_eq(rmdir(folder), 0); // no half file was left behind
}

static char *
read_all(FILE *file, size_t *n)
{
  size_t room = 1 << 22;
  char *text = calloc(1, room + 1);
  *n = fread(text, 1, room, file);
  return text;
}

static const lzd_meta meta = {
    .title = "Handover", .author = "Quay Street", .created = "2027-03-09T17:32:00Z"};

// ISO 216 and ANSI/ASME Y14.1, to a hundredth of a millimetre.
START_TEST(papers_have_their_standard_sizes)
{
  static const double mm[LZD_PAPERS][2] = {{210, 297}, {215.9, 279.4}, {105, 148}};
  for (int p = 0; p < LZD_PAPERS; p++) {
    double w, h;
    lzd_paper_size((lzd_paper)p, &w, &h);
    ck_assert_double_eq_tol(w * 25.4 / 72, mm[p][0], 0.01);
    ck_assert_double_eq_tol(h * 25.4 / 72, mm[p][1], 0.01);
  }
}
END_TEST

START_TEST(equal_sheets_are_equal_bytes)
{
  const char *paths[2] = {path_a, path_b};
  char *bytes[2];
  size_t n[2];
  for (int i = 0; i < 2; i++) {
    lzd_sheet *sheet;
    lzd_fault fault = {0};
    ck_assert_int_eq(scene_sheet(&sheet, LZD_A4, &fault), LZD_OK);
    ck_assert_int_eq(lzd_sheet_write_pdf(sheet, paths[i], &meta, &fault), LZD_OK);
    lzd_sheet_free(sheet);
    FILE *file = fopen(paths[i], "rb");
    bytes[i] = read_all(file, &n[i]);
    fclose(file);
    if (i == 0)
      sleep(1); // the clock must not come in
  }
  ck_assert_uint_gt(n[0], 5000);
  ck_assert_uint_eq(n[0], n[1]);
  ck_assert_int_eq(memcmp(bytes[0], bytes[1], n[0]), 0);
  free(bytes[0]);
  free(bytes[1]);
}
END_TEST

START_TEST(a_pdf_reads_back_in_order)
{
  static const char *const words[] = {"Handover, day to evening",
                                      "page 1 of 1",
                                      "Out of range now",
                                      "Dock-1 ammonia 0.6 mg/L, high.",
                                      "Water under treatment",
                                      "Blue-1",
                                      "68.4 mL, MK",
                                      "Blue-2",
                                      "32.2 mL, TA",
                                      "Lot 0412",
                                      "0412",
                                      "Nothing in or out of Blue-2",
                                      "Not started: yours now",
                                      "Coral-3",
                                      "By pen",
                                      "Given, read aloud",
                                      "Local rules and a veterinarian"};
  if (system("command -v pdftotext >/dev/null") != 0)
    return; // poppler-utils are not on this machine: nothing can be read back
  lzd_sheet *sheet;
  char command[128];
  size_t n;
  ck_assert_int_eq(scene_sheet(&sheet, LZD_A4, NULL), LZD_OK);
  ck_assert_int_eq(lzd_sheet_write_pdf(sheet, path_a, &meta, NULL), LZD_OK);
  lzd_sheet_free(sheet);
  snprintf(command, sizeof command, "pdftotext -layout %s -", path_a);
  FILE *pipe = popen(command, "r");
  ck_assert_ptr_nonnull(pipe);
  char *text = read_all(pipe, &n), *at = text;
  pclose(pipe);
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
    char *found = strstr(at, words[i]);
    ck_assert_msg(found, "\"%s\" is missing, or not after \"%s\"", words[i], i ? words[i - 1] : "");
    at = found;
  }
  free(text);
}
END_TEST

static void
many_rows(lzd_sheet *sheet, int rows)
{
  lzd_column columns[2] = {{"when", 100, LZD_START}, {"what", 0, LZD_START}};
  lzd_sheet_table(sheet, columns, 2, true);
  for (int i = 0; i < rows; i++)
    lzd_sheet_row(sheet, (lzd_cell[]){{.text = "Tue 09:00"}, {.text = "a reading"}}, 2);
  lzd_sheet_end_table(sheet);
}

// Ink where a table's head stands on a page.
static int
page_ink(lzd_sheet *sheet, size_t page, int y0, int y1)
{
  double w, h;
  lzd_paper_size(lzd_sheet_paper(sheet), &w, &h);
  cairo_surface_t *s = picture_new((int)w + 1, (int)h + 1);
  cairo_t *cr = cairo_create(s);
  ck_assert_int_eq(lzd_sheet_draw(sheet, cr, page, NULL), LZD_OK);
  cairo_destroy(cr);
  int n = (int)w * (y1 - y0) - count_colour(s, 0xFFFFFF, 0, y0, (int)w, y1);
  cairo_surface_destroy(s);
  return n;
}

// A lot's code of one long word, in a column made for four digits: it stays one word, and its row
// is one line high, as is every other.
START_TEST(a_long_word_widens_its_column)
{
  static const lzd_column columns[] = {
      {"when", 90, LZD_START}, {"lot", 34, LZD_START}, {"species", 0, LZD_START}};
  int ink[2];
  for (int wide = 0; wide < 2; wide++) {
    lzd_sheet *sheet;
    size_t pages;
    ck_assert_int_eq(lzd_sheet_new(&sheet, LZD_A4, NULL, NULL), LZD_OK);
    lzd_sheet_table(sheet, columns, 3, false);
    const char *code = wide ? "Sammelsendung/0412" : "0412";
    lzd_sheet_row(sheet, (lzd_cell[]){{.text = "Tue 09:00"}, {.text = code}, {.text = "x"}}, 3);
    lzd_sheet_end_table(sheet);
    ck_assert_int_eq(lzd_sheet_pages(sheet, &pages, NULL), LZD_OK);
    ink[wide] = page_ink(sheet, 0, 74, 200); // below the first row
    lzd_sheet_free(sheet);
  }
  ck_assert_int_eq(ink[0], 0);
  ck_assert_int_eq(ink[1], 0);
}
END_TEST

START_TEST(long_tables_go_on_and_repeat_their_head)
{
  lzd_sheet *sheet;
  size_t pages;
  ck_assert_int_eq(lzd_sheet_new(&sheet, LZD_LETTER, NULL, NULL), LZD_OK);
  many_rows(sheet, 120);
  ck_assert_int_eq(lzd_sheet_pages(sheet, &pages, NULL), LZD_OK);
  ck_assert_uint_eq(pages, 4); // 39 rows of 18.0 points and a head in 712 points
  int head = page_ink(sheet, 0, 40, 54);
  ck_assert_int_gt(head, 20);
  ck_assert_int_eq(page_ink(sheet, 1, 40, 54), head);
  ck_assert_int_eq(lzd_sheet_draw(sheet, NULL, pages, NULL), LZD_BAD_INPUT);
  lzd_sheet_free(sheet);
}
END_TEST

START_TEST(a_heading_is_never_the_last_of_its_page)
{
  int went_over = 0;
  for (int lines = 30; lines < 60; lines++) {
    lzd_sheet *sheet;
    size_t alone, pages;
    ck_assert_int_eq(lzd_sheet_new(&sheet, LZD_A4, NULL, NULL), LZD_OK);
    for (int i = 0; i < lines; i++)
      lzd_sheet_line(sheet, "x", false);
    ck_assert_int_eq(lzd_sheet_pages(sheet, &alone, NULL), LZD_OK);
    lzd_sheet_heading(sheet, NULL, "HHHHHHHH", NULL);
    lzd_sheet_line(sheet, "y", false);
    ck_assert_int_eq(lzd_sheet_pages(sheet, &pages, NULL), LZD_OK);
    if (alone == 1 && pages == 2) { // what went over begins with the heading and its rule
      ck_assert_int_gt(page_ink(sheet, 1, 40, 68), 100);
      went_over++;
    }
    lzd_sheet_free(sheet);
  }
  ck_assert_int_ge(went_over, 2); // both with room for the heading alone and without
}
END_TEST

START_TEST(the_foot_stays_at_the_foot)
{
  lzd_sheet *sheet;
  size_t pages;
  static const char *const labels[] = {"by"};
  ck_assert_int_eq(lzd_sheet_new(&sheet, LZD_A4, NULL, NULL), LZD_OK);
  lzd_sheet_line(sheet, "x", false);
  lzd_sheet_to_foot(sheet);
  lzd_sheet_sign(sheet, labels, 1, true);
  ck_assert_int_eq(lzd_sheet_pages(sheet, &pages, NULL), LZD_OK);
  ck_assert_uint_eq(pages, 1);
  ck_assert_int_gt(page_ink(sheet, 0, 770, 802), 100);
  ck_assert_int_eq(page_ink(sheet, 0, 300, 700), 0);
  lzd_sheet_free(sheet);
}
END_TEST

// However many lines precede it, the foot's page has one of them.
START_TEST(the_foot_never_stands_alone)
{
  static const char *const labels[] = {"by"};
  int went_over = 0;
  for (int lines = 40; lines < 64; lines++) {
    lzd_sheet *sheet;
    size_t pages;
    ck_assert_int_eq(lzd_sheet_new(&sheet, LZD_A4, NULL, NULL), LZD_OK);
    for (int i = 0; i < lines; i++)
      lzd_sheet_line(sheet, "HHHHHHHH", true);
    lzd_sheet_space(sheet, 6);
    lzd_sheet_to_foot(sheet);
    lzd_sheet_sign(sheet, labels, 1, true);
    ck_assert_int_eq(lzd_sheet_pages(sheet, &pages, NULL), LZD_OK);
    if (pages == 2) {
      ck_assert_int_gt(page_ink(sheet, 1, 30, 700), 50);
      went_over++;
    }
    lzd_sheet_free(sheet);
  }
  ck_assert_int_ge(went_over, 4); // with room for the lines alone, and without
}
END_TEST

START_TEST(what_is_wrong_comes_out_once_and_writes_nothing)
{
  lzd_sheet *sheet;
  size_t pages;
  lzd_fault fault = {0};
  ck_assert_int_eq(lzd_sheet_new(&sheet, LZD_A4, NULL, NULL), LZD_OK);
  lzd_sheet_row(sheet, (lzd_cell[]){{.text = "lost"}}, 1); // no table
  lzd_sheet_line(sheet, "ignored", false);
  ck_assert_int_eq(lzd_sheet_pages(sheet, &pages, &fault), LZD_BAD_INPUT);
  ck_assert_str_eq(fault.field, "cells");
  ck_assert_int_eq(lzd_sheet_write_pdf(sheet, path_a, &meta, &fault), LZD_BAD_INPUT);
  ck_assert_int_ne(access(path_a, F_OK), 0);
  lzd_sheet_free(sheet);
  ck_assert_int_eq(scene_sheet(&sheet, LZD_A4, NULL), LZD_OK);
  ck_assert_int_eq(lzd_sheet_write_pdf(sheet, "/nowhere/at/all.pdf", &meta, &fault), LZD_NO_OUTPUT);
  lzd_sheet_free(sheet);
}
END_TEST

static void
draw_nothing(cairo_t *cr, const lzd_look *look, double w, double h, const void *data)
{
}

START_TEST(pictures_are_written_in_three_formats)
{
  static const char *const begin[] = {"\x89PNG", "<?xml", "%PDF"};
  lzd_look look = look_of(LZD_LIGHT);
  for (int f = LZD_PNG; f <= LZD_PDF; f++) {
    size_t n;
    ck_assert_int_eq(
        lzd_export(path_a, (lzd_format)f, 40, 30, 2, &look, draw_nothing, NULL, &meta, NULL),
        LZD_OK);
    FILE *file = fopen(path_a, "rb");
    char *bytes = read_all(file, &n);
    fclose(file);
    ck_assert_int_eq(memcmp(bytes, begin[f], 4), 0);
    free(bytes);
  }
  ck_assert_int_eq(lzd_export(path_b, LZD_PNG, 0, 30, 1, &look, draw_nothing, NULL, NULL, NULL),
                   LZD_BAD_INPUT);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("page");
  TCase *tc = tcase_create("paper");
  tcase_set_timeout(tc, 60);
  tcase_add_checked_fixture(tc, setup, teardown);
  tcase_add_test(tc, papers_have_their_standard_sizes);
  tcase_add_test(tc, equal_sheets_are_equal_bytes);
  tcase_add_test(tc, a_pdf_reads_back_in_order);
  tcase_add_test(tc, a_long_word_widens_its_column);
  tcase_add_test(tc, long_tables_go_on_and_repeat_their_head);
  tcase_add_test(tc, a_heading_is_never_the_last_of_its_page);
  tcase_add_test(tc, the_foot_stays_at_the_foot);
  tcase_add_test(tc, the_foot_never_stands_alone);
  tcase_add_test(tc, what_is_wrong_comes_out_once_and_writes_nothing);
  tcase_add_test(tc, pictures_are_written_in_three_formats);
  suite_add_tcase(suite, tc);
  return run_suite(suite);
}
