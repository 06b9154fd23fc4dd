// SPDX-License-Identifier: GPL-3.0-or-later
// From what a person chose to the report's pages, and from the pages to a printer or a PDF. They
// are laid out once: preview, printer and PDF draw the same ones.
#ifndef LZ_PRINT_H
#define LZ_PRINT_H

#include <gtk/gtk.h>
#include <lzr_report.h>

// As typed and chosen. Texts NULL or "": not said. Owned by whoever fills it.
typedef struct {
  const char *sheet;        // "handover"
  const char *about;        // name of the system, lot or shipment that it is about
  const char *from, *until; // a day alone is the whole day
  const char *volume, *strength, *number;
  const char *protocol; // that the customer carries on; NULL = the usual course
  const char *also;     // second language
  LzrPaper paper;
} LzPrintChoice;

// The station's own paper, or what this PC has chosen instead.
LzrPaper lz_print_paper(LzDesk *desk);
// The number after the greatest that was handed over.
guint lz_print_next_number(LzDesk *desk);
// "none" and every installed language but the one that is spoken, by its own name; *codes beside
// them, "" for none (transfer full).
GtkStringList *lz_print_languages(char ***codes);
// Titles of all sheets, in the order of lzr_sheets; the two papers, in the order of LzrPaper; "the
// usual course" and the station's protocols (transfer full).
GtkStringList *lz_print_titles(void);
GtkStringList *lz_print_papers(void);
GtkStringList *lz_print_protocols(LzDesk *desk);
// What a sheet can be about: systems in the order of their making, lots and shipments newest first.
GtkStringList *lz_print_names(LzDesk *desk, const char *kind);
// "System", "Lot" or "Shipment": the label of such a list.
const char *lz_print_about_words(const char *kind);
// Text of the chosen item, NULL = none.
const char *lz_print_selected(GtkDropDown *drop);
// Chooses the item with that text; FALSE and nothing changed where there is none, or text is NULL.
gboolean lz_print_select(GtkDropDown *drop, const char *text);
// The sheet that a place is likely to want: "lots" the record of a lot; NULL = none of its own.
const char *lz_print_meant(const char *place);
// The number of a handover that came out on paper or as a file and is to be read back; 0 = none, or
// it was handed over meanwhile.
void lz_print_set_printed(LzDesk *desk, guint number);
guint lz_print_printed(LzDesk *desk);
// NULL with a sentence that names the field, its value and what is accepted.
LzrPages *lz_print_lay(LzDesk *desk, const LzPrintChoice *choice, GError **error);
// "handover-2027-03-05.pdf", "lot-record-0412-2027-03-05.pdf"; newly allocated.
char *lz_print_file_name(LzDesk *desk, const LzPrintChoice *choice);
// Asks for a printer. FALSE with error: it could not be printed; FALSE without: called off.
gboolean lz_print_run(GtkWindow *window, LzrPages *pages, LzrPaper paper, GError **error);

#endif
