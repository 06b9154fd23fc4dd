// SPDX-License-Identifier: GPL-3.0-or-later
// The signs: every mark that stands for a state, an instrument or an act, and the three drawn
// things basin, pennant and walk cord. docs/draw.md shows and names them all.
#ifndef LZD_MARKS_H
#define LZD_MARKS_H

#include "lzd_base.h"

typedef enum {
  LZD_MARK_NONE,
  // band mark: two rails and a sign
  LZD_BAND_IN,
  LZD_BAND_EDGE_HIGH,
  LZD_BAND_EDGE_LOW,
  LZD_BAND_HIGH,
  LZD_BAND_LOW,
  LZD_BAND_OLD,
  LZD_BAND_SUSPECT,
  LZD_BAND_UNKNOWN, // never read: rails only
  // tasks
  LZD_TASK_LATE,        // hourglass
  LZD_TASK_BLOCKED,     // barred gate; in alarm colour it says stop
  LZD_TASK_DUE,         // ring
  LZD_TASK_NOW,         // solid arrow
  LZD_TASK_DONE,        // tick
  LZD_TASK_NOT_STARTED, // empty square
  LZD_TASK_CONFLICT,    // two wedges meeting: no water serves both
  // readings, by instrument
  LZD_READ_DISC,     // photometer
  LZD_READ_SQUARE,   // drop test
  LZD_READ_DIAMOND,  // refractometer
  LZD_READ_TRIANGLE, // conductivity meter
  LZD_READ_CROSS,    // wrong form of copper: kept, never joined
  LZD_READ_BAR,      // any other instrument: a short bar
  // rail
  LZD_RAIL_DOSE,   // drop
  LZD_RAIL_CHANGE, // trough
  LZD_RAIL_MOVE,   // arrow-flag
  LZD_RAIL_SEEN,   // eye
  LZD_RAIL_DEAD,   // cross
  LZD_RAIL_FED,    // three grains
  LZD_RAIL_NOTE,   // flag on a pole: equipment, protocol, remark
  LZD_MARKS
} lzd_mark;

typedef enum {
  LZD_PLAIN,
  LZD_HOLLOW,  // planned (rail), ghost
  LZD_SUSPECT, // hollow with a slash, in alarm colour
} lzd_mark_state;

// Draws a mark centred on (x, y) inside a square of `size` pixels (the size of its design is 16 for
// rows, 48 for what is read from afar, 9 for a reading on a chart).
void lzd_mark_draw(cairo_t *cr, const lzd_look *look, lzd_mark mark, lzd_mark_state state,
                   lzd_role role, double x, double y, double size);
// The role a mark has by itself: alarm for high, low, late, suspect and conflict, else text
// (accent for now).
lzd_role lzd_mark_role(lzd_mark mark, lzd_mark_state state);
// A static ASCII name for tests and the gallery.
const char *lzd_mark_name(lzd_mark mark);

// What a basin's base says about its water. Bits.
enum { LZD_WATER_PLAIN = 0, LZD_WATER_COPPER = 1, LZD_WATER_LOW_SALT = 2 };

// A trough with the name inside. rect is the trough with its base; the dashed under-line for low
// salinity hangs 4 px below it. Measures nothing: lzd_basin_width says how wide the name needs.
void lzd_basin_draw(cairo_t *cr, const lzd_look *look, lzd_rect rect, unsigned water,
                    const char *name, double size);
double lzd_basin_width(const lzd_look *look, const char *name, double size);

typedef struct {
  const char *above;  // tank number
  const char *inside; // heads
  bool strong;
} lzd_cell_text;
// A basin divided into cells, one per tank, number above and heads inside; rect is the trough.
void lzd_basin_cells(cairo_t *cr, const lzd_look *look, lzd_rect rect, unsigned water,
                     const lzd_cell_text *cells, size_t n_cells);

typedef enum { LZD_PENNANT_SOLID, LZD_PENNANT_OUTLINE, LZD_PENNANT_WHAT_IF } lzd_pennant;
// A swallow-tailed flag with a lot's name.
void lzd_pennant_draw(cairo_t *cr, const lzd_look *look, lzd_rect rect, lzd_pennant kind,
                      const char *name, double size);
double lzd_pennant_width(const lzd_look *look, const char *name, double size);

typedef enum {
  LZD_KNOT_NEW_WATER,  // filled
  LZD_KNOT_SAME_WATER, // hollow
  LZD_KNOT_NOW,        // arrow
  LZD_KNOT_NONE,       // cord only
  LZD_KNOT_OFF_WALK,   // dotted cord: late, blocked
} lzd_knot;
// One row's piece of the cord, from y0 to y1 at x, its knot at the middle.
void lzd_cord_draw(cairo_t *cr, const lzd_look *look, lzd_knot knot, double x, double y0,
                   double y1);

// A bar of room: filled to value, limit as a tick, what is over it in alarm colour. All >= 0.
void lzd_room_bar(cairo_t *cr, const lzd_look *look, lzd_rect rect, double value, double limit,
                  double most);

#endif
