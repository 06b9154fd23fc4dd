// SPDX-License-Identifier: GPL-3.0-or-later
// From an answer of the adviser to the form of the entry that records it, filled in as measured.
#ifndef LZ_AMOUNT_RECORD_H
#define LZ_AMOUNT_RECORD_H

#include <gtk/gtk.h>
#include <lz_adviser.h>

// The amount as the syringe or the balance gives it, in the unit of the answer; NAN.
double lz_amount_measured(const LzQuestion *ask, const LzAnswer *answer);
void lz_amount_record(GtkWidget *from, LzDesk *desk, const LzQuestion *ask, const LzAnswer *answer);

#endif
