// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_photo.h. Only two decoders are ever started, chosen by the first bytes, and only after the
// size in the header was found acceptable.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "lz_desk_private.h"
#include "lz_error.h"
#include "lz_photo.h"
#include "lz_photo_private.h"
#include "lz_value.h"

static const char *
type_of(GBytes *bytes)
{
  gsize n;
  const guint8 *p = g_bytes_get_data(bytes, &n);
  if (n > 3 && memcmp(p, "\xff\xd8\xff", 3) == 0)
    return "image/jpeg";
  return n > 8 && memcmp(p, "\x89PNG\r\n\x1a\n", 8) == 0 ? "image/png" : NULL;
}

// The decoders take a picture that breaks off for a whole one: the end must be there (PNG: chunk
// IEND; JPEG: marker EOI, ISO/IEC 10918-1), though a camera may have written something behind it.
static gboolean
has_end(GBytes *bytes)
{
  gsize n, tail;
  const guint8 *p = g_bytes_get_data(bytes, &n);
  gboolean png = p[0] == 0x89;
  const guint8 *end = png ? (const guint8 *)"IEND" : (const guint8 *)"\xff\xd9";
  gsize length = png ? 4 : 2;
  for (tail = length; tail <= n && tail < 65536; tail++)
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
    gdk_pixbuf_loader_set_size(loader, 1, 1);
  else if (scale < 1)
    gdk_pixbuf_loader_set_size(loader, MAX(1, (int)(width * scale)), MAX(1, (int)(height * scale)));
}

// Fails with the decoder's own words; *large: more pixels than accepted, nothing was decoded.
static GdkPixbuf *
decode(GBytes *bytes, int side, gboolean *large, GError **error)
{
  const char *type = type_of(bytes);
  Fit fit = {side, FALSE};
  g_autoptr(GdkPixbufLoader) loader =
      type ? gdk_pixbuf_loader_new_with_mime_type(type, error) : NULL;
  *large = FALSE;
  if (!loader)
    return NULL;
  g_signal_connect(loader, "size-prepared", G_CALLBACK(on_size), &fit);
  gboolean whole = gdk_pixbuf_loader_write_bytes(loader, bytes, error);
  whole = gdk_pixbuf_loader_close(loader, whole ? error : NULL) && whole;
  GdkPixbuf *found = gdk_pixbuf_loader_get_pixbuf(loader);
  *large = fit.large;
  return whole && found && !fit.large ? gdk_pixbuf_apply_embedded_orientation(found) : NULL;
}

static GBytes *
refuse(const char *path, GError **error)
{
  lz_value_refuse(error, "photo", path,
                  _("a JPEG or PNG picture of at most 8 MB and 50 million pixels"));
  return NULL;
}

GBytes *
lz_photo_read(const char *path, GError **error)
{
  g_autoptr(GFile) file = g_file_new_for_path(path);
  g_autoptr(GFileInputStream) in = g_file_read(file, NULL, NULL);
  g_autoptr(GBytes) bytes =
      in ? g_input_stream_read_bytes(G_INPUT_STREAM(in), LZS_PICTURE_MOST + 1, NULL, NULL) : NULL;
  gboolean large;
  if (!bytes || g_bytes_get_size(bytes) > LZS_PICTURE_MOST)
    return refuse(path, error);
  g_autoptr(GdkPixbuf) seen = decode(bytes, 64, &large, NULL);
  return seen && has_end(bytes) ? g_steal_pointer(&bytes) : refuse(path, error);
}

static void
take_bytes(void *ctx, const void *bytes, size_t size)
{
  *(GBytes **)ctx = g_bytes_new(bytes, size);
}

static GBytes *
kept(LzDesk *desk, const char *name, GError **error)
{
  lzs_error failure = {0};
  GBytes *bytes = NULL;
  lzs_status status = lzs_picture_get(desk->store, name, take_bytes, &bytes, &failure);
  if (status == LZS_NOT_FOUND)
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_NOT_FOUND,
                _("the photograph is not in this file; a back-up may hold it"));
  else if (status != LZS_OK)
    lz_desk_store_error(desk, &failure, error);
  return bytes;
}

GdkPixbuf *
lz_photo_of(LzDesk *desk, LzEntry *entry, int side, GError **error)
{
  const char *name = lz_entry_text(entry, "photo");
  g_autoptr(GBytes) bytes = name ? kept(desk, name, error) : NULL;
  gboolean large;
  return bytes ? decode(bytes, side, &large, error) : NULL;
}

gboolean
lz_photo_take(LzDesk *desk, LzCommand *command, LzValue *value, GError **error)
{
  g_autoptr(GBytes) known = kept(desk, value->v.text, NULL); // a correction names what is there
  g_clear_pointer(&command->photo, g_bytes_unref);
  if (known)
    return TRUE;
  command->photo = lz_photo_read(value->v.text, error);
  if (!command->photo)
    return FALSE;
  gsize size;
  const void *bytes = g_bytes_get_data(command->photo, &size);
  g_free(value->text);
  value->text = g_malloc(LZS_PICTURE_NAME);
  lzs_picture_name(bytes, size, value->text);
  value->v.text = value->text;
  return TRUE;
}

gboolean
lz_photo_keep(LzDesk *desk, const LzCommand *command, GError **error)
{
  gsize size = 0;
  lzs_error failure = {0};
  const void *bytes = command->photo ? g_bytes_get_data(command->photo, &size) : NULL;
  if (!bytes || lzs_picture_add(desk->store, bytes, size, &failure) == LZS_OK)
    return TRUE;
  lz_desk_store_error(desk, &failure, error);
  return FALSE;
}
