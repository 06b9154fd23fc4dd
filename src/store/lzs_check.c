// SPDX-License-Identifier: GPL-3.0-or-later
// What an entry must be: its kind's fields, the references, and what a correction may name. The
// file checks types and keys once more; this gives the sentence about which field and which value.
#include "lzs_check.h"

#include "lzs_text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define MAX_OFFSET_MIN (18 * 60) // ISO 8601 offsets in use go from -12:00 to +14:00
#define MAX_MINUTE                                                                                 \
  (4102444800 / 60) // 2100-01-01, to catch seconds or milliseconds given as minutes

static lzs_status
bad(lzs_error *error, const char *field, const char *value, const char *detail)
{
  return lzs_fail(error, LZS_BAD_INPUT, field, value, detail);
}

static lzs_status
check_text(const char *field, const char *text, bool needed, lzs_error *error)
{
  if (text == NULL)
    return bad(error, field, NULL, "text missing");
  if (needed && text[0] == '\0')
    return bad(error, field, "", "needed");
  if (strnlen(text, LZS_MAX_TEXT + 1) > LZS_MAX_TEXT)
    return bad(error, field, NULL, "text too long");
  if (!lzs_text_valid(text))
    return bad(error, field, NULL, "not UTF-8");
  return LZS_OK;
}

static lzs_status
check_number(const lzs_field *field, double value, lzs_error *error)
{
  if (isfinite(value) && value >= field->min && value <= field->max)
    return LZS_OK;
  char found[40], range[80];
  snprintf(found, sizeof found, "%.17g", value);
  snprintf(range, sizeof range, "accepted: %.15g to %.15g", field->min, field->max);
  return bad(error, field->name, found, range);
}

static lzs_seen *
slot_of(lzs_store *store, int64_t id)
{
  return &store->seen[(uint64_t)id % LZS_SEEN_SLOTS];
}

void
lzs_check_remember(lzs_store *store, const lzs_entry *entry)
{
  *slot_of(store, entry->id) = (lzs_seen){entry->id, entry->kind, entry->corrects, entry->entity};
}

// *out is NULL if there is no such entry.
static lzs_status
look_up(lzs_store *store, int64_t id, const lzs_seen **out, lzs_error *error)
{
  lzs_seen *slot = slot_of(store, id);
  *out = NULL;
  if (id <= 0)
    return LZS_OK;
  if (slot->id == id) {
    *out = slot;
    return LZS_OK;
  }
  sqlite3_stmt *stmt = lzs_db_q(store, LZS_Q_SEEN, error);
  if (stmt == NULL)
    return lzs_db_status(store);
  sqlite3_bind_int64(stmt, 1, id);
  int code = sqlite3_step(stmt);
  lzs_status status = LZS_OK;
  if (code == SQLITE_ROW) {
    const lzs_kind_spec *spec = lzs_kind_find((const char *)sqlite3_column_text(stmt, 0));
    if (spec != NULL) {
      *slot =
          (lzs_seen){id, spec->kind, sqlite3_column_int64(stmt, 1), sqlite3_column_int64(stmt, 2)};
      *out = slot;
    }
  } else if (code != SQLITE_DONE) {
    status = lzs_db_fail(store->db, code, "look up a reference", error);
  }
  sqlite3_reset(stmt);
  return status;
}

// A lot is made by its receipt or by the split that parts it from another.
static bool
makes(lzs_kind kind, lzs_kind wanted)
{
  return kind == wanted || (wanted == LZS_LOT && kind == LZS_SPLIT);
}

lzs_status
lzs_check_reference(lzs_store *store, const char *field, int64_t id, lzs_kind wanted,
                    lzs_error *error)
{
  const lzs_seen *seen;
  lzs_status status = look_up(store, id, &seen, error);
  if (status != LZS_OK)
    return status;
  if (seen == NULL)
    return lzs_fail_int(error, LZS_BAD_INPUT, field, id, "no such entry");
  if (!makes(seen->kind, wanted)) {
    char detail[80];
    snprintf(detail, sizeof detail, "names a %s, not a %s", lzs_kind_get(seen->kind)->name,
             lzs_kind_get(wanted)->name);
    return lzs_fail_int(error, LZS_BAD_INPUT, field, id, detail);
  }
  if (seen->corrects != 0 || seen->entity != 0)
    return lzs_fail_int(error, LZS_BAD_INPUT, field, id,
                        "names a correction or a later description, not the first entry");
  return LZS_OK;
}

