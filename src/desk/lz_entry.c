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

// --- words: one string for each, so that one is told from another by its address

const char *const *
lz_entry_words(const lzs_kind_spec *spec, gsize field)
{
  static char **words[LZS_N_KINDS][LZS_MAX_FIELDS];
  static gsize made = 0;
  if (g_once_init_enter(&made)) {
    for (int k = 0; k < LZS_N_KINDS; k++) {
      const lzs_kind_spec *of = lzs_kind_get((lzs_kind)k);
      for (gsize f = 0; f < of->n_fields; f++)
        if (of->fields[f].type == LZS_T_WORD)
          words[k][f] = g_strsplit(of->fields[f].words, "|", -1);
    }
    g_once_init_leave(&made, 1);
  }
  return (const char *const *)words[spec->kind][field];
}

const char *
lz_entry_word_of(const lzs_kind_spec *spec, gsize field, guint place)
{
  const char *const *words = lz_entry_words(spec, field);
  for (guint i = 0; words[i]; i++)
    if (i == place)
      return words[i];
  return NULL;
}

static const char *
word_of(const lzs_kind_spec *spec, gsize field, const char *text)
{
  for (const char *const *word = lz_entry_words(spec, field); *word; word++)
    if ((*word)[0] == text[0] && strcmp(*word, text) == 0)
      return *word;
  return g_intern_string(text); // of a file that this program did not write
}

// --- making

static gboolean
is_set(const lzs_entry *from, const lzs_kind_spec *spec, gsize field)
{
  return field < spec->n_fields && !from->v[field].null;
}

// With room for its values and texts; *tail is where the texts go.
static LzEntry *
block_for(const lzs_entry *from, const lzs_kind_spec *spec, char **tail)
{
  gsize n = 0, text = text_size(from->reason);
  uint64_t set = 0;
  for (gsize i = 0; i < spec->n_fields; i++) {
    if (!is_set(from, spec, i))
      continue;
    set |= UINT64_C(1) << i;
    n++;
    if (spec->fields[i].type == LZS_T_TEXT)
      text += from->v[i].text ? text_size(from->v[i].text) : 1;
  }
  LzEntry *entry = g_malloc0(sizeof(LzEntry) + n * sizeof(LzEntryValue) + text);
  entry->set = set;
  *tail = (char *)&entry->v[n];
  return entry;
}

static LzEntryRare *
rare_of(LzEntry *entry)
{
  if (!entry->rare)
    entry->rare = g_new0(LzEntryRare, 1);
  return entry->rare;
}

static void
take_values(LzEntry *entry, const lzs_entry *from, char *tail)
{
  const lzs_kind_spec *spec = entry->spec;
  if (from->reason)
    rare_of(entry)->reason = put_text(&tail, from->reason);
  LzEntryValue *to = entry->v;
  for (gsize i = 0; i < spec->n_fields; i++) {
    const lzs_value *v = &from->v[i];
    if (!is_set(from, spec, i))
      continue;
    if (spec->fields[i].type == LZS_T_WORD)
      to->text = word_of(spec, i, v->text ? v->text : "");
    else if (spec->fields[i].type == LZS_T_TEXT)
      to->text = put_text(&tail, v->text ? v->text : "");
    else if (spec->fields[i].type == LZS_T_REAL)
      to->r = v->r;
    else
      to->i = v->i;
    to++;
  }
}

LzEntry *
lz_entry_new(const lzs_entry *from)
{
  const lzs_kind_spec *spec = lzs_kind_get(from->kind);
  char *tail;
  LzEntry *entry = block_for(from, spec, &tail);
  g_ref_count_init(&entry->refs);
  entry->kind = from->kind;
  entry->spec = spec;
  entry->at = from->happened_min;
  entry->offset_min = from->offset_min;
  entry->who = from->who;
  entry->corrects = from->corrects;
  entry->voided = from->voided;
  entry->entity = from->entity;
  if (from->witness)
    rare_of(entry)->witness = from->witness;
  take_values(entry, from, tail);
  lz_entry_stamp(entry, from);
  return entry;
}

// One string for each PC; entries of one come in runs.
const char *
lz_entry_pc_of(const uint8_t pc[16])
{
  static _Thread_local uint8_t last[16];
  static _Thread_local const char *last_hex = NULL;
  char text[2 * 16 + 1];
  if (!last_hex || memcmp(last, pc, sizeof last) != 0) {
    memcpy(last, pc, sizeof last);
    last_hex = g_intern_string(hex(text, pc, sizeof last));
  }
  return last_hex;
}

void
lz_entry_stamp(LzEntry *entry, const lzs_entry *appended)
{
  entry->id = appended->id;
  entry->recorded_ms = appended->recorded_ms;
  entry->pc_seq = appended->pc_seq;
  entry->pc_hex = lz_entry_pc_of(appended->pc);
  memcpy(entry->hash, appended->hash, sizeof entry->hash);
  if (entry->rare)
    g_clear_pointer(&entry->rare->hash_hex, g_free);
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
                     .witness = lz_entry_witness(entry),
                     .reason = lz_entry_reason(entry),
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
    const LzEntryValue *v = lz_entry_value(entry, i);
    if (is_text(type))
      out->v[i].text = v->text;
    else if (type == LZS_T_REAL)
      out->v[i].r = v->r;
    else
      out->v[i].i = v->i;
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
  if (entry->rare)
    g_free(entry->rare->hash_hex);
  g_free(entry->rare);
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
  return entry->rare ? entry->rare->witness : 0;
}

const char *
lz_entry_reason(const LzEntry *entry)
{
  return entry->rare ? entry->rare->reason : NULL;
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
  LzEntryRare *rare = rare_of((LzEntry *)entry);
  if (!rare->hash_hex)
    rare->hash_hex = hex(g_malloc(2 * sizeof entry->hash + 1), entry->hash, sizeof entry->hash);
  return rare->hash_hex;
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
  const LzEntryValue *v = lz_entry_value(entry, (gsize)i);
  return entry->spec->fields[i].type == LZS_T_REAL ? v->r : (double)v->i;
}

int64_t
lz_entry_int(const LzEntry *entry, const char *field)
{
  int i = lz_entry_field(entry, field);
  if (i < 0 || is_text(entry->spec->fields[i].type))
    return 0;
  const LzEntryValue *v = lz_entry_value(entry, (gsize)i);
  return entry->spec->fields[i].type == LZS_T_REAL ? (int64_t)v->r : v->i;
}

const char *
lz_entry_text(const LzEntry *entry, const char *field)
{
  int i = lz_entry_field(entry, field);
  return i >= 0 && is_text(entry->spec->fields[i].type) ? lz_entry_value(entry, (gsize)i)->text
                                                        : NULL;
}

int
lz_entry_word_at(const LzEntry *entry, gsize field)
{
  const char *word = lz_entry_value(entry, field)->text;
  const char *const *words = lz_entry_words(entry->spec, field);
  for (int k = 0; words[k]; k++)
    if (words[k] == word)
      return k;
  return -1;
}

int
lz_entry_word(const LzEntry *entry, const char *field)
{
  int i = lz_entry_field(entry, field);
  return i < 0 || entry->spec->fields[i].type != LZS_T_WORD ? -1
                                                            : lz_entry_word_at(entry, (gsize)i);
}
