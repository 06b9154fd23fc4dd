// SPDX-License-Identifier: GPL-3.0-or-later
// Driver for Frama-C's Eva: the record put in order, from any few records whose ids rise (what
// lzq_snapshot_check demands) and whose minutes lie within its bound.
#include "lzq_history.h"

#include <string.h>

enum { MOST = 3 };

volatile int any_int;
volatile long long any_minute;
volatile unsigned long long any_bits;

void *
lzq_arena_alloc(lzq_arena *arena, size_t count, size_t size)
{
  (void)arena;
  static uint64_t pool[8][16];
  static unsigned next;
  if (any_int || next >= 8 || count * size > sizeof pool[0])
    return NULL;
  return memset(pool[next++], 0, sizeof pool[0]);
}

static long long
within(long long bound)
{
  const long long minute = any_minute;
  return minute < -bound ? -bound : minute > bound ? bound : minute;
}

void
main(void)
{
  lzq_arena arena = {0};
  lzq_record records[MOST];
  memset(records, 0, sizeof records);
  for (unsigned i = 0; i < MOST; i++) {
    records[i].id = i + 1;
    records[i].corrects = any_bits;
    records[i].voided = any_int ? true : false;
    records[i].kind = (uint8_t)(any_bits % LZQ_N_RECORD_KINDS);
    records[i].at = within((long long)1 << 40);
  }
  const lzq_snapshot snapshot = {.records = records, .n_records = any_bits % (MOST + 1)};
  lzq_history history;
  lzq_history_make(&snapshot, any_bits, any_minute, &arena, &history);
}
