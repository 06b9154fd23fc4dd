// SPDX-License-Identifier: GPL-3.0-or-later
// The working lines in a grid: what, how, value, a rule above the result.
#ifndef LZ_WORKING_GRID_H
#define LZ_WORKING_GRID_H

#include <gtk/gtk.h>

// Empties the grid and fills it with LzWorkingLine elements.
void lz_working_grid_fill(GtkGrid *grid, GPtrArray *lines);
void lz_grid_clear(GtkGrid *grid);

#endif
