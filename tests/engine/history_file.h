// SPDX-License-Identifier: GPL-3.0-or-later
// A history that owns its arrays, and its form as a text file, so that a case found once is kept.
// Text: one item a line, a word for the array and then its fields in the order of LZT_..._FIELDS;
// '#' begins a comment. The first line is "lazaret history 1".
#ifndef LZT_HISTORY_FILE_H
#define LZT_HISTORY_FILE_H

#include <stdio.h>

#include "lzq_model.h"

#define LZT_MOST_SYSTEMS     8
#define LZT_MOST_TANKS       16
#define LZT_MOST_INSTRUMENTS 8
#define LZT_MOST_BOTTLES     8
#define LZT_MOST_PHASES      16
#define LZT_MOST_PROTOCOLS   4
#define LZT_MOST_LOTS        8
#define LZT_MOST_RECORDS     512

typedef struct {
  lzq_snapshot snap; // its pointers are set by lzt_history_bind
  uint64_t known_id;
  lzq_minute until;
  lzq_system systems[LZT_MOST_SYSTEMS];
  lzq_tank tanks[LZT_MOST_TANKS];
  lzq_instrument instruments[LZT_MOST_INSTRUMENTS];
  lzq_bottle bottles[LZT_MOST_BOTTLES];
  lzq_phase phases[LZT_MOST_PHASES];
  lzq_protocol protocols[LZT_MOST_PROTOCOLS];
  lzq_lot lots[LZT_MOST_LOTS];
  lzq_record records[LZT_MOST_RECORDS];
} lzt_history;

// Points snap at the arrays inside; call after copying a history.
void lzt_history_bind(lzt_history *history);

// Both return false on failure (of I/O, of form, of room).
bool lzt_history_write(const lzt_history *history, const char *note, FILE *file);
bool lzt_history_read(lzt_history *history, FILE *file);

#endif
