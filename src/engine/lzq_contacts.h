// SPDX-License-Identifier: GPL-3.0-or-later
// Contacts of a sighting: who may have carried the parasite into that water or out of it. A contact
// is listed for people to look at; it is not set back (lzq_credit.h says who is).
//
// Looked at are the days before the sighting that the station names (station.contact_days; 14 by
// default: common practice, no source). A lot that leaves or enters a water in some minute counts
// as in both waters in that minute. Where fish have been follows the fish: a part has its parent's
// waters, and a lot those of the lots that merged into it, which are not listed themselves.
#ifndef LZQ_CONTACTS_H
#define LZQ_CONTACTS_H

#include "lzq_credit.h"

typedef enum {
  LZQ_CONTACT_WATER,     // in that water in the minute of the sighting
  LZQ_CONTACT_MOVED_OUT, // was in that water, and left before
  LZQ_CONTACT_FORMER,    // shared another water with a lot that is in that water now
  LZQ_CONTACT_NET,       // was in a water that shares nets and tools with that water
  LZQ_CONTACT_NEIGHBOUR, // was in a water within reach of that water
  LZQ_N_CONTACT_HOWS
} lzq_contact_how;

typedef struct {
  uint32_t lot;
  uint32_t system;     // the water of the contact
  lzq_minute from, to; // its first and last minute of contact there, in the look-back
  uint8_t how;         // lzq_contact_how
  bool uncoursed;      // WATER: listed in the credit as reached without a course (parts split off
                       // later: see the lot that they come from)
  uint32_t system_now; // LZQ_NONE = in no water any more
  bool released, dead; // at the end of the credit
} lzq_contact;

typedef struct {
  lzq_minute from, to;      // the look-back, both minutes included
  const lzq_contact *items; // by how, lot and system; a lot once for each
  size_t n;
} lzq_contacts;

// The sighting asked for, on record or not, at or before the end of the credit.
typedef struct {
  uint32_t system;
  lzq_minute at;
  const uint32_t *neighbours; // systems within reach: spray, drips, hands
  uint32_t n_neighbours;
} lzq_contact_query;

// First minute of the look-back that ends at minute `at`.
lzq_minute lzq_contact_since(const lzq_station *station, lzq_minute at);

// Of a credit of that snapshot. O(s log s) in stays of lots in waters. The result lives in arena.
// LZQ_BAD_INPUT: system, at or neighbours.
lzq_status lzq_contacts_make(const lzq_snapshot *snapshot, const lzq_credit *credit,
                             const lzq_contact_query *query, lzq_arena *arena,
                             const lzq_contacts **out, lzq_fault *fault);

#endif
