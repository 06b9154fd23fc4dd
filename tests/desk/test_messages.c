// SPDX-License-Identifier: GPL-3.0-or-later
// Every status of the store has its sentence in docs/messages.md, word for word; real faults give
// that sentence; tables that are none are refused with line and reason, and nothing is written.
#include "catalogue.h"
#include "lab.h"

#include <errno.h>
#include <gio/gunixinputstream.h>
#include <glib/gstdio.h>
#include <lz_protocol_file.h>
#include <lz_tables.h>
#include <lzs_store.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "lz_desk_private.h"

static Lab lab;

static void
setup(void)
{
  lab_open(&lab, "2027-03-14 08:00");
  lab_station(&lab);
}

static void
teardown(void)
{
  lab_close(&lab);
}

START_TEST(every_status_has_its_sentence)
{
  lzs_error failure = {
      .status = (lzs_status)_i, .field = "volume_l", .value = "-1", .detail = "why"};
  g_autoptr(GError) error = NULL;
  lz_file_store_error("/quay.lazaret", &failure, &error);
  ck_catalogue(lzs_status_name((lzs_status)_i), error->message);
  if (_i == LZS_CORRUPT) {
    failure.entry = INT64_C(5000000000);
    g_clear_error(&error);
    lz_file_store_error("/quay.lazaret", &failure, &error);
    ck_catalogue("corrupt", error->message);
    ck_assert_ptr_nonnull(strstr(error->message, "5000000000"));
  }
}
END_TEST

START_TEST(a_held_file_keeps_what_was_typed)
{
  ck_assert(lz_desk_set_draft(lab.desk, "reading", "0,48", NULL));
  g_autofree char *typed = lz_desk_draft(lab.desk, "reading", NULL);
  ck_assert_str_eq(typed, "0,48");
  lab_reopen(&lab);
  g_autofree char *again = lz_desk_draft(lab.desk, "reading", NULL);
  ck_assert_str_eq(again, "0,48");
}
END_TEST

static const struct {
  const char *csv;
  gssize n; // -1 = up to the NUL
  guint line;
  const char *what;
} tables[] = {
    {"\xff\xfew\0o\0r\0d\0s\0", 12, 1, "UTF-16"},
    {"words\r\nfine\r\ngr\xfc\xdf\r\n", -1, 3, "another encoding"},
    {"words\r\nab\0c\r\n", 13, 2, "a NUL byte"},
    {"words\r\nfed\r\ncop\xe2\x80\xaeper\r\n", -1, 3, "marks that turn"},
    {"happened;words\r\n2027-03-14 07:00;fed\r\n", -1, 1, "semicolons"},
    {"happened\twords\r\n2027-03-14 07:00\tfed\r\n", -1, 1, "tabs"},
    {"words\r\n\"fed\r\n", -1, 3, "a quote left open"},
    {"happened,words\r\n2027-03-14 07:00\r\n", -1, 2, "more or fewer cells"},
    {"words,words\r\nfed,fed\r\n", -1, 1, "a column twice"},
    {"wards\r\nfed\r\n", -1, 1, "an unknown column"},
};

START_TEST(tables_that_are_none)
{
  gsize n = tables[_i].n < 0 ? strlen(tables[_i].csv) : (gsize)tables[_i].n;
  g_autoptr(GInputStream) in = g_memory_input_stream_new_from_data(tables[_i].csv, (gssize)n, NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) before = lz_desk_entries(lab.desk, NULL, 0, 0, NULL);
  LzImport done = {0};
  ck_assert(!lz_table_import(lab.desk, "note", in, FALSE, &done, &error));
  g_autofree char *place = g_strdup_printf("line %u: ", tables[_i].line);
  ck_assert_msg(g_str_has_prefix(error->message, place), "%s", error->message);
  ck_catalogue(tables[_i].what, error->message + strlen(place));
  g_autoptr(GPtrArray) after = lz_desk_entries(lab.desk, NULL, 0, 0, NULL);
  ck_assert_uint_eq(before->len, after->len);
}
END_TEST

