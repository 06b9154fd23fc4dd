// SPDX-License-Identifier: GPL-3.0-or-later
// A small station in memory for tests of the plan: arrays with room, and one line for each entry.
// Times are given as local wall time in Europe/Berlin, 2027 (summer time 28 March to 31 October).
#ifndef LZT_PLAN_STATION_H
#define LZT_PLAN_STATION_H

#include "lz_engine.h"

#define LZT_MAX_RECORDS 4096

#define MINUTES_EQ(got, want)                                                                      \
  ck_assert_msg((got) == (want), "%lld is %+lld min off", (long long)(got),                        \
                (long long)((got) - (want)))

typedef struct {
  lzq_snapshot snap;
  lzq_system systems[16];
  lzq_tank tanks[32];
  lzq_instrument instruments[4];
  lzq_bottle bottles[4];
  lzq_phase phases[64];
  lzq_protocol protocols[16];
  lzq_lot lots[32];
  lzq_record records[LZT_MAX_RECORDS];
  lzq_slot slots[256];
  lzq_arena arena;
} lzt_station;

lzq_minute lzt_at(int month, int day, int hour, int minute);

void lzt_station_init(lzt_station *s);
void lzt_station_free(lzt_station *s);

// A system with one tank of the same index.
uint32_t lzt_system(lzt_station *s, lzq_role role, double volume_l);
uint32_t lzt_lot(lzt_station *s);
// A protocol of no phases; lzt_phase appends to the newest one.
uint32_t lzt_protocol(lzt_station *s);
lzq_phase *lzt_phase(lzt_station *s, lzq_phase_kind kind);
lzq_band *lzt_band(lzq_phase *phase, lzq_analyte analyte, lzq_side side, double works,
                   double target);
void lzt_bottle(lzt_station *s, lzq_analyte analyte, lzq_form form, double strength);
// Slots on each of n days from that date at the minutes of the day given.
void lzt_slots(lzt_station *s, int month, int day, int n_days, const int *minutes, int n_minutes);

lzq_record *lzt_record(lzt_station *s, lzq_record_kind kind, lzq_minute at);
void lzt_receive(lzt_station *s, uint32_t lot, uint32_t system, int heads, lzq_minute at);
void lzt_course(lzt_station *s, uint32_t lot, uint32_t protocol, uint32_t phase, lzq_minute at);
void lzt_read(lzt_station *s, uint32_t system, lzq_analyte analyte, double value, lzq_minute at);
void lzt_dose(lzt_station *s, uint32_t system, lzq_form form, double mg, lzq_minute at);
void lzt_change(lzt_station *s, uint32_t system, double litres, double copper, double salinity,
                lzq_minute at);
void lzt_move(lzt_station *s, uint32_t lot, uint32_t tank, lzq_minute at);
void lzt_gear(lzt_station *s, uint32_t system, lzq_gear gear, bool on, lzq_minute at);

// Plans in the station's arena (what an earlier call gave stays valid until lzt_station_free); a
// failure is fatal.
const lzq_plan *lzt_plan(lzt_station *s, lzq_minute now);
// The first task of that kind in that system at or after a time, NULL = none.
const lzq_task *lzt_task(const lzq_plan *plan, lzq_task_kind kind, uint32_t system, uint32_t nth);
// The planned end of a phase of a lot (its last segment's end), LZQ_NEVER.
lzq_minute lzt_phase_end(const lzq_plan *plan, uint32_t lot, uint32_t phase);

#endif
