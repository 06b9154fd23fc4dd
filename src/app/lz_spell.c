// SPDX-License-Identifier: GPL-3.0-or-later
// The rules of counting in some sixty languages are ICU's (Unicode CLDR, rule-based number
// formats), not ours.
#include "lz_spell.h"

#include <glib.h>
#include <math.h>
#include <string.h>
#include <unicode/unum.h>
#include <unicode/ustring.h>

static const char *
language_of_program(void)
{
  const char *const *names = g_get_language_names_with_category("LC_MESSAGES");
  return names[0] && strcmp(names[0], "C") != 0 && strncmp(names[0], "C.", 2) != 0 ? names[0]
                                                                                   : "en";
}

char *
lz_spell(double value, const char *unit, const char *language)
{
  UErrorCode status = U_ZERO_ERROR;
  UChar words[256];
  char utf8[768];
  if (!isfinite(value) || fabs(value) >= 1e9)
    return NULL;
  UNumberFormat *format =
      unum_open(UNUM_SPELLOUT, NULL, 0, language ? language : language_of_program(), NULL, &status);
  if (U_FAILURE(status))
    return NULL;
  unum_formatDouble(format, value, words, G_N_ELEMENTS(words), NULL, &status);
  unum_close(format);
  u_strToUTF8(utf8, sizeof utf8, NULL, words, -1, &status);
  if (U_FAILURE(status))
    return NULL;
  GString *out = g_string_new(utf8);
  g_string_replace(out, "\u00AD", "", 0); // soft hyphens of German and its neighbours
  if (*unit)
    g_string_append_printf(out, " %s", unit);
  return g_string_free(out, FALSE);
}
