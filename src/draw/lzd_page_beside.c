// SPDX-License-Identifier: GPL-3.0-or-later
// Two languages on one sheet: the words of a second sheet, block for block the same, beside those
// of the first. What is equal in both (names, figures, times) stands once.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "lzd_sheet.h"

#define SMALL_TEXT 0.8
#define ONE_LINE   140 // bytes of small text that fit across A4, or break as two lines would

typedef struct {
  lzd_sheet *sheet;
  bool alike;
} merger;

static bool
same(const char *a, const char *b)
{
  return a == b || (a && b && strcmp(a, b) == 0);
}

// "a" and "b" joined by `between`; the one alone where the other is missing or equal.
static const char *
joined(merger *m, const char *a, const char *between, const char *b)
{
  if (!b || !*b || same(a, b))
    return a;
  if (!a || !*a)
    return lzd_sheet_copy(m->sheet, b);
  size_t size = strlen(a) + strlen(between) + strlen(b) + 1;
  char *out = lzd_sheet_own(m->sheet, size);
  if (!out)
    return a;
  snprintf(out, size, "%s%s%s", a, between, b);
  return out;
}

static size_t
lines_of(const char *text)
{
  size_t n = 1;
  for (; text && *text; text++)
    n += *text == '\n';
  return n;
}

// Line by line, so that a name in both stands once: "course\nhold 2 d\nHalten 2 d".
static const char *
interleaved(merger *m, const char *a, const char *b)
{
  if (same(a, b) || !a || !b || lines_of(a) != lines_of(b) || lines_of(a) == 1)
    return joined(m, a, "\n", b);
  size_t size = strlen(a) + strlen(b) + 2 * lines_of(a) + 2, at = 0;
  char *out = lzd_sheet_own(m->sheet, size);
  if (!out)
    return a;
  for (;;) {
    size_t left = strcspn(a, "\n"), right = strcspn(b, "\n");
    bool both = right && (left != right || strncmp(a, b, left) != 0);
    at += (size_t)snprintf(out + at, size - at, "%.*s%s%.*s%s", (int)left, a, both ? "\n" : "",
                           both ? (int)right : 0, b, a[left] ? "\n" : "");
    if (!a[left])
      return out;
    a += left + 1;
    b += right + 1;
  }
}

static bool
same_runs(const lzd_block *a, const lzd_block *b)
{
  for (size_t i = 0; i < a->n; i++)
    if (i >= b->n || !same(a->runs[i].text, b->runs[i].text))
      return false;
  return a->n == b->n;
}

// Whether two paragraphs stand on one line of the smallest text, which a full page asks for. A mark
// is two lines high.
static bool
share_line(const merger *m, const lzd_block *a, const lzd_block *b)
{
  size_t n = 0;
  for (size_t i = 0; i < a->n; i++)
    n += strlen(a->runs[i].text);
  for (size_t i = 0; i < b->n; i++)
    n += strlen(b->runs[i].text);
  return !a->mark && m->sheet->look.text_scale < SMALL_TEXT && n <= ONE_LINE;
}

// A paragraph keeps its words and gets the other's on a new line.
static void
beside_text(merger *m, lzd_block *a, const lzd_block *b)
{
  if (same_runs(a, b))
    return;
  lzd_run *runs = lzd_sheet_own(m->sheet, (a->n + 1 + b->n) * sizeof *runs);
  if (!runs)
    return;
  memcpy(runs, a->runs, a->n * sizeof *runs);
  runs[a->n] = (lzd_run){.text = share_line(m, a, b) ? "  ·  " : "\n", .role = LZD_TEXT};
  for (size_t i = 0; i < b->n; i++) {
    runs[a->n + 1 + i] = b->runs[i];
    runs[a->n + 1 + i].text = lzd_sheet_copy(m->sheet, b->runs[i].text);
  }
  a->runs = runs;
  a->n += 1 + b->n;
}

static void
beside_names(merger *m, const char **a, const char *const *b, size_t n, const char *between)
{
  for (size_t i = 0; i < n; i++)
    a[i] = joined(m, a[i], between, b[i]);
}

// A cell with two marks has one word beside each: the second language would push them apart.
static void
beside_row(merger *m, lzd_block *a, const lzd_block *b)
{
  for (size_t i = 0; i < a->n; i++)
    if (!a->cells[i].mark2)
      a->cells[i].text = interleaved(m, a->cells[i].text, b->cells[i].text);
}

static void
beside_block(merger *m, lzd_block *a, const lzd_block *b)
{
  bool counted = a->kind == LZD_B_FACTS || a->kind == LZD_B_ROW || a->kind == LZD_B_SIGN;
  if (a->kind != b->kind || (counted && a->n != b->n)) {
    m->alike = false;
    return;
  }
  switch (a->kind) {
  case LZD_B_TEXT: beside_text(m, a, b); break;
  case LZD_B_HEADING:
    a->text2 = joined(m, a->text2, " · ", b->text2);
    a->text3 = joined(m, a->text3, " · ", b->text3);
    break;
  case LZD_B_FACTS:
    beside_names(m, a->names, b->names, a->n, " · ");
    beside_names(m, a->values, b->values, a->n, "\n");
    break;
  case LZD_B_ROW: beside_row(m, a, b); break;
  case LZD_B_TICK_LINE:
    a->text = joined(m, a->text, " · ", b->text);
    a->text2 = joined(m, a->text2, "\n", b->text2);
    break;
  case LZD_B_WARNING:
    a->text = joined(m, a->text, " · ", b->text);
    a->text2 = joined(m, a->text2, "\n", b->text2);
    break;
  case LZD_B_SIGN: beside_names(m, a->names, b->names, a->n, "\n"); break;
  default: break;
  }
}

static void
beside_heads(merger *m, const lzd_sheet *other)
{
  for (size_t t = 0; t < m->sheet->n_tables; t++) {
    lzd_table *table = &m->sheet->tables[t];
    if (t >= other->n_tables || table->n != other->tables[t].n) {
      m->alike = false;
      return;
    }
    for (size_t c = 0; c < table->n; c++)
      table->columns[c].head =
          joined(m, table->columns[c].head, "\n", other->tables[t].columns[c].head);
  }
}

lzd_status
lzd_sheet_beside(lzd_sheet *sheet, const lzd_sheet *other, lzd_fault *fault)
{
  merger m = {.sheet = sheet, .alike = sheet->n_blocks == other->n_blocks};
  if (m.alike) {
    sheet->laid = false;
    sheet->title = joined(&m, sheet->title, " · ", other->title);
    if (!same(sheet->foot_left, other->foot_left))
      sheet->foot_below = lzd_sheet_copy(sheet, other->foot_left);
    beside_heads(&m, other);
  }
  for (size_t i = 0; m.alike && i < sheet->n_blocks; i++)
    beside_block(&m, &sheet->blocks[i], &other->blocks[i]);
  if (!m.alike)
    return lzd_fail(fault, LZD_BAD_INPUT, "page", 0, "other", "is not the same sheet");
  if (sheet->status != LZD_OK && fault)
    *fault = sheet->fault;
  return sheet->status;
}
