// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE import and export: every kind of entry as CSV, in and out.
#include "lzc.h"

#include <gio/gio.h>
#include <gio/gunixinputstream.h>
#include <gio/gunixoutputstream.h>
#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include <lz_fields.h>
#include <lz_ledger.h>
#include <lz_tables.h>

static int
wrong_table(const char *table)
{
  guint n;
  const LzKind *kinds = lz_kinds(&n);
  g_autoptr(GString) names = g_string_new("entries");
  for (guint i = 0; i < n; i++)
    g_string_append_printf(names, ", %s", kinds[i].plural);
  return lzc_wrong(_("There is no table “%s”. Accepted: %s."), table, names->str);
}

static int
print_columns(const char *table)
{
  GError *error = NULL;
  g_auto(GStrv) columns = lz_table_columns(table, &error);
  if (!columns)
    return lzc_fail(error);
  for (char **column = columns; *column; column++)
    printf("%s\n", *column);
  return LZC_DONE;
}

static GInputStream *
open_input(const char *name, GError **error)
{
  if (strcmp(name, "-") == 0)
    return g_unix_input_stream_new(STDIN_FILENO, FALSE);
  g_autoptr(GFile) file = g_file_new_for_commandline_arg(name);
  return (GInputStream *)g_file_read(file, NULL, error);
}

// A whole ledger is restored into an empty file, which is made where there is none.
static LzDesk *
open_for_import(const char *path, const char *table, gboolean dry_run, int *status)
{
  GError *error = NULL;
  LzDeskOptions options = {0};
  if (dry_run || strcmp(table, "entries") != 0 || g_file_test(path, G_FILE_TEST_EXISTS))
    return lzc_open(path, status);
  LzDesk *desk = lz_desk_create(path, &options, &error);
  if (!desk)
    *status = lzc_fail(error);
  return desk;
}

static int
import_from(const char *path, const char *table, GInputStream *in, gboolean dry_run,
            const char *who)
{
  int status = LZC_DONE;
  GError *error = NULL;
  LzImport done = {.who = who};
  g_autoptr(LzDesk) desk = open_for_import(path, table, dry_run, &status);
  if (!desk)
    return status;
  lz_desk_set_progress(desk, lzc_progress(), _("Taking in"));
  if (!lz_table_import(desk, table, in, dry_run, &done, &error))
    return lzc_fail(error);
  if (dry_run)
    printf(ngettext("%u row checked, nothing written.\n", "%u rows checked, nothing written.\n",
                    done.rows),
           done.rows);
  else if (done.restored)
    printf(ngettext("%u entry restored, the chain verifies.\n",
                    "%u entries restored, the chain verifies.\n", done.entries),
           done.entries);
  else
    printf(ngettext("%u entry made.\n", "%u entries made.\n", done.entries), done.entries);
  if (done.practice)
    printf("%s\n",
           _("A row lies ahead of the clock: the file is for practice from now on, for good."));
  return LZC_DONE;
}

int
lzc_import(const char *path, int argc, char **argv)
{
  gboolean columns = FALSE, dry_run = FALSE;
  g_autofree char *who = NULL;
  int status = LZC_DONE;
  GOptionEntry entries[] = {
      {"columns", 0, 0, G_OPTION_ARG_NONE, &columns, N_("print the columns of TABLE and stop"),
       NULL},
      {"dry-run", 0, 0, G_OPTION_ARG_NONE, &dry_run, N_("check only, write nothing"), NULL},
      {"who", 0, 0, G_OPTION_ARG_STRING, &who, N_("who did what a row names nobody for"), N_("XY")},
      {NULL}};
  if (!lzc_options("import", "TABLE CSV|-", _("Reads a table: all of it or nothing."), entries,
                   &argc, &argv, &status))
    return status;
  if (argc >= 2 && strcmp(argv[1], "entries") != 0 && !lz_kind_find(argv[1]))
    return wrong_table(argv[1]);
  if (columns && argc == 2)
    return print_columns(argv[1]);
  if (argc != 3)
    return lzc_wrong(_("import wants TABLE and CSV, or --columns TABLE."));
  GError *error = NULL;
  g_autoptr(GInputStream) in = open_input(argv[2], &error);
  if (!in) {
    lzc_fail(error);
    return LZC_COULD_NOT;
  }
  return import_from(path, argv[1], in, dry_run, who);
}

int
lzc_export(const char *path, int argc, char **argv)
{
  g_autofree char *manifest = NULL;
  int status = LZC_DONE;
  GOptionEntry entries[] = {{"manifest", 0, 0, G_OPTION_ARG_FILENAME, &manifest,
                             N_("with the table entries: also write what it must add up to"),
                             N_("OUT")},
                            {NULL}};
  if (!lzc_options("export", "TABLE [CSV|-]", _("Writes a table as CSV."), entries, &argc, &argv,
                   &status))
    return status;
  if (argc < 2 || argc > 3)
    return lzc_wrong(_("export wants TABLE, and perhaps a file name."));
  gboolean all = strcmp(argv[1], "entries") == 0;
  if (!all && !lz_kind_find(argv[1]))
    return wrong_table(argv[1]);
  if (manifest && (!all || argc != 3 || strcmp(argv[2], "-") == 0))
    return lzc_wrong(_("--manifest goes with the table entries and the name of a file."));
  g_autoptr(LzDesk) desk = lzc_open_reading(path, NULL, &status);
  if (!desk)
    return status;
  GError *error = NULL;
  lz_desk_set_progress(desk, lzc_progress(), _("Writing"));
  if (manifest)
    return lz_ledger_export(desk, argv[2], manifest, &error) ? LZC_DONE : lzc_fail(error);
  g_autoptr(GOutputStream) out = NULL;
  if (argc == 3 && strcmp(argv[2], "-") != 0) {
    g_autoptr(GFile) file = g_file_new_for_commandline_arg(argv[2]);
    out = (GOutputStream *)g_file_replace(file, NULL, FALSE, G_FILE_CREATE_NONE, NULL, &error);
    if (!out) {
      lzc_fail(error);
      return LZC_COULD_NOT;
    }
  } else {
    out = g_unix_output_stream_new(STDOUT_FILENO, FALSE);
  }
  gboolean ok =
      all ? lz_table_export_all(desk, out, &error) : lz_table_export(desk, argv[1], out, &error);
  if (!ok || !g_output_stream_close(out, NULL, &error))
    return lzc_fail(error);
  return LZC_DONE;
}
