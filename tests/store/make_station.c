// SPDX-License-Identifier: GPL-3.0-or-later
// Makes the small real file that tests/data/schema keeps for a released schema: one entry of every
// kind with every field filled in, a correction, a void, two PCs, a picture, a name, a draft.
// usage: make_station OUT.lazaret (must not exist)
#include "store_fixture.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

// A value that the field accepts; references name the first entry of their kind, whose id is known
// because kinds come in order from id 1.
static void
fill(lzs_entry *entry)
{
  const lzs_kind_spec *spec = lzs_kind_get(entry->kind);
  static char words[LZS_MAX_FIELDS][40];
  for (size_t i = 0; i < spec->n_fields; i++) {
    const lzs_field *field = &spec->fields[i];
    lzs_value *value = &entry->v[i];
    value->null = false;
    switch (field->type) {
    case LZS_T_TEXT:
      value->text = "\xC3\x9C"
                    "b\xE2\x80\x93x";
      break;
    case LZS_T_WORD:
      snprintf(words[i], sizeof words[i], "%.*s", (int)strcspn(field->words, "|"), field->words);
      value->text = words[i];
      break;
    case LZS_T_REAL: value->r = field->min <= 0.1 && field->max >= 0.1 ? 0.1 : field->max; break;
    case LZS_T_INT: value->i = field->max >= 7 && field->min <= 7 ? 7 : (int64_t)field->max; break;
    case LZS_T_BOOL: value->i = 1; break;
    case LZS_T_REF:
      value->i = (int64_t)field->ref + 1;
      value->null = field->ref == entry->kind; // the first of a kind cannot name one before it
      break;
    }
  }
}

// Not a picture that could be shown: the store keeps bytes.
static const char picture[] = "\xff\xd8\xff a photograph";

static const char *path;

// A test only in form: the fixture asserts, and Check reports what does not hold.
START_TEST(write_all)
{
  char name[LZS_PICTURE_NAME];
  assert_ok(lzs_create(path, &fx.options, &fx.store, &fx.error));
  assert_ok(lzs_picture_add(fx.store, picture, sizeof picture, &fx.error));
  lzs_picture_name(picture, sizeof picture, name);
  for (int k = 0; k < LZS_N_KINDS; k++) {
    lzs_entry e = entry_of((lzs_kind)k);
    fill(&e);
    if (k == LZS_SIGHTING || k == LZS_SCRAPE)
      put_text(&e, "photo", name);
    e.who = k > LZS_PERSON ? LZS_PERSON + 1 : 0;
    append_ok(&e, 1);
  }
  lzs_entry more[3] = {a_reading(LZS_SYSTEM + 1, 0.45), a_reading(LZS_SYSTEM + 1, 0.5),
                       entry_of(LZS_READING)};
  more[0].corrects = LZS_READING + 1;
  more[0].reason = "misread";
  more[0].witness = LZS_PERSON + 1;
  more[2].corrects = LZS_READING + 1;
  more[2].voided = true;
  append_ok(more, 2);
  assert_ok(lzs_pc_renew(fx.store, &fx.error));
  append_ok(&more[2], 1);
  assert_ok(lzs_name_set(fx.store, LZS_PERSON + 1,
                         &(lzs_identity){"Ada Example", "AE", "ada@example.org"}, &fx.error));
  assert_ok(lzs_draft_set(fx.store, "dose", "12,5", 1, &fx.error));
}
END_TEST

int
main(int argc, char **argv)
{
  if (argc != 2) {
    fprintf(stderr, "usage: make_station OUT.lazaret\n");
    return 2;
  }
  path = argv[1];
  Suite *suite = suite_create("make station");
  TCase *t = tcase_create("write");
  tcase_add_checked_fixture(t, fixture_setup, fixture_teardown);
  tcase_add_test(t, write_all);
  suite_add_tcase(suite, t);
  return run_suite(suite);
}
