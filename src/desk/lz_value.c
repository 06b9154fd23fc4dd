// SPDX-License-Identifier: GPL-3.0-or-later
// Typed text into stored values: every refusal names the field, the text, and what would be
// accepted.
#include "lz_value.h"

#include <glib/gi18n-lib.h>
#include <lzq_bath.h>
#include <lzq_units.h>
#include <math.h>
#include <string.h>

#include "lz_error.h"
#include "lz_format.h"

#define MAX_TEXT 4000

void
lz_value_clear(LzValue *value)
{
  g_clear_pointer(&value->text, g_free);
  value->v = (lzs_value){.null = true};
}

gboolean
lz_value_refuse(GError **error, const char *field, const char *text, const char *accepted)
{
  // Translators: field name, what was typed, what would be accepted
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
              _("%1$s: “%2$s” is not accepted; accepted is %3$s"), field, text, accepted);
  return FALSE;
}

static const struct {
  const char *end; // of the field's name
  const char *unit;
  lzq_measure measure;
} units[] = {
    {"_l", "l", LZQ_MEASURE_L},
    {"_l", "m3", LZQ_MEASURE_M3},
    {"_l", "m³", LZQ_MEASURE_M3},
    {"_l", "ft3", LZQ_MEASURE_CUBIC_FOOT},
    {"_l", "gal", LZQ_MEASURE_US_GALLON},
    {"_l", "us gal", LZQ_MEASURE_US_GALLON},
    {"_l", "imp gal", LZQ_MEASURE_IMPERIAL_GALLON},
    {"_l", "ml", LZQ_MEASURE_ML},
    {"litres", "l", LZQ_MEASURE_L},
    {"litres", "m3", LZQ_MEASURE_M3},
    {"litres", "m³", LZQ_MEASURE_M3},
    {"litres", "ft3", LZQ_MEASURE_CUBIC_FOOT},
    {"litres", "gal", LZQ_MEASURE_US_GALLON},
    {"litres", "us gal", LZQ_MEASURE_US_GALLON},
    {"litres", "imp gal", LZQ_MEASURE_IMPERIAL_GALLON},
    {"litres", "ml", LZQ_MEASURE_ML},
    {"temperature", "c", LZQ_MEASURE_CELSIUS},
    {"temperature", "°c", LZQ_MEASURE_CELSIUS},
    {"temperature", "f", LZQ_MEASURE_FAHRENHEIT},
    {"temperature", "°f", LZQ_MEASURE_FAHRENHEIT},
    {"strength", "mg/ml", LZQ_MEASURE_MG_ML},
    {"strength", "g/l", LZQ_MEASURE_G_L},
    {"strength", "%", LZQ_MEASURE_PERCENT_WV},
    {"_ml", "ml", LZQ_MEASURE_ML},
    {"_ml", "l", LZQ_MEASURE_L},
    {"_mg", "mg", LZQ_MEASURE_MG},
    {"_mg", "g", LZQ_MEASURE_G},
    {"_g", "g", LZQ_MEASURE_G},
    {"_g", "kg", LZQ_MEASURE_KG},
    {"_kg", "kg", LZQ_MEASURE_KG},
    {"_kg", "g", LZQ_MEASURE_G},
    {"copper", "mg/l", LZQ_MEASURE_MG_L},
    {"copper", "ppm", LZQ_MEASURE_PPM},
    {"copper", "ug/l", LZQ_MEASURE_UG_L},
};

// The engine's canonical unit is not always the field's: mL fields count in mL, mg in mg, kg in kg.
static double
into_field_unit(const char *end, double canonical)
{
  if (g_str_equal(end, "_ml") || g_str_equal(end, "_mg"))
    return canonical * 1000;
  if (g_str_equal(end, "_kg"))
    return canonical / 1000;
  return canonical;
}

// Of the whole solution, by its density: 100 % formalin is 37 % formaldehyde is 1,080 mg/mL.
static gboolean
convert_formalin(const char *unit, double *value)
{
  double whole = 0;
  if (g_str_equal(unit, "% formalin"))
    whole = 100;
  else if (g_str_equal(unit, "% formaldehyde"))
    whole = LZQ_FORMALDEHYDE;
  if (whole > 0)
    *value *= LZQ_FORMALIN_DENSITY * 1000 / whole;
  return whole > 0;
}

