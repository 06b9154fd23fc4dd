// SPDX-License-Identifier: GPL-3.0-or-later
// A station large enough, by its options, that this PC keeps a copy of its records; invented.
#ifndef RECORDS_STATION_H
#define RECORDS_STATION_H

#include "house.h"

#include <lz_desk_private.h>

#define NEWEST 5            // entries that stay in memory
#define MORE   (6 * NEWEST) // so many entries later the copy is made anew

extern Lab lab;
extern char *copy;        // its path
extern gboolean borrowed; // by opens_right: the engine went on from the copy
extern unsigned seed;     // LAZARET_SEED

// A house under a course with some 400 entries, closed with a copy.
void records_setup(void);
void records_teardown(void);
// By the copy if it is believed, or every entry in memory. A person acts.
LzDesk *open_by(const char *path, const char *folder, gboolean by_copy, gboolean read_only);
// Opens as people do, and compares with a desk that reads every entry. TRUE = the copy was
// believed.
gboolean opens_right(const char *path, const char *folder);
gboolean believed(void); // the same of lab
// n readings, changes and top-ups, and corrections of some.
void say(LzDesk *desk, int n);
// Opens lab, says MORE and closes it.
void say_more(void);
// The first file of that ending; NULL = none.
char *find_copy(const char *folder, const char *ending);
void put(const char *path, const char *bytes, gsize size);
void no_part_left(void);

#endif
