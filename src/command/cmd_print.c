// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE print: a sheet as PDF, without a display.
#include "lzc.h"

#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

#include <lz_format.h>
#include <lzr_report.h>

typedef struct {
  char *pdf, *at, *paper, *system, *lot, *shipment, *from, *until, *volume, *strength, *protocol,
      *also;
  int number;
  gboolean list;
} PrintOptions;

static void
free_options(PrintOptions *o)
{
  g_free(o->pdf);
  g_free(o->at);
  g_free(o->paper);
  g_free(o->system);
  g_free(o->lot);
  g_free(o->shipment);
  g_free(o->volume);
  g_free(o->strength);
  g_free(o->protocol);
  g_free(o->from);
  g_free(o->until);
  g_free(o->also);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(PrintOptions, free_options)

static int
list_sheets(void)
{
  guint n;
  const LzrSheet *sheets = lzr_sheets(&n);
  for (guint i = 0; i < n; i++)
    printf("%-12s %-8s %s\n", sheets[i].name, sheets[i].about, sheets[i].title);
  return LZC_DONE;
}

static int
find(LzDesk *desk, const char *kind, const char *name, uint32_t *out)
{
  *out = LZQ_NONE;
  if (!name)
    return LZC_DONE;
  int64_t id = lz_desk_find(desk, kind, name);
  *out = id ? lz_desk_index(desk, kind, id) : LZQ_NONE;
  return *out == LZQ_NONE ? lzc_wrong(_("The station has no %s “%s”."), kind, name) : LZC_DONE;
}

// A volume in litres or a strength in mg per mL.
static gboolean
parse_amount(const char *option, const char *text, double *out, GError **error)
{
  if (!text)
    return TRUE;
  if (!lz_parse_number(text, out, NULL, error)) {
    g_prefix_error(error, "%s: ", option);
    return FALSE;
  }
  if (*out > 0 && *out <= 1e7)
    return TRUE;
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
              _("%1$s is “%2$s”. Accepted: a number above zero."), option, text);
  return FALSE;
}

static int
find_shipment(LzDesk *desk, const char *name, int64_t *out)
{
  *out = name ? lz_desk_find(desk, "shipment", name) : 0;
  return name && !*out ? lzc_wrong(_("The station has no shipment “%s”."), name) : LZC_DONE;
}

static gboolean
parse_time(LzDesk *desk, const char *text, lzq_minute *out, GError **error)
{
  return !text || lz_zone_parse(lz_desk_zone(desk), text, lz_desk_now(desk), out, error);
}

// The station's own paper, where the call names none.
static LzrPaper
station_paper(LzDesk *desk)
{
  g_autoptr(GArray) stations = lz_desk_entities(desk, "station");
  LzEntry *station =
      stations->len ? lz_desk_entity(desk, "station", g_array_index(stations, int64_t, 0)) : NULL;
  return station && g_strcmp0(lz_entry_text(station, "paper"), "letter") == 0 ? LZR_LETTER : LZR_A4;
}

static int
print_sheet(const char *path, const char *sheet, const PrintOptions *o, const LzrOptions *paper)
{
  int status = LZC_DONE;
  GError *error = NULL;
  LzrOptions options = *paper;
  uint32_t protocol;
  options.also = o->also;
  g_autoptr(LzDesk) desk = lzc_open_reading(path, o->at, &status);
  if (!desk)
    return status;
  if (!o->paper)
    options.paper = station_paper(desk);
  if ((status = find(desk, "system", o->system, &options.system)) != LZC_DONE ||
      (status = find(desk, "lot", o->lot, &options.lot)) != LZC_DONE ||
      (status = find(desk, "protocol", o->protocol, &protocol)) != LZC_DONE ||
      (status = find_shipment(desk, o->shipment, &options.shipment)) != LZC_DONE)
    return status;
  options.protocol = protocol == LZQ_NONE ? 0 : lz_desk_id(desk, "protocol", protocol);
  if (!parse_time(desk, o->from, &options.from, &error) ||
      !parse_time(desk, o->until, &options.until, &error) ||
      !parse_amount("--volume", o->volume, &options.volume_l, &error) ||
      !parse_amount("--strength", o->strength, &options.strength_mg_ml, &error))
    return lzc_fail(error);
  lz_format_set_decimal(lz_format_login_decimal()); // a sheet is for people, unlike a table
  g_autoptr(LzrPages) pages = lzr_make(desk, sheet, &options, &error);
  if (!pages || !lzr_pages_pdf(pages, o->pdf, &error))
    return lzc_fail(error);
  guint n = lzr_pages_count(pages);
  printf(ngettext("%s: %u page\n", "%s: %u pages\n", n), o->pdf, n);
  return LZC_DONE;
}