#define SOME "[protocol]\nname=House\n"
static const struct {
  const char *text;
  gssize n; // -1 = up to the NUL
  const char *place, *what;
} protocols[] = {
    {"\xfe\xff\0[\0p", 6, "any: line 1: ", "UTF-16"},
    {SOME "caution=gr\xfc\xdf\n", -1, "any: line 3: ", "another encoding"},
    {SOME "[ph\0se 1]\n", 36, "any: line 3: ", "a NUL byte"},
    {SOME "caution=cop\xe2\x80\xaeper\n", -1, "any: line 3: ", "marks that turn"},
    {SOME "caution=a\\qb\n", -1, "any: [protocol] caution: ", "a backslash"},
    {SOME "colour=blue\n", -1, "any: [protocol] colour: ", "an unknown field"},
    {SOME "[phase 2]\nname=Hold\n", -1, "any: [phase 2]: ", "phases out of order"},
    {SOME "[phase]\nname=Hold\n", -1, "any: [phase]: ", "an unknown group"},
    {SOME "[phase 1 band 1]\nanalyte=copper\n", -1, "any: [phase 1 band 1]: ", "a band first"},
    {"[protocol]\nversion=1\n", -1, "any: [protocol] name: ", "a needed field that is missing"},
    {"[phase 1]\nname=Hold\n", -1, "any: [protocol]: ", "a missing group"},
    {SOME, -1, "any: [phase 1]: ", "a missing group"},
};

START_TEST(protocol_files_that_are_none)
{
  gsize n = protocols[_i].n < 0 ? strlen(protocols[_i].text) : (gsize)protocols[_i].n;
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) all = lz_protocol_parse(protocols[_i].text, n, "any", &error);
  ck_assert_ptr_null(all);
  ck_assert_msg(g_str_has_prefix(error->message, protocols[_i].place), "%s", error->message);
  ck_catalogue(protocols[_i].what, error->message + strlen(protocols[_i].place));
}
END_TEST

// A byte-order mark is no part of the first group's name.
START_TEST(a_protocol_file_with_a_mark)
{
  g_autoptr(GError) error = NULL;
  static const char text[] = "\xef\xbb\xbf" SOME "[phase 1]\nname=Hold\n";
  g_autoptr(GPtrArray) all = lz_protocol_parse(text, strlen(text), "any", &error);
  ck_assert_msg(all && all->len == 2, "%s", error ? error->message : "");
}
END_TEST

// Rows that read well but cannot be: each refused with line and value, all of the table or nothing,
// dry run and real alike.
static const struct {
  const char *kind, *csv, *says[3];
} rows[] = {
    {"note", "happened,words\r\n2027-02-30 08:00,fed\r\n", {"line 2", "2027-02-30"}},
    {"note", "happened,words\r\n2027-03-13 25:00,fed\r\n", {"line 2", "25:00"}},
    {"reading", "system,analyte,value\r\nNowhere,copper,0.4\r\n", {"line 2", "Nowhere"}},
    {"reading", "system,analyte,value\r\nSump,0.4,copper\r\n", {"line 2", "0.4"}},
    {"reading", "system,analyte,value\r\nSump,copper,=1+1\r\n", {"line 2", "=1+1"}},
    {"reading", "system,analyte,value\r\nSump,copper,1e999\r\n", {"line 2", "1e999"}},
    {"reading", "system,analyte,value\r\nSump,copper,nan\r\n", {"line 2", "nan"}},
    {"system", "name,volume_l,role\r\nA,100,treatment\r\na,100,treatment\r\n", {"line 3", "a"}},
    {"system",
     "name,volume_l,role\r\nA'; DROP TABLE entry; --,1,cleaning\r\n",
     {"line 2", "cleaning"}},
};

