// SPDX-License-Identifier: GPL-3.0-or-later
// Losses on arrival of one shipment, for the supplier: what was invoiced, what was counted, dead,
// weak and short, what died in the days after, and how the bags were found.
#include <glib/gi18n-lib.h>
#include <string.h>

#include <lz_format.h>
#include <lz_words.h>

#include "lzr_sheet.h"

#define AFTER_DAYS 7 // deaths told after arrival: common practice, no source

enum { INVOICED, COUNTED, DEAD, MISSING, WEAK, LATER, N_SUMS };

typedef struct {
  GPtrArray *lots; // LzEntry, borrowed
  int sums[N_SUMS];
  gboolean said[N_SUMS]; // by at least one lot
} Claim;

static int
heads(LzEntry *entry, const char *field)
{
  return lz_entry_has(entry, field) ? (int)lz_entry_int(entry, field) : 0;
}

// Invoiced and neither alive nor dead in the bag.
static int
short_of(LzEntry *lot)
{
  return MAX(0, heads(lot, "invoiced") - heads(lot, "heads") - heads(lot, "dead_on_arrival"));
}

static gboolean
died_after(LzrBuild *build, LzEntry *death, LzEntry *lot)
{
  return lz_desk_id(build->desk, "lot", lzr_index(build, death, "lot", "lot")) ==
             (lz_entry_entity(lot) ? lz_entry_entity(lot) : lz_entry_id(lot)) &&
         lz_entry_at(death) < lz_entry_at(lot) + AFTER_DAYS * LZQ_DAY;
}

static int
deaths_after(LzrBuild *build, LzEntry *lot, const GPtrArray *deaths)
{
  int n = 0;
  for (guint i = 0; i < deaths->len; i++)
    if (died_after(build, deaths->pdata[i], lot))
      n += heads(deaths->pdata[i], "heads");
  return n;
}

// Temperature, salinity and pH of the bag.
static const char *
bag_words(LzrBuild *build, LzEntry *lot)
{
  if (!lz_entry_has(lot, "bag_temperature") && !lz_entry_has(lot, "bag_salinity") &&
      !lz_entry_has(lot, "bag_ph"))
    return _("not read");
  return lzr_printf(build, "%s, %s, %s", lzr_real(build, lot, "bag_temperature", 1),
                    lzr_real(build, lot, "bag_salinity", 1), lzr_real(build, lot, "bag_ph", 2));
}

// What nobody said is no zero: a claim rests on what was counted.
static const char *
add(LzrBuild *build, Claim *claim, int which, gboolean said, int n)
{
  claim->sums[which] += said ? n : 0;
  claim->said[which] |= said;
  return said ? lzr_printf(build, "%d", n) : "–";
}

static const char *
add_field(LzrBuild *build, Claim *claim, int which, LzEntry *lot, const char *field)
{
  return add(build, claim, which, lz_entry_has(lot, field), heads(lot, field));
}

static void
lot_row(LzrBuild *build, LzEntry *lot, int later, Claim *claim)
{
  gboolean invoiced = lz_entry_has(lot, "invoiced");
  lzd_cell cells[] = {
      {.text = lz_entry_text(lot, "code"), .bold = true},
      {.text = lzr_or(lzr_ref(build, lot, "species", "species"), "–")},
      {.text = lzr_or(lz_entry_text(lot, "box"), "–")},
      {.text = add_field(build, claim, INVOICED, lot, "invoiced")},
      {.text = add_field(build, claim, COUNTED, lot, "heads"), .bold = true},
      {.text = add_field(build, claim, DEAD, lot, "dead_on_arrival")},
      {.text = add(build, claim, MISSING, invoiced, short_of(lot))},
      {.text = add_field(build, claim, WEAK, lot, "weak")},
      {.text = add(build, claim, LATER, TRUE, later)},
      {.text = bag_words(build, lot)},
  };
  lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
}

static void
total_row(LzrBuild *build, const Claim *claim)
{
  lzd_cell cells[10] = {{.text = _("all"), .bold = true}};
  for (guint i = 0; i < N_SUMS; i++)
    cells[i + 3] = (lzd_cell){
        .text = claim->said[i] ? lzr_printf(build, "%d", claim->sums[i]) : "–", .bold = true};
  lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
}

static void
lots_table(LzrBuild *build, Claim *claim, const GPtrArray *deaths)
{
  lzd_column columns[] = {{_("lot"), 36, LZD_START},      {_("species"), 0, LZD_START},
                          {_("box"), 34, LZD_START},      {_("invoice"), 48, LZD_END},
                          {_("counted"), 42, LZD_END},    {_("dead"), 32, LZD_END},
                          {_("short"), 32, LZD_END},      {_("weak"), 44, LZD_END},
                          {_("died after"), 48, LZD_END}, {_("bag °C, sal., pH"), 80, LZD_END}};
  lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), true);
  for (guint i = 0; i < claim->lots->len; i++)
    lot_row(build, claim->lots->pdata[i], deaths_after(build, claim->lots->pdata[i], deaths),
            claim);
  total_row(build, claim);
  lzd_sheet_end_table(build->page);
}

