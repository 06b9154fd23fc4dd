// SPDX-License-Identifier: GPL-3.0-or-later
// The list of sheets, and the way from a sheet's name to pages on any cairo context.
#include "lzr_take_home.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include <lz_error.h>
#include <lz_format.h>
#include <lz_words.h>

struct _LzrPages {
  lzd_sheet *page;
  GPtrArray *kept;
  char *title, *author, *created;
  size_t n;
};

static const struct {
  LzrSheet sheet;
  LzrLayout layout;
  enum {
    PAGES_AS_MANY,     // as it takes
    PAGES_ONE,         // made denser until it fits
    PAGES_ONE_IF_FITS, // made denser only if that brings it onto one
  } pages;
  gboolean card; // A6, whatever paper is asked for
} sheets[] = {
    {{"handover", N_("Shift handover"), "", TRUE}, lzr_handover, PAGES_ONE, FALSE},
    {{"lot-record", N_("Treatment record"), "lot", FALSE}, lzr_lot_record, PAGES_AS_MANY, FALSE},
    {{"tank-card", N_("Tank cards"), "system", FALSE}, lzr_tank_card, PAGES_AS_MANY, TRUE},
    {{"round-sheet", N_("Round sheet"), "", FALSE}, lzr_round, PAGES_ONE_IF_FITS, FALSE},
    {{"month-sheet", N_("System month sheet"), "system", TRUE}, lzr_month, PAGES_ONE, FALSE},
    {{"register", N_("Register for inspection"), "", TRUE}, lzr_register, PAGES_AS_MANY, FALSE},
    {{"medicines", N_("Medicines"), "", FALSE}, lzr_medicines, PAGES_ONE_IF_FITS, FALSE},
    {{"claim", N_("Losses on arrival"), "shipment", FALSE}, lzr_claim, PAGES_ONE_IF_FITS, FALSE},
    {{"take-home", N_("Plan for your tank"), "volume", FALSE},
     lzr_take_home,
     PAGES_ONE_IF_FITS,
     FALSE},
};

const LzrSheet *
lzr_sheets(guint *n)
{
  static LzrSheet list[G_N_ELEMENTS(sheets)];
  for (guint i = 0; i < G_N_ELEMENTS(sheets); i++) {
    list[i] = sheets[i].sheet;
    list[i].title = _(sheets[i].sheet.title);
  }
  *n = G_N_ELEMENTS(sheets);
  return list;
}

// Litres always; a strength where copper is dosed; a protocol that may be carried on at home.
static gboolean
check_home(LzDesk *desk, const LzrSheet *sheet, const LzrOptions *o, GError **error)
{
  uint32_t protocol = lzr_home_protocol(desk, o);
  gboolean copper = protocol == LZQ_NONE || lzr_home_copper(desk, protocol);
  if (protocol != LZQ_NONE && !lzr_home_check(desk, protocol, error))
    return FALSE;
  if (o->volume_l > 0 && (o->strength_mg_ml > 0 || !copper))
    return TRUE;
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
              copper
                  ? _("The sheet “%s” needs a volume in litres and a strength in mg of copper per "
                      "mL, both above zero.")
                  : _("The sheet “%s” needs a volume in litres, above zero."),
              sheet->name);
  return FALSE;
}

static gboolean
check_about(LzDesk *desk, const LzrSheet *sheet, const LzrOptions *o, GError **error)
{
  gboolean missing = (strcmp(sheet->about, "system") == 0 && o->system == LZQ_NONE) ||
                     (strcmp(sheet->about, "lot") == 0 && o->lot == LZQ_NONE) ||
                     (strcmp(sheet->about, "shipment") == 0 && !o->shipment);
  if (missing) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, _("The sheet “%1$s” needs a %2$s."),
                sheet->name, sheet->about);
    return FALSE;
  }
  if (strcmp(sheet->about, "volume") == 0 && !check_home(desk, sheet, o, error))
    return FALSE;
  g_auto(GStrv) languages = lz_words_languages();
  if (o->also && !g_strv_contains((const char *const *)languages, o->also)) {
    g_autofree char *accepted = g_strjoinv(", ", languages);
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
                _("The second language is “%1$s”. Accepted: %2$s."), o->also, accepted);
    return FALSE;
  }
  if (o->from && o->until && o->from >= o->until) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
                _("The sheet “%s” ends before it begins: until must be later than from."),
                sheet->name);
    return FALSE;
  }
  return TRUE;
}

