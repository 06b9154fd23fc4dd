// SPDX-License-Identifier: GPL-3.0-or-later
// Printing: the report's pages on a printer, through GtkPrintOperation, or into a PDF.
#ifndef LZ_PRINT_H
#define LZ_PRINT_H

#include "lz_window.h"

// path NULL: asks for a printer. Otherwise writes the PDF there. Failures and successes are told in
// the window's notice.
void lz_print_run(LzWindow *window, const char *path);

#endif
