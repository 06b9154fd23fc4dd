// SPDX-License-Identifier: GPL-3.0-or-later
// Medicines as pharmacy keeps them, from the first bottle on: what each is and by whose order, what
// went in and out of it, and every lot that its batch reached.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include <lz_format.h>
#include <lz_medicine.h>
#include <lz_reach.h>
#include <lz_words.h>

#include "lzr_register.h"

static const char *
ml_words(LzrBuild *build, double ml)
{
  return isnan(ml) ? "–" : lzr_keep(build, lz_format_short(ml, 1));
}

static const char *
holds_words(LzrBuild *build, const LzBottleInfo *info)
{
  g_autofree char *strength = lz_format_short(info->strength_mg_ml, 3);
  return lzr_printf(build, _("%1$s %2$s%3$s%4$s\n%5$s mg/mL"), info->name,
                    lz_words_analyte(info->analyte), info->analyte == LZQ_COPPER ? ", " : "",
                    info->analyte == LZQ_COPPER ? lz_words_form(info->form) : "", strength);
}

static const char *
batch_words(LzrBuild *build, const LzBottleInfo *info)
{
  return lzr_printf(build, "%s\n%s%s", lzr_or(info->batch, "–"), lzr_or(info->expiry, "–"),
                    info->expired ? _(", out of date") : "");
}

static void
bottles(LzrBuild *build, lzq_minute until)
{
  lzd_column columns[] = {{_("medicine"), 100, LZD_START},
                          {_("batch, expiry"), 72, LZD_START},
                          {_("prescription, supplier"), 0, LZD_START},
                          {_("opened"), 44, LZD_END},
                          {_("in"), 40, LZD_END},
                          {_("given"), 42, LZD_END},
                          {_("thrown"), 48, LZD_END},
                          {_("lost"), 44, LZD_END},
                          {_("left"), 42, LZD_END}};
  LzrRows rows = {.build = build, .columns = columns, .n = G_N_ELEMENTS(columns)};
  GListModel *all = lz_desk_bottles(build->desk);
  lzr_heading(build, "1", _("Bottles"), _("mL; left: what was opened and came in, less what went"));
  for (guint i = 0; i < g_list_model_get_n_items(all); i++) {
    g_autoptr(LzBottleRow) row = g_list_model_get_item(all, i);
    const LzBottleInfo *info = lz_bottle_row_info(row);
    LzMedicineUse use = lz_desk_medicine_use(build->desk, info->id, 0, until);
    lzd_cell cells[] = {
        {.text = holds_words(build, info), .bold = true},
        {.text = batch_words(build, info)},
        {.text = lzr_bottle_papers(build, lz_desk_entity(build->desk, "bottle", info->id))},
        {.text = ml_words(build, use.opened_ml)},
        {.text = ml_words(build, use.in_ml)},
        {.text = ml_words(build, use.given_ml), .bold = true},
        {.text = ml_words(build, use.thrown_ml)},
        {.text = ml_words(build, use.lost_ml)},
        {.text = ml_words(build, use.left_ml), .bold = true}};
    lzr_rows_begin(&rows);
    lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
  }
  if (rows.open)
    lzd_sheet_end_table(build->page);
  lzr_none(build, _("None."));
}

static const char *
why_words(LzEntry *stock)
{
  static const struct {
    const char *word, *text;
  } whys[] = {{"delivered", N_("delivered")},
              {"spilled", N_("spilled")},
              {"disposed", N_("thrown away")},
              {"counted", N_("counted")},
              {"other", N_("other")}};
  for (guint i = 0; i < G_N_ELEMENTS(whys); i++)
    if (g_strcmp0(lz_entry_text(stock, "why"), whys[i].word) == 0)
      return _(whys[i].text);
  return "";
}

static void
in_and_out(LzrBuild *build, lzq_minute until)
{
  lzd_column columns[] = {{_("when"), 98, LZD_START},    {_("bottle"), 60, LZD_START},
                          {_("mL"), 50, LZD_END},        {_("why"), 80, LZD_START},
                          {_("in words"), 0, LZD_START}, {_("by"), 30, LZD_START},
                          {_("checked"), 42, LZD_END}};
  LzrRows rows = {.build = build, .columns = columns, .n = G_N_ELEMENTS(columns)};
  g_autoptr(GPtrArray) stocks = lz_desk_facts(build->desk, "stock", 0, until);
  lzr_heading(build, "2", _("In and out, and thrown away"), _("besides what was given"));
  for (guint i = 0; i < stocks->len; i++) {
    LzEntry *stock = stocks->pdata[i];
    g_autofree char *ml = lz_format_short(lz_entry_number(stock, "change_ml"), 1);
    lzd_cell cells[] = {{.text = lzr_stamp(build, stock)},
                        {.text = lzr_ref(build, stock, "bottle", "bottle"), .bold = true},
                        {.text = ml},
                        {.text = why_words(stock)},
                        {.text = lzr_or(lz_entry_text(stock, "words"), "–")},
                        {.text = lzr_initials(build, stock), .bold = true},
                        {.text = lzr_witness(build, stock), .bold = true}};
    lzr_rows_begin(&rows);
    lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
  }
  if (rows.open)
    lzd_sheet_end_table(build->page);
  lzr_none(build, _("None."));
}

