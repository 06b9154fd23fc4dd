// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers as people type them. Grouping and a second separator are refused rather than guessed:
// 1,800 must never become 1.8 without anybody noticing, nor 1.8 become 1800.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "lz_error.h"
#include "lz_format.h"

static gboolean
refuse(const char *text, const char *why, GError **error)
{
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, _("“%s” is no number here: %s"), text,
              why);
  return FALSE;
}

// Length of the number's characters at p, separators counted.
static gsize
number_span(const char *p, int *separators, int *digits)
{
  gsize n = 0;
  *separators = *digits = 0;
  if (p[0] == '-' || p[0] == '+')
    n++;
  for (; g_ascii_isdigit(p[n]) || p[n] == '.' || p[n] == ','; n++) {
    *separators += p[n] == '.' || p[n] == ',';
    *digits += g_ascii_isdigit(p[n]) != 0;
  }
  return n;
}

// A blank of any width between digits is grouping.
static gboolean
is_grouped(const char *rest)
{
  while (*rest) {
    gunichar c = g_utf8_get_char(rest);
    if (c != '\'' && c != 0x2019 && !g_unichar_isspace(c))
      return g_unichar_isdigit(c);
    rest = g_utf8_next_char(rest);
  }
  return FALSE;
}

gboolean
lz_parse_number(const char *text, double *out, const char **rest, GError **error)
{
  const char *p = text;
  while (g_ascii_isspace(*p))
    p++;
  int separators, digits;
  gsize n = number_span(p, &separators, &digits);
  if (separators > 1)
    return refuse(text, _("it has two separators; accepted is one comma or point, no grouping"),
                  error);
  if (digits == 0)
    return refuse(text, _("accepted are digits with one comma or point"), error);
  if (g_utf8_validate(p + n, -1, NULL) && is_grouped(p + n))
    return refuse(text, _("digits are grouped; accepted are digits with one comma or point"),
                  error);
  g_autofree char *plain = g_strndup(p, n);
  g_strdelimit(plain, ",", '.');
  char *end = NULL;
  double value = g_ascii_strtod(plain, &end);
  if (end == plain || *end || !isfinite(value))
    return refuse(text, _("accepted are digits with one comma or point"), error);
  const char *after = p + n;
  // an exponent is what programs write, never people at a number pad: accepted for tables
  if ((*after == 'e' || *after == 'E') &&
      (g_ascii_isdigit(after[1]) ||
       ((after[1] == '-' || after[1] == '+') && g_ascii_isdigit(after[2])))) {
    g_autofree char *whole = g_strdup(p);
    g_strdelimit(whole, ",", '.');
    value = g_ascii_strtod(whole, &end);
    after = p + (end - whole);
    if (!isfinite(value))
      return refuse(text, _("it is too large"), error);
  }
  while (g_ascii_isspace(*after))
    after++;
  if (!rest && *after)
    return refuse(text, _("something follows the number"), error);
  if (rest)
    *rest = after;
  *out = value;
  return TRUE;
}
