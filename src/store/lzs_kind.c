// SPDX-License-Identifier: GPL-3.0-or-later
// Looks kinds up; the rows themselves are in lzs_kind_setup.c and lzs_kind_facts.c.
#include "lzs_kind_rows.h"

#include <string.h>

const lzs_kind_spec *
lzs_kind_get(lzs_kind kind)
{
  return kind <= LZS_LOT ? &lzs_kinds_setup[kind] : &lzs_kinds_facts[kind - LZS_LOT - 1];
}

const lzs_kind_spec *
lzs_kind_find(const char *name)
{
  for (int k = 0; k < LZS_N_KINDS; k++) {
    const lzs_kind_spec *spec = lzs_kind_get((lzs_kind)k);
    if (strcmp(spec->name, name) == 0 || strcmp(spec->plural, name) == 0)
      return spec;
  }
  return NULL;
}

int
lzs_kind_field(const lzs_kind_spec *spec, const char *field)
{
  for (size_t i = 0; i < spec->n_fields; i++)
    if (spec->fields[i].name[0] == field[0] && strcmp(spec->fields[i].name, field) == 0)
      return (int)i;
  return -1;
}
