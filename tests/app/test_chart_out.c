// SPDX-License-Identifier: GPL-3.0-or-later
// A chart that leaves the window, by its menu and the dialog that asks for a file: what was written
// or copied is read back.
#include <cairo.h>
#include <glib/gstdio.h>
#include <string.h>

#include "lz_app_dialog.h"
#include "lz_chart_menu.h"
#include "lz_place.h"
#include "lz_text_table.h"
#include "lz_water_view.h"

// A water with two readings of copper, on its page.
static GtkWidget *
water(void)
{
  LzAppStation *station = lz_app_window_station();
  lz_clock_set(station->clock, LZ_APP_NOW + 5);
  lz_app_submit(station, "reading", "system", "Blue-2", "analyte", "copper", "value", "0.17",
                "instrument", "P2", NULL);
  lz_clock_set(station->clock, LZ_APP_NOW + 60);
  lz_app_submit(station, "reading", "system", "Blue-2", "analyte", "copper", "value", "0.21",
                "instrument", "P2", NULL);
  lz_app_window_go("water");
  LzPlace *place = lz_window_place(lz_app_window());
  lz_place_show(place, "Blue-2");
  lz_app_window_settle();
  return GTK_WIDGET(place);
}

static LzTextTable *
table_of(GtkWidget *place)
{
  return LZ_TEXT_TABLE(gtk_widget_get_template_child(place, LZ_TYPE_WATER_VIEW, "table"));
}

static void
ask_chart(const char *ending)
{
  GtkWidget *menu = lz_app_below(water(), LZ_TYPE_CHART_MENU);
  gtk_widget_activate_action(menu, "chart.save", "s", ending);
}

// Pixels of a picture that are neither white nor grey: bands, curves and marks are coloured.
static guint
coloured(cairo_surface_t *picture)
{
  const int width = cairo_image_surface_get_width(picture);
  const int height = cairo_image_surface_get_height(picture);
  guint n = 0;
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++) {
      const uint32_t pixel = lz_app_pixel(picture, x, y);
      const int r = (int)(pixel >> 16), g = (int)(pixel >> 8 & 0xFF), b = (int)(pixel & 0xFF);
      n += MAX(r, MAX(g, b)) - MIN(r, MIN(g, b)) > 40;
    }
  return n;
}

START_TEST(a_chart_as_png)
{
  g_autofree char *path = lz_app_path("copper.png");
  ask_chart("png");
  lz_app_save_as("Blue-2.png", path);
  lz_app_said_saved(path);
  cairo_surface_t *picture = cairo_image_surface_create_from_png(path);
  ck_assert_int_eq(cairo_surface_status(picture), CAIRO_STATUS_SUCCESS);
  ck_assert_int_ge(cairo_image_surface_get_width(picture), 1700);
  ck_assert_int_ge(cairo_image_surface_get_height(picture), 860);
  ck_assert_uint_ge(lz_app_pixel(picture, 1, 1) & 0xFF, 0xF0); // light, whatever the theme
  ck_assert_uint_gt(coloured(picture), 200);
  cairo_surface_destroy(picture);
}
END_TEST

typedef struct {
  guint elements, drawn;
  gboolean svg;
} Svg;

static void
on_element(GMarkupParseContext *context, const char *name, const char **keys, const char **values,
           gpointer data, GError **error)
{
  Svg *svg = data;
  svg->svg = svg->svg || (svg->elements == 0 && g_str_equal(name, "svg"));
  svg->elements++;
  svg->drawn += g_str_equal(name, "path") || g_str_equal(name, "rect");
}

// Well-formed to its end, and something is drawn in it.
START_TEST(a_chart_as_svg)
{
  static const GMarkupParser parser = {.start_element = on_element};
  g_autofree char *path = lz_app_path("copper.svg"), *text = NULL;
  g_autoptr(GError) error = NULL;
  gsize n;
  Svg svg = {0};
  ask_chart("svg");
  lz_app_save_as("Blue-2.svg", path);
  lz_app_said_saved(path);
  ck_assert(g_file_get_contents(path, &text, &n, NULL));
  g_autoptr(GMarkupParseContext) context = g_markup_parse_context_new(&parser, 0, &svg, NULL);
  ck_assert_msg(g_markup_parse_context_parse(context, text, (gssize)n, &error) &&
                    g_markup_parse_context_end_parse(context, &error),
                "%s", error ? error->message : "");
  ck_assert(svg.svg);
  ck_assert_uint_gt(svg.drawn, 50);
}
END_TEST

START_TEST(a_chart_as_pdf)
{
  g_autofree char *path = lz_app_path("copper.pdf"), *bytes = NULL;
  ask_chart("pdf");
  lz_app_save_as("Blue-2.pdf", path);
  lz_app_said_saved(path);
  ck_assert(g_file_get_contents(path, &bytes, NULL, NULL));
  ck_assert(g_str_has_prefix(bytes, "%PDF-"));
  lz_app_pdf_says(
      path, (const char *const[]){"Quay Street, Blue-2", "Copper, amine-complexed, mg/L",
                                  "0.450 works from here up", "Salinity", "photometer", NULL});
}
END_TEST

