// SPDX-License-Identifier: GPL-3.0-or-later
// The ledger outside the program: a table, and a manifest that says what it must add up to.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "lz_desk_private.h"
#include "lz_entry_private.h"
#include "lz_error.h"
#include "lz_fields.h"
#include "lz_format.h"
#include "lz_ledger.h"
#include "lz_tables.h"

#define MANIFEST_LAYOUT 1
#define WRITTEN         0.5 // of an export: the table; the rest is the verification

typedef struct {
  char *pc;
  int64_t entries, last_id;
  char *last_hash;
} Chain;

static void
chain_free(Chain *chain)
{
  g_free(chain->pc);
  g_free(chain->last_hash);
  g_free(chain);
}

static int
by_pc(gconstpointer a, gconstpointer b)
{
  return strcmp((*(Chain *const *)a)->pc, (*(Chain *const *)b)->pc);
}

// One of each PC, in order of their ids: the order of the head.
static GPtrArray *
chains_of(LzDesk *desk, GError **error)
{
  g_autoptr(GPtrArray) entries = lz_desk_entries(desk, NULL, 0, 0, error);
  g_autoptr(GHashTable) by_id = g_hash_table_new(g_str_hash, g_str_equal);
  g_autoptr(GPtrArray) chains = g_ptr_array_new_with_free_func((GDestroyNotify)chain_free);
  if (!entries)
    return NULL;
  for (guint i = 0; i < entries->len; i++) {
    LzEntry *entry = entries->pdata[i];
    Chain *chain = g_hash_table_lookup(by_id, lz_entry_pc(entry));
    if (!chain) {
      chain = g_new0(Chain, 1);
      chain->pc = g_strdup(lz_entry_pc(entry));
      g_hash_table_insert(by_id, chain->pc, chain);
      g_ptr_array_add(chains, chain);
    }
    chain->entries++;
    chain->last_id = lz_entry_id(entry);
    g_free(chain->last_hash);
    chain->last_hash = g_strdup(lz_entry_hash(entry));
  }
  g_ptr_array_sort(chains, by_pc);
  return g_steal_pointer(&chains);
}

// "i" whole numbers, yes or no and references, "r" real numbers, "t" texts and words: the letters
// of the chain's layout.
static char
letter_of(LzFieldType type)
{
  switch (type) {
  case LZ_FIELD_TEXT:
  case LZ_FIELD_WORD: return 't';
  case LZ_FIELD_REAL: return 'r';
  case LZ_FIELD_INT:
  case LZ_FIELD_BOOL:
  case LZ_FIELD_REF: return 'i';
  }
  return 't';
}

static void
add_kinds(GString *out)
{
  guint n;
  const LzKind *kinds = lz_kinds(&n);
  for (guint k = 0; k < n; k++) {
    g_string_append_printf(out, "kind %s", kinds[k].name);
    for (guint i = 0; i < lzs_kind_find(kinds[k].name)->n_fields; i++) {
      const char *name = lzs_kind_find(kinds[k].name)->fields[i].name;
      g_string_append_printf(out, " %s:%c", name, letter_of(lz_kind_field(&kinds[k], name)->type));
    }
    g_string_append_c(out, '\n');
  }
}

static GString *
manifest_of(LzDesk *desk, const char *csv_path, const GString *csv, GError **error)
{
  LzVerify verify = {0};
  g_autoptr(GPtrArray) chains = chains_of(desk, error);
  if (!chains || !lz_desk_verify(desk, &verify, error))
    return NULL;
  g_autofree char *name = g_path_get_basename(csv_path);
  g_autofree char *sum =
      g_compute_checksum_for_data(G_CHECKSUM_SHA256, (const guchar *)csv->str, csv->len);
  g_autofree char *at = lz_format_iso(lz_desk_now(desk));
  g_autofree char *station = g_strescape(lz_desk_station_name(desk), NULL);
  GString *out = g_string_new(NULL);
  g_string_append_printf(out, "layout %d\nstation %s\nexported %s\n", MANIFEST_LAYOUT, station, at);
  g_string_append_printf(out, "table %s\nsha256 %s\n", name, sum);
  g_string_append_printf(out, "entries %" G_GINT64_FORMAT "\nhead %s\n", verify.entries,
                         verify.head);
  for (guint i = 0; i < chains->len; i++) {
    const Chain *chain = chains->pdata[i];
    g_string_append_printf(out, "chain %s %" G_GINT64_FORMAT " %" G_GINT64_FORMAT " %s\n",
                           chain->pc, chain->entries, chain->last_id, chain->last_hash);
  }
  add_kinds(out);
  return out;
}

gboolean
lz_ledger_export(LzDesk *desk, const char *csv_path, const char *manifest_path, GError **error)
{
  g_autoptr(GOutputStream) memory = g_memory_output_stream_new_resizable();
  lz_desk_part(desk, 0, WRITTEN);
  if (!lz_table_export_all(desk, memory, error) || !g_output_stream_close(memory, NULL, error))
    return FALSE;
  GMemoryOutputStream *stream = G_MEMORY_OUTPUT_STREAM(memory);
  g_autoptr(GString) csv = g_string_new_len(g_memory_output_stream_get_data(stream),
                                            (gssize)g_memory_output_stream_get_data_size(stream));
  lz_desk_part(desk, WRITTEN, 1);
  GString *manifest = manifest_of(desk, csv_path, csv, error);
  lz_desk_part(desk, 0, 1);
  gboolean done = manifest && g_file_set_contents(csv_path, csv->str, (gssize)csv->len, error) &&
                  g_file_set_contents(manifest_path, manifest->str, (gssize)manifest->len, error);
  if (manifest)
    g_string_free(manifest, TRUE);
  return done;
}
