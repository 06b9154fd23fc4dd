// SPDX-License-Identifier: GPL-3.0-or-later
// Medicines as pharmacy keeps them, by bottle, and disposals of every kind.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include <lz_format.h>
#include <lz_medicine.h>
#include <lz_words.h>

#include "lzr_register.h"
#include "lzr_stay.h"

// Stays of every lot, made once for a sheet; index = lot.
static GPtrArray *
all_stays(LzrBuild *build)
{
  if (!build->stays) {
    build->stays = g_ptr_array_new_with_free_func((GDestroyNotify)g_array_unref);
    for (uint32_t lot = 0; lot < lz_desk_snapshot(build->desk)->n_lots; lot++)
      g_ptr_array_add(build->stays, lzr_stays(build, lot));
  }
  return build->stays;
}

const char *
lzr_reached(LzrBuild *build, uint32_t system, lzq_minute at)
{
  g_autoptr(GString) text = g_string_new(NULL);
  GPtrArray *stays = all_stays(build);
  for (uint32_t lot = 0; system != LZQ_NONE && lot < stays->len; lot++)
    if (lzr_stood_in(stays->pdata[lot], system, at))
      g_string_append_printf(text, "%s%s", text->len ? ", " : "",
                             lz_desk_name(build->desk, "lot", lot));
  return text->len ? lzr_keep(build, g_strdup(text->str)) : _("no fish in it");
}

const char *
lzr_where(LzrBuild *build, LzEntry *fact)
{
  uint32_t lot = lzr_index(build, fact, "lot", "lot"), tank = LZQ_NONE;
  if (lz_entry_has(fact, "tank"))
    return lzr_ref(build, fact, "tank", "tank");
  if (lz_entry_has(fact, "system"))
    return lzr_ref(build, fact, "system", "system");
  if (lot == LZQ_NONE)
    return "";
  GArray *stays = all_stays(build)->pdata[lot];
  for (guint i = 0; i < stays->len; i++)
    if (g_array_index(stays, LzrStay, i).from <= lz_entry_at(fact))
      tank = g_array_index(stays, LzrStay, i).tank;
  return tank == LZQ_NONE ? "" : lz_desk_name(build->desk, "tank", tank);
}

const char *
lzr_move_words(LzrBuild *build, LzEntry *move)
{
  uint32_t lot = lzr_index(build, move, "lot", "lot"), before = LZQ_NONE;
  GArray *stays = lot == LZQ_NONE ? NULL : all_stays(build)->pdata[lot];
  for (guint i = 0; stays && i < stays->len; i++)
    if (g_array_index(stays, LzrStay, i).from < lz_entry_at(move))
      before = g_array_index(stays, LzrStay, i).tank;
  const char *to = lzr_ref(build, move, "tank", "tank");
  return before == LZQ_NONE ? lzr_printf(build, _("to %s"), to)
                            : lzr_printf(build, _("from %1$s to %2$s"),
                                         lz_desk_name(build->desk, "tank", before), to);
}

static void
add_name(GString *text, GHashTable *names, const char *name)
{
  if (*name && g_hash_table_add(names, g_strdup(name)))
    g_string_append_printf(text, "%s%s", text->len ? ", " : "", name);
}

// Lots that the bottle reached in the range: by a dose into their water, a bath, feed.
static const char *
lots_reached(LzrBuild *build, int64_t bottle, lzq_minute from, lzq_minute until)
{
  static const char *const kinds[] = {"dose", "bath", "feed"};
  g_autoptr(GHashTable) names = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr(GString) text = g_string_new(NULL);
  GPtrArray *stays = all_stays(build);
  for (guint k = 0; k < G_N_ELEMENTS(kinds); k++) {
    g_autoptr(GPtrArray) facts = lz_desk_facts(build->desk, kinds[k], from, until);
    for (guint i = 0; i < facts->len; i++) {
      LzEntry *fact = facts->pdata[i];
      uint32_t system = lzr_index(build, fact, "system", "system");
      if (lz_entry_int(fact, "bottle") != bottle)
        continue;
      if (k > 0)
        add_name(text, names, lzr_ref(build, fact, "lot", "lot"));
      for (uint32_t lot = 0; k == 0 && system != LZQ_NONE && lot < stays->len; lot++)
        if (lzr_stood_in(stays->pdata[lot], system, lz_entry_at(fact)))
          add_name(text, names, lz_desk_name(build->desk, "lot", lot));
    }
  }
  return text->len ? lzr_keep(build, g_strdup(text->str)) : "–";
}

