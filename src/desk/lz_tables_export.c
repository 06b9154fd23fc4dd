// SPDX-License-Identifier: GPL-3.0-or-later
// Tables out: one row per entry, whatever was corrected later; lz_tables.h gives the columns.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "lz_entry_private.h"
#include "lz_error.h"
#include "lz_format.h"
#include "lz_tables_private.h"

const char *const lz_table_common[LZ_N_COLS] = {
    "id", "happened", "offset_min", "recorded", "who",    "witness", "reason",
    "pc", "pc_seq",   "corrects",   "voided",   "entity", "hash"};

GPtrArray *
lz_table_own_columns(const lzs_kind_spec *spec)
{
  GPtrArray *columns = g_ptr_array_new();
  g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
  for (int k = 0; k < LZS_N_KINDS; k++) {
    const lzs_kind_spec *one = lzs_kind_get(k);
    for (gsize i = 0; (!spec || spec == one) && i < one->n_fields; i++)
      if (g_hash_table_add(seen, (gpointer)one->fields[i].name))
        g_ptr_array_add(columns, (gpointer)one->fields[i].name);
  }
  // Outside the chain, so at the end: a person's name, initials, contact.
  if (!spec || spec->kind == LZS_PERSON) {
    if (spec)
      g_ptr_array_add(columns, (gpointer) "name");
    g_ptr_array_add(columns, (gpointer) "initials");
    g_ptr_array_add(columns, (gpointer) "contact");
  }
  if (!spec)
    g_ptr_array_add(columns, (gpointer) "entry_kind");
  return columns;
}

char **
lz_table_columns(const char *kind, GError **error)
{
  gboolean all = strcmp(kind, "entries") == 0;
  const lzs_kind_spec *spec = all ? NULL : lzs_kind_find(kind);
  if (!spec && !all) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, _("There is no table “%s”."), kind);
    return NULL;
  }
  g_autoptr(GPtrArray) own = lz_table_own_columns(spec);
  GPtrArray *names = g_ptr_array_new();
  for (int i = 0; i < LZ_N_COLS; i++)
    g_ptr_array_add(names, g_strdup(lz_table_common[i]));
  for (guint i = 0; i < own->len; i++)
    g_ptr_array_add(names, g_strdup(own->pdata[i]));
  g_ptr_array_add(names, NULL);
  return (char **)g_ptr_array_free(names, FALSE);
}

static char *
id_text(int64_t id)
{
  return id ? g_strdup_printf("#%" G_GINT64_FORMAT, id) : g_strdup("");
}

// What people call it where that leads back to the same thing, else "#id".
static char *
ref_text(LzDesk *desk, lzs_kind kind, int64_t id, gboolean raw)
{
  const lzs_kind_spec *spec = lzs_kind_get(kind);
  if (id && !raw && spec->setup) {
    const char *name = kind == LZS_PERSON ? lz_desk_person_initials(desk, id)
                                          : lz_desk_name_of(desk, spec->name, id);
    if (name && *name && lz_desk_find(desk, spec->name, name) == id)
      return g_strdup(name);
  }
  return id_text(id);
}

static char *
value_text(LzDesk *desk, const LzEntry *entry, int field, gboolean raw)
{
  const lzs_field *f = &entry->spec->fields[field];
  if (!lz_entry_is_set(entry, (gsize)field))
    return g_strdup("");
  const LzEntryValue *v = lz_entry_value(entry, (gsize)field);
  switch (f->type) {
  case LZS_T_TEXT:
  case LZS_T_WORD: return g_strdup(v->text);
  case LZS_T_INT: return g_strdup_printf("%" G_GINT64_FORMAT, v->i);
  case LZS_T_REAL: return lz_format_machine(v->r);
  case LZS_T_BOOL: return g_strdup(v->i ? "yes" : "no");
  case LZS_T_REF: return ref_text(desk, f->ref, v->i, raw);
  }
  return g_strdup("");
}

// ISO 8601 with the offset that the wall clock showed.
static char *
happened_text(const LzEntry *entry)
{
  g_autoptr(GDateTime) utc = g_date_time_new_from_unix_utc(entry->at * 60);
  g_autoptr(GTimeZone) zone = g_time_zone_new_offset(entry->offset_min * 60);
  g_autoptr(GDateTime) local = utc ? g_date_time_to_timezone(utc, zone) : NULL;
  return local ? g_date_time_format(local, "%Y-%m-%dT%H:%M%:z") : g_strdup("");
}

