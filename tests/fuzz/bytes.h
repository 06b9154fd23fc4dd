// SPDX-License-Identifier: GPL-3.0-or-later
// A fuzzer's bytes taken one by one as choices; an input that has run out chooses the first.
#ifndef BYTES_H
#define BYTES_H

#include <stddef.h>
#include <stdint.h>
#include <string.h>

typedef struct {
  const uint8_t *at;
  size_t left;
} lzt_bytes;

static inline uint8_t
lzt_byte(lzt_bytes *bytes)
{
  if (bytes->left == 0)
    return 0;
  bytes->left--;
  return *bytes->at++;
}

// Little-endian, n bytes at the most 8.
static inline uint64_t
lzt_number(lzt_bytes *bytes, int n)
{
  uint64_t value = 0;
  for (int i = 0; i < n; i++)
    value |= (uint64_t)lzt_byte(bytes) << (8 * i);
  return value;
}

#endif
