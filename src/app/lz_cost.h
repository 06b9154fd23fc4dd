// SPDX-License-Identifier: GPL-3.0-or-later
// What acts would cost, as people read it before they confirm: each lot's date before and after,
// the days and fish-days, who causes it; systems that no level would serve; other systems with
// room. The same rows serve a form, a what-if and a way on.
#ifndef LZ_COST_H
#define LZ_COST_H

#include <gtk/gtk.h>
#include <lz_foresee.h>

#define LZ_TYPE_COST (lz_cost_get_type())
G_DECLARE_FINAL_TYPE(LzCost, lz_cost, LZ, COST, GtkWidget)

// Signal "room" (const char *system): somebody chose one of the other systems.
GtkWidget *lz_cost_new(void);
// narrow: for a side column, the reason below its lot instead of beside it.
void lz_cost_set(LzCost *self, LzDesk *desk, const LzForesight *foresight, gboolean narrow);
// How many rooms are offered.
guint lz_cost_n_rooms(LzCost *self);

// Whether anybody but these lots (codes, NULL at the end) is touched: a date moves or is lost, or a
// water can serve its lots no longer.
gboolean lz_cost_touches_others(const LzForesight *foresight, const char *const *own);
// All of it in one sentence, for a gate or a screen reader; newly allocated.
char *lz_cost_sentence(LzDesk *desk, const LzForesight *foresight);
// "11 days later", "3 h sooner", "no date any more"; newly allocated.
char *lz_cost_days(const LzShift *shift);

#endif
