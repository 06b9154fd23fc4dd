// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the protocol check only: the list of findings while it grows.
#ifndef LZQ_PROTOCOL_WORK_H
#define LZQ_PROTOCOL_WORK_H

#include "lzq_protocol.h"

typedef struct {
  const lzq_protocol_context *context;
  lzq_finding *items;
  size_t n, cap;
  uint32_t phase, band; // that the next finding is about
} lzq_findings;

void lzq_finding_add(lzq_findings *all, lzq_finding_code code, const char *field, double n0,
                     double n1, double n2, double n3);

// Warnings about phase `index`, which is possible.
void lzq_protocol_warn(lzq_findings *all, const lzq_phase *phases, uint32_t index);

#endif
