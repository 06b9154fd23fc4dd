// SPDX-License-Identifier: GPL-3.0-or-later
// Photographs of a lot's sightings and scrapes on its record: upright, as large as half the text
// width, each under what was seen, when and by whom. In a PDF they stay JPEG.
#include <glib/gi18n-lib.h>
#include <string.h>

#include <lz_photo.h>
#include <lz_words.h>

#include "lzr_lot.h"

#define SIDE   720 // pixels, about 200 to the inch at this size
#define HEIGHT 190 // points

// One block of memory, kept with the sheet's strings: the pixels as cairo wants them.
typedef struct {
  int width, height, stride;
  gsize n_jpeg;
  guint8 *jpeg; // behind the pixels
  guint32 pixels[];
} Print;

static Print *
print_of(GdkPixbuf *photo)
{
  int w = gdk_pixbuf_get_width(photo), h = gdk_pixbuf_get_height(photo);
  int channels = gdk_pixbuf_get_n_channels(photo), stride = gdk_pixbuf_get_rowstride(photo);
  const guint8 *from = gdk_pixbuf_read_pixels(photo);
  g_autofree char *jpeg = NULL;
  gsize n = 0;
  if (!gdk_pixbuf_save_to_buffer(photo, &jpeg, &n, "jpeg", NULL, "quality", "85", NULL))
    n = 0;
  Print *print = g_malloc(sizeof *print + sizeof(guint32) * (gsize)w * (gsize)h + n);
  *print = (Print){.width = w, .height = h, .stride = 4 * w, .n_jpeg = n};
  print->jpeg = (guint8 *)&print->pixels[(gsize)w * (gsize)h];
  if (n)
    memcpy(print->jpeg, jpeg, n);
  for (int y = 0; y < h; y++)
    for (int x = 0; x < w; x++) {
      const guint8 *p = from + y * stride + x * channels;
      // what shines through a PNG is paper
      guint a = channels == 4 ? p[3] : 255, c[3];
      for (int i = 0; i < 3; i++)
        c[i] = (p[i] * a + 255 * (255 - a)) / 255;
      print->pixels[y * w + x] = c[0] << 16 | c[1] << 8 | c[2];
    }
  return print;
}

static void
draw(cairo_t *cr, const lzd_look *look, double width, double height, const void *data)
{
  const Print *print = data;
  double scale = MIN(height / print->height, width / print->width);
  cairo_surface_t *surface =
      cairo_image_surface_create_for_data((unsigned char *)print->pixels, CAIRO_FORMAT_RGB24,
                                          print->width, print->height, print->stride);
  if (print->n_jpeg)
    cairo_surface_set_mime_data(surface, CAIRO_MIME_TYPE_JPEG, print->jpeg, print->n_jpeg, NULL,
                                NULL);
  cairo_save(cr);
  cairo_scale(cr, scale, scale);
  cairo_set_source_surface(cr, surface, 0, 0);
  cairo_paint(cr);
  cairo_restore(cr);
  cairo_surface_destroy(surface);
}

static void
one(LzrBuild *build, LzEntry *entry)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GdkPixbuf) photo = lz_photo_of(build->desk, entry, SIDE, &error);
  g_autofree char *words = lz_words_entry(build->desk, entry);
  const char *when = lzr_printf(build, _("%1$s, %2$s:"), lzr_stamp(build, entry),
                                lz_words_kind(lz_entry_kind(entry)));
  lzr_line(build, LZD_RAIL_SEEN, when,
           lzr_printf(build, "%s; %s%s%s", words, lzr_initials(build, entry), error ? ". " : "",
                      error ? error->message : ""));
  if (!photo)
    return;
  Print *print = print_of(photo);
  lzr_keep(build, (char *)print);
  lzd_sheet_keep(build->page);
  lzd_sheet_block(build->page, HEIGHT, draw, print);
  lzd_sheet_space(build->page, 6);
}

void
lzr_lot_photos(LzrBuild *build, const LzrLot *lot)
{
  g_autoptr(GPtrArray) all = lzr_lot_facts(build, lot->lot, lot->stays, NULL);
  gboolean any = FALSE;
  for (guint i = 0; i < all->len; i++) {
    if (!lz_entry_has(all->pdata[i], "photo"))
      continue;
    if (!any)
      lzr_heading(build, NULL, _("Photographs"), NULL);
    any = TRUE;
    lzr_begin(build);
    one(build, all->pdata[i]);
  }
}
