// SPDX-License-Identifier: GPL-3.0-or-later
// Photographs of a sighting or a scrape: read from a file that a person names, judged, and kept in
// the station's file under their hash, which the entry's field `photo` holds. A picture that came
// in is never written back to a path: it is handed out as pixels, turned upright and no larger than
// asked.
#ifndef LZ_PHOTO_H
#define LZ_PHOTO_H

#include <gdk-pixbuf/gdk-pixbuf.h>

#include "lz_desk.h"

#define LZ_PHOTO_MOST_PIXELS 50000000 // decoded, about 150 MB

// The picture of an entry, fitting into `side` by `side` pixels; NULL without error if it has none.
// LZ_DESK_ERROR_DAMAGED: it is not what was kept. NOT_FOUND: the file does not hold it.
GdkPixbuf *lz_photo_of(LzDesk *desk, LzEntry *entry, int side, GError **error);

// The bytes to keep of a file: JPEG or PNG by its content, of at most 32 MB and 50 million pixels,
// readable to its end. They are the picture alone, upright, at most 4096 pixels along its longer
// side and 8 MB: where and with what it was taken is not kept. LZ_DESK_ERROR_USAGE says what is
// wrong and what would be accepted.
GBytes *lz_photo_read(const char *path, GError **error);

#endif
