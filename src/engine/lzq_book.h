// SPDX-License-Identifier: GPL-3.0-or-later
// The book: what the engine keeps of one station's record between two plans, so that an entry costs
// what it touches and not the year before it. It holds the facts by water in the order in which
// they act, each water's readings as judged, and the minutes that earn for each band. Everything
// in it follows from the snapshot: a book that has followed entry by entry and one made anew give
// the same bytes, and it may be thrown away at any time.
#ifndef LZQ_BOOK_H
#define LZQ_BOOK_H

#include "lzq_arena.h"
#include "lzq_model.h"

typedef struct lzq_book lzq_book;

// An empty one, owned by the caller; NULL = no memory. About 90 bytes a record once it has
// followed.
lzq_book *lzq_book_new(lzq_allocator allocator);
void lzq_book_free(lzq_book *book); // NULL is harmless

// Forgets everything: to be called when records that it has followed were made anew.
void lzq_book_clear(lzq_book *book);

// Takes in what the snapshot has and the book has not, checked as by lzq_snapshot_check: O(new
// records), and O(records of that water) at the next question about a water that they touch. A
// changed set-up, or a snapshot that is not a continuation, begins anew: O(n log n). Records that
// were taken off the end again, or replaced there, are noticed for the last LZQ_BOOK_TAIL; whoever
// changes older ones in place clears the book. LZQ_BAD_INPUT: it stays as it was; LZQ_NO_MEMORY:
// it is empty.
#define LZQ_BOOK_TAIL 64
lzq_status lzq_book_follow(lzq_book *book, const lzq_snapshot *snapshot, lzq_fault *fault);

// Gives all that the book has, part by part, as bytes from which another goes on: some 70 a record.
// False = the writer said so, or the book is empty.
typedef bool (*lzq_book_writer)(void *ctx, const void *bytes, size_t size);
bool lzq_book_lend(lzq_book *book, lzq_book_writer write, void *ctx);
// The book becomes the one that was lent, over the bytes themselves: aligned for any type, they
// stay where they are until it is cleared or freed. It writes to them where entries come, and reads
// no more of them than is asked for. Only their layout is checked, and that the same engine wrote
// them: the caller vouches that they are what lzq_book_lend gave. LZQ_BAD_INPUT, LZQ_NO_MEMORY: the
// book is empty.
lzq_status lzq_book_borrow(lzq_book *book, void *bytes, size_t size);
// Whether it still goes on from what it borrowed: it was not begun anew since.
bool lzq_book_borrows(const lzq_book *book);

#endif
