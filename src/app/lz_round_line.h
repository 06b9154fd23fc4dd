// SPDX-License-Identifier: GPL-3.0-or-later
// The opened line of the round. It keeps what was typed until it is recorded, dropped, or typed
// anew: by line, across lines and across a power cut.
#ifndef LZ_ROUND_LINE_H
#define LZ_ROUND_LINE_H

#include <gtk/gtk.h>
#include <lz_desk.h>
#include <lz_rows.h>

#include "lz_gate.h"
#include "lz_pad.h"

#define LZ_TYPE_ROUND_LINE (lz_round_line_get_type())
G_DECLARE_FINAL_TYPE(LzRoundLine, lz_round_line, LZ, ROUND_LINE, GtkWidget)

// Signals: "recorded" after an entry was made; "changed" when other keys act.
GtkWidget *lz_round_line_new(LzDesk *desk);
void lz_round_line_set(LzRoundLine *self, LzTaskRow *row); // NULL empties it
LzTaskRow *lz_round_line_row(LzRoundLine *self);
// Name of the "lot" or the "system" that the line is about; NULL = none.
const char *lz_round_line_subject(LzRoundLine *self, const char *kind);
// Digits, Enter, minus, plus; true = it acted.
gboolean lz_round_line_key(LzRoundLine *self, LzPadKey key);
// Esc: out of a gate, out of "cannot", then the typed number; false = nothing was open.
gboolean lz_round_line_back(LzRoundLine *self);
// Nothing typed, nothing asked: another line may be opened instead.
gboolean lz_round_line_is_untouched(LzRoundLine *self);
// What the key bar should say.
gboolean lz_round_line_asks_reason(LzRoundLine *self);
LzGateKind lz_round_line_gate(LzRoundLine *self);
void lz_round_line_take_focus(LzRoundLine *self);

#endif