START_TEST(rows_that_cannot_be)
{
  lab_say(&lab, "system", NULL, "name", "Sump", "volume_l", "500", "role", "treatment", NULL);
  for (int dry = 0; dry < 2; dry++) {
    g_autoptr(GInputStream) in = g_memory_input_stream_new_from_data(rows[_i].csv, -1, NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(GPtrArray) before = lz_desk_entries(lab.desk, NULL, 0, 0, NULL);
    LzImport done = {0};
    ck_assert_msg(!lz_table_import(lab.desk, rows[_i].kind, in, dry, &done, &error), "%s",
                  rows[_i].csv);
    for (int k = 0; k < 3 && rows[_i].says[k]; k++)
      ck_assert_msg(strstr(error->message, rows[_i].says[k]) != NULL, "%s: %s", rows[_i].says[k],
                    error->message);
    g_autoptr(GPtrArray) after = lz_desk_entries(lab.desk, NULL, 0, 0, NULL);
    ck_assert_uint_eq(before->len, after->len);
  }
}
END_TEST

static gboolean
is_tried(const char *row)
{
  static const char *const others[] = {"a row exported from this very file", "more than 512 MiB",
                                       "a ledger of more than 512 MiB", NULL};
  for (guint i = 0; i < G_N_ELEMENTS(tables); i++)
    if (strstr(row, tables[i].what))
      return TRUE;
  for (guint i = 0; i < G_N_ELEMENTS(protocols); i++)
    if (strstr(row, protocols[i].what))
      return TRUE;
  return g_strv_contains(others, row);
}

// A sentence that nothing makes is taken out of the catalogue, or its fault made to happen here.
START_TEST(every_row_of_the_catalogue_is_tried)
{
  static const char *const headings[] = {"Tables", "Protocol files"};
  g_auto(GStrv) all = catalogue_rows(headings[_i]);
  for (char **row = all; *row; row++)
    ck_assert_msg(is_tried(*row), "%s", *row);
}
END_TEST

static gboolean
take(const char *kind, const char *csv, LzImport *done, GError **error)
{
  g_autoptr(GInputStream) in = g_memory_input_stream_new_from_data(csv, -1, NULL);
  return lz_table_import(lab.desk, kind, in, FALSE, done, error);
}

// Somebody mends a table once, not row by row; beyond twenty, a number is enough.
START_TEST(every_wrong_row_is_said)
{
  g_autoptr(GString) csv = g_string_new("system,analyte,value\r\n");
  g_autoptr(GError) error = NULL, cells = NULL;
  LzImport done = {0};
  lab_say(&lab, "system", NULL, "name", "Sump", "volume_l", "500", "role", "treatment", NULL);
  for (int i = 0; i < 50; i++)
    g_string_append(csv, i % 2 ? "Sump,copper,0.2\r\n" : "Sump,copper,x\r\n");
  ck_assert(!take("reading", csv->str, &done, &error));
  g_auto(GStrv) said = g_strsplit(error->message, "\n", -1);
  ck_assert_uint_eq(g_strv_length(said), 21);
  for (int i = 0; i < 20; i++) {
    g_autofree char *place = g_strdup_printf("line %d: value: “x”", 2 + 2 * i);
    ck_assert_msg(g_str_has_prefix(said[i], place), "%s", said[i]);
  }
  ck_assert_str_eq(said[20], "and 5 more lines");
  ck_assert(!take("note", "words\r\na,b\r\nfed\r\na,b\r\n", &done, &cells));
  ck_assert_msg(strstr(cells->message, "line 2: ") && strstr(cells->message, "\nline 4: "), "%s",
                cells->message);
  g_autoptr(GPtrArray) after = lz_desk_entries(lab.desk, "reading", 0, 0, NULL);
  ck_assert_uint_eq(after->len, 0);
}
END_TEST

START_TEST(an_export_does_not_come_in_twice)
{
  g_autoptr(GOutputStream) out = g_memory_output_stream_new_resizable();
  g_autoptr(GError) error = NULL;
  LzImport done = {0};
  lab_say(&lab, "note", NULL, "words", "fed", NULL);
  ck_assert(lz_table_export(lab.desk, "note", out, NULL));
  ck_assert(g_output_stream_write_all(out, "", 1, NULL, NULL, NULL));
  const char *csv = g_memory_output_stream_get_data(G_MEMORY_OUTPUT_STREAM(out));
  ck_assert(!take("note", csv, &done, &error));
  ck_assert_ptr_nonnull(strstr(error->message, "line 2: "));
  ck_catalogue("exported from this very file", error->message + strlen("line 2: "));
}
END_TEST

// Not read to its end: a sparse file of 5 GiB takes no time.
START_TEST(a_table_of_five_gib)
{
  g_autofree char *path = g_build_filename(lab.folder, "big.csv", NULL);
  ck_assert(g_file_set_contents(path, "words\r\n", -1, NULL));
  ck_assert_int_eq(truncate(path, (off_t)5 << 30), 0);
  g_autoptr(GFile) file = g_file_new_for_path(path);
  g_autoptr(GFileInputStream) in = g_file_read(file, NULL, NULL);
  g_autoptr(GError) error = NULL;
  LzImport done = {0};
  ck_assert(!lz_table_import(lab.desk, _i ? "entries" : "note", G_INPUT_STREAM(in), FALSE, &done,
                             &error));
  ck_catalogue(_i ? "a ledger of more than 512 MiB" : "more than 512 MiB", error->message);
  ck_assert_int_eq(g_seekable_tell(G_SEEKABLE(in)), 0);
  unlink(path);
}
END_TEST

// Writes a table until nobody reads it any more, 5 GiB at most; never returns.
static void
write_without_end(int end)
{
  static char part[65536];
  signal(SIGPIPE, SIG_IGN);
  memset(part, 'a', sizeof part);
  for (gsize i = 79; i < sizeof part; i += 80)
    part[i] = '\n';
  memcpy(part, "words\n", 6);
  for (int64_t written = 0; written < (int64_t)5 << 30;) {
    const gssize n = write(end, part, sizeof part);
    if (n <= 0)
      _exit(errno == EPIPE ? 7 : 1);
    written += n;
  }
  _exit(0);
}

// A pipe has no length: it is read to the limit and left. Nothing is written, and the next goes in.
START_TEST(a_pipe_of_five_gib)
{
  int ends[2], status = 0;
  g_autoptr(GError) error = NULL;
  LzImport done = {0};
  fflush(NULL);
  ck_assert_int_eq(pipe(ends), 0);
  const pid_t child = fork();
  if (child == 0) {
    close(ends[0]);
    write_without_end(ends[1]);
  }
  close(ends[1]);
  g_autoptr(GInputStream) in = g_unix_input_stream_new(ends[0], FALSE);
  ck_assert(!lz_table_import(lab.desk, "note", in, FALSE, &done, &error));
  ck_catalogue("more than 512 MiB", error->message);
  close(ends[0]);
  ck_assert_int_eq(waitpid(child, &status, 0), child);
  ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 7);
  g_autoptr(GPtrArray) all = lz_desk_entries(lab.desk, "note", 0, 0, NULL);
  ck_assert_uint_eq(all->len, 0);
  lab_say(&lab, "note", NULL, "words", "fed", NULL);
}
END_TEST

