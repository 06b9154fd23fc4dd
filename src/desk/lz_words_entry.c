// SPDX-License-Identifier: GPL-3.0-or-later
// What an entry says in one line, for the ledger, the round and printed records.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_desk_private.h"
#include "lz_format.h"
#include "lz_place.h"
#include "lz_words.h"

static char *
words_reading(LzDesk *desk, LzEntry *e)
{
  int word = lz_entry_word(e, "analyte");
  lzq_analyte a = word >= 0 ? (lzq_analyte)word : LZQ_COPPER;
  g_autofree char *value = lz_format_level(a, lz_entry_number(e, "value"));
  const char *unit = lz_words_analyte_unit(a);
  GString *out = g_string_new(NULL);
  g_string_append_printf(out, "%s %s%s%s", lz_words_analyte(a), value, *unit ? " " : "", unit);
  if (lz_entry_has(e, "instrument"))
    g_string_append_printf(out, ", %s",
                           lz_desk_name_of(desk, "instrument", lz_entry_int(e, "instrument")));
  if (lz_entry_int(e, "suspect"))
    g_string_append_printf(out, ", %s", _("suspect"));
  return g_string_free(out, FALSE);
}

static char *
words_dose(LzDesk *desk, LzEntry *e)
{
  if (lz_entry_has(e, "salt_kg")) {
    g_autofree char *kg = lz_format_amount(lz_entry_number(e, "salt_kg"), LZQ_UNIT_KG);
    return g_strdup_printf(_("%s salt"), kg);
  }
  gboolean ml = lz_entry_has(e, "amount_ml");
  g_autofree char *number = ml ? lz_format_amount(lz_entry_number(e, "amount_ml"), LZQ_UNIT_ML)
                               : lz_format_short(lz_entry_number(e, "amount_mg"), 1);
  const char *of = lz_entry_has(e, "bottle")
                       ? lz_desk_name_of(desk, "bottle", lz_entry_int(e, "bottle"))
                       : lz_entry_text(e, "analyte");
  return g_strdup_printf("%s%s %s%s", number, ml ? "" : " mg", of ? of : "",
                         lz_entry_int(e, "in_new_water") ? _(", into the new water") : "");
}

static char *
words_water(LzEntry *e)
{
  g_autofree char *litres = lz_format_amount(lz_entry_number(e, "litres"), LZQ_UNIT_L);
  double salinity = lz_entry_number(e, "new_salinity");
  if (salinity == 0 || (isnan(salinity) && e->kind == LZS_TOPUP))
    return g_strdup_printf(_("%s fresh water"), litres);
  if (isnan(salinity))
    return g_steal_pointer(&litres);
  g_autofree char *level = lz_format_level(LZQ_SALINITY, salinity);
  return g_strdup_printf(_("%1$s of salinity %2$s"), litres, level);
}

static char *
words_heads(LzEntry *e)
{
  int heads = (int)lz_entry_int(e, "heads");
  if (e->kind == LZS_DEATH)
    return g_strdup_printf(ngettext("%d dead", "%d dead", (unsigned long)heads), heads);
  return g_strdup_printf(ngettext("%d fish", "%d fish", (unsigned long)heads), heads);
}

static gboolean
is_where(const lzs_field *f)
{
  return f->type == LZS_T_REF && (f->ref == LZS_SYSTEM || f->ref == LZS_TANK || f->ref == LZS_LOT);
}

// What the sentence of a check begins with.
static gboolean
is_said(const LzEntry *e, const lzs_field *f)
{
  return e->kind == LZS_CHECK && (g_str_equal(f->name, "instrument") || g_str_equal(f->name, "ok"));
}

// Any other kind: its fields, label and value; where it was is said beside it.
static char *
words_fields(LzDesk *desk, LzEntry *e)
{
  GString *out = g_string_new(NULL);
  for (gsize i = 0; i < e->spec->n_fields; i++) {
    const lzs_field *f = &e->spec->fields[i];
    g_autofree char *value = NULL;
    if (!lz_entry_is_set(e, i) || g_str_equal(f->name, "typed") ||
        (!e->spec->setup && is_where(f)) || is_said(e, f))
      continue;
    if (g_str_equal(f->name, "photo"))
      value = g_strndup(lz_entry_value(e, i)->text, 8); // the beginning of its hash
    else if (f->type == LZS_T_TEXT)
      value = g_strdup(lz_entry_value(e, i)->text);
    else if (f->type == LZS_T_WORD)
      value = lz_words_code(lz_entry_value(e, i)->text);
    else if (f->type == LZS_T_REAL)
      value = lz_format_short(lz_entry_value(e, i)->r, 3);
    else if (f->type == LZS_T_BOOL)
      value = g_strdup(lz_entry_value(e, i)->i ? _("yes") : _("no"));
    else if (f->type == LZS_T_REF)
      value = g_strdup(lz_desk_name_of(desk, lzs_kind_get(f->ref)->name, lz_entry_value(e, i)->i));
    else
      value = g_strdup_printf("%d", (int)lz_entry_value(e, i)->i);
    g_string_append_printf(out, "%s%s: %s", out->len ? ", " : "",
                           lz_words_field(e->spec->name, f->name), value);
  }
  return g_string_free(out, FALSE);
}

