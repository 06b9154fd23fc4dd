// SPDX-License-Identifier: GPL-3.0-or-later
// One unopened line of the round: cord, task mark, basin, what, how much, by when, why.
#ifndef LZ_ROUND_ROW_H
#define LZ_ROUND_ROW_H

#include <gtk/gtk.h>
#include <lz_desk.h>
#include <lz_draw.h>
#include <lz_rows.h>

#include "lz_sign.h"

// Columns that all lines share, so that words of any language keep them straight.
typedef struct {
  GtkSizeGroup *state, *where, *what, *amount, *by;
} LzRoundColumns;

LzRoundColumns lz_round_columns_new(void);
void lz_round_columns_clear(LzRoundColumns *columns);

#define LZ_TYPE_ROUND_ROW (lz_round_row_get_type())
G_DECLARE_FINAL_TYPE(LzRoundRow, lz_round_row, LZ, ROUND_ROW, GtkWidget)

GtkWidget *lz_round_row_new(LzDesk *desk, const LzRoundColumns *columns);
void lz_round_row_set(LzRoundRow *self, LzTaskRow *row); // NULL empties it

// "Late 46 min", "Blocked", "Due"; newly allocated.
char *lz_round_state_word(LzDesk *desk, const LzTaskInfo *info);
lzd_mark lz_round_state_mark(const LzTaskInfo *info);
// Where it is done, drawn: a water, or an instrument.
void lz_round_where_set(LzSign *sign, LzDesk *desk, const LzTaskInfo *info);
// The clock alone where it is today, else the desk's words; newly allocated.
char *lz_round_by(LzDesk *desk, const LzTaskInfo *info);

#endif
