// SPDX-License-Identifier: GPL-3.0-or-later
// What goes out of the window and comes in through a dialog that asks for a file: it is answered as
// a person would answer it, and what was written is read back. Without a portal on the bus the
// dialog is GTK's own, a window of this process.
#include <cairo.h>
#include <glib/gstdio.h>
#include <string.h>

#include "file_dialog.h"
#include "lz_app_window.h"
#include "lz_chart_menu.h"
#include "lz_files.h"
#include "lz_ledger_bar.h"
#include "lz_place.h"
#include "lz_print_view.h"
#include "lz_text_table.h"
#include "lz_water_view.h"
#include "lz_window_private.h"

static gpointer
below(GtkWidget *root, GType type)
{
  gpointer found = g_type_is_a(G_OBJECT_TYPE(root), type) ? root : NULL;
  for (GtkWidget *child = gtk_widget_get_first_child(root); child && !found;
       child = gtk_widget_get_next_sibling(child))
    found = below(child, type);
  return found;
}

static char *
path_of(const char *name)
{
  return g_build_filename(lz_app_window_station()->folder, name, NULL);
}

static const char *
notice(void)
{
  return gtk_label_get_label(lz_app_window()->notice_text);
}

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
  GtkWidget *menu = below(water(), LZ_TYPE_CHART_MENU);
  gtk_widget_activate_action(menu, "chart.save", "s", ending);
}

static void
said_saved(const char *path)
{
  g_autofree char *words = g_strdup_printf("Saved: %s", path);
  ck_assert_str_eq(notice(), words);
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
  g_autofree char *path = path_of("copper.png");
  ask_chart("png");
  file_dialog_save_as("Blue-2.png", path);
  said_saved(path);
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
  g_autofree char *path = path_of("copper.svg"), *text = NULL;
  g_autoptr(GError) error = NULL;
  gsize n;
  Svg svg = {0};
  ask_chart("svg");
  file_dialog_save_as("Blue-2.svg", path);
  said_saved(path);
  ck_assert(g_file_get_contents(path, &text, &n, NULL));
  g_autoptr(GMarkupParseContext) context = g_markup_parse_context_new(&parser, 0, &svg, NULL);
  ck_assert_msg(g_markup_parse_context_parse(context, text, (gssize)n, &error) &&
                    g_markup_parse_context_end_parse(context, &error),
                "%s", error ? error->message : "");
  ck_assert(svg.svg);
  ck_assert_uint_gt(svg.drawn, 50);
}
END_TEST

// Its words are those of the chart: which water, what was read, what is aimed at.
static void
pdf_says(const char *path, const char *const *words)
{
  g_autofree char *text = NULL;
  g_autofree char *tool = g_find_program_in_path("pdftotext");
  const char *const command[] = {"pdftotext", "-layout", path, "-", NULL};
  if (!tool)
    return; // poppler-utils are not on this machine: nothing can be read back
  ck_assert(g_spawn_sync(NULL, (char **)command, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &text, NULL,
                         NULL, NULL));
  for (; *words; words++)
    ck_assert_msg(strstr(text, *words) != NULL, "no %s in %s", *words, text);
}

START_TEST(a_chart_as_pdf)
{
  g_autofree char *path = path_of("copper.pdf"), *bytes = NULL;
  ask_chart("pdf");
  file_dialog_save_as("Blue-2.pdf", path);
  said_saved(path);
  ck_assert(g_file_get_contents(path, &bytes, NULL, NULL));
  ck_assert(g_str_has_prefix(bytes, "%PDF-"));
  pdf_says(path, (const char *const[]){"Quay Street, Blue-2", "Copper, amine-complexed, mg/L",
                                       "0.450 works from here up", "Salinity", "photometer", NULL});
}
END_TEST

