// SPDX-License-Identifier: GPL-3.0-or-later
// What a box means for the water it goes into, in finished sentences: the bag against the water,
// the count against the invoice, the species against what is in the water, and the room left.
#ifndef LZ_RECEIVE_SIDE_H
#define LZ_RECEIVE_SIDE_H

#include "lz_receive_box.h"

// One line of the comparison; strings are owned by the array.
typedef struct {
  char *what, *bag, *water, *words;
  gboolean heed; // the words ask for something
} LzBagLine;

// Lines for temperature, salinity, pH and ammonia, as far as the bag was read.
GPtrArray *lz_receive_compare(LzDesk *desk, const LzReceiveBox *box, int64_t system);
// Count against invoice, copper and the species, fish that stand in the tank already: a sentence
// each, "" if there is nothing to say. Newly allocated.
char *lz_receive_box_words(LzDesk *desk, const LzReceiveBox *box, int64_t system);
// Heads and grams per litre of every system that boxes go to, with these in it, against its limits;
// over: one of them is passed. Newly allocated.
char *lz_receive_room_words(LzDesk *desk, GPtrArray *boxes, int64_t system, gboolean *over);

// The species that a person means by a scientific or common name or a part of it: its id; 0 =
// none; -1 = several, *out_names then names them (newly allocated).
int64_t lz_receive_species(LzDesk *desk, const char *typed, char **out_names);
// "3" is tank 3 of the system; anything else is taken as it stands. Newly allocated.
char *lz_receive_tank(LzDesk *desk, const char *typed, int64_t system);

#endif
