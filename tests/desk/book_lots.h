// SPDX-License-Identifier: GPL-3.0-or-later
// What the desk of a random week knows of each lot, held against its record and its plan.
#ifndef BOOK_LOTS_H
#define BOOK_LOTS_H

// What is listed of each lot is all that the record says of where it stands, and nothing else.
void book_lots_by_their_own_records(void);
// Where the desk says that a lot stands, and how many it is, is what the engine makes of the same
// acts, those included that change nothing.
void book_places_as_the_engine_has_them(int step);

#endif
