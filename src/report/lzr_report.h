// SPDX-License-Identifier: GPL-3.0-or-later
// Printed sheets. A sheet is laid out once into pages; the window's preview, the printer
// (GtkPrintOperation) and the PDF are three callers that draw the same pages on any cairo_t.
// Equal input, time and font version give byte-identical PDFs.
#ifndef LZR_REPORT_H
#define LZR_REPORT_H

#include <cairo.h>
#include <lz_desk.h>

typedef struct {
  const char *name;  // "handover": what the command line calls it
  const char *title; // translated
  const char *about; // "", "system", "lot", "shipment", "volume": what must be named to print it
  gboolean range;    // takes from and until
} LzrSheet;

// All sheets, in the order of a menu.
const LzrSheet *lzr_sheets(guint *n);

typedef enum { LZR_A4, LZR_LETTER } LzrPaper;

typedef struct {
  LzrPaper paper;
  uint32_t system, lot;   // engine index, LZQ_NONE = not said
  lzq_minute from, until; // 0 = the sheet's own (a handover: since the shift before began)
  guint number;           // printed sheet number, 0 = none yet
  int64_t shipment;       // ledger id, 0 = not said
  double volume_l;        // take-home: the customer's net litres, 0 = not said
  double strength_mg_ml;  // take-home: mg of copper (as metal) in 1 mL, 0 = not said
  int64_t protocol;       // take-home: ledger id of the one it follows, 0 = the usual course
  const char *also;       // code of a second language to stand beside the first, NULL = none
} LzrOptions;

typedef struct _LzrPages LzrPages;

// Lays the sheet out from the desk's present plan (open the desk with a fixed clock for another
// moment). LZ_DESK_ERROR_USAGE: no such sheet, or what it is about is missing.
LzrPages *lzr_make(LzDesk *desk, const char *sheet, const LzrOptions *options, GError **error);
void lzr_pages_free(LzrPages *pages);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzrPages, lzr_pages_free)

guint lzr_pages_count(const LzrPages *pages);
void lzr_pages_size(const LzrPages *pages, double *width_pt, double *height_pt);
// Page n (from 0) at 1 unit = 1 pt, origin at the paper's corner.
void lzr_pages_draw(const LzrPages *pages, guint n, cairo_t *cr);
// All pages as PDF. LZ_DESK_ERROR_IO.
gboolean lzr_pages_pdf(const LzrPages *pages, const char *path, GError **error);

#endif
