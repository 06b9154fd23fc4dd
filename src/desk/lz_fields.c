// SPDX-License-Identifier: GPL-3.0-or-later
// The store's table of kinds as the layers above the desk see it, made once.
#include "lz_fields.h"

#include <glib/gi18n-lib.h>
#include <lzs_kind.h>

// Fields of a person that live outside the chain, so that they can be erased.
static const LzField person_extra[] = {
    {.name = "name", .type = LZ_FIELD_TEXT, .help = N_("the person's name")},
    {.name = "initials", .type = LZ_FIELD_TEXT, .help = N_("two letters")},
    {.name = "contact", .type = LZ_FIELD_TEXT, .help = N_("how to reach the person")},
    {.name = "erase", .type = LZ_FIELD_BOOL, .help = N_("yes: name, contact and PIN go for good")},
    {.name = "pin", .type = LZ_FIELD_TEXT, .help = N_("digits")},
};

static LzFieldType
field_type(lzs_type type)
{
  switch (type) {
  case LZS_T_INT: return LZ_FIELD_INT;
  case LZS_T_REAL: return LZ_FIELD_REAL;
  case LZS_T_BOOL: return LZ_FIELD_BOOL;
  case LZS_T_REF: return LZ_FIELD_REF;
  case LZS_T_WORD: return LZ_FIELD_WORD;
  default: return LZ_FIELD_TEXT;
  }
}

static void
fill_kind(LzKind *kind, const lzs_kind_spec *spec)
{
  guint extra = spec->kind == LZS_PERSON ? G_N_ELEMENTS(person_extra) : 0;
  LzField *fields = g_new0(LzField, spec->n_fields + extra + 1);
  for (gsize i = 0; i < spec->n_fields; i++) {
    const lzs_field *f = &spec->fields[i];
    fields[i] = (LzField){.name = f->name,
                          .type = field_type(f->type),
                          .ref = f->type == LZS_T_REF ? lzs_kind_get(f->ref)->name : NULL,
                          .words = f->words,
                          .needed = f->needed,
                          .min = f->min,
                          .max = f->max,
                          .help = _(f->help)};
  }
  for (guint i = 0; i < extra; i++) {
    fields[spec->n_fields + i] = person_extra[i];
    fields[spec->n_fields + i].help = _(person_extra[i].help);
  }
  *kind = (LzKind){.name = spec->name,
                   .plural = spec->plural,
                   .setup = spec->setup,
                   .fields = fields,
                   .n_fields = (guint)spec->n_fields + extra};
}

const LzKind *
lz_kinds(guint *n)
{
  static gsize made = 0;
  static LzKind kinds[LZS_N_KINDS];
  if (g_once_init_enter(&made)) {
    for (int k = 0; k < LZS_N_KINDS; k++)
      fill_kind(&kinds[k], lzs_kind_get((lzs_kind)k));
    g_once_init_leave(&made, 1);
  }
  if (n)
    *n = LZS_N_KINDS;
  return kinds;
}

const LzKind *
lz_kind_find(const char *name)
{
  const lzs_kind_spec *spec = lzs_kind_find(name);
  return spec ? &lz_kinds(NULL)[spec->kind] : NULL;
}

const LzField *
lz_kind_field(const LzKind *kind, const char *field)
{
  for (guint i = 0; i < kind->n_fields; i++)
    if (g_str_equal(kind->fields[i].name, field))
      return &kind->fields[i];
  return NULL;
}
