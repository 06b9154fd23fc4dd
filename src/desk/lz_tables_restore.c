// SPDX-License-Identifier: GPL-3.0-or-later
// A whole ledger back from its table of entries: ids, times, PCs and hashes as they were, and the
// chain verified.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "lz_desk_private.h"
#include "lz_error.h"
#include "lz_tables_private.h"

typedef struct {
  const LzTableText *text;
  guint row;
  GError **error;
} Place;

static gboolean
wrong(const Place *place, const char *column, const char *accepted)
{
  const char *cell = lz_table_cell(place->text, place->row, column);
  g_set_error(place->error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
              _("line %u: %s: “%s”; accepted is %s"), lz_table_line(place->text, place->row),
              column, cell ? cell : "", accepted);
  return FALSE;
}

static gboolean
get_int(const Place *place, const char *column, int64_t *out)
{
  const char *cell = lz_table_cell(place->text, place->row, column);
  char *end = NULL;
  *out = 0;
  if (!cell)
    return TRUE;
  *out = g_ascii_strtoll(cell + (*cell == '#'), &end, 10);
  return *end ? wrong(place, column, _("a whole number")) : TRUE;
}

static gboolean
get_hex(const Place *place, const char *column, uint8_t *out, gsize n)
{
  const char *cell = lz_table_cell(place->text, place->row, column);
  if (!cell || strlen(cell) != 2 * n)
    return wrong(place, column, _("hexadecimal digits"));
  for (gsize i = 0; i < n; i++) {
    int high = g_ascii_xdigit_value(cell[2 * i]), low = g_ascii_xdigit_value(cell[2 * i + 1]);
    if (high < 0 || low < 0)
      return wrong(place, column, _("hexadecimal digits"));
    out[i] = (uint8_t)(high * 16 + low);
  }
  return TRUE;
}

static gboolean
get_times(const Place *place, lzs_entry *entry)
{
  const char *happened = lz_table_cell(place->text, place->row, "happened");
  const char *recorded = lz_table_cell(place->text, place->row, "recorded");
  g_autoptr(GDateTime) h = happened ? g_date_time_new_from_iso8601(happened, NULL) : NULL;
  g_autofree char *with_seconds = happened && !h && strlen(happened) > 16
                                      ? g_strdup_printf("%.16s:00%s", happened, happened + 16)
                                      : NULL;
  if (with_seconds)
    h = g_date_time_new_from_iso8601(with_seconds, NULL);
  g_autoptr(GDateTime) r = recorded ? g_date_time_new_from_iso8601(recorded, NULL) : NULL;
  int64_t offset;
  if (!h)
    return wrong(place, "happened", _("a date and time with offset, as exported"));
  if (!r)
    return wrong(place, "recorded", _("a date and time in UTC with milliseconds, as exported"));
  if (!get_int(place, "offset_min", &offset))
    return FALSE;
  entry->happened_min = g_date_time_to_unix(h) / 60;
  entry->offset_min = (int32_t)offset;
  entry->recorded_ms = g_date_time_to_unix(r) * 1000 + g_date_time_get_microsecond(r) / 1000;
  return TRUE;
}

static gboolean
get_value(const Place *place, const lzs_field *field, lzs_value *out)
{
  const char *cell = lz_table_cell(place->text, place->row, field->name);
  char *end = NULL;
  *out = (lzs_value){.null = cell == NULL};
  if (!cell)
    return TRUE;
  switch (field->type) {
  case LZS_T_TEXT:
  case LZS_T_WORD: out->text = cell; return TRUE;
  case LZS_T_REAL:
    out->r = g_ascii_strtod(cell, &end);
    return *end ? wrong(place, field->name, _("a number")) : TRUE;
  case LZS_T_BOOL: out->i = strcmp(cell, "yes") == 0; return TRUE;
  case LZS_T_INT:
  case LZS_T_REF: return get_int(place, field->name, &out->i);
  }
  return TRUE;
}

static gboolean
get_entry(const Place *place, lzs_entry *entry)
{
  const char *kind = lz_table_cell(place->text, place->row, "entry_kind");
  const lzs_kind_spec *spec = kind ? lzs_kind_find(kind) : NULL;
  const char *voided = lz_table_cell(place->text, place->row, "voided");
  if (!spec)
    return wrong(place, "entry_kind", _("a kind of entry such as reading"));
  entry->kind = spec->kind;
  entry->reason = lz_table_cell(place->text, place->row, "reason");
  entry->voided = voided && strcmp(voided, "yes") == 0;
  if (!get_int(place, "id", &entry->id) || !get_times(place, entry) ||
      !get_int(place, "who", &entry->who) || !get_int(place, "witness", &entry->witness) ||
      !get_int(place, "pc_seq", &entry->pc_seq) || !get_int(place, "corrects", &entry->corrects) ||
      !get_int(place, "entity", &entry->entity) ||
      !get_hex(place, "pc", entry->pc, sizeof entry->pc) ||
      !get_hex(place, "hash", entry->hash, sizeof entry->hash))
    return FALSE;
  for (gsize i = 0; i < spec->n_fields; i++)
    if (!get_value(place, &spec->fields[i], &entry->v[i]))
      return FALSE;
  return TRUE;
}

// Names come back beside the chain.
static gboolean
restore_names(LzDesk *desk, const LzTableText *text, const lzs_entry *entries, guint n,
              GError **error)
{
  for (guint i = 0; i < n; i++) {
    const char *name = lz_table_cell(text, i + 1, "name"),
               *initials = lz_table_cell(text, i + 1, "initials"),
               *contact = lz_table_cell(text, i + 1, "contact");
    if (entries[i].kind != LZS_PERSON || !name)
      continue;
    if (!lz_desk_set_person(desk, entries[i].entity ? entries[i].entity : entries[i].id, name,
                            initials, contact, error))
      return FALSE;
  }
  return TRUE;
}

gboolean
lz_table_restore(LzDesk *desk, const LzTableText *text, gboolean dry_run, LzImport *out,
                 GError **error)
{
  guint n = text->rows->len - 1;
  g_autoptr(GArray) array = g_array_new(FALSE, TRUE, sizeof(lzs_entry));
  g_array_set_size(array, n);
  lzs_entry *entries = (lzs_entry *)(void *)array->data;
  lz_desk_part(desk, 0, LZ_PART_READ);
  for (guint i = 0; i < n; i++) {
    Place place = {text, i + 1, error};
    if (!get_entry(&place, &entries[i]) || !lz_desk_tell(desk, i, n, error))
      return FALSE;
  }
  if (lz_model_last_id(desk->model) != 0) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_REFUSED,
                _("A whole ledger is restored into an empty file only; this one has entries."));
    return FALSE;
  }
  if (dry_run)
    return TRUE;
  lzs_error failed = {0};
  lz_desk_part(desk, LZ_PART_READ, 1);
  if (lzs_restore(desk->store, entries, n, &failed) != LZS_OK) {
    lz_desk_store_error(desk, &failed, error);
    return FALSE;
  }
  if (lz_desk_pull(desk, error) < 0 || !restore_names(desk, text, entries, n, error))
    return FALSE;
  out->entries = n;
  out->restored = TRUE;
  lz_desk_refresh(desk);
  return TRUE;
}
