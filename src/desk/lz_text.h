// SPDX-License-Identifier: GPL-3.0-or-later
// What a text from outside must be before anybody reads it, table or protocol file alike: UTF-8,
// without NUL and without marks that turn its direction.
#ifndef LZ_TEXT_H
#define LZ_TEXT_H

#include <glib.h>

// FALSE: the error says which line, what is wrong and what is accepted. *from is where the text
// begins, behind a byte-order mark.
gboolean lz_text_check(const char *text, gsize length, const char **from, GError **error);

#endif
