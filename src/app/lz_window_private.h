// SPDX-License-Identifier: GPL-3.0-or-later
// What the files of the window share: its parts, and nothing of any place.
#ifndef LZ_WINDOW_PRIVATE_H
#define LZ_WINDOW_PRIVATE_H

#include "lz_form.h"
#include "lz_go_to.h"
#include "lz_key_bar.h"
#include "lz_person_menu.h"
#include "lz_window.h"

struct _LzWindow {
  GtkApplicationWindow parent;
  LzDesk *desk;
  GtkHeaderBar *bar;
  GtkMenuButton *menu, *person;
  GtkLabel *person_name, *date, *clock, *practice, *notice_text;
  GtkBox *notice, *places;
  GtkProgressBar *back_up_bar;
  GCancellable *back_up_wish; // of what runs beside the window, NULL = nothing does
  LzWindowWorked worked;      // hears of it
  GtkStack *stack;
  LzKeyBar *key_bar;
  LzForm *form;
  LzGoTo *go_to;
  GtkWidget *panel_focus; // weak: where the focus stood in the panel
  LzPersonMenu *person_menu;
  guint tick, fit;   // sources
  gboolean narrow;   // for the size of its text
  gint64 touched_us; // last key or pointer, monotonic
  guint told_late;   // late lines when last looked at
  bool asks_still;   // "still MK?" stands in the bar
};

// lz_window_bar.c: who, when, practice.
void lz_window_refresh_bar(LzWindow *self);
// lz_window_fit.c: what a narrow window leaves out.
void lz_window_fit(LzWindow *self, int width);
// lz_window_person.c: who is at this PC, and whether they still are.
void lz_window_person_init(LzWindow *self);
void lz_window_person_set_desk(LzWindow *self);
void lz_window_touched(LzWindow *self);
void lz_window_idle_check(LzWindow *self, gint64 now_us); // also for tests
bool lz_window_asks_person(LzWindow *self);               // the next Enter must wait for an answer
// TRUE: what is pressed there may record, and whoever is here is asked first.
gboolean lz_window_waits_for_person(LzWindow *self, GtkWidget *at);
// lz_window_drop.c: a CSV table dropped on the window, taken in beside it; FALSE = refused at
// once. The bar says what comes of it.
void lz_window_drop_init(LzWindow *self);
gboolean lz_window_take_table(LzWindow *self, GFile *file);
// lz_window_late.c: a notification for what became late.
void lz_window_tell_late(LzWindow *self);
// lz_window_keys.c: the pad, Esc, and the key bar's contents.
void lz_window_keys_init(LzWindow *self);
void lz_window_keys_refresh(LzWindow *self);
void lz_window_press(LzWindow *self, LzPadKey key); // as if that key had been pressed
// lz_window_panels.c: what opens above the key bar.
void lz_window_panels_init(LzWindow *self);
bool lz_window_close_panels(LzWindow *self); // true = one was open
bool lz_window_has_panel(LzWindow *self);
void lz_window_back_to_work(LzWindow *self); // the focus goes to the panel, else to the place
void lz_window_open_form(LzWindow *self, const char *kind, gint64 corrects, const char *entity,
                         GVariant *fields);
void lz_window_open_see(LzWindow *self);
void lz_window_open_go_to(LzWindow *self);
// lz_window_actions.c: what the window can be told to do.
void lz_window_actions_init(LzWindow *self);
void lz_window_actions_refresh(LzWindow *self);

#endif
