// SPDX-License-Identifier: GPL-3.0-or-later
// A second person in one field: initials, and where a dose is worked out twice, the mL that they
// came to alone ("TA 17.5").
#ifndef LZ_SECOND_PERSON_H
#define LZ_SECOND_PERSON_H

#include <lz_desk.h>

// Whether it is about a sum of the second person's own, and not only their word: it is wanted, or
// (refused) does not agree with the first.
gboolean lz_second_person_works(const GError *error);
const char *lz_second_person_prompt(gboolean works);
// Puts initials and amount on a command.
void lz_second_person_set(LzCommand *command, const char *text);

#endif
