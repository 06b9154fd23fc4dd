// SPDX-License-Identifier: GPL-3.0-or-later
// Published values in tests/data/published, and the few words that the water tests share.
//
// Marks in the comments beside each check: [P] printed in the publication itself, [R] in a reprint
// or in a reference library's own test file, [C] computed with the library or equation named, [M]
// value from memory, CP common practice without a source.
#ifndef LZ_PUBLISHED_H
#define LZ_PUBLISHED_H

#include <check.h>
#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define PUBLISHED_FIELDS 16

typedef struct {
  double n[PUBLISHED_FIELDS]; // NAN where the field is not a number
  char text[PUBLISHED_FIELDS][32];
  int fields;
} published_row;

// All rows of a file below its `#` lines and its header line; the caller frees. Aborts the test if
// there are none.
published_row *published_read(const char *name, size_t *n);

// Runs a suite with Check's usual summary; the exit status of main.
int published_run(Suite *suite);

// A seeded generator for properties; the seed is printed when a test starts.
typedef struct {
  uint64_t state;
} published_random;

published_random published_seed(const char *what, uint64_t seed);
double published_uniform(published_random *random, double low, double high);
double published_normal(published_random *random);

// Within the tolerance, which may be zero.
#define NEAR(actual, expected, tolerance)                                                          \
  do {                                                                                             \
    double near_actual = (actual), near_expected = (expected), near_within = (tolerance);          \
    ck_assert_msg(fabs(near_actual - near_expected) <= near_within,                                \
                  "%s is %.15g, not %.15g within %g", #actual, near_actual, near_expected,         \
                  near_within);                                                                    \
  } while (0)

#endif
