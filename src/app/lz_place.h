// SPDX-License-Identifier: GPL-3.0-or-later
// What each of the five places promises to the window: the hints for the key bar, its answer to the
// keys of the pad, and one step back. The window knows places by this interface alone. A place that
// is asked something is brought up to date first (lz_fresh.h), seen or not.
#ifndef LZ_PLACE_H
#define LZ_PLACE_H

#include <gtk/gtk.h>

#include "lz_pad.h"

// One hint of the key bar. keys is what stands on the cap ("Enter"), label what it does now, action
// a detailed action that a click runs; NULL where only the key acts. Strings are owned by the
// array.
typedef struct {
  char *keys, *label, *action;
} LzHint;

// An array of hints that owns its strings.
GPtrArray *lz_hints_new(void);
void lz_hints_add(GPtrArray *hints, const char *keys, const char *label, const char *action);

#define LZ_TYPE_PLACE (lz_place_get_type())
G_DECLARE_INTERFACE(LzPlace, lz_place, LZ, PLACE, GtkWidget)

struct _LzPlaceInterface {
  GTypeInterface parent;
  GPtrArray *(*hints)(LzPlace *self);            // (transfer full)
  bool (*key)(LzPlace *self, LzPadKey key);      // true = it acted
  bool (*back)(LzPlace *self);                   // Esc; true = there was a step to take
  void (*as_table)(LzPlace *self);               // F8; NULL = nothing drawn here
  void (*show)(LzPlace *self, const char *name); // "/": a system, tank or lot by name
  void (*enter)(LzPlace *self);                  // it is the visible place now: take the focus
  // Name of the "system" or "lot" that is chosen there, until the next change; NULL = none.
  const char *(*subject)(LzPlace *self, const char *kind);
  gint64 (*entry)(LzPlace *self); // of the ledger, that is selected there; 0 = none
};

GPtrArray *lz_place_hints(LzPlace *self);
bool lz_place_key(LzPlace *self, LzPadKey key);
bool lz_place_back(LzPlace *self);
bool lz_place_as_table(LzPlace *self);
void lz_place_show(LzPlace *self, const char *name);
void lz_place_enter(LzPlace *self);
const char *lz_place_subject(LzPlace *self, const char *kind);
gint64 lz_place_entry(LzPlace *self);

// Tells the window that other keys act now.
void lz_place_hints_changed(LzPlace *self);

#endif
