// SPDX-License-Identifier: GPL-3.0-or-later
// What a lot's water and feed were given, by whom and checked by whom, and what was changed.
// Columns follow figures of Reg. (EU) 2019/6 art. 108(2).
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include <lz_format.h>
#include <lz_words.h>

#include "lzr_lot.h"

typedef struct {
  int64_t bottle;
  uint32_t lot; // that joined, LZQ_NONE = all of the fish had it
  double ml, mg;
  lzq_minute first, last;
  guint times;
} Use;

static Use *
use_of(GArray *uses, int64_t bottle, uint32_t lot, lzq_minute at)
{
  const Use fresh = {.bottle = bottle, .lot = lot, .first = at, .last = at};
  for (guint i = 0; i < uses->len; i++)
    if (g_array_index(uses, Use, i).bottle == bottle && g_array_index(uses, Use, i).lot == lot)
      return &g_array_index(uses, Use, i);
  g_array_append_val(uses, fresh);
  return &g_array_index(uses, Use, uses->len - 1);
}

static void
add_use(GArray *uses, LzEntry *fact, double strength, uint32_t lot)
{
  Use *use = use_of(uses, lz_entry_int(fact, "bottle"), lot, lz_entry_at(fact));
  double ml = lz_entry_number(fact, "amount_ml"), mg = lz_entry_number(fact, "amount_mg");
  if (isnan(mg) && lz_entry_has(fact, "medicine_mg"))
    mg = lz_entry_number(fact, "medicine_mg");
  if (isnan(mg))
    mg = ml * strength;
  if (isnan(ml))
    ml = mg / strength;
  use->ml += isnan(ml) ? 0 : ml;
  use->mg += isnan(mg) ? 0 : mg;
  use->first = MIN(use->first, lz_entry_at(fact));
  use->last = MAX(use->last, lz_entry_at(fact));
  use->times++;
}

// form may be NULL.
static double
strength_of(LzrBuild *build, int64_t bottle, lzq_form *form)
{
  GListModel *bottles = lz_desk_bottles(build->desk);
  for (guint i = 0; i < g_list_model_get_n_items(bottles); i++) {
    g_autoptr(LzBottleRow) row = g_list_model_get_item(bottles, i);
    const LzBottleInfo *info = lz_bottle_row_info(row);
    if (info->id == bottle) {
      if (form)
        *form = info->form;
      return info->strength_mg_ml;
    }
  }
  return NAN;
}

static void
use_row(LzrBuild *build, const Use *use)
{
  LzEntry *bottle = lz_desk_entity(build->desk, "bottle", use->bottle);
  lzq_form form = LZQ_FORM_NONE;
  lzq_analyte analyte = bottle ? lzr_reading_analyte(bottle) : LZQ_N_ANALYTES;
  g_autofree char *strength = lz_format_short(strength_of(build, use->bottle, &form), 3);
  g_autofree char *mg = lz_format_short(use->mg, 0), *ml = lz_format_short(use->ml, 1);
  lzd_cell cells[] = {
      {.text = lzr_printf(
           build, "%s %s%s%s%s%s",
           bottle ? lz_desk_name_of(build->desk, "bottle", use->bottle) : "–",
           analyte < LZQ_N_ANALYTES ? lz_words_analyte(analyte) : "",
           form != LZQ_FORM_NONE ? ", " : "", form != LZQ_FORM_NONE ? lz_words_form(form) : "",
           use->lot == LZQ_NONE ? "" : "\n",
           use->lot == LZQ_NONE ? ""
                                : lzr_printf(build, _("lot %s before it joined"),
                                             lz_desk_name(build->desk, "lot", use->lot))),
       .bold = true},
      {.text = lzr_printf(build, _("%s mg/mL"), strength)},
      {.text = lzr_or(bottle ? lz_entry_text(bottle, "batch") : NULL, "–")},
      {.text = lzr_or(bottle ? lz_entry_text(bottle, "expiry") : NULL, "–")},
      {.text = lzr_or(bottle ? lz_entry_text(bottle, "prescription") : NULL, "–")},
      {.text = lzr_printf(build, _("%1$s mL, %2$s mg in %3$u"), ml, mg, use->times)},
      {.text = lzr_printf(build, "%s\n%s", lzr_day(build, use->first), lzr_day(build, use->last))},
  };
  lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
}

