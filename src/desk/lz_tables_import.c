// SPDX-License-Identifier: GPL-3.0-or-later
// Tables in: a row becomes a command, checked and refused like any other; all rows or none.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "lz_command_private.h"
#include "lz_error.h"
#include "lz_tables_private.h"

// A ledger comes back into an empty file, so not part by part.
static char *
too_large(gboolean ledger, GError **error)
{
  const int most = LZ_TABLE_MAX_BYTES / (1024 * 1024);
  if (ledger)
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_REFUSED,
                _("The ledger's table is larger than %d MiB; accepted is a back-up of the file, "
                  "which brings all of it back."),
                most);
  else
    g_set_error(
        error, LZ_DESK_ERROR, LZ_DESK_ERROR_REFUSED,
        _("The table is larger than %d MiB; accepted are smaller parts, one after the other."),
        most);
  return NULL;
}

// The whole of a stream.
static char *
slurp(GInputStream *in, gboolean ledger, gsize *length, GError **error)
{
  g_autoptr(GByteArray) bytes = g_byte_array_new();
  guint8 buffer[65536];
  gssize n;
  // a file that is too large is not read to its end to find that out
  g_autoptr(GFileInfo) info =
      G_IS_FILE_INPUT_STREAM(in)
          ? g_file_input_stream_query_info(G_FILE_INPUT_STREAM(in), G_FILE_ATTRIBUTE_STANDARD_SIZE,
                                           NULL, NULL)
          : NULL;
  if (info && g_file_info_get_size(info) > LZ_TABLE_MAX_BYTES)
    return too_large(ledger, error);
  while ((n = g_input_stream_read(in, buffer, sizeof buffer, NULL, error)) > 0) {
    if (bytes->len + (gsize)n > LZ_TABLE_MAX_BYTES)
      return too_large(ledger, error);
    g_byte_array_append(bytes, buffer, (guint)n);
  }
  if (n < 0)
    return NULL;
  *length = bytes->len;
  g_byte_array_append(bytes, (const guint8 *)"", 1);
  return (char *)g_byte_array_free(g_steal_pointer(&bytes), FALSE);
}

void
lz_table_text_clear(LzTableText *text)
{
  g_clear_pointer(&text->rows, g_ptr_array_unref);
  g_clear_pointer(&text->lines, g_array_unref);
  g_clear_pointer(&text->index, g_hash_table_unref);
}

guint
lz_table_line(const LzTableText *text, guint row)
{
  return g_array_index(text->lines, guint, row);
}

static gboolean wrong_row(GError **error, const LzTableText *text, guint row, const char *format,
                          ...) G_GNUC_PRINTF(4, 5);
static gboolean
wrong_row(GError **error, const LzTableText *text, guint row, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  g_autofree char *what = g_strdup_vprintf(format, args);
  va_end(args);
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, _("line %u: %s"), lz_table_line(text, row),
              what);
  return FALSE;
}

static gboolean
parse(GInputStream *in, gboolean ledger, LzTableText *out, GError **error)
{
  gsize length = 0;
  g_autofree char *bytes = slurp(in, ledger, &length, error);
  if (!bytes || !(out->rows = lz_csv_parse(bytes, length, &out->lines, error)))
    return FALSE;
  if (out->rows->len == 0) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
                _("The table is empty; accepted is a header line with rows below it."));
    return FALSE;
  }
  char **header = out->rows->pdata[0];
  guint n = g_strv_length(header);
  out->index = g_hash_table_new(g_str_hash, g_str_equal);
  for (guint i = 0; i < n; i++) {
    g_strstrip(header[i]);
    if (!g_hash_table_insert(out->index, header[i], GUINT_TO_POINTER(i + 1)))
      return wrong_row(error, out, 0, _("the column “%s” stands twice; accepted is once"),
                       header[i]);
  }
  guint wrong = 0;
  for (guint row = 1; row < out->rows->len; row++) {
    guint cells = g_strv_length(out->rows->pdata[row]);
    GError *one = NULL;
    if (cells == n)
      continue;
    wrong_row(&one, out, row,
              _("%u cells under a header of %u; accepted is one cell for each column"), cells, n);
    lz_error_join(error, one, &wrong);
  }
  lz_error_join_end(error, wrong);
  return wrong == 0;
}

const char *
lz_table_cell(const LzTableText *text, guint row, const char *column)
{
  guint place = GPOINTER_TO_UINT(g_hash_table_lookup(text->index, column));
  if (!place)
    return NULL;
  const char *cell = ((char **)text->rows->pdata[row])[place - 1];
  if (*cell == '\'' && (cell[1] == '\'' || (cell[1] && strchr("=+-@\t\r", cell[1]))))
    cell++;
  return *cell ? cell : NULL;
}

static gboolean
check_columns(const LzTableText *text, const char *kind, GError **error)
{
  g_auto(GStrv) known = lz_table_columns(kind, error);
  GHashTableIter iter;
  gpointer column;
  if (!known)
    return FALSE;
  g_hash_table_iter_init(&iter, text->index);
  while (g_hash_table_iter_next(&iter, &column, NULL))
    if (!g_strv_contains((const char *const *)known, column)) {
      g_autofree char *names = g_strjoinv(", ", known);
      return wrong_row(error, text, 0, _("there is no column “%s”; accepted are %s"),
                       (char *)column, names);
    }
  return TRUE;
}

static gboolean
is_yes(const char *text)
{
  return text && (strcmp(text, "yes") == 0 || strcmp(text, "1") == 0 || strcmp(text, "true") == 0);
}

static gboolean
is_no(const char *text)
{
  return !text || strcmp(text, "no") == 0 || strcmp(text, "0") == 0 || strcmp(text, "false") == 0;
}

