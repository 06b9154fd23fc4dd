// SPDX-License-Identifier: GPL-3.0-or-later
// The tree of the accessibility bus as a person finds it: only what is on the screen, each with all
// its words.
#ifndef STAGE_LOOK_H
#define STAGE_LOOK_H

#include <atspi/atspi.h>

gboolean look_has_state(AtspiAccessible *accessible, AtspiStateType state);
// What one of them says: name, text, description. Newly allocated.
char *look_said(AtspiAccessible *accessible);

// Visits what is shown below `accessible`, depth first, until the visitor returns TRUE; root is the
// application. Returns what the last visitor did.
typedef gboolean (*LookVisit)(AtspiAccessible *accessible, int depth, gpointer data);
gboolean look_walk(AtspiAccessible *root, AtspiAccessible *accessible, int depth, LookVisit visit,
                   gpointer data);

#endif
