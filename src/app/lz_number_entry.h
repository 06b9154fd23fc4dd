// SPDX-License-Identifier: GPL-3.0-or-later
// A number typed so large that it is read from two metres, with its unit beside it and, underneath,
// the same number in words. Point and comma are both the decimal sign; a second one is refused, and
// so is everything that is no digit. What is typed is kept as typed: the desk reads it.
#ifndef LZ_NUMBER_ENTRY_H
#define LZ_NUMBER_ENTRY_H

#include <gtk/gtk.h>

#define LZ_TYPE_NUMBER_ENTRY (lz_number_entry_get_type())
G_DECLARE_FINAL_TYPE(LzNumberEntry, lz_number_entry, LZ, NUMBER_ENTRY, GtkWidget)

// Signals: "changed" after every edit, "activate" on Enter, "refused" (const char *sentence).
GtkWidget *lz_number_entry_new(void);
// label names the field ("Given") on screen and for a screen reader; unit may be "".
void lz_number_entry_set_field(LzNumberEntry *self, const char *label, const char *unit);
// One of several on a line: half as large, and no room for an echo that says nothing.
void lz_number_entry_set_small(LzNumberEntry *self);
const char *lz_number_entry_text(LzNumberEntry *self);
void lz_number_entry_set_text(LzNumberEntry *self, const char *text);
// As if the keys had been pressed; "." is whatever sign is set.
void lz_number_entry_type(LzNumberEntry *self, const char *keys);
// Line under the field: the number in words, or a sentence of what is wrong with it.
void lz_number_entry_set_echo(LzNumberEntry *self, const char *words, gboolean wrong);
void lz_number_entry_take_focus(LzNumberEntry *self);

// What a number field may become: TRUE if `text` is empty, or digits with at most one decimal sign.
// allow_minus: one leading minus (degrees).
gboolean lz_number_text_ok(const char *text, gboolean allow_minus);

#endif