static gboolean
set_common(LzCommand *command, const LzTableText *text, guint row, const char *nobody,
           GError **error)
{
  const char *who = lz_table_cell(text, row, "who");
  const char *voided = lz_table_cell(text, row, "voided"),
             *corrects = lz_table_cell(text, row, "corrects");
  lz_command_set_at_text(command, lz_table_cell(text, row, "happened"));
  lz_command_set_actor(command, who ? who : nobody);
  lz_command_set_witness(command, lz_table_cell(text, row, "witness"));
  lz_command_set_reason(command, lz_table_cell(text, row, "reason"));
  lz_command_set_entity(command, lz_table_cell(text, row, "entity"));
  if (!is_yes(voided) && !is_no(voided))
    return wrong_row(error, text, row, _("voided: “%s”; accepted are yes and no"), voided);
  if (corrects) {
    char *end;
    gint64 id = g_ascii_strtoll(corrects + (*corrects == '#'), &end, 10);
    if (*end || id <= 0)
      return wrong_row(error, text, row, _("corrects: “%s”; accepted is the number of an entry"),
                       corrects);
    lz_command_set_corrects(command, id, is_yes(voided));
  }
  return TRUE;
}

// Amounts that follow from others, and what a reading was read as.
static void
set_own(LzCommand *command, const lzs_kind_spec *spec, const GPtrArray *own,
        const LzTableText *text, guint row)
{
  const char *typed = lz_table_cell(text, row, "typed");
  gboolean by_bottle = spec->kind == LZS_DOSE && lz_table_cell(text, row, "bottle") &&
                       lz_table_cell(text, row, "amount_ml");
  for (guint i = 0; i < own->len; i++) {
    const char *column = own->pdata[i], *cell = lz_table_cell(text, row, column);
    if (strcmp(column, "typed") == 0 || (by_bottle && strcmp(column, "amount_mg") == 0))
      continue;
    if (spec->kind == LZS_READING && typed && strcmp(column, "value") == 0)
      cell = typed;
    lz_command_set(command, column, cell);
  }
}

// The kind's own columns that the table has.
static GPtrArray *
own_of(const LzTableText *text, const lzs_kind_spec *spec)
{
  GPtrArray *own = lz_table_own_columns(spec);
  for (guint i = own->len; i-- > 0;)
    if (!g_hash_table_contains(text->index, own->pdata[i]))
      g_ptr_array_remove_index(own, i);
  return own;
}

// An exported table that comes back into its own file would enter everything a second time.
static gboolean
is_news(LzDesk *desk, const LzTableText *text, guint row, GError **error)
{
  const char *id = lz_table_cell(text, row, "id"), *hash = lz_table_cell(text, row, "hash");
  g_autoptr(LzEntry) entry =
      id && hash ? lz_desk_entry(desk, g_ascii_strtoll(id + (*id == '#'), NULL, 10), NULL) : NULL;
  if (!entry || g_ascii_strcasecmp(lz_entry_hash(entry), hash) != 0)
    return TRUE;
  return wrong_row(error, text, row,
                   _("id: “%s” is in this ledger already; accepted are rows of another file, or "
                     "rows without id and hash for something that happened again"),
                   id);
}

static gboolean
import_rows(LzDesk *desk, const lzs_kind_spec *spec, const LzTableText *text, gboolean dry_run,
            const char *who, GError **error)
{
  g_autoptr(GPtrArray) commands = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  g_autoptr(GPtrArray) own = own_of(text, spec);
  gboolean ahead = lz_desk_may_look_ahead(desk);
  guint wrong = 0;
  lz_desk_part(desk, 0, LZ_PART_READ);
  for (guint row = 1; row < text->rows->len; row++) {
    LzCommand *command = lz_command_new(spec->name);
    g_ptr_array_add(commands, command);
    GError *one = NULL;
    if (!is_news(desk, text, row, &one) || !set_common(command, text, row, who, &one))
      lz_error_join(error, one, &wrong);
    if (!wrong && !lz_desk_tell(desk, row, text->rows->len, error))
      return FALSE;
    set_own(command, spec, own, text, row);
    lz_command_set_ahead(command, ahead);
    lz_command_set_as_written(command, TRUE);
    command->line = lz_table_line(text, row);
  }
  lz_error_join_end(error, wrong);
  if (wrong)
    return FALSE;
  return dry_run ? lz_desk_check(desk, (LzCommand *const *)commands->pdata, commands->len, error)
                 : lz_desk_submit(desk, (LzCommand *const *)commands->pdata, commands->len, error);
}

static gboolean
take_in(LzDesk *desk, const char *kind, GInputStream *in, gboolean dry_run, LzImport *out,
        GError **error)
{
  gboolean all = strcmp(kind, "entries") == 0;
  const lzs_kind_spec *spec = all ? NULL : lzs_kind_find(kind);
  g_auto(LzTableText) text = {0};
  *out = (LzImport){.who = out->who};
  if (!parse(in, all, &text, error) || !check_columns(&text, kind, error))
    return FALSE;
  out->rows = text.rows->len - 1;
  gboolean practice = lz_desk_is_practice(desk);
  if (all)
    return lz_table_restore(desk, &text, dry_run, out, error);
  if (out->rows && !import_rows(desk, spec, &text, dry_run, out->who, error))
    return FALSE;
  out->entries = dry_run ? 0 : out->rows;
  out->practice = !practice && lz_desk_is_practice(desk);
  return TRUE;
}

gboolean
lz_table_import(LzDesk *desk, const char *kind, GInputStream *in, gboolean dry_run, LzImport *out,
                GError **error)
{
  gboolean done = take_in(desk, kind, in, dry_run, out, error);
  lz_desk_part(desk, 0, 1);
  return done;
}