static void
medicines(LzrBuild *build, const LzrLot *lot, const GPtrArray *given, const GPtrArray *feeds)
{
  lzd_column columns[] = {{_("medicine"), 0, LZD_START},      {_("strength"), 62, LZD_START},
                          {_("batch"), 50, LZD_START},        {_("expiry"), 62, LZD_START},
                          {_("prescription"), 66, LZD_START}, {_("quantity"), 98, LZD_START},
                          {_("first, last"), 62, LZD_START}};
  g_autoptr(GArray) uses = g_array_new(FALSE, TRUE, sizeof(Use));
  for (guint i = 0; i < given->len + feeds->len; i++) {
    LzEntry *fact = i < given->len ? given->pdata[i] : feeds->pdata[i - given->len];
    const LzrPart *part = lzr_lot_part(build, lot, fact);
    if (lz_entry_has(fact, "bottle"))
      add_use(uses, fact, strength_of(build, lz_entry_int(fact, "bottle"), NULL),
              part->some ? part->lot : LZQ_NONE);
  }
  lzr_heading(
      build, NULL, _("Medicines used"),
      _("withdrawal period: none, not for food; amounts are of the whole water, bath or feed"));
  if (uses->len) {
    lzr_begin(build);
    lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), true);
    for (guint i = 0; i < uses->len; i++)
      use_row(build, &g_array_index(uses, Use, i));
    lzd_sheet_end_table(build->page);
  }
  lzr_none(build, _("None."));
}

// The first reading of what was dosed in that water before the next dose of it.
static const char *
measured_after(LzrBuild *build, const GPtrArray *readings, const GPtrArray *doses, guint dose,
               lzq_analyte analyte)
{
  LzEntry *given = doses->pdata[dose];
  uint32_t system = lzr_index(build, given, "system", "system");
  lzq_minute until = LZQ_NEVER;
  if (system == LZQ_NONE) // a bath
    return "–";
  for (guint i = dose + 1; i < doses->len && until == LZQ_NEVER; i++)
    if (lzr_index(build, doses->pdata[i], "system", "system") == system)
      until = lz_entry_at(doses->pdata[i]);
  for (guint i = 0; i < readings->len; i++) {
    LzEntry *reading = readings->pdata[i];
    if (lz_entry_at(reading) <= lz_entry_at(given) || lz_entry_at(reading) >= until ||
        lzr_reading_analyte(reading) != analyte ||
        lzr_index(build, reading, "system", "system") != system)
      continue;
    g_autofree char *value = lz_format_level(analyte, lz_entry_number(reading, "value"));
    return lzr_printf(build, "%s, %s", value, lzr_stamp(build, reading) + 5);
  }
  return "–";
}

// Level that the exact mass balance gives right after the dose.
static const char *
estimated_after(LzrBuild *build, uint32_t system, lzq_analyte analyte, lzq_minute at,
                lzq_arena *arena)
{
  const lzq_plan *plan =
      analyte == LZQ_COPPER ? lz_desk_plan_at(build->desk, at, arena, NULL) : NULL;
  const char *text = "–";
  if (plan && system != LZQ_NONE && !isnan(plan->waters[system].level[0]))
    text = lzr_keep(build, lz_format_level(LZQ_COPPER, plan->waters[system].level[0]));
  lzq_arena_free(arena);
  return text;
}

static lzq_analyte
dosed_analyte(LzrBuild *build, LzEntry *dose)
{
  LzEntry *bottle = lz_entry_has(dose, "bottle")
                        ? lz_desk_entity(build->desk, "bottle", lz_entry_int(dose, "bottle"))
                        : NULL;
  if (lz_entry_has(dose, "salt_kg"))
    return LZQ_SALINITY;
  return lzr_reading_analyte(bottle ? bottle : dose);
}

