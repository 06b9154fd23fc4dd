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
  uint32_t system;
  lzq_analyte analyte;
  lzq_minute from, to, now;
  GArray *readings;  // LzChartReading, by time
  GPtrArray *events; // LzChartEvent, by time
  GArray *bands;     // LzChartBand, by time: past stays and the plan ahead
  GArray *estimate;  // LzChartPoint: carried by exact mass balance, steps at events, up to now
  GArray *forecast;  // LzChartPoint: from now on
  GArray *target;    // LzChartPoint: the plan's curve (level only)
  GArray *credit;    // LzChartCredit of every lot that stood in the water, by lot, then time
} LzChartData;

LzChartData *lz_chart_data_new(LzDesk *desk, uint32_t system, lzq_analyte analyte, lzq_minute from,
                               lzq_minute to);
void lz_chart_data_free(LzChartData *data);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzChartData, lz_chart_data_free)

// The span worth showing: from the present courses' beginning (at least 7 days) to the plan's end
// (at most 21 days ahead).
void lz_chart_data_span(LzDesk *desk, uint32_t system, lzq_minute *from, lzq_minute *to);

// Where one lot's ribbon runs: segments of the plan joined with the stays of the record.
GArray *lz_lot_segments(LzDesk *desk, uint32_t lot); // lzq_segment, by time

#endif
