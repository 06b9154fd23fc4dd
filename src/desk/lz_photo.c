// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_photo.h. A form asks again with every key whether all is well: the file that was read last
// is remembered, so that a picture is decoded once.
#include <glib/gi18n-lib.h>

#include "lz_desk_private.h"
#include "lz_error.h"
#include "lz_photo.h"
#include "lz_photo_private.h"
#include "lz_value.h"

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
  return bytes ? lz_photo_decode(bytes, side, &large, error) : NULL;
}

// What the file looked like when it was read; NULL where it cannot be told.
static char *
stamp_of(const char *path)
{
  g_autoptr(GFile) file = g_file_new_for_path(path);
  g_autoptr(GFileInfo) info =
      g_file_query_info(file, G_FILE_ATTRIBUTE_ETAG_VALUE "," G_FILE_ATTRIBUTE_STANDARD_SIZE,
                        G_FILE_QUERY_INFO_NONE, NULL, NULL);
  return info ? g_strdup_printf("%s %" G_GOFFSET_FORMAT " %s", g_file_info_get_etag(info),
                                g_file_info_get_size(info), path)
              : NULL;
}

static GBytes *
read_once(LzDesk *desk, const char *path, GError **error)
{
  g_autofree char *stamp = stamp_of(path);
  if (stamp && desk->photo && g_strcmp0(stamp, desk->photo_stamp) == 0)
    return g_bytes_ref(desk->photo);
  lz_photo_forget(desk);
  GBytes *bytes = lz_photo_read(path, error);
  if (bytes) {
    desk->photo = g_bytes_ref(bytes);
    desk->photo_stamp = g_steal_pointer(&stamp);
  }
  return bytes;
}

void
lz_photo_forget(LzDesk *desk)
{
  g_clear_pointer(&desk->photo, g_bytes_unref);
  g_clear_pointer(&desk->photo_stamp, g_free);
}

gboolean
lz_photo_take(LzDesk *desk, LzCommand *command, LzValue *value, GError **error)
{
  g_autoptr(GBytes) known = kept(desk, value->v.text, NULL); // a correction names what is there
  g_clear_pointer(&command->photo, g_bytes_unref);
  if (known)
    return TRUE;
  command->photo = read_once(desk, value->v.text, error);
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
  if (!bytes)
    return TRUE;
  if (lzs_picture_add(desk->store, bytes, size, &failure) == LZS_OK) {
    lz_photo_forget(desk);
    return TRUE;
  }
  lz_desk_store_error(desk, &failure, error);
  return FALSE;
}