static gboolean
convert_unit(const char *field, const char *rest, double *value)
{
  g_autofree char *unit = g_utf8_strdown(rest, -1);
  g_strstrip(unit);
  if (!*unit)
    return TRUE;
  if (g_str_equal(field, "strength") && convert_formalin(unit, value))
    return TRUE;
  for (gsize i = 0; i < G_N_ELEMENTS(units); i++)
    if (g_str_has_suffix(field, units[i].end) && g_str_equal(units[i].unit, unit)) {
      gboolean same = into_field_unit(units[i].end, lzq_to_canonical(units[i].measure, 1)) == 1;
      if (!same)
        *value = into_field_unit(units[i].end, lzq_to_canonical(units[i].measure, *value));
      return TRUE;
    }
  return FALSE;
}

// The units that a field takes, as its refusal lists them.
static char *
units_of(const char *field)
{
  g_autoptr(GString) list = g_string_new(NULL);
  for (gsize i = 0; i < G_N_ELEMENTS(units); i++)
    if (g_str_has_suffix(field, units[i].end))
      g_string_append_printf(list, "%s%s", list->len ? ", " : "", units[i].unit);
  return g_string_free(g_steal_pointer(&list), FALSE);
}

gboolean
lz_value_amount(const char *field, const char *name, const char *text, double *out, GError **error)
{
  const char *rest = "";
  g_autoptr(GError) why = NULL;
  if (!lz_parse_number(text, out, &rest, &why)) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, "%s: %s", name, why->message);
    return FALSE;
  }
  if (convert_unit(field, rest, out))
    return TRUE;
  g_autofree char *listed = units_of(field);
  // Translators: units, such as “l, m3, gal”
  g_autofree char *accepted = *listed ? g_strdup_printf(_("a number alone or in %s"), listed)
                                      : g_strdup(_("a number without a unit"));
  return lz_value_refuse(error, name, text, accepted);
}

// "16 h", "14 d", "14 d 2 h 30 min" for fields of minutes.
static gboolean
parse_minutes(const char *text, double *out)
{
  double total = 0;
  const char *p = text;
  while (*p) {
    double value;
    const char *rest = NULL;
    g_autofree char *head = NULL;
    gsize n = strspn(p, " 0123456789.,-+");
    if (n == 0)
      return FALSE;
    head = g_strndup(p, n);
    if (!lz_parse_number(g_strstrip(head), &value, &rest, NULL) || *rest)
      return FALSE;
    p += n;
    gsize letters = strspn(p, "dhmin");
    if (letters == 1 && *p == 'd')
      total += value * LZQ_DAY;
    else if (letters == 1 && *p == 'h')
      total += value * 60;
    else if (letters == 0 || (letters == 3 && strncmp(p, "min", 3) == 0))
      total += value;
    else
      return FALSE;
    p += letters;
    while (*p == ' ')
      p++;
  }
  *out = total;
  return TRUE;
}

static gboolean
refuse_range(GError **error, const lzs_field *f, const char *text)
{
  g_autofree char *low = lz_format_machine(f->min), *high = lz_format_machine(f->max);
  // Translators: what is accepted, smallest, largest
  g_autofree char *accepted = g_strdup_printf(_("%1$s, from %2$s to %3$s"), _(f->help), low, high);
  return lz_value_refuse(error, f->name, text, accepted);
}

static gboolean
parse_number_field(const lzs_field *f, const char *text, LzValue *out, GError **error)
{
  double value;
  const char *rest = "";
  g_autoptr(GError) why = NULL;
  gboolean minutes = g_str_has_suffix(f->name, "_min") && strpbrk(text, "dh");
  if (minutes ? !parse_minutes(text, &value) : !lz_parse_number(text, &value, &rest, &why)) {
    if (!why)
      return lz_value_refuse(error, f->name, text, _(f->help));
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, "%s: %s; %s", f->name, why->message,
                _(f->help));
    return FALSE;
  }
  if (g_str_equal(rest, "%") && f->type == LZS_T_REAL && f->max <= 1) {
    value /= 100; // a share
    rest = "";
  }
  if (*rest && !convert_unit(f->name, rest, &value) &&
      !(g_str_has_suffix(f->name, "_min") && g_str_equal(rest, "min")))
    return lz_value_refuse(error, f->name, text, _(f->help));
  if (!(value >= f->min && value <= f->max))
    return refuse_range(error, f, text);
  out->v.null = false;
  if (f->type == LZS_T_REAL) {
    out->v.r = value;
    return TRUE;
  }
  if (value != floor(value))
    return lz_value_refuse(error, f->name, text, _("a whole number"));
  out->v.i = (int64_t)value;
  return TRUE;
}

