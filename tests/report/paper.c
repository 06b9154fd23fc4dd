// SPDX-License-Identifier: GPL-3.0-or-later
#include "paper.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

static char *
tool(const char *format, ...)
{
  va_list args;
  va_start(args, format);
  g_autofree char *line = g_strdup_vprintf(format, args);
  va_end(args);
  char *out = NULL;
  int status = 0;
  ck_assert_msg(g_spawn_command_line_sync(line, &out, NULL, &status, NULL), "cannot run %s", line);
  ck_assert_msg(status == 0, "%s failed", line);
  return out;
}

static void
read_info(Paper *paper)
{
  g_autofree char *info = tool("pdfinfo '%s'", paper->path);
  const char *pages = strstr(info, "Pages:"), *size = strstr(info, "Page size:");
  ck_assert(pages && size);
  paper->pages = atoi(pages + strlen("Pages:"));
  char *end;
  paper->width = g_ascii_strtod(size + strlen("Page size:"), &end);
  paper->height = g_ascii_strtod(strstr(end, "x") + 1, NULL);
}

// Poppler hands no-break spaces through; to a reader they are spaces.
static char *
text_of(const char *options, const char *path)
{
  g_autofree char *text = tool("pdftotext %s '%s' -", options, path);
  g_auto(GStrv) parts = g_strsplit(text, "\u00a0", -1);
  return g_strjoinv(" ", parts);
}

Paper *
paper_print(Ctl *c, const char *format, ...)
{
  static guint number;
  va_list args;
  va_start(args, format);
  g_autofree char *words = g_strdup_vprintf(format, args);
  va_end(args);
  Paper *paper = g_new0(Paper, 1);
  paper->path = g_strdup_printf("%s/sheet-%u.pdf", c->folder, number++);
  g_free(ctl(c, 0, "print %s --pdf '%s'", words, paper->path));
  paper->flow = text_of("", paper->path);
  paper->raw = text_of("-raw", paper->path);
  paper->rows = text_of("-layout", paper->path);
  read_info(paper);
  return paper;
}

void
paper_free(Paper *paper)
{
  g_free(paper->path);
  g_free(paper->flow);
  g_free(paper->raw);
  g_free(paper->rows);
  g_free(paper);
}

void
paper_fonts_are_embedded(const Paper *paper)
{
  g_autofree char *fonts = tool("pdffonts '%s'", paper->path);
  g_auto(GStrv) lines = g_strsplit(fonts, "\n", -1);
  guint seen = 0;
  // name, type, encoding, emb sub uni object id: "emb" is the fifth word from the end
  for (guint i = 2; lines[i] && *lines[i]; i++, seen++) {
    g_auto(GStrv) words = g_regex_split_simple("\\s+", g_strstrip(lines[i]), 0, 0);
    guint n = g_strv_length(words);
    ck_assert_msg(n > 5 && strcmp(words[n - 5], "yes") == 0, "not embedded: %s", lines[i]);
  }
  ck_assert_uint_gt(seen, 0);
}

void
paper_in_order(const char *text, ...)
{
  va_list args;
  const char *at = text, *what;
  va_start(args, text);
  while ((what = va_arg(args, const char *))) {
    const char *found = strstr(at, what);
    ck_assert_msg(found != NULL, "“%s” is missing, or stands before what should precede it:\n%s",
                  what, text);
    at = found + strlen(what);
  }
  va_end(args);
}

char *
paper_row(const Paper *paper, ...)
{
  g_auto(GStrv) lines = g_strsplit(paper->rows, "\n", -1);
  for (guint i = 0; lines[i]; i++) {
    va_list args;
    const char *what;
    gboolean all = TRUE;
    va_start(args, paper);
    while (all && (what = va_arg(args, const char *)))
      all = strstr(lines[i], what) != NULL;
    va_end(args);
    if (all)
      return g_strdup(lines[i]);
  }
  return NULL;
}

