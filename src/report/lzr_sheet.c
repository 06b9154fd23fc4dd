// SPDX-License-Identifier: GPL-3.0-or-later
// The list of sheets, and the way from a sheet's name to pages on any cairo context.
#include "lzr_sheet.h"

#include <glib/gi18n-lib.h>
#include <stdarg.h>
#include <string.h>

#include <lz_error.h>
#include <lz_format.h>

struct _LzrPages {
  lzd_sheet *page;
  GPtrArray *kept;
  char *title, *author, *created;
  size_t n;
};

static const struct {
  LzrSheet sheet;
  LzrLayout layout;
} sheets[] = {
    {{"handover", N_("Shift handover"), "", TRUE}, lzr_handover},
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

const char *
lzr_keep(LzrBuild *build, char *text)
{
  g_ptr_array_add(build->kept, text);
  return text;
}

const char *
lzr_printf(LzrBuild *build, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  char *text = g_strdup_vprintf(format, args);
  va_end(args);
  return lzr_keep(build, text);
}

void
lzr_line(LzrBuild *build, lzd_mark mark, const char *bold, const char *plain)
{
  lzd_run runs[2];
  size_t n = 0;
  if (bold)
    runs[n++] = (lzd_run){
        .text = plain ? lzr_printf(build, "%s ", bold) : bold, .bold = true, .role = LZD_TEXT};
  if (plain)
    runs[n++] = (lzd_run){.text = plain, .role = LZD_TEXT};
  lzd_sheet_text(build->page, mark, runs, n);
}

lzd_mark
lzr_band_mark(LzMark mark)
{
  switch (mark) {
  case LZ_MARK_NONE: return LZD_MARK_NONE;
  case LZ_MARK_IN_BAND: return LZD_BAND_IN;
  case LZ_MARK_EDGE: return LZD_BAND_EDGE_LOW;
  case LZ_MARK_HIGH:
  case LZ_MARK_HARM: return LZD_BAND_HIGH;
  case LZ_MARK_LOW: return LZD_BAND_LOW;
  case LZ_MARK_OLD: return LZD_BAND_OLD;
  case LZ_MARK_UNREAD: return LZD_BAND_UNKNOWN;
  }
  return LZD_MARK_NONE;
}

unsigned
lzr_water(const LzSystemInfo *info)
{
  return (info->copper_in ? LZD_WATER_COPPER : 0) | (info->salt_low ? LZD_WATER_LOW_SALT : 0);
}

void
lzr_practice(LzrBuild *build)
{
  if (lz_desk_is_practice(build->desk))
    lzd_sheet_line(build->page, _("PRACTICE: not a record of real fish."), true);
}

static gboolean
check_about(const LzrSheet *sheet, const LzrOptions *options, GError **error)
{
  gboolean missing = (strcmp(sheet->about, "system") == 0 && options->system == LZQ_NONE) ||
                     (strcmp(sheet->about, "lot") == 0 && options->lot == LZQ_NONE);
  if (missing)
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, _("The sheet “%s” needs a %s."),
                sheet->name, sheet->about);
  return !missing;
}

static gboolean
set_failed(GError **error, const lzd_fault *fault)
{
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_IO, _("The sheet could not be made: %s %s: %s."),
              fault->where, fault->field, fault->reason);
  return FALSE;
}

static LzrPages *
build_pages(LzDesk *desk, const LzrSheet *sheet, LzrLayout layout, const LzrOptions *options,
            GError **error)
{
  lzd_fault fault = {0};
  LzrPages *pages = g_new0(LzrPages, 1);
  pages->kept = g_ptr_array_new_with_free_func(g_free);
  pages->title = g_strdup_printf("%s, %s", _(sheet->title), lz_desk_station_name(desk));
  pages->author = g_strdup(lz_desk_station_name(desk));
  g_autofree char *iso = lz_format_iso(lz_desk_now(desk));
  pages->created = g_strdup_printf("%.16s:00Z", iso); // PDF wants seconds
  LzrBuild build = {.desk = desk, .options = options, .kept = pages->kept};
  if (lzd_sheet_new(&pages->page, options->paper == LZR_LETTER ? LZD_LETTER : LZD_A4, NULL,
                    &fault) == LZD_OK) {
    build.page = pages->page;
    layout(&build);
    if (lzd_sheet_pages(pages->page, &pages->n, &fault) == LZD_OK)
      return pages;
  }
  set_failed(error, &fault);
  lzr_pages_free(pages);
  return NULL;
}

LzrPages *
lzr_make(LzDesk *desk, const char *name, const LzrOptions *options, GError **error)
{
  g_autoptr(GString) names = g_string_new(NULL);
  for (guint i = 0; i < G_N_ELEMENTS(sheets); i++) {
    if (strcmp(sheets[i].sheet.name, name) == 0)
      return check_about(&sheets[i].sheet, options, error)
                 ? build_pages(desk, &sheets[i].sheet, sheets[i].layout, options, error)
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