static lzs_status
check_value(lzs_store *store, const lzs_field *field, const lzs_value *value, lzs_error *error)
{
  switch (field->type) {
  case LZS_T_TEXT: return check_text(field->name, value->text, field->needed, error);
  case LZS_T_WORD:
    if (value->text == NULL || !lzs_text_one_of(value->text, field->words))
      return bad(error, field->name, value->text, field->words);
    return LZS_OK;
  case LZS_T_BOOL:
  case LZS_T_INT: return check_number(field, (double)value->i, error);
  case LZS_T_REAL: return check_number(field, value->r, error);
  case LZS_T_REF: return lzs_check_reference(store, field->name, value->i, field->ref, error);
  }
  return lzs_fail(error, LZS_INTERNAL, field->name, NULL, "a type without a check");
}

static lzs_status
check_person(lzs_store *store, const char *field, int64_t id, const lzs_entry *entry,
             int64_t last_new, lzs_error *error)
{
  if (id == 0 || (id >= entry->id && id <= last_new))
    return LZS_OK;
  return lzs_check_reference(store, field, id, LZS_PERSON, error);
}

static lzs_status
check_corrects(lzs_store *store, const lzs_entry *entry, const lzs_seen **out, lzs_error *error)
{
  const lzs_seen *first = NULL;
  *out = NULL;
  if (entry->corrects == 0)
    return entry->voided ? bad(error, "voided", "1", "needs corrects") : LZS_OK;
  lzs_status status = look_up(store, entry->corrects, &first, error);
  if (status != LZS_OK)
    return status;
  if (first == NULL)
    return lzs_fail_int(error, LZS_BAD_INPUT, "corrects", entry->corrects, "no such entry");
  if (first->kind != entry->kind)
    return lzs_fail_int(error, LZS_BAD_INPUT, "corrects", entry->corrects,
                        "names an entry of another kind");
  if (first->corrects != 0)
    return lzs_fail_int(error, LZS_BAD_INPUT, "corrects", entry->corrects,
                        "names a correction: name the first entry");
  *out = first;
  return LZS_OK;
}

// A correction describes what the entry it corrects describes.
static lzs_status
check_entity(lzs_store *store, const lzs_entry *entry, const lzs_seen *first, lzs_error *error)
{
  const lzs_kind_spec *spec = lzs_kind_get(entry->kind);
  if (entry->entity == 0)
    return LZS_OK;
  if (!spec->setup)
    return lzs_fail_int(error, LZS_BAD_INPUT, "entity", entry->entity, "only set-up has entities");
  if (first == NULL)
    return lzs_check_reference(store, "entity", entry->entity, entry->kind, error);
  if (entry->entity != (first->entity != 0 ? first->entity : first->id))
    return lzs_fail_int(error, LZS_BAD_INPUT, "entity", entry->entity,
                        "not the entity of the entry that it corrects");
  return LZS_OK;
}

static lzs_status
check_times(const lzs_entry *entry, lzs_error *error)
{
  if (entry->happened_min < 0 || entry->happened_min > MAX_MINUTE)
    return lzs_fail_int(error, LZS_BAD_INPUT, "happened_min", entry->happened_min,
                        "accepted: minutes since 1970 up to the year 2100");
  if (entry->offset_min < -MAX_OFFSET_MIN || entry->offset_min > MAX_OFFSET_MIN)
    return lzs_fail_int(error, LZS_BAD_INPUT, "offset_min", entry->offset_min,
                        "accepted: -1080 to 1080");
  return LZS_OK;
}

static lzs_status
check_fields(lzs_store *store, const lzs_entry *entry, lzs_error *error)
{
  const lzs_kind_spec *spec = lzs_kind_get(entry->kind);
  for (size_t i = 0; i < spec->n_fields; i++) {
    const lzs_field *field = &spec->fields[i];
    if (entry->v[i].null) {
      if (field->needed && !entry->voided)
        return bad(error, field->name, NULL, "needed");
      continue;
    }
    lzs_status status = check_value(store, field, &entry->v[i], error);
    if (status != LZS_OK)
      return status;
  }
  return LZS_OK;
}

lzs_status
lzs_check_entry(lzs_store *store, const lzs_entry *entry, int64_t last_new, lzs_error *error)
{
  const lzs_seen *first = NULL;
  if ((int)entry->kind < 0 || entry->kind >= LZS_N_KINDS)
    return lzs_fail_int(error, LZS_BAD_INPUT, "kind", (int)entry->kind, "no such kind");
  lzs_status status = check_times(entry, error);
  if (status == LZS_OK && entry->reason != NULL)
    status = check_text("reason", entry->reason, false, error);
  if (status == LZS_OK)
    status = check_person(store, "who", entry->who, entry, last_new, error);
  if (status == LZS_OK)
    status = check_person(store, "witness", entry->witness, entry, last_new, error);
  if (status == LZS_OK)
    status = check_corrects(store, entry, &first, error);
  lzs_seen copy; // the slot may be used anew by the next look-up
  if (first != NULL) {
    copy = *first;
    first = &copy;
  }
  if (status == LZS_OK)
    status = check_entity(store, entry, first, error);
  return status == LZS_OK ? check_fields(store, entry, error) : status;
}
