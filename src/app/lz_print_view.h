// SPDX-License-Identifier: GPL-3.0-or-later
// The print page: which sheet, about what, on which paper and in which languages, and how it will
// come out. Esc goes back to where it was called from.
#ifndef LZ_PRINT_VIEW_H
#define LZ_PRINT_VIEW_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#include "lz_place.h"

#define LZ_TYPE_PRINT_VIEW (lz_print_view_get_type())
G_DECLARE_FINAL_TYPE(LzPrintView, lz_print_view, LZ, PRINT_VIEW, GtkWidget)

GtkWidget *lz_print_view_new(LzDesk *desk);
// from: the place to go back to; it also says which sheet is meant ("lots": a lot's record), and
// what is chosen there is what the lists begin with. place may be NULL.
void lz_print_view_called_from(LzPrintView *self, const char *from, LzPlace *place);
// Sheet and subject by name; about NULL = the first. FALSE if there is no such sheet.
gboolean lz_print_view_choose(LzPrintView *self, const char *sheet, const char *about);
guint lz_print_view_n_pages(LzPrintView *self); // 0 = nothing to print: the message says why
// What is shown, as PDF.
gboolean lz_print_view_pdf(LzPrintView *self, const char *path, GError **error);

#endif
