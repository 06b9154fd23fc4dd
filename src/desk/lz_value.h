// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: one typed text into one stored value, by its field's rules and units.
#ifndef LZ_VALUE_H
#define LZ_VALUE_H

#include "lz_model.h"

// A value with the memory of its text.
typedef struct {
  lzs_value v;
  char *text; // owned, where v.text points; NULL
} LzValue;

void lz_value_clear(LzValue *value);

// Reads `text` for a field of a kind. NULL or "" gives null. LZ_DESK_ERROR_USAGE names field, value
// and what is accepted.
gboolean lz_value_parse(const LzModel *model, const lzs_kind_spec *spec, guint field,
                        const char *text, LzValue *out, GError **error);

// A reading as typed: value text, unit ("" = canonical), instrument and its temperature, into the
// canonical unit of the analyte. `unit_out` (may be NULL) gets the unit it was read in, newly
// allocated.
gboolean lz_value_reading(const LzModel *model, lzq_analyte analyte, const char *text,
                          const char *unit, int64_t instrument, double read_temperature,
                          double *out, char **unit_out, GError **error);

// A number as typed for no stored field, in any unit that fields of this name take (volume_l,
// temperature, strength ...), into that field's unit. `name` is what the refusal calls it.
gboolean lz_value_amount(const char *field, const char *name, const char *text, double *out,
                         GError **error);

// Sets error to: field, the text, why.
gboolean lz_value_refuse(GError **error, const char *field, const char *text, const char *accepted);

#endif
