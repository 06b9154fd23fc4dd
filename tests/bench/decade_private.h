// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the ten years: the entries on their way to the store, and who and what is there from the
// first day on.
#ifndef DECADE_PRIVATE_H
#define DECADE_PRIVATE_H

#include "decade.h"

#define SYSTEMS     100
#define TANKS       50 // of each system
#define BATCH       20000
#define DAY         1440
#define PHOTOMETERS 4

typedef struct {
  int64_t systems[SYSTEMS], tanks[SYSTEMS][TANKS], photometers[PHOTOMETERS];
  int64_t person, protocol, copper_bottle, fluke_bottle, customer;
} decade_shelf;
extern decade_shelf shelf;

// An entry of the running minute, to be filled in; the texts must live until the batch is written.
lzs_entry *decade_next(lzs_kind kind);
lzs_value *decade_field(lzs_entry *entry, const char *name);
// An act of n entries that name each other must lie in one batch.
void decade_room(size_t n);
// Writes the batch.
void decade_flush(void);
// Place in the batch of the next entry: that entry can be named as -(place + 1) until it is
// written.
size_t decade_place(void);

// The story's: the minute that it has reached, and what it does with a batch that was written.
int64_t decade_now(void);
void decade_written(const lzs_entry *entries, size_t n);

void decade_set_up(lzs_store *store);

#endif
