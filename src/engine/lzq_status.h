// SPDX-License-Identifier: GPL-3.0-or-later
// What an engine call answers: a status, and on failure the place and the reason as codes.
// The engine never writes a sentence: the desk makes sentences of these codes.
#ifndef LZQ_STATUS_H
#define LZQ_STATUS_H

#include <stddef.h>
#include <stdint.h>

typedef enum {
  LZQ_OK = 0,
  LZQ_NO_MEMORY,    // the allocator that was handed in said no; nothing was changed
  LZQ_BAD_INPUT,    // the snapshot or an argument breaks a rule; lzq_fault says which and where
  LZQ_OUT_OF_RANGE, // a formula was asked outside the range for which it was published
} lzq_status;

// Which rule was broken. `index` of lzq_fault counts in the array that `what` names.
typedef enum {
  LZQ_FAULT_NONE = 0,
  LZQ_FAULT_SYSTEM,
  LZQ_FAULT_TANK,
  LZQ_FAULT_LOT,
  LZQ_FAULT_INSTRUMENT,
  LZQ_FAULT_BOTTLE,
  LZQ_FAULT_PROTOCOL,
  LZQ_FAULT_PHASE,
  LZQ_FAULT_BAND,
  LZQ_FAULT_RECORD,
  LZQ_FAULT_SLOT,
  LZQ_FAULT_ARGUMENT,
} lzq_fault_what;

typedef struct {
  lzq_fault_what what;
  uint32_t index;    // in the array named by `what`
  uint32_t part;     // phase index for PHASE and BAND, else 0
  const char *field; // static ASCII name of the field, never NULL after a failure
  double value;      // the value found, NAN where it is not a number
} lzq_fault;

// A short static ASCII name ("ok", "no memory", ...), never NULL.
const char *lzq_status_name(lzq_status status);

// Fills *fault (if not NULL) and returns LZQ_BAD_INPUT.
lzq_status lzq_fault_set(lzq_fault *fault, lzq_fault_what what, uint32_t index, uint32_t part,
                         const char *field, double value);

#endif
