// SPDX-License-Identifier: GPL-3.0-or-later
// docs/messages.md as a table: rows of two cells or more under a heading.
#ifndef CATALOGUE_H
#define CATALOGUE_H

#include <check.h>
#include <glib.h>

// Whether the sentence that was said is the one that the row `what` gives, "…" standing for
// anything.
gboolean catalogue_fits(const char *what, const char *said);
// First cells of the rows under a heading, without code marks; g_strfreev.
char **catalogue_rows(const char *heading);

#define ck_catalogue(what, said) ck_assert_msg(catalogue_fits(what, said), "%s: %s", what, said)

#endif
