// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_print.h"

#include <glib/gi18n.h>
#include <lz_error.h>
#include <lz_format.h>
#include <lz_words.h>
#include <string.h>

#include "lz_lookup.h"
#include "lz_settings.h"

typedef enum { PAPER_STATION, PAPER_A4, PAPER_LETTER } Paper;

LzrPaper
lz_print_paper(LzDesk *desk)
{
  switch ((Paper)g_settings_get_enum(lz_settings(), "paper")) {
  case PAPER_A4: return LZR_A4;
  case PAPER_LETTER: return LZR_LETTER;
  case PAPER_STATION: break;
  }
  LzEntry *station = lz_lookup_station(desk);
  const char *paper = station ? lz_entry_text(station, "paper") : NULL;
  return g_strcmp0(paper, "letter") == 0 ? LZR_LETTER : LZR_A4;
}

guint
lz_print_next_number(LzDesk *desk)
{
  g_autoptr(GPtrArray) given = lz_desk_facts(desk, "handover", 0, lz_desk_now(desk) + 1);
  int64_t most = 0;
  for (guint i = 0; i < given->len; i++)
    most = MAX(most, lz_entry_int(given->pdata[i], "sheet"));
  return (guint)most + 1;
}

static const char *
language_name(const char *code)
{
  static const struct {
    const char *code, *name; // in the language itself
  } names[] = {{"de", "Deutsch"}, {"en", "English"}};
  for (guint i = 0; i < G_N_ELEMENTS(names); i++)
    if (strcmp(names[i].code, code) == 0)
      return names[i].name;
  return code;
}

GtkStringList *
lz_print_languages(char ***codes)
{
  g_auto(GStrv) have = lz_words_languages();
  g_autofree char *own = lz_words_language();
  g_autoptr(GStrvBuilder) builder = g_strv_builder_new();
  GtkStringList *names = gtk_string_list_new(NULL);
  gtk_string_list_append(names, _("none"));
  g_strv_builder_add(builder, "");
  for (guint i = 0; have[i]; i++)
    if (strcmp(have[i], own) != 0) {
      gtk_string_list_append(names, language_name(have[i]));
      g_strv_builder_add(builder, have[i]);
    }
  *codes = g_strv_builder_end(builder);
  return names;
}

GtkStringList *
lz_print_titles(void)
{
  guint n;
  const LzrSheet *sheets = lzr_sheets(&n);
  GtkStringList *titles = gtk_string_list_new(NULL);
  for (guint i = 0; i < n; i++)
    gtk_string_list_append(titles, sheets[i].title);
  return titles;
}

GtkStringList *
lz_print_papers(void)
{
  return gtk_string_list_new((const char *const[]){_("A4"), _("Letter"), NULL});
}

GtkStringList *
lz_print_protocols(LzDesk *desk)
{
  g_autoptr(GtkStringList) names = lz_print_names(desk, "protocol");
  const char *usual[] = {_("the usual course"), NULL};
  gtk_string_list_splice(names, 0, 0, usual);
  return g_steal_pointer(&names);
}

GtkStringList *
lz_print_names(LzDesk *desk, const char *kind)
{
  GtkStringList *list = gtk_string_list_new(NULL);
  g_autoptr(GArray) ids = lz_desk_entities(desk, kind);
  gboolean newest_first = strcmp(kind, "system") != 0;
  for (guint i = 0; i < ids->len; i++) {
    guint at = newest_first ? ids->len - 1 - i : i;
    gtk_string_list_append(list, lz_desk_name_of(desk, kind, g_array_index(ids, int64_t, at)));
  }
  return list;
}

const char *
lz_print_about_words(const char *kind)
{
  return strcmp(kind, "system") == 0 ? _("System")
         : strcmp(kind, "lot") == 0  ? _("Lot")
                                     : _("Shipment");
}

const char *
lz_print_selected(GtkDropDown *drop)
{
  GObject *item = gtk_drop_down_get_selected_item(drop);
  return item ? gtk_string_object_get_string(GTK_STRING_OBJECT(item)) : NULL;
}

gboolean
lz_print_select(GtkDropDown *drop, const char *text)
{
  GListModel *model = gtk_drop_down_get_model(drop);
  for (guint i = 0; text && model && i < g_list_model_get_n_items(model); i++)
    if (strcmp(gtk_string_list_get_string(GTK_STRING_LIST(model), i), text) == 0) {
      gtk_drop_down_set_selected(drop, i);
      return TRUE;
    }
  return FALSE;
}

const char *
lz_print_meant(const char *place)
{
  static const struct {
    const char *place, *sheet;
  } meant[] = {{"handover", "handover"}, {"round", "handover"}, {"lots", "lot-record"},
               {"water", "month-sheet"}, {"receive", "claim"},  {"station", "medicines"}};
  for (guint i = 0; i < G_N_ELEMENTS(meant); i++)
    if (g_strcmp0(meant[i].place, place) == 0)
      return meant[i].sheet;
  return NULL;
}

#define PRINTED "lz-printed-handover" // kept with the desk: it is of this file, in this window

void
lz_print_set_printed(LzDesk *desk, guint number)
{
  g_object_set_data(G_OBJECT(desk), PRINTED, GUINT_TO_POINTER(number));
}

