// SPDX-License-Identifier: GPL-3.0-or-later
// Builds small stations for tests of the plan.
#include "plan_station.h"

#include <check.h>
#include <math.h>
#include <string.h>

static int64_t
day_number(int year, int month, int day)
{
  // days since 1970-01-01 of the proleptic Gregorian calendar
  int y = month <= 2 ? year - 1 : year;
  int era = y / 400, yoe = y - era * 400;
  int doy = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
  int doe = yoe * 365 + yoe / 4 - yoe / 100 + doy;
  return (int64_t)era * 146097 + doe - 719468;
}

lzq_minute
lzt_at(int month, int day, int hour, int minute)
{
  lzq_minute local = day_number(2027, month, day) * LZQ_DAY + hour * 60 + minute;
  lzq_minute summer = day_number(2027, 3, 28) * LZQ_DAY + 60; // UTC
  lzq_minute winter = day_number(2027, 10, 31) * LZQ_DAY + 60;
  return local - 60 >= summer && local - 120 < winter ? local - 120 : local - 60;
}

void
lzt_station_init(lzt_station *s)
{
  memset(s, 0, sizeof *s);
  s->snap.systems = s->systems;
  s->snap.tanks = s->tanks;
  s->snap.instruments = s->instruments;
  s->snap.bottles = s->bottles;
  s->snap.phases = s->phases;
  s->snap.protocols = s->protocols;
  s->snap.lots = s->lots;
  s->snap.records = s->records;
  s->snap.slots = s->slots;
  s->snap.station = (lzq_station){
      .trust_unchecked = true, .accept_max_min = 0, .contact_days = 14, .copper_limit = 0.21};
  s->instruments[0] = (lzq_instrument){.sees_forms = 0xff, .resolution = 0.001};
  s->snap.n_instruments = 1;
  lzq_arena_init(&s->arena, lzq_allocator_libc(), 0);
}

void
lzt_station_free(lzt_station *s)
{
  lzq_arena_free(&s->arena);
}

uint32_t
lzt_system(lzt_station *s, lzq_role role, double volume_l)
{
  uint32_t i = s->snap.n_systems++;
  s->systems[i] = (lzq_system){.volume_l = volume_l,
                               .role = role,
                               .walk = (int32_t)i,
                               .mixing_min = 60,
                               .max_change_day = 0.5,
                               .source_salinity = 34};
  s->tanks[i] = (lzq_tank){.system = i, .volume_l = volume_l, .number = (int32_t)i + 1};
  s->snap.n_tanks = i + 1;
  return i;
}

uint32_t
lzt_lot(lzt_station *s)
{
  s->lots[s->snap.n_lots].mean_mass_g = 10;
  return s->snap.n_lots++;
}

uint32_t
lzt_protocol(lzt_station *s)
{
  uint32_t i = s->snap.n_protocols++;
  s->protocols[i] = (lzq_protocol){.first_phase = s->snap.n_phases, .family = i, .version = 1};
  return i;
}

lzq_phase *
lzt_phase(lzt_station *s, lzq_phase_kind kind)
{
  lzq_protocol *protocol = &s->protocols[s->snap.n_protocols - 1];
  lzq_phase *phase = &s->phases[s->snap.n_phases++];
  *phase = (lzq_phase){.kind = kind,
                       .lapse_min = -1,
                       .sighting_to = protocol->n_phases,
                       .rise_per_day = NAN,
                       .salinity_fall_day = NAN,
                       .salinity_rise_day = NAN,
                       .salinity_step = NAN,
                       .tol_copper = NAN,
                       .tol_salinity = NAN,
                       .tol_temperature = NAN,
                       .tol_ph = NAN,
                       .tol_copper_free = 0.02};
  protocol->n_phases++;
  return phase;
}

lzq_band *
lzt_band(lzq_phase *phase, lzq_analyte analyte, lzq_side side, double works, double target)
{
  lzq_band *band = &phase->bands[phase->n_bands++];
  *band = (lzq_band){.analyte = analyte,
                     .side = side,
                     .works = works,
                     .works_high = NAN,
                     .target = target,
                     .plan = NAN,
                     .harm = NAN,
                     .gap_min = LZQ_DAY};
  return band;
}

void
lzt_bottle(lzt_station *s, lzq_analyte analyte, lzq_form form, double strength)
{
  s->bottles[s->snap.n_bottles++] = (lzq_bottle){analyte, form, strength, 0};
}

