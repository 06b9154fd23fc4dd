// SPDX-License-Identifier: GPL-3.0-or-later
// libFuzzer target: no snapshot, however malformed, makes the engine crash, hang or take memory
// without bound. The first 8 bytes draw a sound station; each further 8 bytes overwrite bytes of
// one of its items, so that the fuzzer reaches behind the check as well as into it. Only what no
// caller in C can hand over is kept out: truth values other than 0 and 1, and arrays shorter than
// their counts.
#include <stdlib.h>
#include <string.h>

#include "lz_engine.h"
#include "random_station.h"

#define MOST_BYTES (64u << 20) // an answer beyond this is refused, never taken

typedef struct {
  void *items;
  size_t size, n;
} target;

static lzt_history history;

// Any byte of a truth value becomes 0 or 1.
static void
make_true_or_false(bool *flag)
{
  unsigned char byte;
  memcpy(&byte, flag, 1);
  byte &= 1;
  memcpy(flag, &byte, 1);
}

static void
repair(void)
{
  make_true_or_false(&history.snap.station.last_in);
  make_true_or_false(&history.snap.station.trust_unchecked);
  for (size_t i = 0; i < LZT_MOST_PHASES; i++) {
    make_true_or_false(&history.phases[i].reach);
    make_true_or_false(&history.phases[i].copper_free);
    for (int b = 0; b < LZQ_MAX_BANDS; b++)
      make_true_or_false(&history.phases[i].bands[b].error_inside);
  }
  for (size_t i = 0; i < LZT_MOST_RECORDS; i++) {
    make_true_or_false(&history.records[i].voided);
    make_true_or_false(&history.records[i].suspect);
    make_true_or_false(&history.records[i].ok);
    make_true_or_false(&history.records[i].drip);
    make_true_or_false(&history.records[i].keep);
  }
}

// which, item, where (2 bytes), up to 4 new bytes.
static void
overwrite(const uint8_t *bytes)
{
  static const uint8_t counts = 200; // of 256: whole arrays shortened
  target targets[] = {
      {history.records, sizeof(lzq_record), history.snap.n_records},
      {history.records, sizeof(lzq_record), history.snap.n_records},
      {history.records, sizeof(lzq_record), history.snap.n_records},
      {history.phases, sizeof(lzq_phase), history.snap.n_phases},
      {history.protocols, sizeof(lzq_protocol), history.snap.n_protocols},
      {history.systems, sizeof(lzq_system), history.snap.n_systems},
      {history.tanks, sizeof(lzq_tank), history.snap.n_tanks},
      {history.instruments, sizeof(lzq_instrument), history.snap.n_instruments},
      {&history.snap.station, sizeof(lzq_station), 1},
      {&history.until, sizeof history.until, 1},
      {&history.known_id, sizeof history.known_id, 1},
  };
  if (bytes[0] >= counts) {
    uint32_t *n[] = {&history.snap.n_lots,      &history.snap.n_tanks,
                     &history.snap.n_systems,   &history.snap.n_phases,
                     &history.snap.n_protocols, &history.snap.n_instruments};
    uint32_t *one = n[bytes[0] % 6];
    *one = *one ? *one - 1 : 0;
    return;
  }
  target *t = &targets[bytes[0] % (sizeof targets / sizeof *targets)];
  if (t->n == 0)
    return;
  size_t at = (bytes[2] | (size_t)bytes[3] << 8) % t->size;
  size_t width = t->size - at < 4 ? t->size - at : 4;
  memcpy((char *)t->items + bytes[1] % t->n * t->size + at, bytes + 4, width);
}

// The whole of an answer is read, so that a sanitizer sees what it points to.
static uint64_t
read_all(const lzq_credit *credit)
{
  uint64_t sum = 0;
  for (uint32_t i = 0; i < credit->n_lots; i++) {
    for (uint32_t k = 0; k < credit->lots[i].n_visits; k++)
      sum += (uint64_t)credit->lots[i].visits[k].credit_min;
    for (uint32_t k = 0; k < credit->lots[i].n_spans; k++)
      sum += credit->lots[i].spans[k].why;
  }
  return sum;
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

int
LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
  uint64_t seed = 0;
  lzt_prng prng;
  lzq_arena arena;
  lzq_fault fault;
  const lzq_credit *credit = NULL;
  memcpy(&seed, bytes, size < 8 ? size : 8);
  lzt_prng_seed(&prng, seed);
  lzt_wish wish = lzt_wish_ordinary(&prng);
  lzt_random_station(seed, &wish, &history);
  for (size_t at = 8; at + 8 <= size; at += 8)
    overwrite(bytes + at);
  repair();
  if (lzq_snapshot_check(&history.snap, &fault) != LZQ_OK)
    return 0;
  lzq_arena_init(&arena, lzq_allocator_libc(), MOST_BYTES);
  lzq_status status =
      lzq_credit_run(&history.snap, history.known_id, history.until, &arena, &credit, &fault);
  if ((status == LZQ_OK) != (credit != NULL))
    abort();
  if (credit && read_all(credit) == 1)
    lzq_arena_reset(&arena);
  const lzq_plan *plan = NULL;
  lzq_arena_reset(&arena);
  status = lzq_plan_make(&history.snap, history.until, &arena, &plan, &fault);
  if ((status == LZQ_OK) != (plan != NULL))
    abort();
  lzq_arena_free(&arena);
  return 0;
}
