// SPDX-License-Identifier: GPL-3.0-or-later
// Prints a sheet through lazaretctl and reads the PDF back with poppler's tools, which know nothing
// of ours.
#ifndef PAPER_H
#define PAPER_H

#include "ctl.h"

typedef struct {
  char *path; // the PDF
  char *flow; // pdftotext as it comes: reading order as poppler finds it
  char *raw;  // pdftotext -raw: the order in which the text stands in the file
  char *rows; // pdftotext -layout: one printed line a line
  int pages;
  double width, height; // pt
} Paper;

// words: "handover --paper letter". Fails the test if it cannot be printed.
Paper *paper_print(Ctl *ctl, const char *format, ...) G_GNUC_PRINTF(2, 3);
void paper_free(Paper *paper);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Paper, paper_free)

// Every font is embedded (pdffonts).
void paper_fonts_are_embedded(const Paper *paper);
// Fails unless each text is there, each after the one before it: NULL at the end.
void paper_in_order(const char *text, ...) G_GNUC_NULL_TERMINATED;
// The first line of `rows` that holds all these texts, newly allocated; NULL if there is none.
char *paper_row(const Paper *paper, ...) G_GNUC_NULL_TERMINATED;
// A line of `rows` with the first text, and the other in it or at most so many lines below (a cell
// that was wrapped).
gboolean paper_near(const Paper *paper, const char *first, const char *then, guint lines);
// Every word lies on its page, and no word on another (of two that meet, the smaller is covered by
// less than a third).
void paper_words_lie_apart(const Paper *paper);
// How far below the top of its page a word stands, pt: the first that is exactly this.
double paper_y(const Paper *paper, const char *word);
// How often a text stands in another.
guint paper_count(const char *text, const char *what);

// A demo station, made once for a test program, and the moment at which it is printed.
Ctl *paper_demo(void);
void paper_demo_free(void);
// "2026-11-25 16:40" in the demo station's zone (UTC): the last minute of its record.
const char *paper_demo_at(void);

#endif
