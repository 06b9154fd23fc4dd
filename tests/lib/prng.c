// SPDX-License-Identifier: GPL-3.0-or-later
// xoshiro256** and splitmix64, from the authors' description; published vectors in test_prng.c.
#include "prng.h"

uint64_t
lzt_splitmix64(uint64_t *state)
{
  uint64_t z = (*state += 0x9e3779b97f4a7c15u);
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return z ^ (z >> 31);
}

void
lzt_prng_seed(lzt_prng *prng, uint64_t seed)
{
  for (int i = 0; i < 4; i++)
    prng->s[i] = lzt_splitmix64(&seed);
}

static uint64_t
rotate(uint64_t x, int k)
{
  return (x << k) | (x >> (64 - k));
}

uint64_t
lzt_prng_next(lzt_prng *prng)
{
  uint64_t *s = prng->s, result = rotate(s[1] * 5, 7) * 9, t = s[1] << 17;
  s[2] ^= s[0];
  s[3] ^= s[1];
  s[1] ^= s[2];
  s[0] ^= s[3];
  s[2] ^= t;
  s[3] = rotate(s[3], 45);
  return result;
}

int64_t
lzt_prng_range(lzt_prng *prng, int64_t low, int64_t high)
{
  uint64_t span = (uint64_t)(high - low) + 1;
  return low + (int64_t)((lzt_prng_next(prng) >> 11) % span);
}

double
lzt_prng_real(lzt_prng *prng, double low, double high)
{
  return low + (high - low) * ((double)(lzt_prng_next(prng) >> 11) * 0x1p-53);
}

bool
lzt_prng_chance(lzt_prng *prng, double chance)
{
  return lzt_prng_real(prng, 0, 1) < chance;
}
