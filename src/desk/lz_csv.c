// SPDX-License-Identifier: GPL-3.0-or-later
// CSV itself, RFC 4180: quoting, records over several lines, and what is wrong with a text that is
// none.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "lz_error.h"
#include "lz_tables.h"
#include "lz_text.h"

// A spreadsheet would run text that begins like this as a formula.
static gboolean
would_run(const char *text)
{
  return *text && strchr("=+-@\t\r", *text) != NULL;
}

static gboolean
is_number(const char *text)
{
  char *end;
  g_ascii_strtod(text, &end);
  return end != text && *end == '\0';
}

void
lz_csv_append(GString *out, const char *const *cells, gsize n, gboolean guard)
{
  for (gsize i = 0; i < n; i++) {
    const char *cell = cells[i] ? cells[i] : "";
    gboolean quote = strpbrk(cell, ",\"\r\n") || *cell == ' ';
    if (i)
      g_string_append_c(out, ',');
    if (quote)
      g_string_append_c(out, '"');
    // A leading apostrophe of its own is doubled, so that taking one off gives the text back.
    if (guard && ((would_run(cell) && !is_number(cell)) || *cell == '\''))
      g_string_append_c(out, '\'');
    for (const char *p = cell; *p; p++) {
      if (*p == '"')
        g_string_append_c(out, '"');
      g_string_append_c(out, *p);
    }
    if (quote)
      g_string_append_c(out, '"');
  }
  g_string_append(out, "\r\n");
}

typedef struct {
  const char *text, *at, *end;
  guint line;
  GError **error;
} Reader;

static gboolean
wrong(Reader *r, const char *what)
{
  g_set_error(r->error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, _("line %u: %s"), r->line, what);
  return FALSE;
}

// A quoted cell; r->at stands behind its first quote.
static gboolean
read_quoted(Reader *r, GString *cell)
{
  for (;;) {
    if (r->at == r->end)
      return wrong(r, _("a quote is never closed; accepted is a closing quote"));
    if (*r->at == '"') {
      if (r->at + 1 < r->end && r->at[1] == '"') {
        r->at++;
      } else {
        r->at++;
        break;
      }
    }
    r->line += *r->at == '\n';
    g_string_append_c(cell, *r->at++);
  }
  if (r->at < r->end && !strchr(",\r\n", *r->at))
    return wrong(r, _("text follows a closing quote; accepted is a comma or the end of the line"));
  return TRUE;
}

static gboolean
read_plain(Reader *r, GString *cell)
{
  while (r->at < r->end && !strchr(",\r\n", *r->at)) {
    if (*r->at == '"')
      return wrong(r,
                   _("a quote stands inside a cell that is not quoted; accepted is a quoted cell"));
    g_string_append_c(cell, *r->at++);
  }
  return TRUE;
}

static gboolean
read_record(Reader *r, GPtrArray *cells)
{
  for (;;) {
    g_autoptr(GString) cell = g_string_new(NULL);
    gboolean quoted = r->at < r->end && *r->at == '"';
    if (quoted)
      r->at++;
    if (!(quoted ? read_quoted(r, cell) : read_plain(r, cell)))
      return FALSE;
    g_ptr_array_add(cells, g_string_free(g_steal_pointer(&cell), FALSE));
    if (r->at == r->end || *r->at != ',')
      break;
    r->at++;
  }
  if (r->at < r->end && *r->at == '\r')
    r->at++;
  if (r->at < r->end && *r->at == '\n')
    r->at++;
  r->line++;
  g_ptr_array_add(cells, NULL);
  return TRUE;
}

static gboolean
is_blank(const GPtrArray *cells)
{
  return cells->len == 2 && *(const char *)cells->pdata[0] == '\0';
}

// A header without a comma but with another usual sign: said, for a guess may take a decimal comma
// for the end of a cell.
static gboolean
delimiter_is_comma(Reader *r)
{
  gsize n = 0;
  while (r->at + n < r->end && r->at[n] != '\r' && r->at[n] != '\n')
    n++;
  if (memchr(r->at, ',', n) || (!memchr(r->at, ';', n) && !memchr(r->at, '\t', n)))
    return TRUE;
  return wrong(r, memchr(r->at, ';', n) ? _("cells are parted by semicolons; accepted are commas")
                                        : _("cells are parted by tabs; accepted are commas"));
}

GPtrArray *
lz_csv_parse(const char *text, gsize length, GArray **lines, GError **error)
{
  Reader r = {.text = text, .at = text, .end = text + length, .line = 1, .error = error};
  if (!lz_text_check(text, length, &r.at, error))
    return NULL;
  if (!delimiter_is_comma(&r))
    return NULL;
  g_autoptr(GPtrArray) rows = g_ptr_array_new_with_free_func((GDestroyNotify)g_strfreev);
  g_autoptr(GArray) at = g_array_new(FALSE, FALSE, sizeof(guint));
  while (r.at < r.end) {
    guint line = r.line;
    g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
    if (!read_record(&r, cells))
      return NULL;
    if (is_blank(cells))
      continue;
    g_array_append_val(at, line);
    g_ptr_array_set_free_func(cells, NULL);
    g_ptr_array_add(rows, g_ptr_array_free(g_steal_pointer(&cells), FALSE));
  }
  if (lines)
    *lines = g_steal_pointer(&at);
  return g_steal_pointer(&rows);
}
