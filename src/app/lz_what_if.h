// SPDX-License-Identifier: GPL-3.0-or-later
// What if: an act is picked and filled, and what it would change is told, priced and handed to the
// plan to draw. Nothing of it is ever recorded here: it is thrown away, or goes to the form that
// records it.
#ifndef LZ_WHAT_IF_H
#define LZ_WHAT_IF_H

#include <gtk/gtk.h>
#include <lz_foresee.h>

#include "lz_pad.h"

#define LZ_TYPE_WHAT_IF (lz_what_if_get_type())
G_DECLARE_FINAL_TYPE(LzWhatIf, lz_what_if, LZ, WHAT_IF, GtkWidget)

// Signals: "seen" (): lz_what_if_foresight is another one, or none; "closed" ().
GtkWidget *lz_what_if_new(void);
void lz_what_if_open(LzWhatIf *self, LzDesk *desk);
// NULL = nothing is seen yet. Valid until the next "seen".
const LzForesight *lz_what_if_foresight(LzWhatIf *self);
// Digits choose an act, Enter goes on; true = it acted.
bool lz_what_if_key(LzWhatIf *self, LzPadKey key);
// One step back: from what it changes to its fields, to the acts, to closed. false = was closed.
bool lz_what_if_back(LzWhatIf *self);

#endif
