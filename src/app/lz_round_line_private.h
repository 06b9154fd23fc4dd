// SPDX-License-Identifier: GPL-3.0-or-later
// What the two halves of the opened line share: how it looks, and how it records.
#ifndef LZ_ROUND_LINE_PRIVATE_H
#define LZ_ROUND_LINE_PRIVATE_H

#include "lz_number_entry.h"
#include "lz_round_bath.h"
#include "lz_round_line.h"
#include "lz_sign.h"
#include "lz_task_form.h"

typedef enum {
  LZ_ASK_NOTHING,
  LZ_ASK_SKIP,      // why it cannot be done
  LZ_ASK_REASON,    // the desk wants a reason
  LZ_ASK_WITNESS,   // the desk wants a second person
  LZ_ASK_READ_BACK, // the amount again
  LZ_ASK_REPEAT,    // the reading again
  LZ_ASK_COST,      // whether others shall pay for it
} LzAsk;

struct _LzRoundLine {
  GtkWidget parent;
  LzDesk *desk; // not owned: the view lives with its desk
  LzTaskRow *row;
  gulong on_row_changed;
  LzTaskForm *form;
  LzAsk ask;
  char *first;  // the number before a read-back, a repeat or a second person's own sum
  char *choice; // the chosen word of a form with choices
  char *reason, *witness;
  char *why_not; // whoever is at this PC may not record it; NULL = may
  LzDoseAdvice advice;
  gboolean has_advice, loading;
  gboolean alone_now; // two people work it out, each without the other's amount
  guint draft_timer;

  GtkWidget *frame, *working_box, *asked_row, *instrument_row;
  LzRoundBath *bath;
  GtkBox *bath_before, *bath_after;
  GtkLabel *state, *what, *by, *why, *bottle, *asked, *alone, *age, *working_title, *cautions;
  LzSign *basin;
  LzNumberEntry *entry;
  GtkGrid *choices, *working;
  GtkDropDown *instrument;
  GtkEntry *words;
  LzGate *gate;
};

// lz_round_submit.c
void lz_round_line_submit(LzRoundLine *self);
void lz_round_line_ask(LzRoundLine *self, LzAsk ask);
void lz_round_line_check(LzRoundLine *self); // while typing: echo, and a stop as soon as it is one
// lz_round_draft.c
void lz_round_draft_load(LzRoundLine *self);
void lz_round_draft_save_soon(LzRoundLine *self);
void lz_round_draft_save(LzRoundLine *self);
void lz_round_draft_drop(LzRoundLine *self);
// lz_round_show.c
void lz_round_line_refresh(LzRoundLine *self);
void lz_round_line_show_form(LzRoundLine *self);
void lz_round_line_show_choices(LzRoundLine *self);
void lz_round_line_choose_instrument(LzRoundLine *self, lzq_analyte analyte);
// lz_round_alone.c
void lz_round_line_show_working(LzRoundLine *self);
void lz_round_line_begin_alone(LzRoundLine *self, const char *typed); // the second person's turn
void lz_round_line_disagreed(LzRoundLine *self);                      // both work it out again
void lz_round_line_end_alone(LzRoundLine *self);
// lz_round_line.c
const char *lz_round_line_instrument(LzRoundLine *self); // name, NULL
void lz_round_line_changed(LzRoundLine *self);
gboolean lz_round_line_goes_on(LzRoundLine *self); // to what a bath still needs; FALSE = all there
void lz_round_line_recorded(LzRoundLine *self);

#endif
