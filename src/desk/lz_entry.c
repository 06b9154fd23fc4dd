// SPDX-License-Identifier: GPL-3.0-or-later
// One entry in one block of memory: a file of half a million of them must fit a small PC.
#include "lz_entry_private.h"

#include <math.h>
#include <string.h>

static gboolean
is_text(lzs_type type)
{
  return type == LZS_T_TEXT || type == LZS_T_WORD;
}

static gsize
text_size(const char *text)
{
  return text ? strlen(text) + 1 : 0;
}

static char *
hex(char *to, const uint8_t *bytes, gsize n)
{
  static const char digits[] = "0123456789abcdef";
  for (gsize i = 0; i < n; i++) {
    to[2 * i] = digits[bytes[i] >> 4];
    to[2 * i + 1] = digits[bytes[i] & 15];
  }
  to[2 * n] = '\0';
  return to;
}

static const char *
put_text(char **tail, const char *text)
{
  if (!text)
    return NULL;
  char *at = *tail;
  gsize size = text_size(text);
  memcpy(at, text, size);
  *tail += size;
  return at;
}

LzEntry *
lz_entry_new(const lzs_entry *from)
{
  const lzs_kind_spec *spec = lzs_kind_get(from->kind);
  gsize fixed = sizeof(LzEntry) + spec->n_fields * sizeof(LzEntryValue);
  gsize text = text_size(from->reason);
  for (gsize i = 0; i < spec->n_fields; i++)
    if (spec->fields[i].type == LZS_T_TEXT && !from->v[i].null)
      text += text_size(from->v[i].text);
  LzEntry *entry = g_malloc0(fixed + text);
  char *tail = (char *)entry + fixed;
  g_ref_count_init(&entry->refs);
  entry->kind = from->kind;
  entry->spec = spec;
  entry->at = from->happened_min;
  entry->offset_min = from->offset_min;
  entry->who = from->who;
  entry->witness = from->witness;
  entry->corrects = from->corrects;
  entry->voided = from->voided;
  entry->entity = from->entity;
  entry->reason = put_text(&tail, from->reason);
  for (gsize i = 0; i < spec->n_fields; i++) {
    const lzs_value *v = &from->v[i];
    if (v->null)
      continue;
    entry->set |= UINT64_C(1) << i;
    if (spec->fields[i].type == LZS_T_WORD)
      entry->v[i].text = g_intern_string(v->text ? v->text : "");
    else if (spec->fields[i].type == LZS_T_TEXT)
      entry->v[i].text = put_text(&tail, v->text ? v->text : "");
    else if (spec->fields[i].type == LZS_T_REAL)
      entry->v[i].r = v->r;
    else
      entry->v[i].i = v->i;
  }
  lz_entry_stamp(entry, from);
  return entry;
}

void
lz_entry_stamp(LzEntry *entry, const lzs_entry *appended)
{
  entry->id = appended->id;
  entry->recorded_ms = appended->recorded_ms;
  entry->pc_seq = appended->pc_seq;
  char pc[2 * sizeof appended->pc + 1];
  entry->pc_hex = g_intern_string(hex(pc, appended->pc, sizeof appended->pc));
  memcpy(entry->hash, appended->hash, sizeof entry->hash);
  g_clear_pointer(&entry->hash_hex, g_free);
}

void
lz_entry_to_store(const LzEntry *entry, lzs_entry *out)
{
  *out = (lzs_entry){.id = entry->id,
                     .kind = entry->kind,
                     .happened_min = entry->at,
                     .offset_min = entry->offset_min,
                     .recorded_ms = entry->recorded_ms,
                     .who = entry->who,
                     .witness = entry->witness,
                     .reason = entry->reason,
                     .pc_seq = entry->pc_seq,
                     .corrects = entry->corrects,
                     .voided = entry->voided,
                     .entity = entry->entity};
  for (gsize i = 0; i < sizeof out->pc; i++)
    out->pc[i] = (uint8_t)(g_ascii_xdigit_value(entry->pc_hex[2 * i]) << 4 |
                           g_ascii_xdigit_value(entry->pc_hex[2 * i + 1]));
  memcpy(out->hash, entry->hash, sizeof out->hash);
  for (gsize i = 0; i < LZS_MAX_FIELDS; i++) {
    out->v[i].null = i >= entry->spec->n_fields || !lz_entry_is_set(entry, i);
    if (out->v[i].null)
      continue;
    lzs_type type = entry->spec->fields[i].type;
    if (is_text(type))
      out->v[i].text = entry->v[i].text;
    else if (type == LZS_T_REAL)
      out->v[i].r = entry->v[i].r;
    else
      out->v[i].i = entry->v[i].i;
  }
}

