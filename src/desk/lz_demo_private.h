// SPDX-License-Identifier: GPL-3.0-or-later
// What the parts of the demo's story share.
#ifndef LZ_DEMO_PRIVATE_H
#define LZ_DEMO_PRIVATE_H

#include "lz_demo.h"
#include "lz_demo_water.h"

enum { DOCK_1, BLUE_1, BLUE_2, RED_1, GREEN_1, GREEN_2, GREY_1, N_WATERS };
enum { DEMO_FIRST_DAY = -60 };

typedef struct {
  int64_t at;
  guint place; // in the order of telling, for acts of one minute
  LzCommand *command;
} LzDemoAct;

typedef struct {
  LzDesk *desk;
  GRand *rand;
  const char *zone; // of this PC
  int64_t now;
  int64_t midnight[-DEMO_FIRST_DAY + 2]; // UTC minute at which day i - 60 begins
  GArray *day;                           // LzDemoAct of the day being told
  LzDemoWater water[N_WATERS];
} LzDemo;

// UTC minute of a clock time on a day of the story (0 = today).
int64_t lz_demo_at(const LzDemo *demo, int day, int hour, int minute);
// One act on that day: fields and texts in pairs, NULL at the end; numbers as text. Acts ahead of
// now are left out. Returns the command (owned by the story) or NULL.
LzCommand *lz_demo_act(LzDemo *demo, int64_t at, const char *who, const char *kind,
                       ...) G_GNUC_NULL_TERMINATED;
// Adds a command that is made already; takes it over.
void lz_demo_add(LzDemo *demo, int64_t at, LzCommand *command);
// "%.*f" with a point, kept until the next 16 calls.
const char *lz_demo_num(double value, int decimals);

// Set-up: station, staff, waters, tanks, instruments, bottles, protocols. Done once, before the
// first day.
gboolean lz_demo_set_up(LzDemo *demo, GError **error);
// Who comes, moves, is treated, and what is seen, on one day.
void lz_demo_tell(LzDemo *demo, int day);
// The shifts' routine on one day: readings, doses, changes, feeding.
void lz_demo_routine(LzDemo *demo, int day);

#endif