int
lzc_print(const char *path, int argc, char **argv)
{
  g_auto(PrintOptions) o = {0};
  int status = LZC_DONE;
  GOptionEntry entries[] = {
      {"list", 0, 0, G_OPTION_ARG_NONE, &o.list, N_("name every sheet"), NULL},
      {"pdf", 0, 0, G_OPTION_ARG_FILENAME, &o.pdf, N_("PDF to write"), N_("OUT")},
      {"paper", 0, 0, G_OPTION_ARG_STRING, &o.paper, N_("a4 or letter (default: the station's)"),
       N_("PAPER")},
      {"at", 0, 0, G_OPTION_ARG_STRING, &o.at, N_("as of this local time (default: now)"),
       N_("TIME")},
      {"system", 0, 0, G_OPTION_ARG_STRING, &o.system, N_("about this system"), N_("SYSTEM")},
      {"lot", 0, 0, G_OPTION_ARG_STRING, &o.lot, N_("about this lot"), N_("LOT")},
      {"shipment", 0, 0, G_OPTION_ARG_STRING, &o.shipment, N_("about this shipment"),
       N_("SHIPMENT")},
      {"also", 0, 0, G_OPTION_ARG_STRING, &o.also,
       N_("a second language to stand beside the first"), N_("LANGUAGE")},
      {"number", 0, 0, G_OPTION_ARG_INT, &o.number, N_("number of the printed sheet"), N_("N")},
      {"volume", 0, 0, G_OPTION_ARG_STRING, &o.volume, N_("net litres of the customer's tank"),
       N_("LITRES")},
      {"strength", 0, 0, G_OPTION_ARG_STRING, &o.strength,
       N_("mg of copper in 1 mL of the customer's medicine"), N_("MG")},
      {"protocol", 0, 0, G_OPTION_ARG_STRING, &o.protocol,
       N_("protocol of the station that the customer carries on"), N_("PROTOCOL")},
      {"from", 0, 0, G_OPTION_ARG_STRING, &o.from, N_("from this local time"), N_("TIME")},
      {"until", 0, 0, G_OPTION_ARG_STRING, &o.until, N_("until this local time"), N_("TIME")},
      {NULL}};
  if (!lzc_options("print", "SHEET", _("Prints a sheet to PDF."), entries, &argc, &argv, &status))
    return status;
  if (o.list)
    return list_sheets();
  if (argc != 2 || !o.pdf)
    return lzc_wrong(_("print wants a SHEET and --pdf OUT; print --list names the sheets."));
  if (o.paper && strcmp(o.paper, "a4") != 0 && strcmp(o.paper, "letter") != 0)
    return lzc_wrong(_("--paper is “%s”. Accepted: a4, letter."), o.paper);
  if (o.number < 0)
    return lzc_wrong(_("--number is %d. Accepted: 1 or more."), o.number);
  LzrOptions paper = {.paper = o.paper && strcmp(o.paper, "letter") == 0 ? LZR_LETTER : LZR_A4,
                      .number = (guint)o.number};
  return print_sheet(path, argv[1], &o, &paper);
}
