// SPDX-License-Identifier: GPL-3.0-or-later
// The languages that are installed, and speaking another one for a while (a sheet in two
// languages). gettext reads LANGUAGE anew once a domain is named again.
#include <glib/gi18n-lib.h>
#include <locale.h>
#include <string.h>

#include "lz_words.h"

static gboolean
has_catalogue(const char *folder, const char *language)
{
  g_autofree char *file = g_strdup_printf("%s.mo", LZ_GETTEXT_DOMAIN);
  g_autofree char *path = g_build_filename(folder, language, "LC_MESSAGES", file, NULL);
  return g_file_test(path, G_FILE_TEST_IS_REGULAR);
}

static int
by_code(const void *a, const void *b)
{
  return strcmp(*(const char *const *)a, *(const char *const *)b);
}

char **
lz_words_languages(void)
{
  const char *folder = bindtextdomain(LZ_GETTEXT_DOMAIN, NULL), *name;
  g_autoptr(GStrvBuilder) builder = g_strv_builder_new();
  g_autoptr(GDir) dir = folder ? g_dir_open(folder, 0, NULL) : NULL;
  g_strv_builder_add(builder, "en"); // what the program is written in
  while (dir && (name = g_dir_read_name(dir)))
    if (has_catalogue(folder, name))
      g_strv_builder_add(builder, name);
  char **languages = g_strv_builder_end(builder);
  qsort(languages, g_strv_length(languages), sizeof *languages, by_code);
  return languages;
}

char *
lz_words_language(void)
{
  const char *asked = g_getenv("LANGUAGE");
  g_auto(GStrv) have = lz_words_languages();
  if (!asked || !*asked)
    asked = setlocale(LC_MESSAGES, NULL);
  gsize letters = asked ? strspn(asked, "abcdefghijklmnopqrstuvwxyz") : 0;
  g_autofree char *code = g_strndup(asked, letters);
  return g_strdup(g_strv_contains((const char *const *)have, code) ? code : "en");
}

char *
lz_words_switch(const char *language)
{
  char *before = g_strdup(g_getenv("LANGUAGE"));
  if (language)
    g_setenv("LANGUAGE", language, TRUE);
  else
    g_unsetenv("LANGUAGE");
  if (g_strcmp0(setlocale(LC_MESSAGES, NULL), "C") == 0)
    setlocale(LC_MESSAGES, "C.UTF-8"); // "C" reads no catalogue at all
  textdomain(LZ_GETTEXT_DOMAIN);
  return before;
}