// Called off, nothing is written or said; a place that cannot be written to says why.
START_TEST(called_off_or_in_vain)
{
  g_autofree char *path = lz_app_path("copper.png");
  ask_chart("png");
  lz_app_call_off();
  ck_assert(!g_file_test(path, G_FILE_TEST_EXISTS));
  ck_assert_str_eq(lz_app_notice(), "");
  g_autofree char *folder = lz_app_path("no-picture.png");
  ck_assert_int_eq(g_mkdir(folder, 0700), 0);
  GError *error = NULL;
  LzChart *chart = lz_app_below(GTK_WIDGET(lz_window_place(lz_app_window())), LZ_TYPE_CHART);
  ck_assert(!lz_chart_save(chart, folder, LZD_PNG, &error));
  ck_assert_ptr_nonnull(strstr(error->message, "no-picture.png"));
  g_clear_error(&error);
  g_rmdir(folder);
}
END_TEST

static char *pasted;
static GdkTexture *picture;

static void
on_text(GObject *clipboard, GAsyncResult *result, gpointer data)
{
  pasted = gdk_clipboard_read_text_finish(GDK_CLIPBOARD(clipboard), result, NULL);
}

static void
on_texture(GObject *clipboard, GAsyncResult *result, gpointer data)
{
  picture = gdk_clipboard_read_texture_finish(GDK_CLIPBOARD(clipboard), result, NULL);
}

// Pasted where text is wanted it is the table, row for row; elsewhere the picture.
START_TEST(a_chart_copied)
{
  GtkWidget *place = water();
  GdkClipboard *clipboard = gtk_widget_get_clipboard(place);
  gtk_widget_activate_action(lz_app_below(place, LZ_TYPE_CHART_MENU), "chart.copy", NULL);
  ck_assert_ptr_nonnull(strstr(lz_app_notice(), "Copied"));
  g_clear_pointer(&pasted, g_free);
  gdk_clipboard_read_text_async(clipboard, NULL, on_text, NULL);
  lz_wait_until(pasted);
  GListModel *rows = lz_text_table_rows(table_of(place));
  g_auto(GStrv) lines = g_strsplit(pasted, "\n", -1);
  ck_assert_uint_eq(g_strv_length(lines), g_list_model_get_n_items(rows) + 2); // heads, last end
  ck_assert_ptr_nonnull(strstr(pasted, "\t0.21"));
  ck_assert_ptr_nonnull(strstr(pasted, "\t0.17"));
  ck_assert_ptr_nonnull(strstr(pasted, " ppt"));              // of the band of salinity
  ck_assert(!strstr(pasted, "  ") && !strstr(pasted, " \t")); // no unit left out
  gdk_clipboard_read_texture_async(clipboard, NULL, on_texture, NULL);
  lz_wait_until(picture);
  ck_assert_int_ge(gdk_texture_get_width(picture), 1700);
  cairo_surface_t *pixels = cairo_image_surface_create(
      CAIRO_FORMAT_ARGB32, gdk_texture_get_width(picture), gdk_texture_get_height(picture));
  gdk_texture_download(picture, cairo_image_surface_get_data(pixels),
                       (gsize)cairo_image_surface_get_stride(pixels));
  cairo_surface_mark_dirty(pixels);
  ck_assert_uint_gt(coloured(pixels), 200);
  cairo_surface_destroy(pixels);
  g_clear_object(&picture);
  g_clear_pointer(&pasted, g_free);
}
END_TEST

// F8: what the table says is what was read, newest first, and it follows an entry.
START_TEST(a_chart_as_a_table)
{
  GtkWidget *place = water();
  LzTextTable *table = table_of(place);
  ck_assert(!gtk_widget_get_mapped(GTK_WIDGET(table)));
  ck_assert(lz_place_as_table(LZ_PLACE(place)));
  ck_assert(gtk_widget_get_mapped(GTK_WIDGET(table)));
  lz_clock_set(lz_app_window_station()->clock, LZ_APP_NOW + 90);
  lz_app_submit(lz_app_window_station(), "reading", "system", "Blue-2", "analyte", "copper",
                "value", "0.22", "instrument", "P2", NULL);
  GListModel *rows = lz_text_table_rows(table);
  GString *values = g_string_new(NULL);
  for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzTextRow) row = g_list_model_get_item(rows, i);
    if (g_str_equal(lz_text_row_cell(row, 3), "P2"))
      g_string_append_printf(values, "%s|", lz_text_row_cell(row, 2));
  }
  g_autofree char *all = g_string_free(values, FALSE);
  ck_assert_ptr_nonnull(strstr(all, "0.22"));
  ck_assert(strstr(all, "0.22") < strstr(all, "0.21") && strstr(all, "0.21") < strstr(all, "0.17"));
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("chart out");
  TCase *files = tcase_create("files");
  if (!lz_app_dialog_init())
    return 77;
  tcase_set_timeout(files, 120);
  tcase_add_checked_fixture(files, lz_app_window_setup, lz_app_window_teardown);
  tcase_add_test(files, a_chart_as_png);
  tcase_add_test(files, a_chart_as_svg);
  tcase_add_test(files, a_chart_as_pdf);
  tcase_add_test(files, called_off_or_in_vain);
  tcase_add_test(files, a_chart_copied);
  tcase_add_test(files, a_chart_as_a_table);
  suite_add_tcase(suite, files);
  return lz_app_test_run(suite, true);
}
