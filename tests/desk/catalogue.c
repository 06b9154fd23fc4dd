// SPDX-License-Identifier: GPL-3.0-or-later
// See catalogue.h.
#include "catalogue.h"

#include <string.h>

static char **
all_lines(void)
{
  g_autofree char *name = g_build_filename(g_getenv("LAZARET_DOCS"), "messages.md", NULL);
  g_autofree char *text = NULL;
  ck_assert(g_file_get_contents(name, &text, NULL, NULL));
  return g_strsplit(text, "\n", -1);
}

// Whether text is the pattern with something in place of each "…".
static gboolean
fits(const char *text, const char *pattern)
{
  g_auto(GStrv) parts = g_strsplit(pattern, "…", -1);
  for (guint i = 0; parts[i]; i++) {
    const char *at =
        i == 0 ? (g_str_has_prefix(text, parts[0]) ? text : NULL) : strstr(text, parts[i]);
    if (!at)
      return FALSE;
    text = at + strlen(parts[i]);
  }
  return *text == '\0' || g_str_has_suffix(pattern, "…");
}

gboolean
catalogue_fits(const char *what, const char *said)
{
  g_auto(GStrv) lines = all_lines();
  for (guint i = 0; lines[i]; i++) {
    g_auto(GStrv) cells = g_strsplit(lines[i], " | ", -1);
    if (g_strv_length(cells) < 2 || !strstr(cells[0], what))
      continue;
    g_autofree char *pattern = g_strdup(cells[1]);
    if (g_str_has_suffix(pattern, " |"))
      pattern[strlen(pattern) - 2] = '\0';
    if (fits(said, pattern))
      return TRUE;
  }
  return FALSE;
}

char **
catalogue_rows(const char *heading)
{
  g_auto(GStrv) lines = all_lines();
  g_autoptr(GPtrArray) rows = g_ptr_array_new();
  gboolean here = FALSE;
  for (guint i = 0; lines[i]; i++) {
    if (g_str_has_prefix(lines[i], "## "))
      here = g_str_equal(lines[i] + 3, heading);
    // a table's head stands above its line of dashes
    if (!here || !g_str_has_prefix(lines[i], "| ") ||
        (lines[i + 1] && g_str_has_prefix(lines[i + 1], "|--")))
      continue;
    g_auto(GStrv) cells = g_strsplit(lines[i] + 2, " | ", -1);
    g_auto(GStrv) parts = g_strsplit(cells[0], "`", -1);
    g_ptr_array_add(rows, g_strjoinv("", parts));
  }
  g_ptr_array_add(rows, NULL);
  ck_assert_uint_gt(rows->len, 1);
  return (char **)g_ptr_array_free(g_steal_pointer(&rows), FALSE);
}
