// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_text.h.
#include "lz_text.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "lz_error.h"

static gboolean
wrong(const char *text, const char *at, const char *what, GError **error)
{
  guint line = 1;
  for (const char *c = text; c < at; c++)
    line += *c == '\n';
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, _("line %u: %s"), line, what);
  return FALSE;
}

// Such a mark would show one thing and keep another: "copper" may read "reppoc".
static const char *
turning_mark(const char *text, gsize length)
{
  for (const char *c = text, *end = text + length; c + 2 < end; c++)
    if ((c[0] == '\xe2' && c[1] == '\x80' && (guchar)c[2] >= 0xaa && (guchar)c[2] <= 0xae) ||
        (c[0] == '\xe2' && c[1] == '\x81' && (guchar)c[2] >= 0xa6 && (guchar)c[2] <= 0xa9))
      return c;
  return NULL;
}

gboolean
lz_text_check(const char *text, gsize length, const char **from, GError **error)
{
  const char *bad = NULL;
  *from = text + (length >= 3 && memcmp(text, "\xef\xbb\xbf", 3) == 0 ? 3 : 0);
  if (length >= 2 && (memcmp(text, "\xff\xfe", 2) == 0 || memcmp(text, "\xfe\xff", 2) == 0))
    return wrong(text, text,
                 _("the text is UTF-16; accepted is UTF-8: save it again with that encoding"),
                 error);
  if (length && (bad = memchr(text, '\0', length)))
    return wrong(text, bad, _("the text holds a NUL byte; accepted is UTF-8 text"), error);
  if (!g_utf8_validate_len(text, length, &bad))
    return wrong(text, bad,
                 _("the text is not UTF-8; accepted is UTF-8: save it again with that encoding"),
                 error);
  if ((bad = turning_mark(text, length)))
    return wrong(text, bad,
                 _("the text holds an invisible mark that turns its direction; accepted is text "
                   "without U+202A to U+202E and U+2066 to U+2069"),
                 error);
  return TRUE;
}
