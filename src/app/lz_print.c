// SPDX-License-Identifier: GPL-3.0-or-later
// The pages are laid out once, by the report; printer, preview and PDF draw the same ones.
#include "lz_print.h"

#include <glib/gi18n.h>
#include <lzr_report.h>

#include "lz_settings.h"

typedef enum { PAPER_STATION, PAPER_A4, PAPER_LETTER } Paper;

static LzrPaper
paper_of(LzDesk *desk)
{
  switch ((Paper)g_settings_get_enum(lz_settings(), "paper")) {
  case PAPER_A4: return LZR_A4;
  case PAPER_LETTER: return LZR_LETTER;
  case PAPER_STATION: break;
  }
  g_autoptr(GArray) ids = lz_desk_entities(desk, "station");
  LzEntry *station =
      ids && ids->len ? lz_desk_entity(desk, "station", g_array_index(ids, int64_t, 0)) : NULL;
  const char *paper = station ? lz_entry_text(station, "paper") : NULL;
  return g_strcmp0(paper, "letter") == 0 ? LZR_LETTER : LZR_A4;
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

static void
print(LzWindow *window, LzrPages *pages, LzrPaper paper)
{
  g_autoptr(GtkPrintOperation) operation = gtk_print_operation_new();
  g_autoptr(GtkPageSetup) setup = gtk_page_setup_new();
  g_autoptr(GError) error = NULL;
  GtkPaperSize *size =
      gtk_paper_size_new(paper == LZR_LETTER ? GTK_PAPER_NAME_LETTER : GTK_PAPER_NAME_A4);
  gtk_page_setup_set_paper_size_and_default_margins(setup, size);
  gtk_paper_size_free(size);
  gtk_print_operation_set_default_page_setup(operation, setup);
  gtk_print_operation_set_n_pages(operation, (int)lzr_pages_count(pages));
  gtk_print_operation_set_use_full_page(operation, TRUE);
  gtk_print_operation_set_unit(operation, GTK_UNIT_POINTS);
  gtk_print_operation_set_embed_page_setup(operation, TRUE);
  g_signal_connect(operation, "draw-page", G_CALLBACK(on_draw_page), pages);
  if (gtk_print_operation_run(operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG,
                              GTK_WINDOW(window), &error) == GTK_PRINT_OPERATION_RESULT_ERROR)
    lz_window_notice(window, error->message);
}

void
lz_print_run(LzWindow *window, const char *path)
{
  LzDesk *desk = lz_window_desk(window);
  g_autoptr(GError) error = NULL;
  LzrOptions options = {.paper = paper_of(desk), .system = LZQ_NONE, .lot = LZQ_NONE};
  g_autoptr(LzrPages) pages = lzr_make(desk, "handover", &options, &error);
  if (!pages) {
    lz_window_notice(window, error->message);
  } else if (!path) {
    print(window, pages, options.paper);
  } else if (lzr_pages_pdf(pages, path, &error)) {
    g_autofree char *done = g_strdup_printf(_("Saved: %s"), path);
    lz_window_notice(window, done);
  } else {
    lz_window_notice(window, error->message);
  }
}