void
lzt_slots(lzt_station *s, int month, int day, int n_days, const int *minutes, int n_minutes)
{
  s->snap.n_slots = 0;
  for (int i = 0; i < n_days; i++)
    for (int j = 0; j < n_minutes; j++)
      s->slots[s->snap.n_slots++] =
          (lzq_slot){lzt_at(month, day + i, minutes[j] / 60, minutes[j] % 60), i, true};
}

lzq_record *
lzt_record(lzt_station *s, lzq_record_kind kind, lzq_minute at)
{
  ck_assert_uint_lt(s->snap.n_records, LZT_MAX_RECORDS);
  lzq_record *r = &s->records[s->snap.n_records++];
  *r = (lzq_record){.id = s->snap.n_records,
                    .kind = (uint8_t)kind,
                    .at = at,
                    .error = NAN,
                    .new_copper = NAN,
                    .new_salinity = NAN,
                    .bottle = LZQ_NONE};
  return r;
}

void
lzt_receive(lzt_station *s, uint32_t lot, uint32_t system, int heads, lzq_minute at)
{
  lzq_record *r = lzt_record(s, LZQ_REC_RECEIVE, at);
  r->lot = lot;
  r->tank = system;
  r->heads = heads;
}

void
lzt_course(lzt_station *s, uint32_t lot, uint32_t protocol, uint32_t phase, lzq_minute at)
{
  lzq_record *r = lzt_record(s, LZQ_REC_COURSE, at);
  r->lot = lot;
  r->protocol = protocol;
  r->phase = phase;
}

void
lzt_read(lzt_station *s, uint32_t system, lzq_analyte analyte, double value, lzq_minute at)
{
  lzq_record *r = lzt_record(s, LZQ_REC_READING, at);
  r->system = system;
  r->analyte = (uint8_t)analyte;
  r->value = value;
  r->error = 0;
}

void
lzt_dose(lzt_station *s, uint32_t system, lzq_form form, double mg, lzq_minute at)
{
  lzq_record *r = lzt_record(s, LZQ_REC_DOSE, at);
  r->system = system;
  r->analyte = LZQ_COPPER;
  r->form = (uint8_t)form;
  r->amount = mg;
  r->bottle = 0;
}

void
lzt_change(lzt_station *s, uint32_t system, double litres, double copper, double salinity,
           lzq_minute at)
{
  lzq_record *r = lzt_record(s, LZQ_REC_CHANGE, at);
  r->system = system;
  r->amount = litres;
  r->new_copper = copper;
  r->new_salinity = salinity;
}

void
lzt_move(lzt_station *s, uint32_t lot, uint32_t tank, lzq_minute at)
{
  lzq_record *r = lzt_record(s, LZQ_REC_MOVE, at);
  r->lot = lot;
  r->tank = tank;
}

void
lzt_gear(lzt_station *s, uint32_t system, lzq_gear gear, bool on, lzq_minute at)
{
  lzq_record *r = lzt_record(s, LZQ_REC_GEAR, at);
  r->system = system;
  r->gear = (uint8_t)gear;
  r->ok = on;
}

const lzq_plan *
lzt_plan(lzt_station *s, lzq_minute now)
{
  const lzq_plan *plan = NULL;
  lzq_fault fault = {0};
  lzq_status status = lzq_plan_make(&s->snap, now, &s->arena, &plan, &fault);
  ck_assert_msg(status == LZQ_OK, "plan: %s, %s of %u is %g", lzq_status_name(status),
                fault.field ? fault.field : "?", fault.index, fault.value);
  return plan;
}

const lzq_task *
lzt_task(const lzq_plan *plan, lzq_task_kind kind, uint32_t system, uint32_t nth)
{
  for (uint32_t i = 0; i < plan->n_tasks; i++)
    if (plan->tasks[i].kind == kind && plan->tasks[i].system == system && nth-- == 0)
      return &plan->tasks[i];
  return NULL;
}

lzq_minute
lzt_phase_end(const lzq_plan *plan, uint32_t lot, uint32_t phase)
{
  lzq_minute end = LZQ_NEVER;
  for (uint32_t i = 0; i < plan->lots[lot].n_segments; i++)
    if (plan->lots[lot].segments[i].phase == phase)
      end = plan->lots[lot].segments[i].end;
  return end;
}
