// SPDX-License-Identifier: GPL-3.0-or-later
// Who works here, by the two letters that they sign with, and what the station asks of them.
#ifndef LZ_PEOPLE_H
#define LZ_PEOPLE_H

#include <lz_desk.h>
#include <lz_rows.h>

// By initials, case does not matter; NULL = nobody who works here. Valid until the next "changed".
const LzPersonInfo *lz_people_find(LzDesk *desk, const char *initials);
gboolean lz_people_ask_pins(LzDesk *desk);
// Minutes without a key after which the name asks again.
int lz_people_idle_min(LzDesk *desk);

#endif
