// SPDX-License-Identifier: GPL-3.0-or-later
// One field while it is typed: the same reading of it as at submission, with its echo in the
// canonical unit. Gates ask for the whole command, so they speak when it is checked, not here.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "lz_check.h"
#include "lz_fields.h"
#include "lz_format.h"
#include "lz_words.h"

static int
analyte_index(const char *word)
{
  const LzKind *reading = lz_kind_find("reading");
  g_auto(GStrv) words = g_strsplit(lz_kind_field(reading, "analyte")->words, "|", -1);
  for (int i = 0; word && words[i]; i++)
    if (g_ascii_strcasecmp(words[i], word) == 0)
      return i;
  return -1;
}

static void
echo(LzFieldCheck *out, const char *number, const char *unit)
{
  g_snprintf(out->echo, sizeof out->echo, "%s%s%s", number, *unit ? " " : "", unit);
}

static gboolean
check_reading(LzDesk *desk, const LzCommand *so_far, const char *text, LzFieldCheck *out,
              GError **error)
{
  int analyte = analyte_index(lz_command_get(so_far, "analyte"));
  const char *instrument = lz_command_get(so_far, "instrument");
  const char *at = lz_command_get(so_far, "read_temperature");
  const LzEntity *entity =
      instrument ? lz_model_find(desk->model, LZS_INSTRUMENT, instrument) : NULL;
  double temperature = NAN;
  if (at)
    lz_parse_number(at, &temperature, NULL, NULL);
  if (analyte < 0) // not chosen yet: any number will do
    return lz_parse_number(text, &out->value, NULL, error);
  if (!lz_value_reading(desk->model, (lzq_analyte)analyte, text, lz_command_get(so_far, "unit"),
                        entity ? entity->id : 0, temperature, &out->value, NULL, error))
    return FALSE;
  g_autofree char *number = lz_format_level((lzq_analyte)analyte, out->value);
  echo(out, number, lz_words_analyte_unit((lzq_analyte)analyte));
  return TRUE;
}

// The unit that a field's name ends in.
static const char *
unit_of(const char *field)
{
  static const struct {
    const char *end, *unit;
  } units[] = {{"_ml", "mL"},      {"_mg", "mg"},        {"_kg", "kg"},         {"_g", "g"},
               {"_l", "L"},        {"litres", "L"},      {"temperature", "°C"}, {"_min", "min"},
               {"copper", "mg/L"}, {"strength", "mg/mL"}};
  for (guint i = 0; i < G_N_ELEMENTS(units); i++)
    if (g_str_has_suffix(field, units[i].end))
      return units[i].unit;
  return "";
}

static void
echo_value(LzDesk *desk, const lzs_field *f, const LzValue *value, LzFieldCheck *out)
{
  if (f->type == LZS_T_REAL || f->type == LZS_T_INT) {
    out->value = f->type == LZS_T_REAL ? value->v.r : (double)value->v.i;
    g_autofree char *number = lz_format_short(out->value, 6);
    echo(out, number, unit_of(f->name));
  } else if (f->type == LZS_T_REF) {
    echo(out, lz_desk_name_of(desk, lzs_kind_get(f->ref)->name, value->v.i), "");
  } else if (f->type == LZS_T_BOOL) {
    echo(out, value->v.i ? _("yes") : _("no"), "");
  } else {
    g_autofree char *cut =
        g_utf8_substring(value->text, 0, MIN(g_utf8_strlen(value->text, -1), 20));
    echo(out, cut, "");
  }
}

gboolean
lz_desk_check_field(LzDesk *desk, const LzCommand *so_far, const char *field, const char *text,
                    LzFieldCheck *out, GError **error)
{
  LzFieldCheck unused;
  out = out ? out : &unused;
  *out = (LzFieldCheck){.value = NAN};
  if (!text || !text[strspn(text, " \t")])
    return TRUE;
  const lzs_kind_spec *spec = lzs_kind_find(lz_command_kind(so_far));
  int index = spec ? lzs_kind_field(spec, field) : -1;
  if (index < 0) {
    const LzKind *kind = lz_kind_find(lz_command_kind(so_far));
    return (kind && lz_kind_field(kind, field)) ||
           lz_value_refuse(error, field, text, _("a field of this kind of entry"));
  }
  if (spec->kind == LZS_READING && g_str_equal(field, "value"))
    return check_reading(desk, so_far, text, out, error);
  LzValue value;
  if (!lz_value_parse(desk->model, spec, (guint)index, text, &value, error))
    return FALSE;
  echo_value(desk, &spec->fields[index], &value, out);
  lz_value_clear(&value);
  return TRUE;
}
