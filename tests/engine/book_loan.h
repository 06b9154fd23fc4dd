// SPDX-License-Identifier: GPL-3.0-or-later
// What a book lends, in memory: as long as it is, so that a step beyond it is noticed.
#ifndef LZT_BOOK_LOAN_H
#define LZT_BOOK_LOAN_H

#include <lz_engine.h>

typedef struct {
  unsigned char *bytes; // the caller frees them
  size_t size, most;    // no more is taken; 0 = all is
} lzt_loan;

// An lzq_book_writer; ctx is a lzt_loan.
bool lzt_loan_take(void *ctx, const void *bytes, size_t size);

#endif