static gboolean
set_failed(GError **error, const lzd_fault *fault)
{
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_IO, _("The sheet could not be made: %s %s: %s."),
              fault->where, fault->field, fault->reason);
  return FALSE;
}

// Text a little smaller where a page is full; lines and marks as on any sheet.
static lzd_look
look_of(int density)
{
  static const double text[LZR_DENSEST + 1] = {1, 1, 1, 1, 0.92, 0.82, 0.74};
  return (lzd_look){.palette = lzd_palette_get(LZD_PRINT),
                    .unit_scale = 0.75,
                    .text_scale = text[density],
                    .decimal = lz_format_decimal()};
}

// The words of one sheet in one language.
static gboolean
lay_words(LzrBuild *build, guint sheet, lzd_sheet **page, lzd_fault *fault)
{
  lzd_paper paper = sheets[sheet].card                    ? LZD_A6
                    : build->options->paper == LZR_LETTER ? LZD_LETTER
                                                          : LZD_A4;
  lzd_look look = look_of(build->density);
  if (lzd_sheet_new(page, paper, &look, fault) != LZD_OK)
    return FALSE;
  build->page = *page;
  sheets[sheet].layout(build);
  g_clear_pointer(&build->stays, g_ptr_array_unref);
  return TRUE;
}

static gboolean
lay_out(LzrBuild *build, LzDesk *also, guint sheet, LzrPages *pages, lzd_fault *fault)
{
  lzd_sheet *other = NULL;
  lzd_sheet_free(pages->page);
  pages->page = NULL;
  if (!lay_words(build, sheet, &pages->page, fault))
    return FALSE;
  if (also) {
    LzrBuild second = *build;
    second.desk = also;
    g_autofree char *before = lz_words_switch(build->options->also);
    gboolean good = lay_words(&second, sheet, &other, fault);
    g_free(lz_words_switch(before));
    good = good && lzd_sheet_beside(pages->page, other, fault) == LZD_OK;
    lzd_sheet_free(other);
    if (!good)
      return FALSE;
  }
  return lzd_sheet_pages(pages->page, &pages->n, fault) == LZD_OK;
}

// The same station at the same minute, its rows told in the second language.
static LzDesk *
open_also(LzDesk *desk, const char *language, GError **error)
{
  g_autoptr(LzClock) clock = lz_clock_new_fixed(lz_desk_now(desk));
  LzDeskOptions options = {.read_only = TRUE, .clock = clock};
  g_autofree char *before = lz_words_switch(language);
  LzDesk *also = lz_desk_open(lz_desk_path(desk), &options, error);
  g_free(lz_words_switch(before));
  return also;
}

static gboolean
fits(LzrBuild *build, const LzrPages *pages)
{
  return pages->n <= build->fit_pages;
}

// What was left out to bring it onto its page comes back as far as there is room: a step of density
// may gain more than was missing.
static gboolean
fill_up(LzrBuild *build, LzrCut *cut, LzDesk *also, guint sheet, LzrPages *pages, lzd_fault *fault)
{
  guint told = cut->shown, too_many = cut->wanted;
  if (too_many <= told || !fits(build, pages))
    return TRUE;
  cut->most = too_many;
  gboolean good = lay_out(build, also, sheet, pages, fault);
  if (!good || fits(build, pages))
    return good;
  while (good && too_many - told > 1) {
    cut->most = (told + too_many) / 2;
    good = lay_out(build, also, sheet, pages, fault);
    *(fits(build, pages) ? &told : &too_many) = cut->most;
  }
  if (!good || cut->most == told)
    return good;
  cut->most = told;
  return lay_out(build, also, sheet, pages, fault);
}

