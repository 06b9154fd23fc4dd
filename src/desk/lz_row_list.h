// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: a list of rows told apart by key. An update keeps the row of every key that
// stays, and says the smallest changed stretch: one items-changed for what lies between the common
// beginning and end.
#ifndef LZ_ROW_LIST_H
#define LZ_ROW_LIST_H

#include <gio/gio.h>

#include "lz_rows.h"

typedef enum {
  LZ_LIST_SYSTEMS,
  LZ_LIST_TANKS,
  LZ_LIST_LOTS,
  LZ_LIST_TASKS,
  LZ_LIST_DONE,
  LZ_LIST_LEDGER,
  LZ_LIST_PEOPLE,
  LZ_LIST_INSTRUMENTS,
  LZ_LIST_BOTTLES,
  LZ_LIST_PROTOCOLS,
  LZ_LIST_MATTERS,
  LZ_LIST_CONTACTS,
  LZ_N_LISTS
} LzList;

#define LZ_TYPE_ROW_LIST (lz_row_list_get_type())
G_DECLARE_FINAL_TYPE(LzRowList, lz_row_list, LZ, ROW_LIST, GObject)

LzRowList *lz_row_list_new(GType row_type);

// Begins an update; then one lz_row_list_row per row in order; then _end, which tells the
// listeners.
void lz_row_list_begin(LzRowList *list);
// The row for the next key, kept if that key was there before; owned by the list.
gpointer lz_row_list_row(LzRowList *list, const char *key);
void lz_row_list_end(LzRowList *list);

// What rows say of themselves. Takes title, detail and `texts` (may be NULL), the texts that the
// info points to, kept until the next set. Emits "changed" except on a row's first set.
void lz_row_set(LzRow *row, char *title, char *detail, gconstpointer info, gsize size,
                GPtrArray *texts);
gconstpointer lz_row_info(LzRow *row);

// A text kept by the array; returns it.
const char *lz_keep(GPtrArray *texts, char *text);

#endif