static void
dose_row(LzrBuild *build, const LzrLot *lot, const GPtrArray *doses, guint i,
         const GPtrArray *readings)
{
  LzEntry *dose = doses->pdata[i];
  lzq_arena arena;
  lzq_analyte analyte = dosed_analyte(build, dose);
  uint32_t system = lzr_index(build, dose, "system", "system");
  const char *as = lzr_as_words(build, lot, dose);
  const char *where = system == LZQ_NONE ? lz_words_kind(lz_entry_kind(dose))
                                         : lz_desk_name(build->desk, "system", system);
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  lzd_cell cells[] = {
      {.text = lzr_stamp(build, dose)},
      {.text = as ? lzr_printf(build, "%s\n%s", where, as) : where},
      {.text = lzr_keep(build, lz_words_entry(build->desk, dose)), .bold = true},
      {.text = lzr_real(build, dose, "computed_ml", 1)},
      {.text = estimated_after(build, system, analyte, lz_entry_at(dose), &arena)},
      {.text = measured_after(build, readings, doses, i, analyte)},
      {.text = lzr_initials(build, dose), .bold = true},
      {.text = lzr_witness(build, dose), .bold = true},
  };
  lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
}

static void
given(LzrBuild *build, const LzrLot *lot, const GPtrArray *doses, const GPtrArray *readings)
{
  lzd_column columns[] = {{_("when"), 98, LZD_START},    {_("water"), 48, LZD_START},
                          {_("given"), 0, LZD_START},    {_("asked mL"), 44, LZD_END},
                          {_("estimated"), 48, LZD_END}, {_("measured, at"), 100, LZD_START},
                          {_("by"), 24, LZD_START},      {_("checked"), 42, LZD_END}};
  lzr_heading(build, NULL, _("Given to the water, and baths"),
              _("estimated: by exact mass balance from the last reading"));
  if (doses->len) {
    lzr_begin(build);
    lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), true);
    for (guint i = 0; i < doses->len; i++)
      dose_row(build, lot, doses, i, readings);
    lzd_sheet_end_table(build->page);
  }
  lzr_none(build, _("Nothing was dosed."));
}

static void
changed(LzrBuild *build, const LzrLot *lot, const GPtrArray *changes)
{
  lzd_column columns[] = {{_("when"), 98, LZD_START},
                          {_("water"), 48, LZD_START},
                          {_("changed"), 0, LZD_START},
                          {_("old water went to"), 130, LZD_START},
                          {_("by"), 30, LZD_END}};
  lzr_heading(build, NULL, _("Water changed"), NULL);
  for (guint i = 0; i < changes->len; i++) {
    LzEntry *change = changes->pdata[i];
    if (i == 0) {
      lzr_begin(build);
      lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), true);
    }
    const char *where = lzr_ref(build, change, "system", "system");
    const char *as = lzr_as_words(build, lot, change);
    lzd_cell cells[] = {
        {.text = lzr_stamp(build, change)},
        {.text = as ? lzr_printf(build, "%s\n%s", where, as) : where},
        {.text = lzr_keep(build, lz_words_entry(build->desk, change)), .bold = true},
        {.text = lzr_or(lz_entry_text(change, "disposal"), "–")},
        {.text = lzr_initials(build, change), .bold = true},
    };
    lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
  }
  lzd_sheet_end_table(build->page);
  lzr_none(build, _("No water was changed."));
}

// Doses and baths, by time.
static GPtrArray *
all_given(LzrBuild *build, const LzrLot *lot)
{
  GPtrArray *all = lzr_family_facts(build, lot, NULL);
  for (guint i = all->len; i-- > 0;) {
    const char *kind = lz_entry_kind(all->pdata[i]);
    if (strcmp(kind, "dose") != 0 && strcmp(kind, "bath") != 0)
      g_ptr_array_remove_index(all, i);
  }
  return all;
}

void
lzr_lot_given(LzrBuild *build, const LzrLot *lot)
{
  g_autoptr(GPtrArray) doses = all_given(build, lot);
  g_autoptr(GPtrArray) feeds = lzr_family_facts(build, lot, "feed");
  g_autoptr(GPtrArray) changes = lzr_family_facts(build, lot, "change");
  g_autoptr(GPtrArray) readings = lzr_family_facts(build, lot, "reading");
  medicines(build, lot, doses, feeds);
  given(build, lot, doses, readings);
  changed(build, lot, changes);
}