// Called off, nothing is written or said; a place that cannot be written to says why.
START_TEST(called_off_or_in_vain)
{
  g_autofree char *path = path_of("copper.png");
  ask_chart("png");
  file_dialog_call_off();
  ck_assert(!g_file_test(path, G_FILE_TEST_EXISTS));
  ck_assert_str_eq(notice(), "");
  g_autofree char *folder = path_of("no-picture.png");
  ck_assert_int_eq(g_mkdir(folder, 0700), 0);
  GError *error = NULL;
  LzChart *chart = below(GTK_WIDGET(lz_window_place(lz_app_window())), LZ_TYPE_CHART);
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
  gtk_widget_activate_action(below(place, LZ_TYPE_CHART_MENU), "chart.copy", NULL);
  ck_assert_ptr_nonnull(strstr(notice(), "Copied"));
  g_clear_pointer(&pasted, g_free);
  gdk_clipboard_read_text_async(clipboard, NULL, on_text, NULL);
  lz_wait_until(pasted);
  GListModel *rows = lz_text_table_rows(table_of(place));
  g_auto(GStrv) lines = g_strsplit(pasted, "\n", -1);
  ck_assert_uint_eq(g_strv_length(lines), g_list_model_get_n_items(rows) + 2); // heads, last end
  ck_assert_ptr_nonnull(strstr(pasted, "\t0.21"));
  ck_assert_ptr_nonnull(strstr(pasted, "\t0.17"));
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

START_TEST(a_sheet_as_pdf)
{
  g_autofree char *path = path_of("card.pdf");
  LzWindow *window = lz_app_window();
  gtk_widget_activate_action(GTK_WIDGET(window), "win.show", "(ss)", "lots", "0412");
  gtk_widget_activate_action(GTK_WIDGET(window), "win.save-pdf", NULL);
  lz_wait_until(file_dialog());
  g_autofree char *offered = gtk_file_chooser_get_current_name(GTK_FILE_CHOOSER(file_dialog()));
  ck_assert_ptr_nonnull(strstr(offered, "0412"));
  ck_assert(g_str_has_suffix(offered, ".pdf"));
  file_dialog_save_as(offered, path);
  said_saved(path);
  pdf_says(path, (const char *const[]){"0412", "Quay Street", NULL});
}
END_TEST

// The table and the key to it; of the lot one row that names it.
START_TEST(the_ledger_as_a_table)
{
  g_autofree char *path = path_of("all.csv"), *text = NULL;
  LzWindow *window = lz_app_window();
  gtk_widget_activate_action(GTK_WIDGET(window), "win.ledger", NULL);
  GtkWidget *bar = below(GTK_WIDGET(lz_window_place(window)), LZ_TYPE_LEDGER_BAR);
  gtk_widget_activate_action(bar, "ledger.export", NULL);
  file_dialog_save_as("ledger.csv", path);
  lz_wait_until(g_str_has_prefix(notice(), "Saved: "));
  ck_assert(g_file_get_contents(path, &text, NULL, NULL));
  ck_assert_ptr_nonnull(strstr(text, "0412"));
  ck_assert_ptr_nonnull(strstr(text, "P2"));
  ck_assert_ptr_nonnull(strstr(notice(), path));
}
END_TEST

START_TEST(a_back_up)
{
  g_autofree char *path = path_of("safe.lazaret");
  LzDeskOptions options = {.read_only = TRUE};
  LzVerify found;
  gtk_widget_activate_action(GTK_WIDGET(lz_app_window()), "win.back-up", NULL);
  file_dialog_save_as("back-up-2027-03-09.lazaret", path);
  lz_wait_until(g_str_equal(notice(), "The back-up is saved and checked."));
  g_autoptr(LzDesk) copy = lz_desk_open(path, &options, NULL);
  ck_assert_ptr_nonnull(copy);
  ck_assert(lz_desk_verify(copy, &found, NULL));
  lz_desk_close(copy);
}
END_TEST

// Another station in a window of its own; the same one again is the same window.
START_TEST(another_station_is_opened)
{
  LzWindow *window = lz_app_window();
  GtkApplication *application = gtk_window_get_application(GTK_WINDOW(window));
  g_autofree char *path = path_of("other.lazaret");
  ck_assert_msg(lz_desk_backup(lz_app_window_station()->desk, path, NULL), "no copy");
  const guint before = g_list_length(gtk_application_get_windows(application));
  for (int i = 0; i < 2; i++) {
    lz_files_ask_open(application, GTK_WINDOW(window));
    file_dialog_choose(path);
    lz_wait_until(g_list_length(gtk_application_get_windows(application)) == before + 1);
  }
  GtkWindow *other = NULL;
  for (GList *w = gtk_application_get_windows(application); w; w = w->next)
    if (LZ_IS_WINDOW(w->data) && w->data != window)
      other = w->data;
  lz_wait_until(lz_window_desk(LZ_WINDOW(other)));
  ck_assert_str_eq(lz_desk_path(lz_window_desk(LZ_WINDOW(other))), path);
  gtk_window_destroy(other);
}
END_TEST

START_TEST(a_picture_is_chosen)
{
  LzWindow *window = lz_app_window();
  g_autofree char *path = path_of("spot.png");
  cairo_surface_t *spot = cairo_image_surface_create(CAIRO_FORMAT_RGB24, 8, 8);
  ck_assert_int_eq(cairo_surface_write_to_png(spot, path), CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy(spot);
  lz_window_open_see(window);
  GtkWidget *form = GTK_WIDGET(window->form);
  g_autofree char *none = lz_form_text(window->form, "photo");
  ck_assert(!none || !*none);
  ck_assert(gtk_widget_get_visible(form));
  g_autoptr(GPtrArray) all = g_ptr_array_new();
  g_ptr_array_add(all, form);
  for (guint i = 0; i < all->len; i++) {
    GtkWidget *at = g_ptr_array_index(all, i);
    const char *label = GTK_IS_BUTTON(at) ? gtk_button_get_label(GTK_BUTTON(at)) : NULL;
    if (label && strstr(label, "_picture"))
      g_signal_emit_by_name(at, "clicked");
    for (GtkWidget *c = gtk_widget_get_first_child(at); c; c = gtk_widget_get_next_sibling(c))
      g_ptr_array_add(all, c);
  }
  file_dialog_choose(path);
  g_autofree char *chosen = lz_form_text(window->form, "photo");
  ck_assert_str_eq(chosen, path);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("dialogs");
  TCase *out = tcase_create("files");
  // no portal and no service that tells: the dialogs are windows of this process
  g_setenv("DBUS_SESSION_BUS_ADDRESS", "disabled:", TRUE);
  g_autofree char *home = g_dir_make_tmp("lazaret-home-XXXXXX", NULL);
  g_setenv("XDG_DATA_HOME", home, TRUE); // GTK keeps a list of the files chosen
  g_set_application_name("Lazaret");
  g_set_prgname("lazaret");
  if (!lz_app_window_init())
    return 77;
  tcase_set_timeout(out, 120);
  tcase_add_checked_fixture(out, lz_app_window_setup, lz_app_window_teardown);
  tcase_add_test(out, a_chart_as_png);
  tcase_add_test(out, a_chart_as_svg);
  tcase_add_test(out, a_chart_as_pdf);
  tcase_add_test(out, called_off_or_in_vain);
  tcase_add_test(out, a_chart_copied);
  tcase_add_test(out, a_chart_as_a_table);
  tcase_add_test(out, a_sheet_as_pdf);
  tcase_add_test(out, the_ledger_as_a_table);
  tcase_add_test(out, a_back_up);
  tcase_add_test(out, another_station_is_opened);
  tcase_add_test(out, a_picture_is_chosen);
  suite_add_tcase(suite, out);
  return lz_app_test_run(suite, true);
}
