// SPDX-License-Identifier: GPL-3.0-or-later
// Who may have carried a parasite into or out of a water where it was seen, as facts with finished
// words. The rows of the window, the plan in text and a dry run are made of it.
#ifndef LZ_CONTACTS_H
#define LZ_CONTACTS_H

#include "lz_desk.h"
#include "lz_rows.h"

typedef struct {
  LzContactInfo info;
  GPtrArray *texts; // that info points to
} LzContact;

// Contacts of every sighting of the station's look-back up to the end of that credit, newest
// sighting first; LzContact elements. Several reports of one minute and water are one sighting.
GPtrArray *lz_contacts_list(LzDesk *desk, const lzq_credit *credit);
// The same of entry `sighting` only, however long ago it was (0 = all of the look-back).
GPtrArray *lz_contacts_of(LzDesk *desk, const lzq_credit *credit, int64_t sighting);

// What a release, a move or a record that could not be done is worth looking at for. LzMatterItem
// elements, of that plan.
typedef struct {
  LzMatterInfo info;
  GPtrArray *texts;
} LzMatterItem;
GPtrArray *lz_matters_list(LzDesk *desk, const lzq_plan *plan);

#endif
