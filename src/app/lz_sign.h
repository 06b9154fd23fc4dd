// SPDX-License-Identifier: GPL-3.0-or-later
// One drawn sign among the words of a row: a mark, a basin, an instrument, a divided basin, a
// pennant, a piece of the walk cord. Role img; its label is the word that it stands for, so that
// nothing is said by shape alone.
#ifndef LZ_SIGN_H
#define LZ_SIGN_H

#include <gtk/gtk.h>
#include <lz_draw.h>

#define LZ_TYPE_SIGN (lz_sign_get_type())
G_DECLARE_FINAL_TYPE(LzSign, lz_sign, LZ, SIGN, GtkWidget)

GtkWidget *lz_sign_new(void);
// word: what a screen reader says; NULL where a label beside it says it already.
void lz_sign_set_mark(LzSign *self, lzd_mark mark, lzd_mark_state state, double size,
                      const char *word);
// LZD_TASK_BLOCKED in alarm colour says stop.
void lz_sign_set_role(LzSign *self, lzd_role role);
// The mark of its readings and its name, without the walls of a water.
void lz_sign_set_instrument(LzSign *self, const char *name, lzd_mark mark, double size);
void lz_sign_set_basin(LzSign *self, const char *name, unsigned water, double size);
// cells are copied.
void lz_sign_set_cells(LzSign *self, const lzd_cell_text *cells, size_t n, unsigned water,
                       const char *word);
void lz_sign_set_pennant(LzSign *self, const char *name, lzd_pennant kind, double size);
void lz_sign_set_knot(LzSign *self, lzd_knot knot);

#endif
