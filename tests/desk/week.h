// SPDX-License-Identifier: GPL-3.0-or-later
// A random week of a small station: what its people say, in order, late, again, or take back.
#ifndef WEEK_H
#define WEEK_H

#include <lz_desk_private.h>

#include "../lib/prng.h"
#include "lab.h"

typedef struct {
  int64_t id;
  const char *kind;
} Said;

extern Lab lab;
extern lzt_prng prng;
extern GArray *said; // Said, what may be taken back or corrected

void week_begin(void);
void week_end(void);
// The next thing said; `back` = about something said before.
LzCommand *week_draw(int step, gboolean back);
// What nobody names is taken away: all behind it move up, and every record names them by place.
LzCommand *week_without_spare(gboolean system);
// A bottle that holds another strength than was thought changes what every dose of it was.
LzCommand *week_bottle_anew(void);

#endif
