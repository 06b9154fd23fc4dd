// SPDX-License-Identifier: GPL-3.0-or-later
// Which fields of a kind a person fills in by hand, and in which order; the rest the program knows.
#ifndef LZ_FORM_SHOWN_H
#define LZ_FORM_SHOWN_H

#include <glib.h>

// NULL-terminated field names, NULL = all fields of the kind.
const char *const *lz_form_shown(const char *kind);
// What the form is called: "New reading", "Receive a lot"; translated.
const char *lz_form_title(const char *kind);

#endif
