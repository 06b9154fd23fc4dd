// SPDX-License-Identifier: GPL-3.0-or-later
// Files: a sheet as PDF, a drawing as PNG, SVG or PDF. Equal input gives equal bytes, so a page can
// be compared. A file is written beside its name and renamed: a failure leaves no half file.
#ifndef LZD_EXPORT_H
#define LZD_EXPORT_H

#include "lzd_page.h"

typedef struct {
  const char *title;   // may be NULL
  const char *author;  // may be NULL
  const char *subject; // may be NULL
  const char *created; // ISO 8601, "2027-03-09T17:32:00Z"; handed in, never the clock's
} lzd_meta;

// path in the file system's encoding.
lzd_status lzd_sheet_write_pdf(lzd_sheet *sheet, const char *path, const lzd_meta *meta,
                               lzd_fault *fault);

typedef enum { LZD_PNG, LZD_SVG, LZD_PDF } lzd_format;

// Draws once by draw(cr, look, width, height, data). PNG: `scale` pixels per unit. The background
// is filled first.
lzd_status lzd_export(const char *path, lzd_format format, double width, double height,
                      double scale, const lzd_look *look, lzd_block_draw draw, const void *data,
                      const lzd_meta *meta, lzd_fault *fault);

#endif
