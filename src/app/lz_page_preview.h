// SPDX-License-Identifier: GPL-3.0-or-later
// One page of a printed sheet at a time, drawn by the same code as the paper.
#ifndef LZ_PAGE_PREVIEW_H
#define LZ_PAGE_PREVIEW_H

#include <gtk/gtk.h>
#include <lzr_report.h>

#define LZ_TYPE_PAGE_PREVIEW (lz_page_preview_get_type())
G_DECLARE_FINAL_TYPE(LzPagePreview, lz_page_preview, LZ, PAGE_PREVIEW, GtkWidget)

// pages are the caller's, who takes them away (NULL) before freeing them. first: back to page 1,
// else the same page where there is one still.
void lz_page_preview_set(LzPagePreview *self, LzrPages *pages, const char *title, gboolean first);
void lz_page_preview_turn(LzPagePreview *self, int by);
// Page up and down turn it, wherever in `around` the focus is.
void lz_page_preview_turn_by_keys(LzPagePreview *self, GtkWidget *around);

#endif
