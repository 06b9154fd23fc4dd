// SPDX-License-Identifier: GPL-3.0-or-later
// The inspector's register for a range of dates: what came, moved, was treated, died, was thrown
// away and left, with the fields that the rules of lzr_rules.c name.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include <lz_format.h>
#include <lz_words.h>

#include "lzr_register.h"
#include "lzr_rules.h"
#include "lzr_stay.h"

void
lzr_rows_begin(LzrRows *rows)
{
  if (rows->open)
    return;
  lzr_begin(rows->build);
  lzd_sheet_table(rows->build->page, rows->columns, rows->n, true);
  rows->open = TRUE;
}

static void
row(LzrRows *rows, const char *const *texts)
{
  lzd_cell cells[10] = {{.text = NULL}};
  lzr_rows_begin(rows);
  for (guint i = 0; i < rows->n; i++)
    cells[i] = (lzd_cell){.text = texts[i], .bold = i == 1};
  lzd_sheet_row(rows->build->page, cells, rows->n);
}

static void
rows_end(LzrRows *rows)
{
  if (rows->open)
    lzd_sheet_end_table(rows->build->page);
  lzr_none(rows->build, _("None in this range."));
}

// Shipment, supplier, country, and the establishment or habitat of origin with its number.
static const char *
from_words(LzrBuild *build, LzEntry *shipment)
{
  static const char *const fields[] = {"country", "origin", "origin_registration"};
  const char *words = lzr_printf(build, "%s, %s", lzr_or(lz_entry_text(shipment, "code"), "–"),
                                 lzr_or(lzr_ref(build, shipment, "supplier", "supplier"), "–"));
  for (guint i = 0; i < G_N_ELEMENTS(fields); i++) {
    const char *text = lz_entry_text(shipment, fields[i]);
    if (text && *text)
      words = lzr_printf(build, "%s, %s", words, text);
  }
  return words;
}

// The certificate and who carried the fish. That there is none is said: an inspector asks for it.
static const char *
papers_words(LzrBuild *build, LzEntry *shipment)
{
  const char *certificate = lz_entry_text(shipment, "certificate");
  const char *carrier = lz_entry_text(shipment, "transporter");
  if (!certificate || !*certificate)
    certificate = _("no certificate");
  return carrier && *carrier ? lzr_printf(build, "%s, %s", certificate, carrier) : certificate;
}

static void
receipts(LzrBuild *build, lzq_minute from, lzq_minute until)
{
  lzd_column columns[] = {{_("when"), 98, LZD_START},
                          {_("lot"), 34, LZD_START},
                          {_("species"), 0, LZD_START},
                          {_("fish"), 36, LZD_END},
                          {_("dead"), 30, LZD_END},
                          {_("from"), 94, LZD_START},
                          {_("certificate, carried by"), 104, LZD_START}};
  LzrRows rows = {.build = build, .columns = columns, .n = G_N_ELEMENTS(columns)};
  g_autoptr(GArray) lots = lz_desk_entities(build->desk, "lot");
  lzr_heading(build, "1", _("Receipts"), NULL);
  for (guint i = 0; i < lots->len; i++) {
    int64_t id = g_array_index(lots, int64_t, i);
    LzEntry *lot = lz_desk_entity(build->desk, "lot", id);
    if (!lot || strcmp(lz_entry_kind(lot), "lot") != 0 || lz_entry_at(lot) < from ||
        lz_entry_at(lot) >= until)
      continue;
    LzEntry *shipment = lz_entry_has(lot, "shipment")
                            ? lz_desk_entity(build->desk, "shipment", lz_entry_int(lot, "shipment"))
                            : NULL;
    const char *texts[] = {
        lzr_stamp(build, lot),
        lz_entry_text(lot, "code"),
        lzr_or(lzr_ref(build, lot, "species", "species"), "–"),
        lzr_count(build, lot, "heads"),
        lzr_count(build, lot, "dead_on_arrival"),
        shipment ? from_words(build, shipment) : "–",
        shipment ? papers_words(build, shipment) : "–",
    };
    row(&rows, texts);
  }
  rows_end(&rows);
}

