// SPDX-License-Identifier: GPL-3.0-or-later
// Lists of the book in the order in which facts act: minute, kind, order of entry. What comes in
// order is appended; what does not is sorted by itself and merged from the end, so that a late
// entry moves only what acts after it.
#include <stdlib.h>
#include <string.h>

#include "lzq_book_work.h"

static int
mark_order(const void *left, const void *right)
{
  const lzq_mark *a = left, *b = right;
  if (a->at != b->at)
    return a->at < b->at ? -1 : 1;
  if (a->kind != b->kind)
    return a->kind < b->kind ? -1 : 1;
  return a->first < b->first ? -1 : a->first > b->first;
}

bool
lzq_list_reserve(lzq_list *list, const lzq_allocator *allocator)
{
  if (list->coming > SIZE_MAX / 4 / list->size - list->n)
    return false;
  const size_t wanted = list->n + list->coming;
  list->coming = 0;
  if (wanted <= list->capacity)
    return true;
  // The first time exactly, later with room for what follows one by one.
  const size_t capacity =
      list->capacity && wanted < list->capacity * 2 ? list->capacity * 2 : wanted + 16;
  void *items = allocator->resize(allocator->ctx, list->items, capacity * list->size);
  if (!items)
    return false;
  list->items = items;
  list->capacity = capacity;
  return true;
}

void *
lzq_list_push(lzq_list *list, const lzq_mark *mark, const lzq_allocator *allocator)
{
  if (list->n == list->capacity) {
    list->coming = 1;
    if (!lzq_list_reserve(list, allocator))
      return NULL;
  }
  lzq_mark *place = lzq_list_at(list, list->n);
  *place = *mark;
  if (list->n_sorted == list->n &&
      (list->n == 0 || mark_order(lzq_list_at(list, list->n - 1), mark) <= 0))
    list->n_sorted++;
  list->n++;
  return place;
}

static void
take_out_dead(lzq_list *list, const lzq_entry *entries)
{
  size_t kept = 0, sorted = 0;
  for (size_t i = 0; i < list->n; i++) {
    const lzq_mark *mark = lzq_list_at(list, i);
    if (entries[mark->first].holder != mark->holder)
      continue;
    if (kept != i)
      memcpy(lzq_list_at(list, kept), mark, list->size);
    sorted += i < list->n_sorted;
    kept++;
  }
  list->n = kept;
  list->n_sorted = sorted;
  list->has_dead = false;
}

// Merges a sorted copy of the tail into what stands before it, from the end.
static void
merge_tail(lzq_list *list, const unsigned char *tail, size_t n_tail)
{
  size_t left = list->n_sorted, right = n_tail;
  for (size_t to = list->n; right > 0; to--) {
    const void *late = tail + (right - 1) * list->size;
    if (left > 0 && mark_order(lzq_list_at(list, left - 1), late) > 0)
      memcpy(lzq_list_at(list, to - 1), lzq_list_at(list, --left), list->size);
    else
      memcpy(lzq_list_at(list, to - 1), tail + --right * list->size, list->size);
  }
}

bool
lzq_list_settle(lzq_list *list, const lzq_entry *entries, const lzq_allocator *allocator)
{
  if (list->has_dead)
    take_out_dead(list, entries);
  const size_t n_tail = list->n - list->n_sorted;
  if (n_tail == 0)
    return true;
  unsigned char *tail = allocator->resize(allocator->ctx, NULL, n_tail * list->size);
  if (!tail)
    return false;
  memcpy(tail, lzq_list_at(list, list->n_sorted), n_tail * list->size);
  qsort(tail, n_tail, list->size, mark_order);
  merge_tail(list, tail, n_tail);
  allocator->resize(allocator->ctx, tail, 0);
  list->n_sorted = list->n;
  return true;
}

size_t
lzq_list_before(const lzq_list *list, size_t from, const lzq_mark *mark)
{
  size_t low = from, high = list->n;
  if (!mark || low >= high || mark_order(lzq_list_at(list, high - 1), mark) < 0)
    return high;
  if (mark_order(lzq_list_at(list, low), mark) >= 0)
    return low;
  while (low < high) {
    const size_t middle = low + (high - low) / 2;
    if (mark_order(lzq_list_at(list, middle), mark) < 0)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

void
lzq_list_free(lzq_list *list, const lzq_allocator *allocator)
{
  if (list->items)
    allocator->resize(allocator->ctx, list->items, 0);
  *list = (lzq_list){.size = list->size};
}
