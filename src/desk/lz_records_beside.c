// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_records_beside.h. Each list stands behind its length and fills up to 8 bytes.
#include "lz_records_beside.h"

#define WHOLE(size) (((gsize)(size) + 7) / 8 * 8)

// --- writing

static void
put_list(LzKeptFile *file, const GArray *list)
{
  static const char zeros[8];
  const guint64 n = list->len;
  const gsize size = n * g_array_get_element_size((GArray *)list);
  lz_kept_file_put(file, &n, sizeof n);
  lz_kept_file_put(file, list->data, size);
  lz_kept_file_put(file, zeros, WHOLE(size) - size);
}

static void
put_lists(LzKeptFile *file, const GPtrArray *lists)
{
  const guint64 n = lists->len;
  lz_kept_file_put(file, &n, sizeof n);
  for (guint i = 0; i < n; i++)
    put_list(file, lists->pdata[i]);
}

static gboolean
stays(const LzModel *m, guint place, guint newest)
{
  const LzEntry *e = lz_model_kept(m, place);
  return e && (place + newest >= m->entries->len || e->corrected || !lz_model_is_plain(e));
}

static void
put_entries(LzKeptFile *file, const LzModel *m, guint newest)
{
  g_autoptr(GByteArray) packed = g_byte_array_new();
  guint64 n = 0;
  for (guint i = 0; i < m->entries->len; i++)
    n += stays(m, i, newest);
  lz_kept_file_put(file, &n, sizeof n);
  for (guint i = 0; i < m->entries->len; i++) {
    if (!stays(m, i, newest))
      continue;
    g_byte_array_set_size(packed, 0);
    lz_entry_pack(lz_model_kept(m, i), packed);
    lz_kept_file_put(file, packed->data, packed->len);
  }
}

void
lz_beside_put(LzKeptFile *file, const LzModel *m, guint newest)
{
  g_autoptr(GArray) runs = lz_model_runs(m), replaced = lz_model_replaced(m);
  g_autoptr(GArray) held = lz_model_held(m);
  GArray *lists[LZ_MODEL_LISTS];
  lz_model_lists(m, lists);
  put_entries(file, m, newest);
  put_list(file, runs);
  put_list(file, m->latest);
  put_list(file, replaced);
  put_list(file, held);
  for (int i = 0; i < LZ_MODEL_LISTS; i++)
    put_list(file, lists[i]);
  put_lists(file, m->of_water);
  put_lists(file, m->of_lot);
}

// --- reading

typedef struct {
  const char *at, *end;
  gboolean failed;
} Cursor;

// NULL = it is not there.
static const void *
get(Cursor *c, gsize n, gsize size)
{
  const gsize left = (gsize)(c->end - c->at);
  const char *at = c->at;
  if (c->failed || n > left / size || WHOLE(n * size) > left) {
    c->failed = TRUE;
    return NULL;
  }
  c->at += WHOLE(n * size);
  return at;
}

static gsize
get_length(Cursor *c)
{
  const guint64 *n = get(c, 1, sizeof *n);
  return n ? (gsize)*n : 0;
}

static LzLyingList
get_list(Cursor *c, gsize size)
{
  const gsize n = get_length(c);
  return (LzLyingList){get(c, n, size), n};
}

static LzLyingList *
get_lists(Cursor *c, gsize *n)
{
  *n = get_length(c);
  c->failed = c->failed || *n > (gsize)(c->end - c->at) / sizeof(guint64);
  LzLyingList *lists = g_new0(LzLyingList, c->failed ? 0 : *n);
  for (gsize i = 0; !c->failed && i < *n; i++)
    lists[i] = get_list(c, sizeof(uint32_t));
  return lists;
}

static GPtrArray *
get_entries(Cursor *c)
{
  GPtrArray *out = g_ptr_array_new_with_free_func((GDestroyNotify)lz_entry_unref);
  const gsize n = get_length(c);
  for (gsize i = 0; i < n && !c->failed; i++) {
    gsize size = 0;
    LzEntry *e = lz_entry_unpack(c->at, (gsize)(c->end - c->at), &size);
    c->failed = !e;
    c->at += size;
    if (e)
      g_ptr_array_add(out, e);
  }
  return out;
}

static gboolean
runs_add_up(const LzLyingList *list, guint64 entries)
{
  const LzIdRun *runs = list->items;
  int64_t last = 0;
  for (gsize i = 0; i < list->n; i++) {
    if (runs[i].first <= last || runs[i].n <= 0 || (guint64)runs[i].n > entries)
      return FALSE;
    entries -= (guint64)runs[i].n;
    last = runs[i].first + runs[i].n - 1;
  }
  return entries == 0;
}

gboolean
lz_beside_read(LzBeside *out, const char *bytes, gsize size, guint64 entries)
{
  Cursor c = {bytes, bytes + size, FALSE};
  LzLying *l = &out->lying;
  *out = (LzBeside){.kept = get_entries(&c)};
  l->runs = get_list(&c, sizeof(LzIdRun));
  l->latest = get_list(&c, sizeof(lzq_minute));
  l->replaced = get_list(&c, sizeof(uint32_t));
  l->held = get_list(&c, sizeof(LzHeld));
  for (int i = 0; i < LZ_MODEL_LISTS; i++)
    l->lists[i] = get_list(&c, sizeof(uint32_t));
  l->of_water = get_lists(&c, &l->n_waters);
  l->of_lot = get_lists(&c, &l->n_lots);
  return !c.failed && runs_add_up(&l->runs, entries);
}

void
lz_beside_clear(LzBeside *beside)
{
  g_clear_pointer(&beside->kept, g_ptr_array_unref);
  g_free(beside->lying.of_water);
  g_free(beside->lying.of_lot);
}
