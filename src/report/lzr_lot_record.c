// SPDX-License-Identifier: GPL-3.0-or-later
// The treatment record of a lot, from receipt to release: who it is, where it stood, what it was
// given (lzr_lot_given.c), the levels of its water (lzr_lot_levels.c), what it served
// (lzr_lot_credit.c), what was seen, whom it met (lzr_lot_contacts.c), how it ended.
#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <string.h>

#include <lz_format.h>
#include <lz_words.h>

#include "lzr_lot.h"

enum { FACTS_MOST = 12 };

typedef struct {
  const char *names[FACTS_MOST], *values[FACTS_MOST];
  guint n;
} Facts;

static void
fact(Facts *facts, const char *name, const char *value)
{
  if (facts->n < FACTS_MOST && value && *value) {
    facts->names[facts->n] = name;
    facts->values[facts->n++] = value;
  }
}

static const char *
shipment_words(LzrBuild *build, LzEntry *receipt)
{
  LzEntry *shipment =
      lz_entry_has(receipt, "shipment")
          ? lz_desk_entity(build->desk, "shipment", lz_entry_int(receipt, "shipment"))
          : NULL;
  if (!shipment)
    return _("no shipment named");
  g_autoptr(GString) text = g_string_new(NULL);
  const char *parts[][2] = {{_("shipment"), lz_entry_text(shipment, "code")},
                            {NULL, lzr_ref(build, shipment, "supplier", "supplier")},
                            {NULL, lz_entry_text(shipment, "country")},
                            {_("certificate"), lz_entry_text(shipment, "certificate")},
                            {_("waybill"), lz_entry_text(shipment, "waybill")},
                            {_("carried by"), lz_entry_text(shipment, "transporter")},
                            {_("box"), lz_entry_text(receipt, "box")}};
  for (guint i = 0; i < G_N_ELEMENTS(parts); i++)
    if (parts[i][1] && *parts[i][1])
      g_string_append_printf(text, "%s%s%s%s", text->len ? ", " : "",
                             parts[i][0] ? parts[i][0] : "", parts[i][0] ? " " : "", parts[i][1]);
  return lzr_keep(build, g_strdup(text->str));
}

static const char *
stays_words(LzrBuild *build, const LzrLot *lot)
{
  g_autoptr(GString) text = g_string_new(NULL);
  for (guint i = 0; i < lot->way->len; i++) {
    const LzrStay *stay = &g_array_index(lot->way, LzrStay, i);
    const lzq_snapshot *snapshot = lz_desk_snapshot(build->desk);
    g_autofree char *litres =
        lz_format_amount(snapshot->systems[stay->system].volume_l, LZQ_UNIT_L);
    g_string_append_printf(text, _("%1$s%2$s (%3$s net) from %4$s"), text->len ? "; " : "",
                           lzr_name(build, lz_desk_name(build->desk, "tank", stay->tank)), litres,
                           lzr_minute(build, stay->from));
    if (stay->lot != lot->lot)
      g_string_append_printf(text, _(" as lot %s"), lz_desk_name(build->desk, "lot", stay->lot));
  }
  return lzr_keep(build, g_strdup(text->str));
}

static const char *
protocol_words(LzrBuild *build, const LzrLot *lot)
{
  GListModel *rows = lz_desk_protocols(build->desk);
  for (guint i = 0; *lot->info->protocol && i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzProtocolRow) row = g_list_model_get_item(rows, i);
    const LzProtocolInfo *info = lz_protocol_row_info(row);
    if (strcmp(info->name, lot->info->protocol) == 0)
      return lzr_printf(build, "%s, %s", info->name,
                        info->signed_off ? _("signed off by a veterinarian")
                                         : _("not signed off by a veterinarian"));
  }
  return lzr_or(lot->info->protocol, _("no course now"));
}

// Fish of other lots that went on in this one, or in the one that it was taken off: how many is
// told where it happened.
static void
joined(LzrBuild *build, const LzrLot *lot, Facts *facts)
{
  g_autoptr(GPtrArray) merges = lzr_family_facts(build, lot, "merge");
  g_autoptr(GString) codes = g_string_new(NULL);
  for (guint i = 0; i < merges->len; i++) {
    const LzrPart *part = lzr_lot_part(build, lot, merges->pdata[i]);
    if (!part->some && lzr_index(build, merges->pdata[i], "into", "lot") == part->lot)
      g_string_append_printf(codes, "%s%s, %s", codes->len ? "; " : "",
                             lzr_ref(build, merges->pdata[i], "lot", "lot"),
                             lzr_stamp(build, merges->pdata[i]));
  }
  if (codes->len)
    fact(facts, _("Joined by"),
         lzr_printf(build,
                    _("the fish of lot %s; until then they had what is marked with their lot"),
                    codes->str));
}

