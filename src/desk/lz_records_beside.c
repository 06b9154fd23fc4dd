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

void
lz_beside_put(LzKeptFile *file, const LzModel *m, const GArray *named)
{
  g_autoptr(GArray) runs = lz_model_runs(m);
  const guint64 n = m->of_water->len;
  put_list(file, named);
  put_list(file, runs);
  put_list(file, m->latest);
  lz_kept_file_put(file, &n, sizeof n);
  for (guint w = 0; w < n; w++)
    put_list(file, m->of_water->pdata[w]);
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

static const void *
get_list(Cursor *c, gsize size, gsize *n)
{
  const guint64 *length = get(c, 1, sizeof *length);
  *n = length ? (gsize)*length : 0;
  return get(c, *n, size);
}

static gboolean
runs_add_up(const LzLying *lying, guint64 entries)
{
  int64_t last = 0;
  for (gsize i = 0; i < lying->n_runs; i++) {
    const LzIdRun *run = &lying->runs[i];
    if (run->first <= last || run->n <= 0 || (guint64)run->n > entries)
      return FALSE;
    entries -= (guint64)run->n;
    last = run->first + run->n - 1;
  }
  return entries == 0;
}

gboolean
lz_beside_read(LzBeside *out, const char *bytes, gsize size, guint64 entries)
{
  Cursor c = {bytes, bytes + size, FALSE};
  *out = (LzBeside){0};
  out->named = get_list(&c, sizeof *out->named, &out->n_named);
  out->lying.runs = get_list(&c, sizeof *out->lying.runs, &out->lying.n_runs);
  out->lying.latest = get_list(&c, sizeof *out->lying.latest, &out->lying.n_latest);
  const guint64 *n = get(&c, 1, sizeof *n);
  if (!n || *n > size || !runs_add_up(&out->lying, entries))
    return FALSE;
  out->lists = g_new0(const uint32_t *, *n);
  out->lengths = g_new0(gsize, *n);
  for (gsize w = 0; w < *n; w++)
    out->lists[w] = get_list(&c, sizeof **out->lists, &out->lengths[w]);
  out->lying.of_water = out->lists;
  out->lying.n_of_water = out->lengths;
  out->lying.n_waters = (gsize)*n;
  return !c.failed;
}

void
lz_beside_clear(LzBeside *beside)
{
  g_free(beside->lists);
  g_free(beside->lengths);
}
