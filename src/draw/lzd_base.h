// SPDX-License-Identifier: GPL-3.0-or-later
// What a call of the draw layer answers, and the look that every drawing shares.
// The layer knows cairo and Pango and nothing of ours: it receives finished strings and plain
// arrays, and draws the same on a screen, on paper and in a test. It keeps no state between calls.
#ifndef LZD_BASE_H
#define LZD_BASE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <cairo.h>

#include "lzd_palette.h"

typedef enum {
  LZD_OK = 0,
  LZD_NO_MEMORY, // malloc said no; what was handed in is unchanged
  LZD_BAD_INPUT, // the description breaks a rule of its header; lzd_fault says which and where
  LZD_NO_OUTPUT, // cairo or the file refused; lzd_fault.reason carries cairo's words
} lzd_status;

// Place and reason of a failure. All strings are static ASCII; the desk and above make sentences.
typedef struct {
  const char *where;  // the structure: "chart", "panel", "band", "reading", "page", "file" ...
  size_t index;       // in the array of that structure
  const char *field;  // the field's name, "" where the whole is meant
  const char *reason; // "from is not before to", "not in order of time", ...
} lzd_fault;

// Fills *fault (may be NULL) and returns `status`.
lzd_status lzd_fail(lzd_fault *fault, lzd_status status, const char *where, size_t index,
                    const char *field, const char *reason);

// Everything that is the same for a whole screen or page. Zero-initialise, then set `palette`.
typedef struct {
  const lzd_palette *palette; // never NULL
  double text_scale;          // 1 = the sizes of design; 2 = text at 200 %; 0 is read as 1
  double unit_scale;          // pixels per design pixel of lines and marks; 0 is read as 1
  bool mirrored;              // right-to-left: gutters right, time runs from right to left
  char decimal;               // '.' or ','; 0 is read as '.'
} lzd_look;

// Text scale and unit scale with 0 read as 1.
double lzd_look_text(const lzd_look *look);
double lzd_look_unit(const lzd_look *look);

// A moment is a whole minute since 1970-01-01 00:00 UTC; zones are not this layer's business.
typedef int64_t lzd_minute;
#define LZD_NEVER INT64_MAX // "no such moment" where a header allows it

typedef struct {
  double x, y, w, h;
} lzd_rect;

bool lzd_rect_has(lzd_rect rect, double x, double y);

#endif
