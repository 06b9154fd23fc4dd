// SPDX-License-Identifier: GPL-3.0-or-later
// What the files of the receiving page share.
#ifndef LZ_RECEIVE_PRIVATE_H
#define LZ_RECEIVE_PRIVATE_H

#include "lz_receive_box.h"
#include "lz_receive_view.h"

typedef enum {
  LZ_HEAD_CODE,
  LZ_HEAD_SUPPLIER,
  LZ_HEAD_CERTIFICATE,
  LZ_HEAD_WAYBILL,
  LZ_N_HEADS
} LzHead;

struct _LzReceiveView {
  GtkWidget parent;
  LzDesk *desk;
  GPtrArray *boxes; // LzReceiveBox, number = place + 1
  guint at;         // the box that has or had the focus
  guint draft_timer;
  gboolean loading;
  char *cost_said; // what it would cost others, as it was last said
  GArray *systems; // int64_t, as in the drop-down
  GtkWidget *box, *panel;
  GtkEntry *code, *supplier, *certificate, *waybill;
  GtkDropDown *system, *acclimation;
  GtkGrid *grid, *bag;
  GtkLabel *sums, *message, *box_title, *box_words, *room, *rule;
  GtkWidget *why; // around the reason, shown once a gate has asked for it
  GtkEntry *reason;
  GtkButton *record;
  GtkBox *ready; // around it
  GtkBox *last;  // what came within a day
};

int64_t lz_receive_system(LzReceiveView *self); // 0 = the station has none
GtkEntry *lz_receive_head(LzReceiveView *self, LzHead head);
LzReceiveBox *lz_receive_add_box(LzReceiveView *self);
void lz_receive_clear(LzReceiveView *self); // one empty box, heads as suggested

// lz_receive_draft.c
void lz_receive_draft_load(LzReceiveView *self);
void lz_receive_draft_save(LzReceiveView *self);
void lz_receive_draft_save_soon(LzReceiveView *self);
void lz_receive_draft_drop(LzReceiveView *self);

// lz_receive_last.c: below the heading that the box has
void lz_receive_last_show(GtkBox *box, LzDesk *desk);

// lz_receive_submit.c: one transaction; on a refusal says why and leaves all as typed.
void lz_receive_submit(LzReceiveView *self);
// The next number after the highest in use, as wide as it: "0421". Newly allocated.
char *lz_receive_next_code(LzDesk *desk, const char *kind, const char *first, guint ahead);

#endif