static char *
recorded_text(const LzEntry *entry)
{
  g_autoptr(GDateTime) utc = g_date_time_new_from_unix_utc(entry->recorded_ms / 1000);
  g_autofree char *seconds = utc ? g_date_time_format(utc, "%Y-%m-%dT%H:%M:%S") : g_strdup("");
  return g_strdup_printf("%s.%03dZ", seconds, (int)(entry->recorded_ms % 1000));
}

static void
common_cells(LzDesk *desk, const LzEntry *entry, gboolean raw, char **cells)
{
  cells[LZ_COL_ID] = id_text(entry->id);
  cells[LZ_COL_HAPPENED] = happened_text(entry);
  cells[LZ_COL_OFFSET] = g_strdup_printf("%d", entry->offset_min);
  cells[LZ_COL_RECORDED] = recorded_text(entry);
  cells[LZ_COL_WHO] = ref_text(desk, LZS_PERSON, entry->who, raw);
  cells[LZ_COL_WITNESS] = ref_text(desk, LZS_PERSON, lz_entry_witness(entry), raw);
  cells[LZ_COL_REASON] = g_strdup(lz_entry_reason(entry) ? lz_entry_reason(entry) : "");
  cells[LZ_COL_PC] = g_strdup(lz_entry_pc(entry));
  cells[LZ_COL_PC_SEQ] = g_strdup_printf("%" G_GINT64_FORMAT, entry->pc_seq);
  cells[LZ_COL_CORRECTS] = id_text(entry->corrects);
  cells[LZ_COL_VOIDED] = g_strdup(entry->voided ? "yes" : "no");
  cells[LZ_COL_ENTITY] = id_text(entry->entity);
  cells[LZ_COL_HASH] = g_strdup(lz_entry_hash(entry));
}

static char *
own_cell(LzDesk *desk, const LzEntry *entry, const char *column, gboolean raw)
{
  int field = lzs_kind_field(entry->spec, column);
  if (field >= 0)
    return value_text(desk, entry, field, raw);
  int64_t person = entry->entity ? entry->entity : entry->id;
  if (entry->kind == LZS_PERSON && strcmp(column, "name") == 0)
    return g_strdup(lz_desk_person_name(desk, person));
  if (entry->kind == LZS_PERSON && strcmp(column, "initials") == 0)
    return g_strdup(lz_desk_person_initials(desk, person));
  if (entry->kind == LZS_PERSON && strcmp(column, "contact") == 0)
    return g_strdup(lz_desk_person_contact(desk, person));
  return g_strdup(strcmp(column, "entry_kind") == 0 && raw ? entry->spec->name : "");
}

static gboolean
write_rows(LzDesk *desk, const char *kind, GPtrArray *own, gboolean raw, GOutputStream *out,
           GError **error)
{
  g_autoptr(GPtrArray) entries = lz_desk_entries(desk, kind, 0, 0, error);
  gsize n = LZ_N_COLS + own->len;
  if (!entries)
    return FALSE;
  for (guint e = 0; e < entries->len; e++) {
    g_autoptr(GString) line = g_string_new(NULL);
    char **cells = g_new0(char *, n + 1);
    common_cells(desk, entries->pdata[e], raw, cells);
    for (guint i = 0; i < own->len; i++)
      cells[LZ_N_COLS + i] = own_cell(desk, entries->pdata[e], own->pdata[i], raw);
    lz_csv_append(line, (const char *const *)cells, n, TRUE);
    g_strfreev(cells);
    if (!g_output_stream_write_all(out, line->str, line->len, NULL, NULL, error) ||
        !lz_desk_tell(desk, e, entries->len, error))
      return FALSE;
  }
  return TRUE;
}

static gboolean export(LzDesk *desk, const lzs_kind_spec *spec, GOutputStream *out, GError **error)
{
  g_autoptr(GPtrArray) own = lz_table_own_columns(spec);
  g_autoptr(GString) header = g_string_new(NULL);
  g_auto(GStrv) names = lz_table_columns(spec ? spec->name : "entries", error);
  if (!names)
    return FALSE;
  lz_csv_append(header, (const char *const *)names, g_strv_length(names), FALSE);
  return g_output_stream_write_all(out, header->str, header->len, NULL, NULL, error) &&
         write_rows(desk, spec ? spec->name : NULL, own, spec == NULL, out, error);
}

gboolean
lz_table_export(LzDesk *desk, const char *kind, GOutputStream *out, GError **error)
{
  const lzs_kind_spec *spec = lzs_kind_find(kind);
  if (spec)
    return export(desk, spec, out, error);
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, _("There is no table “%s”."), kind);
  return FALSE;
}

gboolean
lz_table_export_all(LzDesk *desk, GOutputStream *out, GError **error)
{
  return export(desk, NULL, out, error);
}
