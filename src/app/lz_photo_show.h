// SPDX-License-Identifier: GPL-3.0-or-later
// The photograph of an entry in a box of a screen: the picture, or the sentence why it cannot be
// shown; the box is hidden where an entry has none.
#ifndef LZ_PHOTO_SHOW_H
#define LZ_PHOTO_SHOW_H

#include <gtk/gtk.h>
#include <lz_desk.h>

// entry NULL: hides the box. height in pixels.
void lz_photo_show(GtkBox *box, LzDesk *desk, LzEntry *entry, int height);

// Whether that name is one of a picture that could be kept.
gboolean lz_photo_is_named(const char *path);

#endif
