// SPDX-License-Identifier: GPL-3.0-or-later
// A chart that leaves the window: as a file or on the clipboard, on white whatever the theme, with
// a title that says which water and which days. The cursor stays behind.
#include <gio/gio.h>
#include <glib/gi18n.h>
#include <lz_format.h>

#include "lz_chart_private.h"
#include "lz_look.h"
#include "lz_text_table.h"

#define WIDTH  850 // of the picture, at least
#define HEIGHT 430
#define HEAD   34 // above the chart, at text scale 1
#define PIXELS 2  // of a PNG per unit

typedef struct {
  const lzd_chart *chart;
  char *title;
} Picture;

static void
draw(cairo_t *cr, const lzd_look *look, double width, double height, const void *data)
{
  const Picture *picture = data;
  double head = HEAD * lzd_look_text(look);
  lzd_type type = {.size = LZD_SIZE_BODY, .bold = true, .role = LZD_TEXT, .width = width - 32};
  lzd_text_draw(cr, look, &type, look->mirrored ? width - 16 : 16, head * 0.7, picture->title);
  cairo_translate(cr, 0, head);
  lzd_chart_draw(cr, picture->chart, look, width, height - head, NULL);
}

static Picture
take(LzChart *self, lzd_theme theme, lzd_look *look, double *width, double *height)
{
  *look = lz_look_of(GTK_WIDGET(self));
  look->palette = lzd_palette_get(theme);
  *width = MAX(WIDTH, gtk_widget_get_width(GTK_WIDGET(self)));
  *height = MAX(HEIGHT, gtk_widget_get_height(GTK_WIDGET(self))) + HEAD * lzd_look_text(look);
  lzd_chart *chart = lz_chart_model_view(self->model, self->window, *width, lzd_look_text(look));
  chart->cursor.minute = LZD_NEVER;
  return (Picture){chart, lz_chart_model_title(self->model, self->window)};
}

gboolean
lz_chart_save(LzChart *self, const char *path, lzd_format format, GError **error)
{
  lzd_look look;
  double width, height;
  lzd_fault fault = {0};
  if (!self->model) {
    g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND, _("There is no chart to save."));
    return FALSE;
  }
  Picture picture = take(self, format == LZD_PNG ? LZD_LIGHT : LZD_PRINT, &look, &width, &height);
  g_autofree char *made = lz_format_iso(picture.chart->now);
  lzd_meta meta = {.title = picture.title, .created = made};
  lzd_status status =
      lzd_export(path, format, width, height, PIXELS, &look, draw, &picture, &meta, &fault);
  g_free(picture.title);
  if (status == LZD_OK)
    return TRUE;
  g_autofree char *shown = g_filename_display_name(path);
  g_set_error(error, G_IO_ERROR, G_IO_ERROR_FAILED, _("The chart was not saved as %s: %s."), shown,
              fault.reason ? fault.reason : "");
  return FALSE;
}

static GdkTexture *
texture_of(LzChart *self)
{
  lzd_look look;
  double width, height;
  Picture picture = take(self, LZD_LIGHT, &look, &width, &height);
  cairo_surface_t *surface =
      cairo_image_surface_create(CAIRO_FORMAT_ARGB32, (int)width * PIXELS, (int)height * PIXELS);
  cairo_t *cr = cairo_create(surface);
  cairo_set_source_rgb(cr, 1, 1, 1);
  cairo_paint(cr);
  cairo_scale(cr, PIXELS, PIXELS);
  draw(cr, &look, width, height, &picture);
  cairo_destroy(cr);
  cairo_surface_flush(surface);
  int stride = cairo_image_surface_get_stride(surface);
  int rows = cairo_image_surface_get_height(surface);
  g_autoptr(GBytes) bytes =
      g_bytes_new(cairo_image_surface_get_data(surface), (gsize)stride * (gsize)rows);
  GdkTexture *texture = gdk_memory_texture_new(cairo_image_surface_get_width(surface), rows,
                                               GDK_MEMORY_DEFAULT, bytes, (gsize)stride);
  cairo_surface_destroy(surface);
  g_free(picture.title);
  return texture;
}

static char *
table_text(const LzChartModel *model)
{
  g_autoptr(GListModel) rows = lz_chart_model_rows(model);
  GString *out = g_string_new(NULL);
  for (guint c = 0; lz_chart_model_titles[c]; c++)
    g_string_append_printf(out, "%s%s", c ? "\t" : "", _(lz_chart_model_titles[c]));
  g_string_append_c(out, '\n');
  for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzTextRow) row = g_list_model_get_item(rows, i);
    for (guint c = 0; lz_chart_model_titles[c]; c++)
      g_string_append_printf(out, "%s%s", c ? "\t" : "", lz_text_row_cell(row, c));
    g_string_append_c(out, '\n');
  }
  return g_string_free(out, FALSE);
}

GdkContentProvider *
lz_chart_copy(LzChart *self)
{
  if (!self->model)
    return NULL;
  g_autoptr(GdkTexture) texture = texture_of(self);
  g_autofree char *text = table_text(self->model);
  GdkContentProvider *both[] = {gdk_content_provider_new_typed(GDK_TYPE_TEXTURE, texture),
                                gdk_content_provider_new_typed(G_TYPE_STRING, text)};
  return gdk_content_provider_new_union(both, G_N_ELEMENTS(both));
}
