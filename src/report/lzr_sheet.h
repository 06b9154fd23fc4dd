// SPDX-License-Identifier: GPL-3.0-or-later
// What the sheets share: the page under construction, and words on it.
#ifndef LZR_SHEET_H
#define LZR_SHEET_H

#include <lz_rows.h>
#include <lzd_export.h>
#include <lzd_page.h>

#include "lzr_report.h"

// Lists that may be cut short to bring a sheet onto its page, in the order in which what was left
// out comes back where there is room.
enum { LZR_CUT_CHANGES, LZR_CUT_TASKS, LZR_CUTS };

typedef struct {
  guint most;          // lines, 0 = as many as its density has
  guint shown, wanted; // lines told, and those that there would be
} LzrCut;

// A sheet being laid out. Strings made with lzr_keep live until it is freed.
typedef struct {
  LzDesk *desk;
  const LzrOptions *options;
  lzd_sheet *page;
  GPtrArray *kept;
  GPtrArray *stays; // of every lot, made by the register when it first asks
  struct {
    const char *number, *text, *aside;
  } pending;       // a heading that no line has followed yet
  guint fit_pages; // pages that the sheet should have, 0 = as many as it takes
  int density;     // 0 roomy .. LZR_DENSEST: tried in this order until it fits
  LzrCut cut[LZR_CUTS];
} LzrBuild;

// From 3 on an empty block is one line, from 5 on a heading is; 6 only beside another language.
enum {
  LZR_DENSEST = 6,
  LZR_LINE_FOR_NONE = 3,
  LZR_LINE_FOR_HEADING = 5,
  LZR_SMALLEST_TO_CARRY = 5
};

typedef void (*LzrLayout)(LzrBuild *build);

// One file per sheet.
void lzr_handover(LzrBuild *build);
void lzr_lot_record(LzrBuild *build);
void lzr_tank_card(LzrBuild *build);
void lzr_round(LzrBuild *build);
void lzr_month(LzrBuild *build);
void lzr_register(LzrBuild *build);
void lzr_medicines(LzrBuild *build);
void lzr_claim(LzrBuild *build);
void lzr_take_home(LzrBuild *build);

// Takes text over and returns it.
const char *lzr_keep(LzrBuild *build, char *text);
const char *lzr_printf(LzrBuild *build, const char *format, ...) G_GNUC_PRINTF(2, 3);

// A paragraph: bold words first, then plain ones (either may be NULL), behind a mark.
void lzr_line(LzrBuild *build, lzd_mark mark, const char *bold, const char *plain);
lzd_mark lzr_band_mark(LzMark mark);
unsigned lzr_water(const LzSystemInfo *info);
// A heading that waits for its first line: lzr_none puts the words that say "nothing" beside it
// instead of below it, if no line came. lzr_begin lets it be drawn before a table or a picture.
void lzr_heading(LzrBuild *build, const char *number, const char *text, const char *aside);
void lzr_begin(LzrBuild *build);
void lzr_none(LzrBuild *build, const char *words);

// Title, the station's own header, when it was printed, its number and page x of y; where the file
// is practice, that too. about may be NULL.
void lzr_head(LzrBuild *build, const char *title, const char *about);
// The foot that every sheet with amounts carries.
void lzr_foot(LzrBuild *build, const char *first_words);

// A name before figures: behind Arabic letters 2027-03-01 would be drawn as 01-03-2027.
const char *lzr_name(LzrBuild *build, const char *name);
const char *lzr_initials(LzrBuild *build, LzEntry *entry);
const char *lzr_witness(LzrBuild *build, LzEntry *entry);
// "07:38" on the sheet's own day, else "Tue 24 Nov 07:38".
const char *lzr_short_time(LzrBuild *build, lzq_minute at);
const char *lzr_day(LzrBuild *build, lzq_minute at);    // "2026-11-25"
const char *lzr_minute(LzrBuild *build, lzq_minute at); // "2026-11-25 07:38"
const char *lzr_stamp(LzrBuild *build, LzEntry *entry); // "2026-11-25 07:38", * if corrected
const char *lzr_level(LzrBuild *build, lzq_analyte analyte, double level); // with its unit
const char *lzr_duration_short(LzrBuild *build,
                               int64_t minutes);           // "2 d 6 h", never minutes of days
const char *lzr_or(const char *text, const char *instead); // NULL or "" gives instead
// The name of what a field refers to, "" if it is not set.
const char *lzr_ref(LzrBuild *build, LzEntry *entry, const char *field, const char *kind);
// A code that fits a flag of the sheet, or NULL: it is then told in words.
const char *lzr_flag(const char *code);
// A whole number or an amount of a field; an en dash where it is not set.
const char *lzr_count(LzrBuild *build, LzEntry *entry, const char *field);
const char *lzr_real(LzrBuild *build, LzEntry *entry, const char *field, int decimals);
// What a reading or a dose is of; LZQ_N_ANALYTES if it does not say.
lzq_analyte lzr_reading_analyte(LzEntry *entry);
// Engine index of what a field refers to, LZQ_NONE if it is not set.
uint32_t lzr_index(LzrBuild *build, LzEntry *entry, const char *field, const char *kind);

#endif
