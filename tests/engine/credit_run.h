// SPDX-License-Identifier: GPL-3.0-or-later
// Runs the engine's credit over a built station, and says where a test's credit is not what it
// should be.
#ifndef LZT_CREDIT_RUN_H
#define LZT_CREDIT_RUN_H

#include <check.h>

#include "station_builder.h"

// One run at a time: the next one gives the memory of the last back.
static lzq_arena credit_arena;

static inline const lzq_credit *
run_known(const lzb_station *station, uint64_t known_id, lzq_minute until)
{
  const lzq_credit *credit = NULL;
  lzq_fault fault = {0};
  lzq_arena_free(&credit_arena);
  lzq_arena_init(&credit_arena, lzq_allocator_libc(), 0);
  lzq_status status =
      lzq_credit_run(&station->snapshot, known_id, until, &credit_arena, &credit, &fault);
  ck_assert_msg(status == LZQ_OK, "%s: %s of %u", lzq_status_name(status),
                fault.field ? fault.field : "-", fault.index);
  return credit;
}

static inline const lzq_lot_credit *
run_lot(const lzb_station *station, uint32_t lot, lzq_minute until)
{
  return &run_known(station, UINT64_MAX, until)->lots[lot];
}

// Minutes without credit of one cause in a visit.
static inline int64_t
minutes_lost(const lzq_lot_credit *lot, uint32_t visit, lzq_why why)
{
  int64_t sum = 0;
  for (uint32_t i = 0; i < lot->n_spans; i++)
    if (lot->spans[i].visit == visit && lot->spans[i].why == why)
      sum += lot->spans[i].to - lot->spans[i].from;
  return sum;
}

#endif
