// SPDX-License-Identifier: GPL-3.0-or-later
// An entry packed for this PC's copy of a station and unpacked is the entry that it was; what is
// cut or points out of itself is none. Every kind, with random fields; LZ_SEED chooses others.
#include <check.h>
#include <lz_entry_private.h>
#include <stdlib.h>
#include <string.h>

#include "../lib/prng.h"

#define TIMES 40

static lzt_prng prng;

static const char *
some_text(void)
{
  static const char *const texts[] = {"", "x", "Blue-1",
                                      "Fisch, der nicht frisst \xc3\xa4\xc3\xb6"};
  return texts[lzt_prng_range(&prng, 0, 3)];
}

// Of the field, or one that only a newer program knows.
static const char *
some_word(const lzs_field *field)
{
  g_auto(GStrv) words = g_strsplit(field->words, "|", -1);
  const int64_t k = lzt_prng_range(&prng, 0, (int64_t)g_strv_length(words));
  return g_intern_string(words[k] ? words[k] : "of-a-newer-program");
}

static void
some_value(const lzs_field *field, lzs_value *v)
{
  v->null = lzt_prng_chance(&prng, 0.4);
  if (field->type == LZS_T_TEXT)
    v->text = some_text();
  else if (field->type == LZS_T_WORD)
    v->text = some_word(field);
  else if (field->type == LZS_T_REAL)
    v->r = (double)lzt_prng_range(&prng, -1000000, 1000000) / 7;
  else
    v->i = lzt_prng_range(&prng, G_MININT32, G_MAXINT32);
}

static lzs_entry
some_entry(lzs_kind kind)
{
  const lzs_kind_spec *spec = lzs_kind_get(kind);
  lzs_entry e = {.id = lzt_prng_range(&prng, 1, 1 << 30),
                 .kind = kind,
                 .happened_min = lzt_prng_range(&prng, -1000, 1 << 30),
                 .offset_min = (int32_t)lzt_prng_range(&prng, -720, 720),
                 .recorded_ms = lzt_prng_range(&prng, 0, 1 << 30),
                 .who = lzt_prng_range(&prng, 0, 9),
                 .witness = lzt_prng_range(&prng, 0, 2),
                 .reason = lzt_prng_chance(&prng, 0.5) ? some_text() : NULL,
                 .pc_seq = lzt_prng_range(&prng, 1, 99),
                 .corrects = lzt_prng_range(&prng, 0, 2),
                 .voided = lzt_prng_chance(&prng, 0.2),
                 .entity = lzt_prng_range(&prng, 0, 2)};
  for (gsize i = 0; i < sizeof e.hash; i++)
    e.hash[i] = (uint8_t)lzt_prng_range(&prng, 0, 255);
  for (gsize i = 0; i < sizeof e.pc; i++)
    e.pc[i] = (uint8_t)lzt_prng_range(&prng, 0, 255);
  for (gsize i = 0; i < LZS_MAX_FIELDS; i++)
    e.v[i].null = true;
  for (gsize i = 0; i < spec->n_fields; i++)
    some_value(&spec->fields[i], &e.v[i]);
  return e;
}

static void
same_text(const char *a, const char *b)
{
  ck_assert_msg(g_strcmp0(a, b) == 0, "“%s” and “%s”", a, b);
}

static void
same_value(const lzs_field *field, const lzs_value *a, const lzs_value *b)
{
  ck_assert_int_eq(a->null, b->null);
  if (a->null)
    return;
  if (field->type == LZS_T_TEXT || field->type == LZS_T_WORD)
    same_text(a->text, b->text);
  else if (field->type == LZS_T_REAL)
    ck_assert(memcmp(&a->r, &b->r, sizeof a->r) == 0);
  else
    ck_assert_int_eq(a->i, b->i);
}

static void
same(const lzs_entry *a, const LzEntry *entry)
{
  lzs_entry b;
  lz_entry_to_store(entry, &b);
  ck_assert(a->id == b.id && a->kind == b.kind && a->happened_min == b.happened_min &&
            a->offset_min == b.offset_min && a->recorded_ms == b.recorded_ms && a->who == b.who &&
            a->witness == b.witness && a->pc_seq == b.pc_seq && a->corrects == b.corrects &&
            a->voided == b.voided && a->entity == b.entity);
  same_text(a->reason, b.reason);
  ck_assert(memcmp(a->pc, b.pc, sizeof b.pc) == 0 && memcmp(a->hash, b.hash, sizeof b.hash) == 0);
  const lzs_kind_spec *spec = lzs_kind_get(a->kind);
  for (gsize i = 0; i < spec->n_fields; i++)
    same_value(&spec->fields[i], &a->v[i], &b.v[i]);
}

static void
begin(void)
{
  const char *seed = g_getenv("LZ_SEED");
  lzt_prng_seed(&prng, seed ? g_ascii_strtoull(seed, NULL, 10) : 1);
}

START_TEST(unpacked_as_it_was)
{
  const lzs_kind kind = (lzs_kind)_i;
  for (int n = 0; n < TIMES; n++) {
    const lzs_entry from = some_entry(kind);
    g_autoptr(LzEntry) made = lz_entry_new(&from);
    g_autoptr(GByteArray) bytes = g_byte_array_new();
    gsize size = 0;
    lz_entry_pack(made, bytes);
    ck_assert_uint_eq(bytes->len % 8, 0);
    g_autofree char *lies = g_memdup2(bytes->data, bytes->len); // no byte more than it has
    g_autoptr(LzEntry) again = lz_entry_unpack(lies, bytes->len, &size);
    ck_assert_ptr_nonnull(again);
    ck_assert_uint_eq(size, bytes->len);
    same(&from, again);
    for (gsize i = 0; i < lzs_kind_get(kind)->n_fields; i++) // words are told by their address
      if (lzs_kind_get(kind)->fields[i].type == LZS_T_WORD && lz_entry_is_set(made, i))
        ck_assert_ptr_eq(lz_entry_value(made, i)->text, lz_entry_value(again, i)->text);
  }
}
END_TEST

// Under the sanitizers nothing outside of the bytes is read.
START_TEST(cut_or_changed)
{
  int taken = 0, refused = 0;
  for (int n = 0; n < 400; n++) {
    const lzs_entry from = some_entry((lzs_kind)lzt_prng_range(&prng, 0, LZS_N_KINDS - 1));
    g_autoptr(LzEntry) made = lz_entry_new(&from);
    g_autoptr(GByteArray) bytes = g_byte_array_new();
    gsize size;
    lz_entry_pack(made, bytes);
    for (gsize left = 0; left < bytes->len; left += 8) {
      g_autofree char *less = g_memdup2(bytes->data, left);
      ck_assert_ptr_null(lz_entry_unpack(less ? less : "", left, &size));
    }
    g_autofree char *other = g_memdup2(bytes->data, bytes->len);
    other[lzt_prng_range(&prng, 0, (int64_t)bytes->len - 1)] ^= (char)lzt_prng_range(&prng, 1, 255);
    g_autoptr(LzEntry) read = lz_entry_unpack(other, bytes->len, &size);
    lzs_entry out;
    if (read)
      lz_entry_to_store(read, &out);
    taken += read != NULL;
    refused += read == NULL;
  }
  ck_assert_int_gt(taken, 50);
  ck_assert_int_gt(refused, 20);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk: packed entries");
  TCase *t = tcase_create("packed");
  tcase_add_checked_fixture(t, begin, NULL);
  tcase_add_loop_test(t, unpacked_as_it_was, 0, LZS_N_KINDS);
  tcase_add_test(t, cut_or_changed);
  suite_add_tcase(suite, t);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  const int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
