// SPDX-License-Identifier: GPL-3.0-or-later
// See ctl.h. Its own small CSV reader: the program's must not be its own witness.
#include "ctl.h"

#include <check.h>
#include <glib/gstdio.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>

Ctl *
ctl_new(void)
{
  Ctl *ctl = g_new0(Ctl, 1);
  ctl->folder = g_dir_make_tmp("lazaret-XXXXXX", NULL);
  ctl->file = g_build_filename(ctl->folder, "test.lazaret", NULL);
  g_setenv("XDG_DATA_HOME", ctl->folder, TRUE);
  return ctl;
}

void
ctl_free(Ctl *ctl)
{
  g_autofree char *command = g_strdup_printf("rm -rf '%s'", ctl->folder);
  ck_assert_int_eq(system(command), 0);
  g_free(ctl->folder);
  g_free(ctl->file);
  g_free(ctl);
}

static char *
run(Ctl *ctl, int expect, const char *words, bool notes)
{
  g_auto(GStrv) argv = NULL;
  g_autofree char *line = g_strdup_printf("%s '%s' %s", g_getenv("LAZARETCTL"), ctl->file, words);
  g_autofree char *out = NULL, *err = NULL;
  int wait_status = 0;
  ck_assert_msg(g_shell_parse_argv(line, NULL, &argv, NULL), "cannot parse %s", line);
  ck_assert(g_spawn_sync(ctl->folder, argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, &out, &err,
                         &wait_status, NULL));
  ck_assert_msg(WIFEXITED(wait_status), "%s: ended by a signal\n%s", words, err);
  ck_assert_msg(WEXITSTATUS(wait_status) == expect, "%s: status %d, expected %d\n%s%s", words,
                WEXITSTATUS(wait_status), expect, out, err);
  return expect == 0 && !notes ? g_steal_pointer(&out) : g_steal_pointer(&err);
}

char *
ctl(Ctl *c, int expect, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  g_autofree char *words = g_strdup_vprintf(format, args);
  va_end(args);
  return run(c, expect, words, false);
}

char *
ctl_notes(Ctl *c, const char *words)
{
  return run(c, 0, words, true);
}

void
ctl_import(Ctl *c, const char *table, const char *csv)
{
  g_autofree char *name = g_strdup_printf("%s/%s.csv", c->folder, table);
  ck_assert(g_file_set_contents(name, csv, -1, NULL));
  g_free(ctl(c, 0, "import %s '%s'", table, name));
}

// One record of RFC 4180 from *at on; NULL at the end.
static GPtrArray *
next_record(const char **at)
{
  const char *p = *at;
  if (!*p)
    return NULL;
  GPtrArray *cells = g_ptr_array_new_with_free_func(g_free);
  for (;;) {
    GString *cell = g_string_new(NULL);
    if (*p == '"') {
      for (p++; *p && !(*p == '"' && p[1] != '"'); p++) {
        if (*p == '"')
          p++;
        g_string_append_c(cell, *p);
      }
      p += *p == '"';
    } else {
      for (; *p && *p != ',' && *p != '\r' && *p != '\n'; p++)
        g_string_append_c(cell, *p);
    }
    g_ptr_array_add(cells, g_string_free(cell, FALSE));
    if (*p != ',')
      break;
    p++;
  }
  p += *p == '\r';
  p += *p == '\n';
  *at = p;
  return cells;
}

static Table *
parse(const char *text)
{
  Table *table = g_new0(Table, 1);
  table->rows = g_ptr_array_new_with_free_func((GDestroyNotify)g_hash_table_unref);
  g_autoptr(GPtrArray) header = next_record(&text);
  ck_assert_msg(header != NULL, "no header");
  GPtrArray *cells;
  while ((cells = next_record(&text))) {
    GHashTable *row = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
    ck_assert_msg(cells->len == header->len, "a row of %u cells under a header of %u", cells->len,
                  header->len);
    for (guint i = 0; i < cells->len; i++)
      g_hash_table_insert(row, g_strdup(header->pdata[i]), g_strdup(cells->pdata[i]));
    g_ptr_array_add(table->rows, row);
    g_ptr_array_unref(cells);
  }
  return table;
}

Table *
ctl_table(Ctl *c, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  g_autofree char *words = g_strdup_vprintf(format, args);
  va_end(args);
  g_autofree char *out = run(c, 0, words, false);
  return parse(out);
}

void
table_free(Table *table)
{
  g_ptr_array_unref(table->rows);
  g_free(table);
}

const char *
table_cell(const Table *table, guint row, const char *column)
{
  ck_assert_msg(row < table->rows->len, "no row %u", row);
  const char *cell = g_hash_table_lookup(table->rows->pdata[row], column);
  ck_assert_msg(cell != NULL, "no column %s", column);
  return cell;
}

static gboolean
row_matches(const Table *table, guint row, va_list args)
{
  const char *column;
  while ((column = va_arg(args, const char *))) {
    const char *want = va_arg(args, const char *);
    if (strcmp(table_cell(table, row, column), want) != 0)
      return FALSE;
  }
  return TRUE;
}

int
table_find(const Table *table, ...)
{
  for (guint row = 0; row < table->rows->len; row++) {
    va_list args;
    va_start(args, table);
    gboolean match = row_matches(table, row, args);
    va_end(args);
    if (match)
      return (int)row;
  }
  return -1;
}

guint
table_count(const Table *table, ...)
{
  guint n = 0;
  for (guint row = 0; row < table->rows->len; row++) {
    va_list args;
    va_start(args, table);
    n += row_matches(table, row, args);
    va_end(args);
  }
  return n;
}

void
ctl_station(Ctl *c, const char *options)
{
  g_free(ctl(c, 0,
             "new --name 'Test station' --zone Europe/Berlin --slots '07:30 17:00' --person 'Mira "
             "Kessel' --initials MK"));
  if (options)
    g_free(ctl(c, 0,
               "record station --who MK --entity 'Test station' --happened 2027-01-01T00:00+01:00 "
               "--reason 'house rules' %s",
               options));
}