// "P1 failed its check, Value of the standard: 35"
static char *
words_check(LzDesk *desk, LzEntry *e)
{
  const char *name = lz_desk_name_of(desk, "instrument", lz_entry_int(e, "instrument"));
  g_autofree char *rest = words_fields(desk, e);
  // Translators: an instrument
  g_autofree char *said = g_strdup_printf(
      lz_entry_int(e, "ok") ? _("%s passed its check") : _("%s failed its check"), name);
  return g_strconcat(said, *rest ? ", " : "", rest, NULL);
}

// "5 fish split off as 0301b"
static char *
words_split(LzEntry *e)
{
  int heads = (int)lz_entry_int(e, "heads");
  return g_strdup_printf(
      ngettext("%1$d fish split off as %2$s", "%1$d fish split off as %2$s", (unsigned long)heads),
      heads, lz_entry_text(e, "code"));
}

// "all 12 fish go on in lot 0301": as many as there were until then.
static char *
words_merge(LzDesk *desk, LzEntry *e)
{
  const char *into = lz_desk_name_of(desk, "lot", lz_entry_int(e, "into"));
  uint32_t lot = lz_model_index(desk->model, LZS_LOT, lz_entry_int(e, "lot"));
  int heads = lot == LZQ_NONE ? 0 : lz_place_of(desk->model, lot, lz_entry_at(e) - 1).heads;
  return heads > 0
             ? g_strdup_printf(ngettext("its %1$d fish goes on in lot %2$s",
                                        "its %1$d fish go on in lot %2$s", (unsigned long)heads),
                               heads, into)
             : g_strdup_printf(_("goes on in lot %s"), into);
}

// "C-07: −40 mL, disposed; to the pharmacy"
static char *
words_stock(LzDesk *desk, LzEntry *e)
{
  g_autofree char *ml = lz_format_short(lz_entry_number(e, "change_ml"), 1);
  g_autofree char *why = lz_words_code(lz_entry_text(e, "why"));
  const char *words = lz_entry_text(e, "words");
  return g_strdup_printf("%s: %s mL, %s%s%s",
                         lz_desk_name_of(desk, "bottle", lz_entry_int(e, "bottle")), ml, why,
                         words ? "; " : "", words ? words : "");
}

// "white spot, 2 fish; on the tail". A sighting without a sign is one of the parasite.
static char *
words_sighting(LzDesk *desk, LzEntry *e)
{
  const char *sign = lz_entry_text(e, "sign"), *words = lz_entry_text(e, "words");
  if (!sign)
    return words_fields(desk, e);
  g_autofree char *shown = lz_words_code(sign);
  g_autofree char *heads = lz_entry_has(e, "heads") ? words_heads(e) : NULL;
  GString *out = g_string_new(shown);
  if (heads)
    g_string_append_printf(out, ", %s", heads);
  if (words)
    g_string_append_printf(out, "; %s", words);
  if (lz_entry_has(e, "photo")) // the beginning of its hash
    g_string_append_printf(out, "; %s: %.8s", lz_words_field(e->spec->name, "photo"),
                           lz_entry_text(e, "photo"));
  return g_string_free(out, FALSE);
}

// ", Air on: yes", where it was said.
static void
append_said(GString *out, LzEntry *e, const char *field)
{
  if (lz_entry_has(e, field))
    g_string_append_printf(out, ", %s: %s", lz_words_field(e->spec->name, field),
                           lz_entry_int(e, field) ? _("yes") : _("no"));
}

