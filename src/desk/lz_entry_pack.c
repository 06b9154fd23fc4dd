// SPDX-License-Identifier: GPL-3.0-or-later
// An entry as bytes that lie anywhere, for a file of this PC's own, and back. Only the build that
// packed them takes them out again: fields stand by their places, words by theirs.
#include <string.h>

#include "lz_entry_private.h"

#define WHOLE(size) (((gsize)(size) + 7) / 8 * 8)

// Behind it the values, and behind them the texts, each with its zero.
typedef struct {
  uint32_t size; // bytes of all, a multiple of 8
  uint32_t text; // bytes of texts
  int64_t id, at, recorded_ms, who, pc_seq, corrects, entity, witness;
  uint64_t set;
  int32_t offset_min;
  uint16_t kind, voided;
  uint32_t reason, n; // where the reason stands among the texts, plus one; how many values
  uint8_t pc[16], hash[32];
} Packed;

typedef union {
  int64_t i;
  double r;
  struct {
    uint32_t at;      // where the text stands
    uint32_t is_word; // instead the place of a word
  } text;
} PackedValue;
G_STATIC_ASSERT(sizeof(PackedValue) == sizeof(LzEntryValue) && sizeof(Packed) % 8 == 0);

// --- in

static uint32_t
put_text(GByteArray *texts, const char *text)
{
  const uint32_t at = texts->len;
  g_byte_array_append(texts, (const guint8 *)text, (guint)strlen(text) + 1);
  return at;
}

static PackedValue
value_of(const LzEntry *e, gsize field, GByteArray *texts)
{
  const LzEntryValue *v = lz_entry_value(e, field);
  const lzs_type type = e->spec->fields[field].type;
  const int word = type == LZS_T_WORD ? lz_entry_word_at(e, field) : -1;
  PackedValue out = {0};
  if (word >= 0)
    out.text.at = (uint32_t)word;
  else if (type == LZS_T_WORD || type == LZS_T_TEXT)
    out.text.at = put_text(texts, v->text);
  else
    memcpy(&out, v, sizeof out);
  if (word >= 0)
    out.text.is_word = 1;
  return out;
}

static void
put_pc(uint8_t pc[16], const char *hex)
{
  for (gsize i = 0; i < 16; i++)
    pc[i] = (uint8_t)(g_ascii_xdigit_value(hex[2 * i]) << 4 | g_ascii_xdigit_value(hex[2 * i + 1]));
}

void
lz_entry_pack(const LzEntry *e, GByteArray *out)
{
  static const guint8 zeros[8];
  const char *reason = lz_entry_reason(e);
  g_autoptr(GByteArray) texts = g_byte_array_new();
  PackedValue values[LZS_MAX_FIELDS];
  Packed head = {.id = e->id,
                 .at = e->at,
                 .recorded_ms = e->recorded_ms,
                 .who = e->who,
                 .pc_seq = e->pc_seq,
                 .corrects = e->corrects,
                 .entity = e->entity,
                 .witness = lz_entry_witness(e),
                 .set = e->set,
                 .offset_min = e->offset_min,
                 .kind = (uint16_t)e->kind,
                 .voided = e->voided,
                 .reason = reason ? put_text(texts, reason) + 1 : 0};
  for (gsize i = 0; i < e->spec->n_fields; i++)
    if (lz_entry_is_set(e, i))
      values[head.n++] = value_of(e, i, texts);
  put_pc(head.pc, e->pc_hex);
  memcpy(head.hash, e->hash, sizeof head.hash);
  head.text = texts->len;
  const gsize size = sizeof head + head.n * sizeof *values + texts->len;
  head.size = (uint32_t)WHOLE(size);
  g_byte_array_append(out, (const guint8 *)&head, sizeof head);
  g_byte_array_append(out, (const guint8 *)values, head.n * (guint)sizeof *values);
  g_byte_array_append(out, texts->data, texts->len);
  g_byte_array_append(out, zeros, (guint)(WHOLE(size) - size));
}

// --- out

static gboolean
fits(const Packed *p, gsize left)
{
  return p->size <= left && p->kind < LZS_N_KINDS && p->n <= LZS_MAX_FIELDS &&
         (int)p->n == __builtin_popcountll(p->set) &&
         p->set >> lzs_kind_get((lzs_kind)p->kind)->n_fields == 0 && p->reason <= p->text &&
         WHOLE(sizeof *p + p->n * sizeof(PackedValue) + p->text) == p->size;
}

// Where texts stood, they are; FALSE = it points out of them.
static gboolean
point(LzEntry *e, const char *texts, uint32_t size)
{
  LzEntryValue *to = e->v;
  for (gsize i = 0; i < e->spec->n_fields; i++) {
    const lzs_type type = e->spec->fields[i].type;
    PackedValue v;
    if (!lz_entry_is_set(e, i))
      continue;
    memcpy(&v, to, sizeof v);
    if (type == LZS_T_WORD && v.text.is_word)
      to->text = lz_entry_word_of(e->spec, i, v.text.at);
    else if (type == LZS_T_WORD || type == LZS_T_TEXT)
      to->text = v.text.at < size ? texts + v.text.at : NULL;
    if (type == LZS_T_WORD && to->text && !v.text.is_word)
      to->text = g_intern_string(to->text);
    if ((type == LZS_T_WORD || type == LZS_T_TEXT) && !to->text)
      return FALSE;
    to++;
  }
  return TRUE;
}

static void
fill(LzEntry *e, const Packed *p)
{
  g_ref_count_init(&e->refs);
  e->kind = (lzs_kind)p->kind;
  e->spec = lzs_kind_get(e->kind);
  e->id = p->id;
  e->at = p->at;
  e->recorded_ms = p->recorded_ms;
  e->who = p->who;
  e->pc_seq = p->pc_seq;
  e->corrects = p->corrects;
  e->entity = p->entity;
  e->offset_min = p->offset_min;
  e->voided = p->voided != 0;
  e->pc_hex = lz_entry_pc_of(p->pc);
  e->set = p->set;
  memcpy(e->hash, p->hash, sizeof e->hash);
}

LzEntry *
lz_entry_unpack(const char *bytes, gsize left, gsize *size)
{
  const Packed *p = (const Packed *)(const void *)bytes;
  if (left < sizeof *p || !fits(p, left))
    return NULL;
  const gsize body = p->n * sizeof(PackedValue) + p->text;
  LzEntry *e = g_malloc0(sizeof *e + body);
  const char *texts = (const char *)&e->v[p->n];
  fill(e, p);
  memcpy(e->v, p + 1, body);
  if (p->witness || p->reason) {
    e->rare = g_new0(LzEntryRare, 1);
    *e->rare =
        (LzEntryRare){.witness = p->witness, .reason = p->reason ? texts + p->reason - 1 : NULL};
  }
  *size = p->size;
  if ((p->text && texts[p->text - 1] != '\0') || !point(e, texts, p->text)) {
    lz_entry_unref(e);
    return NULL;
  }
  return e;
}
