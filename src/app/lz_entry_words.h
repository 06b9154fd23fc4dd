// SPDX-License-Identifier: GPL-3.0-or-later
// An entry in words, which a press opens for correction where it is read.
#ifndef LZ_ENTRY_WORDS_H
#define LZ_ENTRY_WORDS_H

#include <gtk/gtk.h>
#include <lz_desk.h>

// A button; style: a class for its words, NULL = none. It keeps a reference to the entry.
GtkWidget *lz_entry_words_new(LzEntry *entry, const char *words, const char *style);

#endif