static void
who_it_is(LzrBuild *build, const LzrLot *lot)
{
  Facts facts = {.n = 0};
  LzEntry *origin = lzr_origin(build, lot->lot), *receipt = lzr_receipt(build, lot->lot);
  if (!lzr_flag(lot->info->code))
    fact(&facts, _("Lot"), lot->info->code);
  fact(&facts, _("Species"), lzr_or(lot->info->species, "–"));
  if (origin && strcmp(lz_entry_kind(origin), "split") == 0)
    fact(&facts, _("Taken off"),
         lzr_printf(build,
                    _("%1$s fish of lot %2$s, %3$s; until then they had what is marked “lot %2$s”"),
                    lzr_count(build, origin, "heads"), lzr_ref(build, origin, "lot", "lot"),
                    lzr_stamp(build, origin)));
  if (receipt) {
    fact(&facts, _("Came"),
         lzr_printf(build, "%s, %s", lzr_stamp(build, receipt), shipment_words(build, receipt)));
    fact(&facts, _("Counted"),
         lzr_printf(build,
                    _("%1$s (invoice %2$s), %3$s dead, %4$s weak on arrival. Here now: %5$d"),
                    lzr_count(build, receipt, "heads"), lzr_count(build, receipt, "invoiced"),
                    lzr_count(build, receipt, "dead_on_arrival"), lzr_count(build, receipt, "weak"),
                    lot->info->living ? lot->info->heads : 0));
    if (lz_entry_has(receipt, "mean_mass_g"))
      fact(
          &facts, _("Mass"),
          lzr_printf(build, _("%s g each on average"), lzr_real(build, receipt, "mean_mass_g", 1)));
    if (lz_entry_has(receipt, "bag_temperature") || lz_entry_has(receipt, "bag_salinity"))
      fact(&facts, _("Bag"),
           lzr_printf(build, _("%1$s °C, salinity %2$s, pH %3$s, ammonia %4$s mg/L N"),
                      lzr_real(build, receipt, "bag_temperature", 1),
                      lzr_real(build, receipt, "bag_salinity", 1),
                      lzr_real(build, receipt, "bag_ph", 2),
                      lzr_real(build, receipt, "bag_ammonia", 2)));
  }
  joined(build, lot, &facts);
  fact(&facts, _("Protocol"), protocol_words(build, lot));
  fact(&facts, _("Water"), stays_words(build, lot));
  lzd_sheet_facts(build->page, lzr_flag(lot->info->code), facts.names, facts.values, facts.n);
}

static void
event_row(LzrBuild *build, const LzrLot *lot, LzEntry *entry)
{
  const char *kind = lz_entry_kind(entry);
  lzd_mark mark = strcmp(kind, "death") == 0                                     ? LZD_RAIL_DEAD
                  : strcmp(kind, "sighting") == 0 || strcmp(kind, "scrape") == 0 ? LZD_RAIL_SEEN
                  : strcmp(kind, "move") == 0                                    ? LZD_RAIL_MOVE
                                                                                 : LZD_RAIL_NOTE;
  const char *reason = lz_entry_reason(entry);
  g_autofree char *said = lz_words_entry(build->desk, entry);
  const char *as = strcmp(kind, "merge") == 0 ? lzr_ref(build, entry, "lot", "lot")
                                              : lzr_as_words(build, lot, entry);
  const char *words = as ? lzr_printf(build, "%s: %s", as, said) : said;
  lzd_cell cells[] = {
      {.text = lzr_stamp(build, entry)},
      {.text = lz_words_kind(kind), .mark = mark},
      {.text = lzr_printf(build, "%s%s%s", words, reason ? "; " : "", reason ? reason : "")},
      {.text = lzr_initials(build, entry), .bold = true},
      {.text = lzr_witness(build, entry), .bold = true},
  };
  lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
}

// All that is told of the lot itself; of the one that it was taken off what was of these fish, too:
// not how many others died, and nothing of lots that joined later.
static gboolean
is_told(LzrBuild *build, const LzrLot *lot, LzEntry *entry)
{
  static const char *const told[] = {"death",  "count", "split",  "merge",  "note",
                                     "gear",   "skip",  "move",   "course", "sighting",
                                     "scrape", "sign",  "accept", "stop",   "accept_open"};
  const guint own_only = 7;
  const LzrPart *part = lzr_lot_part(build, lot, entry);
  for (guint k = part->lot == lot->lot ? 0 : own_only; !part->some && k < G_N_ELEMENTS(told); k++)
    if (strcmp(told[k], lz_entry_kind(entry)) == 0)
      return TRUE;
  return FALSE;
}

static void
seen(LzrBuild *build, const LzrLot *lot)
{
  lzd_column columns[] = {{_("when"), 98, LZD_START},
                          {_("what"), 92, LZD_START},
                          {NULL, 0, LZD_START},
                          {_("by"), 24, LZD_START},
                          {_("checked"), 42, LZD_END}};
  g_autoptr(GPtrArray) all = lzr_family_facts(build, lot, NULL);
  lzr_heading(build, NULL, _("Moved, seen, dead, decided"), NULL);
  gboolean any = FALSE;
  for (guint i = 0; i < all->len; i++) {
    if (!is_told(build, lot, all->pdata[i]))
      continue;
    if (!any) {
      lzr_begin(build);
      lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), true);
    }
    any = TRUE;
    event_row(build, lot, all->pdata[i]);
  }
  lzd_sheet_end_table(build->page);
  lzr_none(build, _("Nothing."));
}