const char *
lzr_bottle_papers(LzrBuild *build, LzEntry *bottle)
{
  LzEntry *supplier =
      lz_entry_has(bottle, "supplier")
          ? lz_desk_entity(build->desk, "supplier", lz_entry_int(bottle, "supplier"))
          : NULL;
  int64_t vet = lz_entry_has(bottle, "prescriber") ? lz_entry_int(bottle, "prescriber") : 0;
  const char *const parts[] = {lz_entry_text(bottle, "prescription"),
                               vet ? lz_desk_person_name(build->desk, vet) : NULL,
                               vet ? lz_desk_person_contact(build->desk, vet) : NULL,
                               lzr_ref(build, bottle, "supplier", "supplier"),
                               supplier ? lz_entry_text(supplier, "address") : NULL,
                               lz_entry_text(bottle, "receipt")};
  const char *words = "";
  for (guint i = 0; i < G_N_ELEMENTS(parts); i++)
    if (parts[i] && *parts[i])
      words = lzr_printf(build, "%s%s%s", words, *words ? "\n" : "", parts[i]);
  return lzr_or(words, "–");
}

static void
bottle_row(LzrBuild *build, LzrRows *rows, int64_t id, const LzMedicineUse *use, const char *lots)
{
  LzEntry *bottle = lz_desk_entity(build->desk, "bottle", id);
  g_autofree char *given = lz_format_short(use->given_ml, 1);
  g_autofree char *in = lz_format_short(use->in_ml, 1);
  g_autofree char *out = lz_format_short(use->thrown_ml + use->lost_ml, 1);
  const char *form = lzr_or(lz_entry_text(bottle, "form"), "");
  lzd_cell cells[] = {
      {.text = lzr_printf(build, "%s %s %s", lz_desk_name_of(build->desk, "bottle", id),
                          lzr_or(lz_entry_text(bottle, "analyte"), ""), form),
       .bold = true},
      {.text = lzr_printf(build, "%s, %s", lzr_or(lz_entry_text(bottle, "batch"), "–"),
                          lzr_or(lz_entry_text(bottle, "expiry"), "–"))},
      {.text = lzr_bottle_papers(build, bottle)},
      {.text = given, .bold = true},
      {.text = lzr_printf(build, "%s, %s", in, out)},
      {.text = lzr_printf(build, "%s\n%s", lzr_day(build, use->first), lzr_day(build, use->last))},
      {.text = lots},
  };
  lzr_rows_begin(rows);
  lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
}

void
lzr_register_medicines(LzrBuild *build, lzq_minute from, lzq_minute until)
{
  lzd_column columns[] = {{_("medicine"), 96, LZD_START},
                          {_("batch, expiry"), 66, LZD_START},
                          {_("prescription, receipt"), 92, LZD_START},
                          {_("given mL"), 58, LZD_END},
                          {_("in, out mL"), 54, LZD_START},
                          {_("first, last"), 64, LZD_START},
                          {_("lots reached"), 0, LZD_START}};
  LzrRows rows = {.build = build, .columns = columns, .n = G_N_ELEMENTS(columns)};
  g_autoptr(GArray) bottles = lz_desk_entities(build->desk, "bottle");
  lzr_heading(build, "6", _("Medicines"), _("withdrawal period: none, not for food"));
  for (guint i = 0; i < bottles->len; i++) {
    int64_t id = g_array_index(bottles, int64_t, i);
    LzMedicineUse use = lz_desk_medicine_use(build->desk, id, from, until);
    if (use.given_ml > 0 || use.in_ml > 0 || use.thrown_ml + use.lost_ml > 0)
      bottle_row(build, &rows, id, &use, lots_reached(build, id, from, until));
  }
  if (rows.open)
    lzd_sheet_end_table(build->page);
  lzr_none(build, _("None in this range."));
}

void
lzr_register_disposals(LzrBuild *build, lzq_minute from, lzq_minute until)
{
  lzd_column columns[] = {{_("when"), 98, LZD_START},
                          {_("what"), 0, LZD_START},
                          {_("how, where to"), 190, LZD_START},
                          {_("by"), 30, LZD_END}};
  LzrRows rows = {.build = build, .columns = columns, .n = G_N_ELEMENTS(columns)};
  g_autoptr(GPtrArray) facts = lz_desk_facts(build->desk, NULL, from, until);
  lzr_heading(build, "8", _("Disposals"), NULL);
  for (guint i = 0; i < facts->len; i++) {
    LzEntry *fact = facts->pdata[i];
    gboolean stock = strcmp(lz_entry_kind(fact), "stock") == 0;
    gboolean thrown = stock && g_strcmp0(lz_entry_text(fact, "why"), "disposed") == 0;
    const char *how = thrown  ? lz_entry_text(fact, "words")
                      : stock ? NULL
                              : lz_entry_text(fact, "disposal");
    if (!thrown && !how)
      continue;
    lzr_rows_begin(&rows);
    g_autofree char *words = lz_words_entry(build->desk, fact);
    lzd_cell cells[] = {{.text = lzr_stamp(build, fact)},
                        {.text = lzr_printf(build, "%s%s%s", lzr_where(build, fact),
                                            *lzr_where(build, fact) ? ": " : "", words)},
                        {.text = lzr_or(how, "–")},
                        {.text = lzr_initials(build, fact)}};
    lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
  }
  if (rows.open)
    lzd_sheet_end_table(build->page);
  lzr_none(build, _("None in this range."));
}
