// SPDX-License-Identifier: GPL-3.0-or-later
// What the sheets share: the page under construction, and words on it.
#ifndef LZR_SHEET_H
#define LZR_SHEET_H

#include <lz_rows.h>
#include <lzd_export.h>
#include <lzd_page.h>

#include "lzr_report.h"

// A sheet being laid out. Strings made with lzr_keep live until it is freed.
typedef struct {
  LzDesk *desk;
  const LzrOptions *options;
  lzd_sheet *page;
  GPtrArray *kept;
} LzrBuild;

typedef void (*LzrLayout)(LzrBuild *build);

// One file per sheet.
void lzr_handover(LzrBuild *build);

// Takes text over and returns it.
const char *lzr_keep(LzrBuild *build, char *text);
const char *lzr_printf(LzrBuild *build, const char *format, ...) G_GNUC_PRINTF(2, 3);

// A paragraph: bold words first, then plain ones (either may be NULL), behind a mark.
void lzr_line(LzrBuild *build, lzd_mark mark, const char *bold, const char *plain);
lzd_mark lzr_band_mark(LzMark mark);
unsigned lzr_water(const LzSystemInfo *info);
// "practice" across the head where the file is one.
void lzr_practice(LzrBuild *build);

#endif
