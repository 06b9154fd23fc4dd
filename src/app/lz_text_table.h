// SPDX-License-Identifier: GPL-3.0-or-later
// A table of finished texts: what every drawing shows as F8, and the lists of Station.
#ifndef LZ_TEXT_TABLE_H
#define LZ_TEXT_TABLE_H

#include <gtk/gtk.h>

#define LZ_TEXT_ROW_MAX 8

// One row; `id` is the caller's.
#define LZ_TYPE_TEXT_ROW (lz_text_row_get_type())
G_DECLARE_FINAL_TYPE(LzTextRow, lz_text_row, LZ, TEXT_ROW, GObject)
// cells (transfer none), at most LZ_TEXT_ROW_MAX; NULL is read as "".
LzTextRow *lz_text_row_new(gint64 id, const char *const *cells, guint n);
const char *lz_text_row_cell(LzTextRow *self, guint i);
// What a cell is sorted by where its text would not do: a number, a minute. Cells without one stand
// after those with one.
void lz_text_row_set_order(LzTextRow *self, guint i, double order);
double lz_text_row_order(LzTextRow *self, guint i); // NAN = by its text
gboolean lz_text_row_equal(LzTextRow *a, LzTextRow *b);
char *lz_text_row_words(LzTextRow *self); // all cells in one line, newly allocated
gint64 lz_text_row_id(LzTextRow *self);

#define LZ_TYPE_TEXT_TABLE (lz_text_table_get_type())
G_DECLARE_FINAL_TYPE(LzTextTable, lz_text_table, LZ, TEXT_TABLE, GtkWidget)

// Signal "chosen" (gint64 id): Enter or a double click on a row; "selected" (gint64 id).
GtkWidget *lz_text_table_new(void);
// name is what a screen reader calls it; titles end with NULL. The last column takes what is left.
// numbers: a bit for each column of numbers, which stand at the end of their cells, so that their
// places stand below each other.
void lz_text_table_set_columns(LzTextTable *self, const char *name, const char *const *titles,
                               guint numbers);
// rows: a list of LzTextRow (transfer full). The list behind the table changes only where they
// differ from what it shows; the selection stays on the same id.
void lz_text_table_set_rows(LzTextTable *self, GListModel *rows);
GListModel *lz_text_table_rows(LzTextTable *self); // unsorted; owned by the table
// 0 = none.
gint64 lz_text_table_selected(LzTextTable *self);
void lz_text_table_select(LzTextTable *self, gint64 id);

#endif
