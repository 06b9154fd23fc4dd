// SPDX-License-Identifier: GPL-3.0-or-later
// The benches' clock.
#ifndef BENCH_CLOCK_H
#define BENCH_CLOCK_H

#include <time.h>

static inline double
ms_of(clockid_t clock)
{
  struct timespec t;
  clock_gettime(clock, &t);
  return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

#endif