gboolean
paper_near(const Paper *paper, const char *first, const char *then, guint lines)
{
  g_auto(GStrv) all = g_strsplit(paper->rows, "\n", -1);
  for (guint i = 0; all[i]; i++) {
    if (!strstr(all[i], first))
      continue;
    for (guint k = i; all[k] && k <= i + lines; k++)
      if (strstr(all[k], then))
        return TRUE;
  }
  return FALSE;
}

typedef struct {
  double x, y, to_x, to_y;
} Box;

static double
bound(const char *at, const char *name)
{
  const char *found = strstr(at, name);
  ck_assert(found != NULL);
  return g_ascii_strtod(found + strlen(name), NULL);
}

// Poppler's boxes are as high as the font's line: a quarter at the top and at the bottom is air.
static Box
ink_of(Box box)
{
  double air = (box.to_y - box.y) / 4;
  return (Box){box.x, box.y + air, box.to_x, box.to_y - air};
}

static Box
box_at(const char *word)
{
  return (Box){bound(word, "xMin=\""), bound(word, "yMin=\""), bound(word, "xMax=\""),
               bound(word, "yMax=\"")};
}

static void
lies_apart(const GArray *boxes, Box box, const char *path)
{
  double area = (box.to_x - box.x) * (box.to_y - box.y);
  for (guint i = 0; i < boxes->len; i++) {
    const Box *other = &g_array_index(boxes, Box, i);
    double wide = MIN(box.to_x, other->to_x) - MAX(box.x, other->x);
    double high = MIN(box.to_y, other->to_y) - MAX(box.y, other->y);
    double least = MIN(area, (other->to_x - other->x) * (other->to_y - other->y));
    ck_assert_msg(wide <= 0 || high <= 0 || wide * high < least / 3,
                  "%s: two words at %.0f %.0f and %.0f %.0f", path, box.x, box.y, other->x,
                  other->y);
  }
}

void
paper_words_lie_apart(const Paper *paper)
{
  g_autofree char *html = tool("pdftotext -bbox '%s' -", paper->path);
  g_auto(GStrv) pages = g_strsplit(html, "<page ", -1);
  ck_assert_uint_eq(g_strv_length(pages), (guint)paper->pages + 1);
  for (guint page = 1; pages[page]; page++) {
    g_autoptr(GArray) boxes = g_array_new(FALSE, FALSE, sizeof(Box));
    for (const char *at = pages[page]; (at = strstr(at, "<word ")); at++) {
      Box box = box_at(at);
      ck_assert_msg(
          box.x >= 0 && box.y >= 0 && box.to_x <= paper->width && box.to_y <= paper->height,
          "%s, page %u: a word at %.0f %.0f is off the page", paper->path, page, box.x, box.y);
      box = ink_of(box);
      lies_apart(boxes, box, paper->path);
      g_array_append_val(boxes, box);
    }
    ck_assert_uint_gt(boxes->len, 0);
  }
}

double
paper_y(const Paper *paper, const char *word)
{
  g_autofree char *html = tool("pdftotext -bbox '%s' -", paper->path);
  g_autofree char *end = g_strdup_printf("\">%s</word>", word);
  const char *found = strstr(html, end);
  ck_assert_msg(found != NULL, "no word “%s”", word);
  while (found > html && !g_str_has_prefix(found, "<word "))
    found--;
  return bound(found, "yMin=\"");
}

guint
paper_count(const char *text, const char *what)
{
  guint n = 0;
  for (const char *at = text; (at = strstr(at, what)); at += strlen(what))
    n++;
  return n;
}

static Ctl *demo;
static char *demo_at;

Ctl *
paper_demo(void)
{
  if (demo)
    return demo;
  demo = ctl_new();
  g_free(ctl(demo, 0, "demo"));
  g_autoptr(GDateTime) now = g_date_time_new_now_utc();
  demo_at = g_date_time_format(now, "%Y-%m-%d %H:%M");
  return demo;
}

const char *
paper_demo_at(void)
{
  paper_demo();
  return demo_at;
}

void
paper_demo_free(void)
{
  if (demo)
    ctl_free(demo);
  demo = NULL;
  g_clear_pointer(&demo_at, g_free);
}
