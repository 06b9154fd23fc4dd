// SPDX-License-Identifier: GPL-3.0-or-later
// What a chart of one water shows for one analyte, as plain arrays that app and report hand to the
// drawing layer. Everything is by minute and canonical level; nothing here knows about pixels.
#ifndef LZ_CHART_DATA_H
#define LZ_CHART_DATA_H

#include "lz_desk.h"

typedef struct {
  lzq_minute at;
  double value, error; // error NAN = not known
  uint32_t instrument; // LZQ_NONE
  gboolean suspect;    // flagged, or its instrument is
  gboolean wrong_form; // a method that does not see the form in that water
  int64_t id;
} LzChartReading;

typedef enum {
  LZ_CHART_DOSE,
  LZ_CHART_CHANGE,
  LZ_CHART_TOPUP,
  LZ_CHART_MOVE_IN,
  LZ_CHART_MOVE_OUT,
  LZ_CHART_SIGHTING,
  LZ_CHART_DEATH,
  LZ_CHART_GEAR,
} LzChartEventKind;

typedef struct {
  lzq_minute at;
  LzChartEventKind kind;
  gboolean planned; // a task of the plan
  double amount;    // mL, litres, heads
  uint32_t lot;     // LZQ_NONE
  int64_t id;       // entry, 0 if planned
  char *words;      // finished: "68.4 mL"
} LzChartEvent;

typedef struct {
  lzq_minute from, to;
  lzq_band band; // edges in force
} LzChartBand;

typedef struct {
  lzq_minute at;
  double level;     // NAN = unknown from here on
  double low, high; // 80 % interval; equal to level where none is known
} LzChartPoint;

typedef struct {
  lzq_minute from, to;
  enum { LZ_CREDIT_SERVED, LZ_CREDIT_OPEN, LZ_CREDIT_NOT, LZ_CREDIT_AHEAD } kind;
  uint32_t lot;
} LzChartCredit;

typedef struct {
  uint32_t system, tank; // tank LZQ_NONE = the whole water
  lzq_analyte analyte;
  lzq_minute from, to, now;
  GArray *readings;  // LzChartReading, by time
  GPtrArray *events; // LzChartEvent, by time
  GArray *bands;     // LzChartBand, by time: past stays and the plan ahead
  GArray *estimate;  // LzChartPoint: the filter's, with a point before and after each event, to now
  GArray *carried; // LzChartPoint: exact mass balance with no loss assumed, from reading to reading
  GArray *forecast; // LzChartPoint: from now on if nothing is done, at most 14 days
  GArray *target;   // LzChartPoint: the plan's curve (level only)
  GArray *credit;   // LzChartCredit of every lot that stood in the water, by lot, then time;
                    // lots that stand there now come first
  // When the level leaves the band of now across `exit_edge` (10, 50, 90 % chance); LZQ_NEVER = not
  // within 14 days, or no band, or an analyte that nothing models. At `now`: it may be out already.
  lzq_minute exit_low, exit_likely, exit_high;
  double exit_edge;    // NAN = no band
  gboolean exit_above; // upwards
  double beyond_now;   // chance that it lies beyond the edge now, NAN
} LzChartData;

// Estimate and forecast are there for what an estimator models (copper, salinity, temperature,
// dosed medicines); other analytes have readings only. Never NULL.
LzChartData *lz_chart_data_new(LzDesk *desk, uint32_t system, lzq_analyte analyte, lzq_minute from,
                               lzq_minute to);
// The same for one tank: the water is its system's, events and credit are those of the lots that
// stood in it, and a lot that comes from the tank beside it comes in.
LzChartData *lz_chart_data_of_tank(LzDesk *desk, uint32_t system, uint32_t tank,
                                   lzq_analyte analyte, lzq_minute from, lzq_minute to);
void lz_chart_data_free(LzChartData *data);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzChartData, lz_chart_data_free)

// The span worth showing: from the present courses' beginning (at least 7 days) to the plan's end
// (at most 21 days ahead).
void lz_chart_data_span(LzDesk *desk, uint32_t system, lzq_minute *from, lzq_minute *to);

// Day one of a lot's present or last course; LZQ_NEVER = it was never on one.
lzq_minute lz_lot_course_start(LzDesk *desk, uint32_t lot);
// Which calendar day of it this is: its first day is 1, and the day on which it was set back is 1
// again; a part has the day of the lot that it comes from. 0 = it was never on one.
int lz_lot_course_day(LzDesk *desk, uint32_t lot);

// What was ever read in a water: bit 1u << analyte.
uint32_t lz_chart_read_analytes(LzDesk *desk, uint32_t system);

// Where one lot's ribbon runs: segments of the plan joined with the stays of the record.
GArray *lz_lot_segments(LzDesk *desk, uint32_t lot); // lzq_segment, by time
// The same for many lots: where all of them stood is one walk over what moved them, made once and
// handed to each; nobody changes it.
GArray *lz_lots_stays(LzDesk *desk);
// Where a lot stood by the record alone, by time, to = LZQ_NEVER = it stands there still; it ends
// with its last fish, its release or its merge. LzLotStay elements.
typedef struct {
  uint32_t system, tank;
  lzq_minute from, to;
} LzLotStay;
GArray *lz_lot_stays(LzDesk *desk, uint32_t lot);
GArray *lz_lot_segments_in(LzDesk *desk, uint32_t lot, const GArray *stays);

#endif
