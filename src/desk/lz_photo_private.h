// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: a photograph on its way from a file that was named into the station's.
#ifndef LZ_PHOTO_PRIVATE_H
#define LZ_PHOTO_PRIVATE_H

#include <gdk-pixbuf/gdk-pixbuf.h>

#include "lz_command_private.h"
#include "lz_desk.h"
#include "lz_value.h"

// Field `photo` as typed, a path or the name of a kept picture, becomes the name; what was read
// stays with the command until the submission is accepted.
gboolean lz_photo_take(LzDesk *desk, LzCommand *command, LzValue *value, GError **error);
// Writes it, right before the entry that names it.
gboolean lz_photo_keep(LzDesk *desk, const LzCommand *command, GError **error);
// Lets go of the file that was read last.
void lz_photo_forget(LzDesk *desk);
// The picture upright, fitting into side by side pixels. Fails with the decoder's own words;
// *large: more pixels than accepted, nothing was decoded.
GdkPixbuf *lz_photo_decode(GBytes *bytes, int side, gboolean *large, GError **error);

#endif