// "praziquantel, 9.0 mL K-03 in 100 L, 60 min, 25 °C, 12 fish, Air on: yes; two lay on the side"
static char *
words_bath(LzDesk *desk, LzEntry *e)
{
  g_autofree char *what = lz_words_code(lz_entry_text(e, "bath"));
  g_autofree char *given =
      lz_entry_has(e, "amount_ml") || lz_entry_has(e, "amount_mg") ? words_dose(desk, e) : NULL;
  g_autofree char *litres = lz_format_amount(lz_entry_number(e, "litres"), LZQ_UNIT_L);
  const char *words = lz_entry_text(e, "words");
  GString *out = g_string_new(what);
  if (given)
    g_string_append_printf(out, ", %s", given);
  // Translators: behind what a bath holds: litres, minutes
  g_string_append_printf(out, _(" in %1$s, %2$d min"), litres, (int)lz_entry_int(e, "minutes"));
  if (lz_entry_has(e, "temperature")) {
    g_autofree char *warm = lz_format_short(lz_entry_number(e, "temperature"), 1);
    g_string_append_printf(out, ", %s °C", warm);
  }
  if (lz_entry_has(e, "heads")) {
    g_autofree char *heads = words_heads(e);
    g_string_append_printf(out, ", %s", heads);
  }
  append_said(out, e, "air");
  append_said(out, e, "stopped");
  if (words)
    g_string_append_printf(out, "; %s", words);
  return g_string_free(out, FALSE);
}

// "frozen mysis, 5 g, with 12 mg from K-03, 90 % eaten"
static char *
words_feed(LzDesk *desk, LzEntry *e)
{
  const char *food = lz_entry_text(e, "food");
  GString *out = g_string_new(food ? food : "");
  if (lz_entry_has(e, "grams")) {
    g_autofree char *grams = lz_format_amount(lz_entry_number(e, "grams"), LZQ_UNIT_G);
    g_string_append_printf(out, "%s%s", out->len ? ", " : "", grams);
  }
  if (lz_entry_has(e, "bottle")) {
    g_autofree char *mg = lz_format_short(lz_entry_number(e, "medicine_mg"), 2);
    g_string_append(out, out->len ? ", " : "");
    // Translators: medicine in feed
    g_string_append_printf(out, _("with %1$s mg from %2$s"), mg,
                           lz_desk_name_of(desk, "bottle", lz_entry_int(e, "bottle")));
  }
  g_autofree char *share = lz_format_short(100 * lz_entry_number(e, "eaten_share"), 0);
  g_string_append(out, out->len ? ", " : "");
  // Translators: share in per cent
  g_string_append_printf(out, _("%s %% eaten"), share);
  return g_string_free(out, FALSE);
}

char *
lz_words_entry(LzDesk *desk, LzEntry *e)
{
  switch (e->kind) {
  case LZS_READING: return words_reading(desk, e);
  case LZS_DOSE: return words_dose(desk, e);
  case LZS_CHANGE:
  case LZS_TOPUP: return words_water(e);
  case LZS_DEATH:
  case LZS_COUNT: return words_heads(e);
  case LZS_MOVE:
    return g_strdup_printf(_("lot %1$s to %2$s"),
                           lz_desk_name_of(desk, "lot", lz_entry_int(e, "lot")),
                           lz_desk_name_of(desk, "tank", lz_entry_int(e, "tank")));
  case LZS_SPLIT: return words_split(e);
  case LZS_MERGE: return words_merge(desk, e);
  case LZS_STOCK: return words_stock(desk, e);
  case LZS_SIGHTING: return words_sighting(desk, e);
  case LZS_FEED: return words_feed(desk, e);
  case LZS_BATH: return words_bath(desk, e);
  case LZS_CHECK: return words_check(desk, e);
  case LZS_NOTE: return g_strdup(lz_entry_text(e, "words"));
  default: return words_fields(desk, e);
  }
}

char *
lz_words_entry_where(LzDesk *desk, LzEntry *e)
{
  static const char *const refs[] = {"tank", "system"};
  const char *place = "", *lot = "";
  for (guint i = 0; i < G_N_ELEMENTS(refs) && !*place; i++)
    if (lz_entry_field(e, refs[i]) >= 0)
      place = lz_desk_name_of(desk, refs[i], lz_entry_int(e, refs[i]));
  if (lz_entry_field(e, "lot") >= 0)
    lot = lz_desk_name_of(desk, "lot", lz_entry_int(e, "lot"));
  else if (e->kind == LZS_LOT)
    lot = lz_entry_text(e, "code");
  return g_strconcat(place, *place && *lot ? " \xc2\xb7 " : "", lot, NULL);
}