// Counts that do not fit each other, for whoever has to ask: nothing is made to fit.
static void
misfits(LzrBuild *build, LzEntry *shipment, const Claim *claim)
{
  int announced = heads(shipment, "expected_heads");
  for (guint i = 0; i < claim->lots->len; i++) {
    LzEntry *lot = claim->lots->pdata[i];
    int over = heads(lot, "heads") + heads(lot, "dead_on_arrival") - heads(lot, "invoiced");
    if (lz_entry_has(lot, "invoiced") && over > 0)
      lzr_line(
          build, LZD_TASK_CONFLICT, lzr_printf(build, "%s:", lz_entry_text(lot, "code")),
          lzr_printf(build, _("%d more than invoiced; count again, and tell the supplier."), over));
  }
  if (announced && claim->sums[INVOICED] && announced != claim->sums[INVOICED])
    lzr_line(build, LZD_MARK_NONE, NULL,
             lzr_printf(build, _("Announced were %1$d fish, invoiced are %2$d."), announced,
                        claim->sums[INVOICED]));
}

static void
deaths_listed(LzrBuild *build, const Claim *claim, const GPtrArray *deaths)
{
  lzr_heading(build, NULL, lzr_printf(build, _("Died within %d days of arrival"), AFTER_DAYS),
              NULL);
  for (guint d = 0; d < deaths->len; d++)
    for (guint i = 0; i < claim->lots->len; i++) {
      LzEntry *death = deaths->pdata[d];
      if (!died_after(build, death, claim->lots->pdata[i]))
        continue;
      lzr_line(build, LZD_RAIL_DEAD, lzr_printf(build, "%s:", lzr_stamp(build, death)),
               lzr_printf(build, _("lot %1$s, %2$d dead, %3$s; %4$s (%5$s)."),
                          lzr_ref(build, death, "lot", "lot"), heads(death, "heads"),
                          lzr_or(lz_entry_text(death, "cause"), _("cause not said")),
                          lzr_or(lz_entry_text(death, "disposal"), _("not said where to")),
                          lzr_initials(build, death)));
    }
  lzr_none(build, _("None."));
}

static void
shipment_facts(LzrBuild *build, LzEntry *shipment)
{
  const char *names[] = {_("Supplier"),   _("Country"), _("Certificate"), _("Waybill"),
                         _("Carried by"), _("Boxes"),   _("Announced")};
  const char *values[] = {
      lzr_or(lzr_ref(build, shipment, "supplier", "supplier"), "–"),
      lzr_or(lz_entry_text(shipment, "country"), "–"),
      lzr_or(lz_entry_text(shipment, "certificate"), "–"),
      lzr_or(lz_entry_text(shipment, "waybill"), "–"),
      lzr_or(lz_entry_text(shipment, "transporter"), "–"),
      lzr_count(build, shipment, "boxes"),
      lzr_printf(build, _("%s fish"), lzr_count(build, shipment, "expected_heads"))};
  lzd_sheet_facts(build->page, lzr_flag(lz_entry_text(shipment, "code")), names, values,
                  G_N_ELEMENTS(names));
}

void
lzr_claim(LzrBuild *build)
{
  const char *labels[] = {_("counted by, date, time"), _("for the carrier or supplier")};
  LzEntry *shipment = lz_desk_entity(build->desk, "shipment", build->options->shipment);
  if (!shipment)
    return;
  Claim claim = {.lots = g_ptr_array_new()};
  g_autoptr(GArray) ids = lz_desk_entities(build->desk, "lot");
  for (guint i = 0; i < ids->len; i++) {
    LzEntry *lot = lz_desk_entity(build->desk, "lot", g_array_index(ids, int64_t, i));
    if (lot && strcmp(lz_entry_kind(lot), "lot") == 0 &&
        lz_entry_int(lot, "shipment") == build->options->shipment)
      g_ptr_array_add(claim.lots, lot);
  }
  g_autoptr(GPtrArray) deaths =
      lz_desk_facts(build->desk, "death", 0, lz_desk_now(build->desk) + 1);
  lzr_head(build, _("Losses on arrival"), lz_entry_text(shipment, "code"));
  lzr_foot(build, _("Short: invoiced, and neither alive nor dead in the bag."));
  shipment_facts(build, shipment);
  lzr_heading(build, NULL, _("Counted"),
              claim.lots->len ? lzr_stamp(build, claim.lots->pdata[0]) : NULL);
  if (claim.lots->len) {
    lzr_begin(build);
    lots_table(build, &claim, deaths);
    misfits(build, shipment, &claim);
  }
  lzr_none(build, _("No lot of this shipment has been received."));
  deaths_listed(build, &claim, deaths);
  lzr_heading(build, NULL, _("Photographs, remarks"), NULL);
  lzr_begin(build);
  lzd_sheet_pen_lines(build->page, 3);
  lzd_sheet_to_foot(build->page);
  lzd_sheet_sign(build->page, labels, G_N_ELEMENTS(labels), false);
  g_ptr_array_unref(claim.lots);
}
