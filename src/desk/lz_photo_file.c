// SPDX-License-Identifier: GPL-3.0-or-later
// From a picture file to the bytes that are kept. The picture is decoded, turned upright, brought
// to a size that still shows a spot, and written anew: what else a camera or a telephone put into
// the file (place, time, serial number, a preview of what was cut away) is not kept. Only two
// decoders are ever started, chosen by the first bytes, and only after the size in the header was
// found acceptable.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "lz_desk_private.h"
#include "lz_error.h"
#include "lz_photo.h"
#include "lz_photo_private.h"

#define FILE_MOST (32 * 1024 * 1024) // bytes of a file that is read at all
#define SIDE_MOST 4096 // pixels kept along the longer side: a telephone's whole picture

static const char *
type_of(GBytes *bytes)
{
  gsize n;
  const guint8 *p = g_bytes_get_data(bytes, &n);
  if (n > 3 && memcmp(p, "\xff\xd8\xff", 3) == 0)
    return "jpeg";
  return n > 8 && memcmp(p, "\x89PNG\r\n\x1a\n", 8) == 0 ? "png" : NULL;
}

// The decoders take a picture that breaks off for a whole one: the end must be there (PNG: chunk
// IEND; JPEG: marker EOI, ISO/IEC 10918-1), though a camera may have written something behind it.
// The end of a small preview lies in the first half.
static gboolean
has_end(GBytes *bytes)
{
  gsize n, tail;
  const guint8 *p = g_bytes_get_data(bytes, &n);
  gboolean png = p[0] == 0x89;
  const guint8 *end = png ? (const guint8 *)"IEND" : (const guint8 *)"\xff\xd9";
  gsize length = png ? 4 : 2;
  for (tail = length; tail <= n / 2 && tail < 65536; tail++)
    if (memcmp(p + n - tail, end, length) == 0)
      return TRUE;
  return FALSE;
}

typedef struct {
  int side;
  gboolean large;
} Fit;

static void
on_size(GdkPixbufLoader *loader, int width, int height, Fit *fit)
{
  double scale = MIN(1.0, (double)fit->side / MAX(width, height));
  fit->large = (double)width * height > LZ_PHOTO_MOST_PIXELS;
  if (fit->large)
    gdk_pixbuf_loader_set_size(loader, 0, 0); // the decoder refuses that, with nothing decoded
  else if (scale < 1)
    gdk_pixbuf_loader_set_size(loader, MAX(1, (int)(width * scale)), MAX(1, (int)(height * scale)));
}

// In pieces: what comes behind a header that promises too many pixels is not looked at.
static gboolean
feed(GdkPixbufLoader *loader, GBytes *bytes, const Fit *fit, GError **error)
{
  gsize n;
  const guint8 *p = g_bytes_get_data(bytes, &n);
  for (gsize at = 0; at < n && !fit->large; at += 65536)
    if (!gdk_pixbuf_loader_write(loader, p + at, MIN(n - at, 65536), error))
      return FALSE;
  return TRUE;
}

GdkPixbuf *
lz_photo_decode(GBytes *bytes, int side, gboolean *large, GError **error)
{
  const char *type = type_of(bytes);
  Fit fit = {side, FALSE};
  g_autoptr(GdkPixbufLoader) loader = type ? gdk_pixbuf_loader_new_with_type(type, error) : NULL;
  *large = FALSE;
  if (!loader)
    return NULL;
  g_signal_connect(loader, "size-prepared", G_CALLBACK(on_size), &fit);
  gboolean whole = feed(loader, bytes, &fit, error);
  whole = gdk_pixbuf_loader_close(loader, whole && !fit.large ? error : NULL) && whole;
  GdkPixbuf *found = gdk_pixbuf_loader_get_pixbuf(loader);
  *large = fit.large;
  return whole && found && !fit.large ? gdk_pixbuf_apply_embedded_orientation(found) : NULL;
}

// As the kind that it was; what would be too large for the store becomes a JPEG, as fine as fits.
static GBytes *
encode(GdkPixbuf *picture, gboolean png)
{
  static const char *const qualities[] = {"92", "80", "60", "30"};
  char *bytes = NULL;
  gsize n = 0;
  if (png && gdk_pixbuf_save_to_buffer(picture, &bytes, &n, "png", NULL, NULL)) {
    if (n <= LZS_PICTURE_MOST)
      return g_bytes_new_take(bytes, n);
    g_clear_pointer(&bytes, g_free);
  }
  for (guint i = 0; i < G_N_ELEMENTS(qualities); i++) {
    if (gdk_pixbuf_save_to_buffer(picture, &bytes, &n, "jpeg", NULL, "quality", qualities[i],
                                  NULL) &&
        n <= LZS_PICTURE_MOST)
      return g_bytes_new_take(bytes, n);
    g_clear_pointer(&bytes, g_free);
  }
  return NULL;
}

// A file's name may hold anything; in a sentence it turns no text around and breaks no line.
static char *
name_shown(const char *path)
{
  g_autofree char *name = g_filename_display_basename(path);
  GString *out = g_string_new(NULL);
  for (const char *c = name; *c; c = g_utf8_next_char(c)) {
    gunichar u = g_utf8_get_char(c);
    gboolean plain = g_unichar_isprint(u) && g_unichar_type(u) != G_UNICODE_FORMAT;
    g_string_append_unichar(out, plain ? u : 0xfffd);
  }
  return g_string_free(out, FALSE);
}

static GBytes *
refuse(const char *path, const char *why, GError **error)
{
  g_autofree char *name = name_shown(path);
  // Translators: name of a file; what is wrong with it
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
              _("photo: “%1$s” %2$s; accepted is a JPEG or PNG picture of at most 32 MB and 50 "
                "million pixels"),
              name, why);
  return NULL;
}

// Only a plain file is opened: a pipe would never end.
static GBytes *
read_file(const char *path, GError **error)
{
  g_autoptr(GFile) file = g_file_new_for_path(path);
  if (g_file_query_file_type(file, G_FILE_QUERY_INFO_NONE, NULL) != G_FILE_TYPE_REGULAR)
    return refuse(path, _("is no file that there is"), error);
  g_autoptr(GFileInputStream) in = g_file_read(file, NULL, NULL);
  g_autoptr(GBytes) bytes =
      in ? g_input_stream_read_bytes(G_INPUT_STREAM(in), FILE_MOST + 1, NULL, NULL) : NULL;
  if (!bytes)
    return refuse(path, _("cannot be read"), error);
  if (g_bytes_get_size(bytes) == 0)
    return refuse(path, _("is empty"), error);
  if (g_bytes_get_size(bytes) > FILE_MOST)
    return refuse(path, _("is too large"), error);
  if (!type_of(bytes))
    return refuse(path, _("is no such picture, whatever its name says"), error);
  return g_steal_pointer(&bytes);
}

GBytes *
lz_photo_read(const char *path, GError **error)
{
  gboolean large;
  g_autoptr(GBytes) bytes = read_file(path, error);
  if (!bytes)
    return NULL;
  g_autoptr(GdkPixbuf) picture = lz_photo_decode(bytes, SIDE_MOST, &large, NULL);
  if (large)
    return refuse(path, _("has too many pixels"), error);
  if (!picture || !has_end(bytes))
    return refuse(path, _("is damaged or breaks off before its end"), error);
  GBytes *kept = encode(picture, g_str_equal(type_of(bytes), "png"));
  return kept ? kept : refuse(path, _("cannot be made small enough to be kept"), error);
}
