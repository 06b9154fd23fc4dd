// SPDX-License-Identifier: GPL-3.0-or-later
// The walk, from clean to suspicious water, and the order of tasks along it; tests of one analyte
// in one visit are merged. Order of cleanliness: observation before treatment before the sick and
// the newly come (SPC quarantine guidelines: clean to dirty; service of quarantine at the end of
// the day).
#include <stdlib.h>

#include "lzq_contacts.h"
#include "lzq_plan_work.h"

static int
suspicion(const lzq_work *work, uint32_t system)
{
  static const int of_role[LZQ_N_ROLES] = {
      [LZQ_ROLE_DISPLAY] = 0,   [LZQ_ROLE_FINISHING] = 1, [LZQ_ROLE_TREATMENT] = 2,
      [LZQ_ROLE_RECEIVING] = 3, [LZQ_ROLE_ISOLATION] = 4,
  };
  lzq_role role = work->snap->systems[system].role;
  int rank = role < LZQ_N_ROLES ? of_role[role] : 3;
  lzq_minute seen = work->waters[system].sighting_at;
  if (seen != LZQ_LONG_AGO && seen > lzq_contact_since(&work->snap->station, work->now))
    rank += 10;
  return rank;
}

typedef struct {
  int rank;
  int32_t walk;
  uint32_t system;
} lzq_stop;

static int
stop_order(const void *a, const void *b)
{
  const lzq_stop *p = a, *q = b;
  if (p->rank != q->rank)
    return p->rank < q->rank ? -1 : 1;
  if (p->walk != q->walk)
    return p->walk < q->walk ? -1 : 1;
  return p->system < q->system ? -1 : p->system > q->system;
}

void
lzq_walk_order(lzq_work *work)
{
  uint32_t n = work->snap->n_systems;
  lzq_stop *stops = LZQ_NEW(work->arena, lzq_stop, n);
  work->walk = LZQ_NEW(work->arena, int32_t, n);
  if (!stops || !work->walk) {
    work->failed = true;
    return;
  }
  for (uint32_t i = 0; i < n; i++)
    stops[i] = (lzq_stop){suspicion(work, i), work->snap->systems[i].walk, i};
  if (n > 0)
    qsort(stops, n, sizeof *stops, stop_order);
  for (uint32_t i = 0; i < n; i++)
    work->walk[stops[i].system] = (int32_t)i;
}

static int
kind_rank(lzq_task_kind kind)
{
  switch (kind) {
  case LZQ_TASK_CALIBRATE: return -1;
  case LZQ_TASK_INSPECT: return 0;
  case LZQ_TASK_TEST: return 1;
  case LZQ_TASK_ACCEPT: return 2;
  case LZQ_TASK_SIGN: return 3;
  case LZQ_TASK_GEAR: return 4;
  case LZQ_TASK_CHANGE: return 5;
  case LZQ_TASK_SALT: return 6;
  case LZQ_TASK_TOPUP: return 7;
  case LZQ_TASK_DOSE: return 8;
  default: return 9 + (int)kind;
  }
}

// What harms the fish now goes before everything else of its minute, tests and what is late; and a
// tank is filled before the fish come into it, wherever on the walk they stand.
static int
urgency(const lzq_task *task)
{
  if (task->kind == LZQ_TASK_FILL)
    return 1;
  if (task->kind == LZQ_TASK_CHANGE && task->because.code == LZQ_BECAUSE_HARM)
    return 0;
  return task->state == LZQ_TASK_LATE ? 1 : task->state == LZQ_TASK_BLOCKED ? 2 : 3;
}

static int
compare(int64_t a, int64_t b)
{
  return a < b ? -1 : a > b;
}

static int
task_order(const void *a, const void *b)
{
  const lzq_task *p = a, *q = b;
  int c = compare(p->at, q->at);
  if (c == 0)
    c = compare(urgency(p), urgency(q));
  if (c == 0)
    c = compare(p->walk, q->walk);
  if (c == 0)
    c = compare(kind_rank(p->kind), kind_rank(q->kind));
  if (c == 0)
    c = compare(p->analyte, q->analyte);
  if (c == 0)
    c = compare(p->system, q->system);
  if (c == 0)
    c = compare(p->lot, q->lot);
  if (c == 0)
    c = compare(p->gear, q->gear);
  if (c == 0)
    c = compare(p->instrument, q->instrument);
  return c != 0 ? c : compare(p->because.code, q->because.code);
}

// Two tests of one analyte in one visit are one: the earlier deadline and the weightier reason
// stay.
static bool
merges(lzq_task *kept, const lzq_task *next)
{
  if (kept->kind != LZQ_TASK_TEST || next->kind != LZQ_TASK_TEST || kept->at != next->at ||
      kept->system != next->system || kept->analyte != next->analyte)
    return false;
  if (next->deadline < kept->deadline)
    kept->deadline = next->deadline;
  if (kept->because.code == LZQ_BECAUSE_TEST_RHYTHM)
    kept->because = next->because;
  if (urgency(next) < urgency(kept))
    kept->state = next->state;
  return true;
}

void
lzq_tasks_sort(lzq_task *tasks, uint32_t n)
{
  qsort(tasks, n, sizeof *tasks, task_order);
}

void
lzq_tasks_order(lzq_work *work)
{
  if (work->n_tasks == 0)
    return;
  lzq_tasks_sort(work->tasks, work->n_tasks);
  uint32_t n = 1;
  for (uint32_t i = 1; i < work->n_tasks; i++)
    if (!merges(&work->tasks[n - 1], &work->tasks[i]))
      work->tasks[n++] = work->tasks[i];
  work->n_tasks = n;
}
