// SPDX-License-Identifier: GPL-3.0-or-later
// What a bath asks for beside its amount, on the opened line of the round: the vessel, air, the
// minutes, whether it was ended early. What the vessel takes is worked out while it is typed;
// nothing is recorded here.
#ifndef LZ_ROUND_BATH_H
#define LZ_ROUND_BATH_H

#include <gtk/gtk.h>
#include <lz_adviser.h>
#include <lz_command.h>

typedef struct _LzRoundBath LzRoundBath;
typedef void (*LzRoundBathCall)(gpointer data);

// Fills the two boxes, above and below the amount. `changed` is called after each edit, `enter` on
// Enter in one of its boxes to tick.
LzRoundBath *lz_round_bath_new(GtkBox *before, GtkBox *after, LzRoundBathCall changed,
                               LzRoundBathCall enter, gpointer data);
void lz_round_bath_free(LzRoundBath *bath);

// Empty, for this task; shown if it is a bath.
void lz_round_bath_set(LzRoundBath *bath, LzDesk *desk, const lzq_task *task);
gboolean lz_round_bath_is_on(const LzRoundBath *bath);
// All that is typed as one line of text, "" = nothing, and back.
char *lz_round_bath_text(const LzRoundBath *bath);
void lz_round_bath_set_text(LzRoundBath *bath, const char *text);
// Under the field that the desk's message begins with, which takes the focus; FALSE = none of
// these.
gboolean lz_round_bath_say(LzRoundBath *bath, const char *message, const char *sentence);
// Where Enter goes before it records: the next that is needed and empty, with the amount's own
// field in its turn; NULL = all is there.
GtkWidget *lz_round_bath_next(const LzRoundBath *bath, GtkWidget *amount, gboolean amount_empty);

// The amount for what is typed so far; NULL with a sentence, or without one where nobody has said
// how large the vessel is.
LzAnswer *lz_round_bath_answer(LzRoundBath *bath, GError **error);
// What one starts from to work it out alone: LzWorkingLine elements.
GPtrArray *lz_round_bath_given(LzRoundBath *bath);
// "bottle F-1", "250 mg/L"; newly allocated, "" where it has none.
char *lz_round_bath_of(LzRoundBath *bath);
// The fields of the entry, but for its amount.
void lz_round_bath_fill(LzRoundBath *bath, LzCommand *command);

#endif