static void
fed(LzrBuild *build, const LzrLot *lot)
{
  g_autoptr(GPtrArray) feeds = lzr_family_facts(build, lot, "feed");
  double grams = 0, share = 0;
  guint n = 0, medicated = 0;
  lzr_heading(build, NULL, _("Fed"), NULL);
  for (guint i = 0; i < feeds->len; i++) {
    LzEntry *feed = feeds->pdata[i];
    const char *as = lzr_as_words(build, lot, feed);
    if (!as) {
      n++;
      grams += lz_entry_has(feed, "grams") ? lz_entry_number(feed, "grams") : 0;
      share += lz_entry_number(feed, "eaten_share");
      medicated += lz_entry_has(feed, "bottle");
    }
    if (!lz_entry_has(feed, "bottle"))
      continue;
    lzr_line(build, LZD_MARK_NONE,
             lzr_printf(build, _("%s, medicated:"),
                        as ? lzr_printf(build, "%s, %s", lzr_stamp(build, feed), as)
                           : lzr_stamp(build, feed)),
             lzr_printf(build, _("%1$s mg from %2$s, %3$s."),
                        lzr_real(build, feed, "medicine_mg", 2),
                        lzr_ref(build, feed, "bottle", "bottle"), lzr_initials(build, feed)));
  }
  if (n) {
    g_autofree char *total = lz_format_short(grams, 0);
    g_autofree char *eaten = lz_format_short(100 * share / n, 0);
    lzr_line(build, LZD_MARK_NONE, NULL,
             lzr_printf(build, _("%1$u feeds, %2$s g, %3$s %% eaten on average; %4$u medicated."),
                        n, total, eaten, medicated));
  }
  lzr_none(build, _("Nothing written."));
}

// The end: released, with the rule that was met, or what is still to come.
static void
release(LzrBuild *build, const LzrLot *lot)
{
  g_autoptr(GPtrArray) all = lz_desk_facts(build->desk, "release", 0, lz_desk_now(build->desk) + 1);
  LzEntry *released = NULL;
  for (guint i = 0; i < all->len; i++)
    if (lzr_index(build, all->pdata[i], "lot", "lot") == lot->lot)
      released = all->pdata[i];
  lzd_sheet_space(build->page, 6);
  if (released) {
    const char *customer = lzr_ref(build, released, "customer", "customer");
    const char *reason = lz_entry_reason(released);
    gboolean served = lot->credit && lot->credit->served;
    lzr_line(build, LZD_TASK_DONE,
             lzr_printf(build, _("Released %1$s by %2$s%3$s%4$s."), lzr_stamp(build, released),
                        lzr_initials(build, released), *customer ? _(", to ") : "", customer),
             served
                 ? lzr_printf(build, _("Rule met: every phase of %1$s served as listed above%2$s."),
                              lot->info->protocol,
                              lz_desk_snapshot(build->desk)->station.last_in
                                  ? _(", and no lot that shared its last water still to serve")
                                  : "")
                 : lzr_printf(build, _("The course was not served. Reason given: %s."),
                              reason ? reason : _("none")));
    return;
  }
  lzr_line(build, LZD_TASK_NOT_STARTED,
           lot->info->served ? _("Served, not released:") : _("Not released:"),
           lzr_or(lot->info->because, NULL));
}

static void
ledger_line(LzrBuild *build)
{
  LzVerify verify;
  g_autoptr(GError) error = NULL;
  if (lz_desk_verify(build->desk, &verify, &error))
    lzr_line(build, LZD_MARK_NONE, _("Ledger checked:"),
             lzr_printf(build,
                        _("%1$" PRId64 " entries, chain ends in %2$.16s. * marks a "
                          "corrected entry; the first is kept in the ledger."),
                        verify.entries, verify.head));
  else
    lzr_line(build, LZD_BAND_SUSPECT, _("The ledger does not check:"),
             lzr_printf(build, "%s", error->message));
}

void
lzr_lot_record(LzrBuild *build)
{
  const char *labels[] = {_("released by, date, time"),
                          _("veterinarian, where the rules ask for it")};
  LzrLot lot = {.info = lz_desk_lot_info(build->desk, build->options->lot)};
  if (!lot.info)
    return;
  lzr_lot_open(build, build->options->lot, &lot);
  lzr_head(build, lzr_printf(build, _("Treatment record, lot %s"), lot.info->code),
           *lot.info->species ? lot.info->species : NULL);
  lzr_foot(build, NULL);
  who_it_is(build, &lot);
  lzr_lot_given(build, &lot);
  lzr_lot_levels(build, &lot);
  lzr_lot_credit(build, &lot);
  seen(build, &lot);
  lzr_lot_contacts(build, &lot);
  lzr_lot_photos(build, &lot);
  fed(build, &lot);
  release(build, &lot);
  lzr_lot_shorts(build, &lot);
  ledger_line(build);
  lzd_sheet_to_foot(build->page);
  lzd_sheet_sign(build->page, labels, G_N_ELEMENTS(labels), false);
  lzr_lot_clear(&lot);
}
