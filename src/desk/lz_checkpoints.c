// SPDX-License-Identifier: GPL-3.0-or-later
// Banks as bytes and back. They stand for the entries up to one whose chained hash they carry, so
// that they cannot be mistaken for those of another record; everything in them can be worked out
// again, and throwing them away changes nothing.
#include <string.h>

#include "lz_banks_private.h"

// Equations and structs are those of these sources.
#if __has_include("lz_edition.h")
#include "lz_edition.h"
#else
#define LZ_EDITION UINT64_C(0) // built without the build system
#endif

#define WORTH_KEEP 64 // records fed since the last checkpoint: fewer are replayed faster than read

typedef struct {
  char magic[8];
  uint64_t edition;
  uint32_t size, n; // size of an item
  uint8_t hash[32]; // of the last entry fed
} Head;

typedef struct {
  uint32_t system, analyte;
  LzKept kept;
} Item;

static void
count_unsaved(gpointer key, gpointer value, gpointer sum)
{
  (void)key;
  *(guint *)sum += ((const LzKept *)value)->unsaved;
}

GBytes *
lz_banks_freeze(LzBanks *banks, LzModel *m, int64_t *entry)
{
  guint unsaved = 0;
  g_hash_table_foreach(banks->kept, count_unsaved, &unsaved);
  if (unsaved < WORTH_KEEP || m->entries->len == 0)
    return NULL;
  const LzEntry *last = m->entries->pdata[m->entries->len - 1];
  g_autoptr(GByteArray) out = g_byte_array_new();
  Head head = {"lzbanks", LZ_EDITION, sizeof(Item), 0, {0}};
  memcpy(head.hash, last->hash, sizeof head.hash);
  g_byte_array_append(out, (const guint8 *)&head, sizeof head);
  GHashTableIter iter;
  gpointer key, value;
  g_hash_table_iter_init(&iter, banks->kept);
  while (g_hash_table_iter_next(&iter, &key, &value)) {
    LzKept *kept = value;
    Item item;
    memset(&item, 0, sizeof item);
    item.system = GPOINTER_TO_UINT(key) / LZQ_N_ANALYTES;
    item.analyte = GPOINTER_TO_UINT(key) % LZQ_N_ANALYTES;
    // fed to the last record first, since all of them stand for one entry
    if (!lz_banks_at(banks, m, item.system, (lzq_analyte)item.analyte, LZQ_NEVER, &item.kept.bank))
      continue;
    kept->unsaved = 0;
    item.kept = *kept;
    g_byte_array_append(out, (const guint8 *)&item, sizeof item);
    head.n++;
  }
  memcpy(out->data, &head, sizeof head);
  *entry = last->id;
  return head.n ? g_byte_array_free_to_bytes(g_steal_pointer(&out)) : NULL;
}

// How many records, and how many of a water's own, come from entries up to one.
static guint
records_until(const LzModel *m, const GArray *own, int64_t entry)
{
  guint n = own ? own->len : m->records->len;
  while (n > 0) {
    guint index = own ? g_array_index(own, uint32_t, n - 1) : n - 1;
    const lzq_record *r = &g_array_index(m->records, lzq_record, index);
    if ((int64_t)(r->id / LZ_RECORDS_PER_ENTRY) <= entry)
      break;
    n--;
  }
  return n;
}

// Nothing entered since describes anew or corrects what was set up before.
static gboolean
same_past(const LzModel *m, int64_t entry, const uint8_t hash[32])
{
  const LzEntry *at = lz_model_entry(m, entry);
  if (!at || memcmp(at->hash, hash, 32) != 0)
    return FALSE;
  for (guint i = m->entries->len; i-- > 0;) {
    const LzEntry *e = lz_model_kept(m, i);
    if (lz_model_id_at(m, i) <= entry)
      return TRUE;
    if (e && lz_model_changes_past(e))
      return FALSE;
  }
  return TRUE;
}

gboolean
lz_banks_thaw(LzBanks *banks, const LzModel *m, int64_t entry, const void *bytes, gsize size)
{
  Head head;
  if (size < sizeof head)
    return FALSE;
  memcpy(&head, bytes, sizeof head);
  if (memcmp(head.magic, "lzbanks", 8) != 0 || head.edition != LZ_EDITION ||
      head.size != sizeof(Item) || size != sizeof head + (gsize)head.n * sizeof(Item) ||
      !same_past(m, entry, head.hash))
    return FALSE;
  guint seen = records_until(m, NULL, entry);
  for (uint32_t i = 0; i < head.n; i++) {
    Item item;
    memcpy(&item, (const guint8 *)bytes + sizeof head + (gsize)i * sizeof item, sizeof item);
    if (item.system >= m->of_water->len || item.analyte >= LZQ_N_ANALYTES)
      return FALSE;
    LzKept *kept = lz_banks_kept(banks, item.system, (lzq_analyte)item.analyte);
    *kept = item.kept;
    kept->generation = m->generation;
    kept->seen = seen;
    kept->taken = records_until(m, m->of_water->pdata[item.system], entry);
  }
  return TRUE;
}