// What a post-mortem found and the number of a report, a certificate or an order, where the entry's
// own words do not say them already.
static const char *
with_papers(LzrBuild *build, LzEntry *fact, const char *words)
{
  static const char *const fields[] = {"post_mortem", "document", "transporter"};
  for (guint i = 0; i < G_N_ELEMENTS(fields); i++) {
    const char *text = lz_entry_text(fact, fields[i]);
    if (text && *text && !strstr(words, text))
      words = lzr_printf(build, "%s; %s", words, text);
  }
  return words;
}

// The customer's number, where the fish went, and that place's registration.
static const char *
to_words(LzrBuild *build, LzEntry *release)
{
  static const char *const fields[] = {"place", "country", "registration"};
  LzEntry *customer =
      lz_entry_has(release, "customer")
          ? lz_desk_entity(build->desk, "customer", lz_entry_int(release, "customer"))
          : NULL;
  const char *words =
      lzr_or(lzr_ref(build, release, "customer", "customer"), _("a customer not named"));
  for (guint i = 0; customer && i < G_N_ELEMENTS(fields); i++) {
    const char *text = lz_entry_text(customer, fields[i]);
    if (text && *text)
      words = lzr_printf(build, "%s, %s", words, text);
  }
  return words;
}

// What left and what died are told in full; the rest as the ledger says it.
static const char *
what_words(LzrBuild *build, LzEntry *fact)
{
  uint32_t index = lzr_index(build, fact, "lot", "lot");
  const LzLotInfo *lot = index == LZQ_NONE ? NULL : lz_desk_lot_info(build->desk, index);
  const char *species = lot ? lzr_or(lot->species, _("species not said")) : "";
  if (lot && strcmp(lz_entry_kind(fact), "release") == 0)
    return with_papers(build, fact,
                       lzr_printf(build, _("%1$d fish, %2$s, to %3$s"), lot->heads, species,
                                  to_words(build, fact)));
  if (lot && strcmp(lz_entry_kind(fact), "death") == 0)
    return with_papers(build, fact,
                       lzr_printf(build, _("%1$s dead, %2$s; %3$s; %4$s"),
                                  lzr_count(build, fact, "heads"), species,
                                  lzr_or(lz_entry_text(fact, "cause"), _("cause not said")),
                                  lzr_or(lz_entry_text(fact, "disposal"), _("not said where to"))));
  if (strcmp(lz_entry_kind(fact), "move") == 0)
    return with_papers(build, fact, lzr_move_words(build, fact));
  return with_papers(build, fact, lzr_keep(build, lz_words_entry(build->desk, fact)));
}

typedef struct {
  const char *number, *title, *kinds[4];
} Section;

// Sections that are one line an entry: when, lot, where, what it says, by.
static void
plain_section(LzrBuild *build, const Section *section, lzq_minute from, lzq_minute until)
{
  lzd_column columns[] = {{_("when"), 98, LZD_START},
                          {_("lot"), 40, LZD_START},
                          {_("water, tank"), 70, LZD_START},
                          {_("what"), 0, LZD_START},
                          {_("by"), 30, LZD_END}};
  LzrRows rows = {.build = build, .columns = columns, .n = G_N_ELEMENTS(columns)};
  g_autoptr(GPtrArray) facts = lz_desk_facts(build->desk, NULL, from, until);
  lzr_heading(build, section->number, section->title, NULL);
  for (guint i = 0; i < facts->len; i++) {
    LzEntry *fact = facts->pdata[i];
    gboolean wanted = FALSE;
    for (guint k = 0; k < G_N_ELEMENTS(section->kinds) && section->kinds[k]; k++)
      wanted |= strcmp(section->kinds[k], lz_entry_kind(fact)) == 0;
    if (!wanted)
      continue;
    const char *texts[] = {lzr_stamp(build, fact), lzr_ref(build, fact, "lot", "lot"),
                           lzr_where(build, fact), what_words(build, fact),
                           lzr_initials(build, fact)};
    row(&rows, texts);
  }
  rows_end(&rows);
}

