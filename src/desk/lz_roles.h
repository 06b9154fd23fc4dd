// SPDX-License-Identifier: GPL-3.0-or-later
// Who may enter what, asked before anything is typed: the table of docs/roles.md, which the desk
// also keeps in front of the ledger.
#ifndef LZ_ROLES_H
#define LZ_ROLES_H

#include "lz_desk.h"

// Why whoever is at this PC may not enter that kind: "For a lead.", "For a lead or a
// veterinarian.", "For a veterinarian."; NULL = they may. Newly allocated. `about`: what is
// described anew (one's own description as a person is for everybody), for a release the lot; 0 =
// none. `field`: the one field of the kind that may ask for more ("limit_level" of a bottle); NULL
// = the entry without such fields.
char *lz_desk_why_not(LzDesk *desk, const char *kind, int64_t about, const char *field);

#endif
