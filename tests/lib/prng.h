// SPDX-License-Identifier: GPL-3.0-or-later
// Pseudo-random numbers for tests: xoshiro256** seeded by splitmix64 (Blackman and Vigna, 2018).
// The same seed gives the same numbers on every machine, so that a printed seed is a case.
#ifndef LZT_PRNG_H
#define LZT_PRNG_H

#include <stdbool.h>
#include <stdint.h>

typedef struct {
  uint64_t s[4];
} lzt_prng;

// One step of splitmix64: advances *state and returns the next number.
uint64_t lzt_splitmix64(uint64_t *state);

void lzt_prng_seed(lzt_prng *prng, uint64_t seed);

uint64_t lzt_prng_next(lzt_prng *prng);

// A whole number from low to high, both included. The tiny bias of a remainder does not matter
// here.
int64_t lzt_prng_range(lzt_prng *prng, int64_t low, int64_t high);

// A real number in [low, high).
double lzt_prng_real(lzt_prng *prng, double low, double high);

// True with the given chance.
bool lzt_prng_chance(lzt_prng *prng, double chance);

#endif