// Names that would be commands elsewhere are names here, in the ledger and in file names.
static const char *const sharp[] = {
    "'; DROP TABLE entry; --", "\" OR 1=1", "../../etc/passwd", "%s%n%d", "$(touch x)",
    "Robert\\'); --"};

START_TEST(injection_is_text)
{
  int64_t id = lab_say(&lab, "system", NULL, "name", sharp[_i], "volume_l", "500", "role",
                       "treatment", NULL);
  ck_assert_str_eq(lz_desk_name_of(lab.desk, "system", id), sharp[_i]);
  ck_assert_int_eq(lz_desk_find(lab.desk, "system", sharp[_i]), id);
  LzVerify v;
  ck_assert(lz_desk_verify(lab.desk, &v, NULL));
  ck_assert(lz_desk_set_draft(lab.desk, sharp[_i], sharp[_i], NULL));
  g_autofree char *draft = lz_desk_draft(lab.desk, sharp[_i], NULL);
  ck_assert_str_eq(draft, sharp[_i]);
}
END_TEST

START_TEST(files_are_for_their_owner)
{
  static const char *const names[] = {"", "-wal", "-shm"};
  for (int i = 0; i < 3; i++) {
    g_autofree char *name = g_strconcat(lab.path, names[i], NULL);
    struct stat st;
    if (stat(name, &st) == 0)
      ck_assert_msg((st.st_mode & 0077) == 0, "%s: %o", name, st.st_mode & 0777);
    else
      ck_assert_int_ne(i, 0);
  }
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("desk messages");
  TCase *t = tcase_create("messages");
  tcase_set_timeout(t, 100);
  tcase_add_checked_fixture(t, setup, teardown);
  tcase_add_loop_test(t, every_status_has_its_sentence, LZS_NO_MEMORY, LZS_INTERNAL + 1);
  tcase_add_test(t, a_held_file_keeps_what_was_typed);
  tcase_add_loop_test(t, tables_that_are_none, 0, G_N_ELEMENTS(tables));
  tcase_add_loop_test(t, protocol_files_that_are_none, 0, G_N_ELEMENTS(protocols));
  tcase_add_test(t, a_protocol_file_with_a_mark);
  tcase_add_loop_test(t, rows_that_cannot_be, 0, G_N_ELEMENTS(rows));
  tcase_add_loop_test(t, every_row_of_the_catalogue_is_tried, 0, 2);
  tcase_add_test(t, every_wrong_row_is_said);
  tcase_add_test(t, an_export_does_not_come_in_twice);
  tcase_add_loop_test(t, a_table_of_five_gib, 0, 2);
  tcase_add_test(t, a_pipe_of_five_gib);
  tcase_add_loop_test(t, injection_is_text, 0, G_N_ELEMENTS(sharp));
  tcase_add_test(t, files_are_for_their_owner);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return lab_run(suite());
}
