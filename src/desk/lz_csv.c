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
  const char *at, *end;
  guint line;
  GString *text; // of the cells of this record, each with its zero
  GArray *cells; // gsize, where each begins
  GError **error;
} Reader;

static gboolean
wrong(Reader *r, const char *what)
{
  g_set_error(r->error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, _("line %u: %s"), r->line, what);
  return FALSE;
}

static gboolean
ends_cell(char c)
{
  return c == ',' || c == '\r' || c == '\n' || c == '\0';
}

// A quoted cell; r->at stands behind its first quote.
static gboolean
read_quoted(Reader *r)
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
    g_string_append_c(r->text, *r->at++);
  }
  if (r->at < r->end && !ends_cell(*r->at))
    return wrong(r, _("text follows a closing quote; accepted is a comma or the end of the line"));
  return TRUE;
}

static gboolean
read_plain(Reader *r)
{
  const char *begin = r->at;
  while (r->at < r->end && !ends_cell(*r->at)) {
    if (*r->at == '"')
      return wrong(r,
                   _("a quote stands inside a cell that is not quoted; accepted is a quoted cell"));
    r->at++;
  }
  g_string_append_len(r->text, begin, r->at - begin);
  return TRUE;
}

static gboolean
read_record(Reader *r)
{
  g_string_set_size(r->text, 0);
  g_array_set_size(r->cells, 0);
  for (;;) {
    const gsize begin = r->text->len;
    gboolean quoted = r->at < r->end && *r->at == '"';
    g_array_append_val(r->cells, begin);
    if (quoted)
      r->at++;
    if (!(quoted ? read_quoted(r) : read_plain(r)))
      return FALSE;
    g_string_append_c(r->text, '\0');
    if (r->at == r->end || *r->at != ',')
      break;
    r->at++;
  }
  if (r->at < r->end && *r->at == '\r')
    r->at++;
  if (r->at < r->end && *r->at == '\n')
    r->at++;
  r->line++;
  return TRUE;
}

static gboolean
is_blank(const Reader *r)
{
  return r->cells->len == 1 && *r->text->str == '\0';
}

// The cells as a list that ends with NULL, in one block with their texts.
static char **
block_of(const Reader *r)
{
  const gsize n = r->cells->len, list = (n + 1) * sizeof(char *);
  char **row = g_malloc(list + r->text->len);
  char *texts = (char *)row + list;
  memcpy(texts, r->text->str, r->text->len);
  for (gsize i = 0; i < n; i++)
    row[i] = texts + g_array_index(r->cells, gsize, i);
  row[n] = NULL;
  return row;
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
  g_autoptr(GString) cells = g_string_new(NULL);
  g_autoptr(GArray) begins = g_array_new(FALSE, FALSE, sizeof(gsize));
  Reader r = {
      .at = text, .end = text + length, .line = 1, .text = cells, .cells = begins, .error = error};
  if (!lz_text_check(text, length, &r.at, error))
    return NULL;
  if (!delimiter_is_comma(&r))
    return NULL;
  g_autoptr(GPtrArray) rows = g_ptr_array_new_with_free_func(g_free);
  g_autoptr(GArray) at = g_array_new(FALSE, FALSE, sizeof(guint));
  while (r.at < r.end) {
    guint line = r.line;
    if (!read_record(&r))
      return NULL;
    if (is_blank(&r))
      continue;
    g_array_append_val(at, line);
    g_ptr_array_add(rows, block_of(&r));
  }
  if (lines)
    *lines = g_steal_pointer(&at);
  return g_steal_pointer(&rows);
}