static gboolean
parse_bool(const lzs_field *f, const char *text, LzValue *out, GError **error)
{
  static const char *const yes[] = {"yes", "1", "true", "on", "in", "y", "ok", "passed", NULL};
  static const char *const no[] = {"no", "0", "false", "off", "out", "n", "failed", NULL};
  g_autofree char *down = g_utf8_strdown(text, -1);
  out->v.null = false;
  if (g_strv_contains(yes, down) || g_str_equal(text, _("yes")))
    out->v.i = 1;
  else if (g_strv_contains(no, down) || g_str_equal(text, _("no")))
    out->v.i = 0;
  else
    return lz_value_refuse(error, f->name, text, _("yes or no"));
  return TRUE;
}

static gboolean
parse_word(const lzs_kind_spec *spec, guint field, const char *text, LzValue *out, GError **error)
{
  const lzs_field *f = &spec->fields[field];
  const char *const *words = lz_entry_words(spec, field);
  g_autofree char *down = g_utf8_strdown(text, -1);
  g_strdelimit(down, " -", '_');
  for (guint i = 0; words[i]; i++)
    if (g_str_equal(words[i], down)) {
      out->v.null = false;
      out->text = g_strdup(words[i]);
      out->v.text = out->text;
      return TRUE;
    }
  g_autofree char *list = g_strjoinv(", ", (char **)words);
  return lz_value_refuse(error, f->name, text, list);
}

static gboolean
parse_text(const lzs_field *f, const char *text, LzValue *out, GError **error)
{
  out->text = g_utf8_normalize(text, -1, G_NORMALIZE_NFC);
  if (!out->text)
    return lz_value_refuse(error, f->name, "?", _("text in UTF-8"));
  if (g_utf8_strlen(out->text, -1) > MAX_TEXT)
    return lz_value_refuse(error, f->name, "…", _("text of at most 4000 characters"));
  out->v.null = false;
  out->v.text = out->text;
  return TRUE;
}

// Up to five names that would have been accepted.
static char *
known_names(const LzModel *m, lzs_kind kind, const char *help)
{
  GString *out = g_string_new(_(help));
  const GPtrArray *list = m->by_kind[kind];
  for (guint i = 0; i < MIN(list->len, 5); i++) {
    const LzEntity *entity = list->pdata[i];
    if (*entity->label)
      g_string_append_printf(out, "%s%s", i ? ", " : ": ", entity->label);
  }
  if (list->len > 5)
    g_string_append(out, " …");
  return g_string_free(out, FALSE);
}

static gboolean
parse_ref(const LzModel *m, const lzs_field *f, const char *text, LzValue *out, GError **error)
{
  int64_t id = 0;
  if (f->ref < LZS_VOLUME) {
    const LzEntity *entity = lz_model_find(m, f->ref, text);
    id = entity ? entity->id : 0;
  } else { // a fact: by its number
    const LzEntry *entry =
        lz_model_entry(m, g_ascii_strtoll(text[0] == '#' ? text + 1 : text, NULL, 10));
    id = entry && entry->kind == f->ref ? entry->id : 0;
  }
  if (!id) {
    g_autofree char *accepted = known_names(m, f->ref, f->help);
    return lz_value_refuse(error, f->name, text, accepted);
  }
  out->v.null = false;
  out->v.i = id;
  return TRUE;
}

gboolean
lz_value_parse(const LzModel *m, const lzs_kind_spec *spec, guint field, const char *text,
               LzValue *out, GError **error)
{
  const lzs_field *f = &spec->fields[field];
  *out = (LzValue){.v = {.null = true}};
  if (!text)
    return TRUE;
  if (!g_utf8_validate(text, -1, NULL))
    return lz_value_refuse(error, f->name, "?", _("text in UTF-8"));
  g_autofree char *trimmed = g_strstrip(g_strdup(text));
  if (!*trimmed)
    return TRUE;
  switch (f->type) {
  case LZS_T_INT:
  case LZS_T_REAL: return parse_number_field(f, trimmed, out, error);
  case LZS_T_BOOL: return parse_bool(f, trimmed, out, error);
  case LZS_T_WORD: return parse_word(spec, field, trimmed, out, error);
  case LZS_T_REF: return parse_ref(m, f, trimmed, out, error);
  default: return parse_text(f, trimmed, out, error);
  }
}