static void
treatments(LzrBuild *build, lzq_minute from, lzq_minute until)
{
  lzd_column columns[] = {{_("when"), 98, LZD_START},  {_("given"), 0, LZD_START},
                          {_("water"), 50, LZD_START}, {_("lots reached"), 210, LZD_START},
                          {_("by"), 24, LZD_START},    {_("checked"), 42, LZD_END}};
  LzrRows rows = {.build = build, .columns = columns, .n = G_N_ELEMENTS(columns)};
  g_autoptr(GPtrArray) facts = lz_desk_facts(build->desk, NULL, from, until);
  lzr_heading(build, "5", _("Treatments"),
              _("doses, baths and medicated feed, and the fish that they reached"));
  for (guint i = 0; i < facts->len; i++) {
    LzEntry *given = facts->pdata[i];
    gboolean dose = strcmp(lz_entry_kind(given), "dose") == 0;
    if (!dose && strcmp(lz_entry_kind(given), "bath") != 0 &&
        (strcmp(lz_entry_kind(given), "feed") != 0 || !lz_entry_has(given, "bottle")))
      continue;
    uint32_t system = lzr_index(build, given, "system", "system");
    const char *texts[] = {
        lzr_stamp(build, given),
        lzr_keep(build, lz_words_entry(build->desk, given)),
        dose ? lzr_ref(build, given, "system", "system") : lz_words_kind(lz_entry_kind(given)),
        dose ? lzr_reached(build, system, lz_entry_at(given)) : lzr_ref(build, given, "lot", "lot"),
        lzr_initials(build, given),
        lzr_witness(build, given)};
    row(&rows, texts);
  }
  rows_end(&rows);
}

static void
rules(LzrBuild *build)
{
  guint n;
  const LzrRuleField *fields = lzr_rule_fields(&n);
  lzd_column columns[] = {
      {_("rule"), 112, LZD_START}, {_("names"), 0, LZD_START}, {_("stands in"), 150, LZD_START}};
  LzrRows rows = {.build = build, .columns = columns, .n = G_N_ELEMENTS(columns)};
  lzr_heading(build, "10", _("Where each field stands"),
              _("a template; what is a duty depends on the holding and on national rules"));
  for (guint i = 0; i < n; i++) {
    const char *texts[] = {fields[i].rule, _(fields[i].field),
                           fields[i].keeping == LZR_KEPT
                               ? _(fields[i].where)
                               : lzr_printf(build, _("kept with %s"), _(fields[i].where))};
    row(&rows, texts);
  }
  rows_end(&rows);
}

void
lzr_register(LzrBuild *build)
{
  lzq_minute now = lz_desk_now(build->desk);
  lzq_minute until = build->options->until ? build->options->until : now + 1;
  lzq_minute from = build->options->from ? build->options->from : until - 365 * LZQ_DAY;
  const Section sections[] = {
      {"2", _("Movements inside"), {"move", "split", "merge"}},
      {"3", _("Dispatches"), {"release"}},
      {"4", _("Signs, scrapes and results"), {"sighting", "scrape", "count"}},
      {"7", _("Deaths"), {"death"}},
      {"9", _("Notes"), {"visit", "note", "stop"}},
  };
  const char *labels[] = {_("shown by, date"), _("seen by, date")};
  lzr_head(
      build, _("Register"),
      lzr_printf(build, _("%1$s until %2$s"), lzr_day(build, from), lzr_day(build, until - 1)));
  lzr_foot(build, NULL);
  receipts(build, from, until);
  for (guint i = 0; i < 3; i++)
    plain_section(build, &sections[i], from, until);
  treatments(build, from, until);
  lzr_register_medicines(build, from, until);
  plain_section(build, &sections[3], from, until);
  lzr_register_disposals(build, from, until);
  plain_section(build, &sections[4], from, until);
  rules(build);
  lzd_sheet_to_foot(build->page);
  lzd_sheet_sign(build->page, labels, G_N_ELEMENTS(labels), false);
}
