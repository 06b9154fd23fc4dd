// SPDX-License-Identifier: GPL-3.0-or-later
// Asks the window to open the form of a kind of entry, with fields filled in beforehand.
#ifndef LZ_RECORD_H
#define LZ_RECORD_H

#include <gtk/gtk.h>
#include <lz_desk.h>

// Pairs of field and text, NULL at the end; a NULL text leaves the field empty. Parameter of
// "win.record": (sxa{ss}) = kind, entry to correct (0 = a new one), fields.
void lz_record_open(GtkWidget *from, const char *kind, ...) G_GNUC_NULL_TERMINATED;
// The last reading of this shift once more: its water, analyte and instrument filled in. FALSE =
// none was made.
gboolean lz_record_repeat(GtkWidget *from, LzDesk *desk);
// Opens an entry for correction, with a reason.
void lz_record_correct(GtkWidget *from, const char *kind, gint64 id);

#endif