// Until it has the pages that it should; the smallest letters only beside another language and on a
// card. What cannot be one page and need not be is set as it was at first.
static gboolean
make_denser(LzrBuild *build, LzDesk *also, guint sheet, LzrPages *pages, lzd_fault *fault)
{
  const int densest = also || sheets[sheet].card ? LZR_DENSEST : LZR_DENSEST - 1;
  gboolean must = sheets[sheet].pages != PAGES_ONE_IF_FITS, good = TRUE;
  while (good && build->fit_pages && pages->n > build->fit_pages &&
         build->density < (must ? densest : LZR_SMALLEST_TO_CARRY)) {
    build->density++;
    good = lay_out(build, also, sheet, pages, fault);
  }
  for (guint i = 0; good && must && i < LZR_CUTS; i++)
    good = fill_up(build, &build->cut[i], also, sheet, pages, fault);
  if (must)
    return good;
  if (!good || pages->n <= build->fit_pages)
    return good;
  build->density = 0;
  return lay_out(build, also, sheet, pages, fault);
}

static LzrPages *
build_pages(LzDesk *desk, guint sheet, const LzrOptions *options, GError **error)
{
  lzd_fault fault = {0};
  g_autoptr(LzDesk) also = NULL;
  if (options->also && !(also = open_also(desk, options->also, error)))
    return NULL;
  LzrPages *pages = g_new0(LzrPages, 1);
  pages->kept = g_ptr_array_new_with_free_func(g_free);
  pages->title =
      g_strdup_printf("%s, %s", _(sheets[sheet].sheet.title), lz_desk_station_name(desk));
  pages->author = g_strdup(lz_desk_station_name(desk));
  g_autofree char *iso = lz_format_iso(lz_desk_now(desk));
  pages->created = g_strdup_printf("%.16s:00Z", iso); // PDF wants seconds
  LzrBuild build = {.desk = desk,
                    .options = options,
                    .kept = pages->kept,
                    .fit_pages = sheets[sheet].pages == PAGES_AS_MANY ? 0 : 1};
  gboolean good = lay_out(&build, also, sheet, pages, &fault);
  good = good && make_denser(&build, also, sheet, pages, &fault);
  if (!good)
    set_failed(error, &fault);
  else if (lz_desk_readable(desk, error) && (!also || lz_desk_readable(also, error)))
    return pages;
  lzr_pages_free(pages);
  return NULL;
}

LzrPages *
lzr_make(LzDesk *desk, const char *name, const LzrOptions *options, GError **error)
{
  g_autoptr(GString) names = g_string_new(NULL);
  for (guint i = 0; i < G_N_ELEMENTS(sheets); i++) {
    if (strcmp(sheets[i].sheet.name, name) == 0)
      return check_about(desk, &sheets[i].sheet, options, error)
                 ? build_pages(desk, i, options, error)
                 : NULL;
    g_string_append_printf(names, "%s%s", i ? ", " : "", sheets[i].sheet.name);
  }
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, _("There is no sheet “%s”. Accepted: %s."),
              name, names->str);
  return NULL;
}

void
lzr_pages_free(LzrPages *pages)
{
  if (!pages)
    return;
  lzd_sheet_free(pages->page);
  g_ptr_array_unref(pages->kept);
  g_free(pages->title);
  g_free(pages->author);
  g_free(pages->created);
  g_free(pages);
}

guint
lzr_pages_count(const LzrPages *pages)
{
  return (guint)pages->n;
}

void
lzr_pages_size(const LzrPages *pages, double *width_pt, double *height_pt)
{
  lzd_paper_size(lzd_sheet_paper(pages->page), width_pt, height_pt);
}

void
lzr_pages_draw(const LzrPages *pages, guint n, cairo_t *cr)
{
  lzd_sheet_draw(pages->page, cr, n, NULL);
}

gboolean
lzr_pages_pdf(const LzrPages *pages, const char *path, GError **error)
{
  lzd_fault fault = {0};
  lzd_meta meta = {.title = pages->title, .author = pages->author, .created = pages->created};
  if (lzd_sheet_write_pdf(pages->page, path, &meta, &fault) != LZD_OK) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_IO, _("%s could not be written: %s."), path,
                fault.reason);
    return FALSE;
  }
  return TRUE;
}