// The lot in which its fish went on; NULL = none.
static const char *
merged_into(LzrBuild *build, uint32_t lot)
{
  g_autoptr(GPtrArray) all = lz_desk_facts(build->desk, "merge", 0, lz_desk_now(build->desk) + 1);
  for (guint i = 0; i < all->len; i++)
    if (lzr_index(build, all->pdata[i], "lot", "lot") == lot)
      return lzr_ref(build, all->pdata[i], "into", "lot");
  return NULL;
}

// Where the fish are that it reached: who asks the question may have to call somebody.
static const char *
now_words(LzrBuild *build, uint32_t lot)
{
  const LzLotInfo *info = lz_desk_lot_info(build->desk, lot);
  if (!info)
    return "–";
  if (info->living && info->tank != LZQ_NONE)
    return lz_desk_name(build->desk, "tank", info->tank);
  g_autoptr(GPtrArray) all = lz_desk_facts(build->desk, "release", 0, lz_desk_now(build->desk) + 1);
  for (guint i = 0; i < all->len; i++) {
    if (lzr_index(build, all->pdata[i], "lot", "lot") != lot)
      continue;
    const char *day = lzr_day(build, lz_entry_at(all->pdata[i]));
    const char *customer = lzr_ref(build, all->pdata[i], "customer", "customer");
    return customer && *customer ? lzr_printf(build, _("released %1$s, to %2$s"), day, customer)
                                 : lzr_printf(build, _("left %s"), day);
  }
  const char *into = merged_into(build, lot);
  return into ? lzr_printf(build, _("in lot %s"), into) : _("no fish left");
}

// The scientific name alone: a lot is one line.
static const char *
species_words(LzrBuild *build, const LzLotInfo *info)
{
  const char *species = info ? lzr_or(info->species, "–") : "–";
  return lzr_printf(build, "%.*s", (int)strcspn(species, "("), species);
}

static void
reach_row(LzrBuild *build, const LzReach *reach)
{
  const LzLotInfo *info = lz_desk_lot_info(build->desk, reach->lot);
  g_autofree char *mg = lz_format_short(reach->mg, 0);
  lzd_cell cells[] = {
      {.text = reach->as == LZQ_NONE ? lz_desk_name(build->desk, "lot", reach->lot)
                                     : lzr_printf(build, _("%1$s, as %2$s"),
                                                  lz_desk_name(build->desk, "lot", reach->lot),
                                                  lz_desk_name(build->desk, "lot", reach->as)),
       .bold = true},
      {.text = species_words(build, info)},
      {.text = lzr_printf(build, "%d", reach->heads), .bold = true},
      {.text = lz_desk_name(build->desk, "bottle", reach->bottle)},
      {.text = lzr_printf(build, "%d", reach->times)},
      {.text = lzr_day(build, reach->first)},
      {.text = lzr_day(build, reach->last)},
      {.text = mg},
      {.text = now_words(build, reach->lot)},
  };
  lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
}

// A lot that two bottles reached is one lot.
static guint
lots_of(const GArray *reached)
{
  g_autoptr(GHashTable) lots = g_hash_table_new(NULL, NULL);
  for (guint i = 0; i < reached->len; i++)
    g_hash_table_add(lots, GUINT_TO_POINTER(g_array_index(reached, LzReach, i).lot));
  return g_hash_table_size(lots);
}

static void
one_batch(LzrBuild *build, const char *batch)
{
  lzd_column columns[] = {
      {_("lot"), 48, LZD_START},    {_("species"), 0, LZD_START}, {_("fish"), 34, LZD_END},
      {_("bottle"), 40, LZD_START}, {_("times"), 30, LZD_END},    {_("first"), 62, LZD_START},
      {_("last"), 62, LZD_START},   {_("mg"), 34, LZD_END},       {_("now"), 100, LZD_START}};
  g_autoptr(GArray) reached = lz_desk_reached(build->desk, batch);
  guint lots = lots_of(reached);
  lzr_line(build, LZD_MARK_NONE, lzr_printf(build, _("Batch %s:"), batch),
           lots ? lzr_printf(build, ngettext("%u lot reached.", "%u lots reached.", lots), lots)
                : _("it reached no fish."));
  if (!reached->len)
    return;
  lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), true);
  for (guint i = 0; i < reached->len; i++)
    reach_row(build, &g_array_index(reached, LzReach, i));
  lzd_sheet_end_table(build->page);
}

// A bottle whose label names no batch is a batch of its own.
static void
batches(LzrBuild *build)
{
  GListModel *all = lz_desk_bottles(build->desk);
  g_autoptr(GHashTable) told = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
  lzr_heading(build, "3", _("Fish that each batch reached"),
              _("fish: in the lot the last time; mg: into its whole water, its bath or its feed"));
  for (guint i = 0; i < g_list_model_get_n_items(all); i++) {
    g_autoptr(LzBottleRow) row = g_list_model_get_item(all, i);
    const LzBottleInfo *info = lz_bottle_row_info(row);
    const char *batch = lzr_or(info->batch, info->name);
    if (g_hash_table_add(told, g_strdup(batch)))
      one_batch(build, batch);
  }
  lzr_none(build, _("None."));
}

void
lzr_medicines(LzrBuild *build)
{
  const char *labels[] = {_("compared with the shelf by, date"),
                          _("veterinarian, where the rules ask for it")};
  lzq_minute until = lz_desk_now(build->desk) + 1;
  lzr_head(build, _("Medicines"), NULL);
  lzr_foot(build, NULL);
  bottles(build, until);
  in_and_out(build, until);
  batches(build);
  lzd_sheet_to_foot(build->page);
  lzd_sheet_sign(build->page, labels, G_N_ELEMENTS(labels), false);
}