guint
lz_print_printed(LzDesk *desk)
{
  guint number = GPOINTER_TO_UINT(g_object_get_data(G_OBJECT(desk), PRINTED));
  return number >= lz_print_next_number(desk) ? number : 0;
}

static gboolean
said(const char *text)
{
  return text && *text;
}

static gboolean
parse_day(LzDesk *desk, const char *field, const char *text, gboolean end, lzq_minute *out,
          GError **error)
{
  if (!said(text) ||
      lz_zone_parse_day(lz_desk_zone(desk), text, lz_desk_now(desk), end, out, error))
    return TRUE;
  g_prefix_error(error, "%s: ", field);
  return FALSE;
}

static gboolean
parse_amount(const char *field, const char *text, double *out, GError **error)
{
  if (!said(text))
    return TRUE;
  if (!lz_parse_number(text, out, NULL, error)) {
    g_prefix_error(error, "%s: ", field);
    return FALSE;
  }
  if (*out > 0 && *out <= 1e7)
    return TRUE;
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
              _("%1$s is “%2$s”. Accepted: a number above zero."), field, text);
  return FALSE;
}

static gboolean
parse_options(LzDesk *desk, const LzPrintChoice *choice, LzrOptions *options, GError **error)
{
  double number = 0;
  if (!parse_day(desk, _("First day"), choice->from, FALSE, &options->from, error) ||
      !parse_day(desk, _("Last day"), choice->until, TRUE, &options->until, error) ||
      !parse_amount(_("Litres"), choice->volume, &options->volume_l, error) ||
      !parse_amount(_("Copper in 1 mL"), choice->strength, &options->strength_mg_ml, error) ||
      !parse_amount(_("Sheet number"), choice->number, &number, error))
    return FALSE;
  options->number = (guint)number;
  return TRUE;
}

LzrPages *
lz_print_lay(LzDesk *desk, const LzPrintChoice *choice, GError **error)
{
  LzrOptions options = {.paper = choice->paper,
                        .system = LZQ_NONE,
                        .lot = LZQ_NONE,
                        .also = said(choice->also) ? choice->also : NULL};
  if (said(choice->about)) {
    options.system = lz_desk_index(desk, "system", lz_desk_find(desk, "system", choice->about));
    options.lot = lz_desk_index(desk, "lot", lz_desk_find(desk, "lot", choice->about));
    options.shipment = lz_desk_find(desk, "shipment", choice->about);
  }
  if (choice->protocol)
    options.protocol = lz_desk_find(desk, "protocol", choice->protocol);
  return parse_options(desk, choice, &options, error)
             ? lzr_make(desk, choice->sheet, &options, error)
             : NULL;
}

char *
lz_print_file_name(LzDesk *desk, const LzPrintChoice *choice)
{
  LzLocal now = lz_zone_local(lz_desk_zone(desk), lz_desk_now(desk));
  g_autofree char *about = g_strdup(said(choice->about) ? choice->about : "");
  g_strdelimit(about, "/\\", '-'); // a lot may be called so, a file may not
  return g_strdup_printf("%s-%s%s%04d-%02d-%02d.pdf", choice->sheet, about, *about ? "-" : "",
                         now.year, now.month, now.day);
}

static void
on_draw_page(GtkPrintOperation *operation, GtkPrintContext *context, int page, LzrPages *pages)
{
  cairo_t *cr = gtk_print_context_get_cairo_context(context);
  double width, height;
  lzr_pages_size(pages, &width, &height);
  // The printer's sheet may be another paper: fit, never enlarge.
  double scale = MIN(1, MIN(gtk_print_context_get_width(context) / width,
                            gtk_print_context_get_height(context) / height));
  cairo_scale(cr, scale, scale);
  lzr_pages_draw(pages, (guint)page, cr);
}

gboolean
lz_print_run(GtkWindow *window, LzrPages *pages, LzrPaper paper, GError **error)
{
  g_autoptr(GtkPrintOperation) operation = gtk_print_operation_new();
  g_autoptr(GtkPageSetup) setup = gtk_page_setup_new();
  double width, height;
  lzr_pages_size(pages, &width, &height);
  GtkPaperSize *size =
      width < 400
          ? gtk_paper_size_new("iso_a6") // cards, whatever paper the station has
          : gtk_paper_size_new(paper == LZR_LETTER ? GTK_PAPER_NAME_LETTER : GTK_PAPER_NAME_A4);
  gtk_page_setup_set_paper_size_and_default_margins(setup, size);
  gtk_paper_size_free(size);
  gtk_print_operation_set_default_page_setup(operation, setup);
  gtk_print_operation_set_n_pages(operation, (int)lzr_pages_count(pages));
  gtk_print_operation_set_use_full_page(operation, TRUE);
  gtk_print_operation_set_unit(operation, GTK_UNIT_POINTS);
  gtk_print_operation_set_embed_page_setup(operation, TRUE);
  g_signal_connect(operation, "draw-page", G_CALLBACK(on_draw_page), pages);
  return gtk_print_operation_run(operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, window,
                                 error) == GTK_PRINT_OPERATION_RESULT_APPLY;
}
