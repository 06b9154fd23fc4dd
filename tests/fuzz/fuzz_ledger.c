// SPDX-License-Identifier: GPL-3.0-or-later
// libFuzzer target: a file whose chain is sound but whose entries no desk would have written:
// values anywhere within the ranges of the kind table, references to anything of the right kind,
// texts of any sort. The store takes or refuses each; the desk opens what it took, plans or says
// why it cannot, and shows it.
#include <glib/gstdio.h>
#include <lzs_store.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bytes.h"
#include "scratch.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

#define MOST_ENTRIES 24

static char *folder, *path;
static GArray *ids[LZS_N_KINDS]; // int64_t, of the entries there are
static int64_t person, base_min;

static bool
note_id(void *ctx, const lzs_entry *entry)
{
  g_array_append_val(ids[entry->kind], entry->id);
  if (entry->kind == LZS_PERSON && !person)
    person = entry->id;
  base_min = entry->happened_min;
  return true;
}

static double
any_real(const lzs_field *field, lzt_bytes *bytes)
{
  static const double some[] = {0, 1, 0.19, 35, 1440, 30, 60, 1e-9, -1, 1e6};
  uint8_t how = lzt_byte(bytes);
  double value = how == 255   ? field->min
                 : how == 254 ? field->max
                 : how < 200  ? some[how % G_N_ELEMENTS(some)]
                              : (double)(int16_t)lzt_number(bytes, 2) / 16;
  return CLAMP(value, field->min, field->max);
}

static const char *
any_word(const lzs_field *field, lzt_bytes *bytes, char *room, gsize size)
{
  g_auto(GStrv) words = g_strsplit(field->words, "|", -1);
  g_strlcpy(room, words[lzt_byte(bytes) % g_strv_length(words)], size);
  return room;
}

static const char *
any_text(lzt_bytes *bytes)
{
  static const char *const some[] = {"Blue-1",
                                     "1",
                                     "07:30 17:00",
                                     "ionic",
                                     "07:30 except sun",
                                     "\xe2\x80\xae",
                                     "Europe/Berlin",
                                     "UTC",
                                     "%s%n",
                                     "a\nb",
                                     "'; DROP TABLE",
                                     "2027-03-02",
                                     "0.5 0.6 nonsense",
                                     "-99999999",
                                     "=1+1",
                                     "\xc3\xa4",
                                     "copper=1,2",
                                     ""};
  return some[lzt_byte(bytes) % G_N_ELEMENTS(some)];
}

static void
any_value(const lzs_field *field, lzs_value *out, lzt_bytes *bytes, char *room, gsize size)
{
  if (!field->needed && lzt_byte(bytes) % 4 == 0)
    return;
  out->null = false;
  switch (field->type) {
  case LZS_T_TEXT: out->text = any_text(bytes); break;
  case LZS_T_WORD: out->text = any_word(field, bytes, room, size); break;
  case LZS_T_BOOL: out->i = lzt_byte(bytes) % 2; break;
  case LZS_T_INT: out->i = (int64_t)any_real(field, bytes); break;
  case LZS_T_REAL: out->r = any_real(field, bytes); break;
  case LZS_T_REF:
    out->null = ids[field->ref]->len == 0;
    if (!out->null)
      out->i = g_array_index(ids[field->ref], int64_t, lzt_byte(bytes) % ids[field->ref]->len);
  }
}

static void
append_any(lzs_store *store, lzt_bytes *bytes)
{
  static char rooms[LZS_MAX_FIELDS][64];
  lzs_error error = {0};
  lzs_entry e = {.kind = (lzs_kind)(lzt_byte(bytes) % LZS_N_KINDS), .who = person};
  const lzs_kind_spec *spec = lzs_kind_get(e.kind);
  uint8_t how = lzt_byte(bytes);
  e.happened_min = base_min + (int16_t)lzt_number(bytes, 2);
  e.offset_min = how & 1 ? 60 : (int32_t)(int16_t)lzt_number(bytes, 2) % 900;
  for (gsize i = 0; i < spec->n_fields; i++) {
    e.v[i].null = true;
    any_value(&spec->fields[i], &e.v[i], bytes, rooms[i], sizeof rooms[i]);
  }
  if (how % 8 == 2 && ids[e.kind]->len) {
    e.corrects = g_array_index(ids[e.kind], int64_t, lzt_byte(bytes) % ids[e.kind]->len);
    e.voided = how & 16;
    e.reason = "mistyped";
  } else if (how % 8 >= 4 && spec->setup && ids[e.kind]->len) {
    e.entity = g_array_index(ids[e.kind], int64_t, lzt_byte(bytes) % ids[e.kind]->len);
  }
  if (lzs_append(store, &e, 1, &error) == LZS_OK)
    g_array_append_val(ids[e.kind], e.id);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
  static GBytes *station;
  lzt_bytes bytes = {data, size};
  lzs_store *store = NULL;
  lzs_error error = {0};
  if (!station) {
    station = scratch_station();
    path = scratch_path("any.lazaret");
    folder = g_path_get_dirname(path);
    for (int k = 0; k < LZS_N_KINDS; k++)
      ids[k] = g_array_new(FALSE, FALSE, sizeof(int64_t));
  }
  gsize n;
  const char *sound = g_bytes_get_data(station, &n);
  for (int k = 0; k < LZS_N_KINDS; k++)
    g_array_set_size(ids[k], 0);
  if (!g_file_set_contents(path, sound, (gssize)n, NULL))
    abort();
  const lzs_options options = {.pc_folder = folder, .place = LZS_PLACE_NETWORK};
  if (lzs_open(path, &options, &store, &error) != LZS_OK ||
      lzs_read(store, 0, note_id, NULL, &error) != LZS_OK)
    abort();
  for (int i = 0; i < MOST_ENTRIES && bytes.left; i++)
    append_any(store, &bytes);
  lzs_close(store);
  scratch_look(path);
  return 0;
}