LzEntry *
lz_entry_ref(LzEntry *entry)
{
  g_ref_count_inc(&entry->refs);
  return entry;
}

void
lz_entry_unref(LzEntry *entry)
{
  if (!entry || !g_ref_count_dec(&entry->refs))
    return;
  g_free(entry->hash_hex);
  g_free(entry);
}

int64_t
lz_entry_id(const LzEntry *entry)
{
  return entry->id;
}

const char *
lz_entry_kind(const LzEntry *entry)
{
  return entry->spec->name;
}

lzq_minute
lz_entry_at(const LzEntry *entry)
{
  return entry->at;
}

int
lz_entry_offset(const LzEntry *entry)
{
  return entry->offset_min;
}

int64_t
lz_entry_recorded_ms(const LzEntry *entry)
{
  return entry->recorded_ms;
}

int64_t
lz_entry_who(const LzEntry *entry)
{
  return entry->who;
}

int64_t
lz_entry_witness(const LzEntry *entry)
{
  return entry->witness;
}

const char *
lz_entry_reason(const LzEntry *entry)
{
  return entry->reason;
}

int64_t
lz_entry_corrects(const LzEntry *entry)
{
  return entry->corrects;
}

gboolean
lz_entry_voided(const LzEntry *entry)
{
  return entry->voided;
}

int64_t
lz_entry_entity(const LzEntry *entry)
{
  return entry->entity;
}

int64_t
lz_entry_pc_seq(const LzEntry *entry)
{
  return entry->pc_seq;
}

const char *
lz_entry_pc(const LzEntry *entry)
{
  return entry->pc_hex;
}

const char *
lz_entry_hash(const LzEntry *entry)
{
  LzEntry *own = (LzEntry *)entry;
  if (!own->hash_hex)
    own->hash_hex = hex(g_malloc(2 * sizeof entry->hash + 1), entry->hash, sizeof entry->hash);
  return own->hash_hex;
}

int
lz_entry_field(const LzEntry *entry, const char *field)
{
  int i = lzs_kind_field(entry->spec, field);
  return i >= 0 && lz_entry_is_set(entry, (gsize)i) ? i : -1;
}

gboolean
lz_entry_has(const LzEntry *entry, const char *field)
{
  return lz_entry_field(entry, field) >= 0;
}

double
lz_entry_number(const LzEntry *entry, const char *field)
{
  int i = lz_entry_field(entry, field);
  if (i < 0 || is_text(entry->spec->fields[i].type))
    return NAN;
  return entry->spec->fields[i].type == LZS_T_REAL ? entry->v[i].r : (double)entry->v[i].i;
}

int64_t
lz_entry_int(const LzEntry *entry, const char *field)
{
  int i = lz_entry_field(entry, field);
  if (i < 0 || is_text(entry->spec->fields[i].type))
    return 0;
  return entry->spec->fields[i].type == LZS_T_REAL ? (int64_t)entry->v[i].r : entry->v[i].i;
}

const char *
lz_entry_text(const LzEntry *entry, const char *field)
{
  int i = lz_entry_field(entry, field);
  return i >= 0 && is_text(entry->spec->fields[i].type) ? entry->v[i].text : NULL;
}

int
lz_entry_word(const LzEntry *entry, const char *field)
{
  int i = lz_entry_field(entry, field);
  if (i < 0 || entry->spec->fields[i].type != LZS_T_WORD)
    return -1;
  const char *word = entry->v[i].text, *list = entry->spec->fields[i].words;
  const gsize size = strlen(word);
  for (int k = 0;; k++, list++) {
    const gsize n = strcspn(list, "|");
    if (n == size && memcmp(list, word, n) == 0)
      return k;
    list += n;
    if (!*list)
      return -1;
  }
}
