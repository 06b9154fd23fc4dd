// SPDX-License-Identifier: GPL-3.0-or-later
// The same invented station as lanes of lots, and one lot's credit by days.
#include "scene.h"

#define D(day, hour, minute) ((day)*1440 + (hour)*60 + (minute))
#define SET(field, array)    .field = array, .n_##field = sizeof array / sizeof array[0]

#define MANY(a) a, sizeof a / sizeof a[0]

static const lzd_lane one_lanes[] = {
    {"Dock-1", 0, NULL}, {"Blue-2", 3, NULL}, {"Green-1", 0, NULL}, {"Coral-3", 0, NULL}};
static const lzd_leg one_legs[] = {{0, D(0, 14, 0), D(0, 18, 0), NULL},
                                   {1, D(0, 18, 0), D(3, 10, 0), "rise"},
                                   {1, D(3, 10, 0), SCENE_NOW, "hold"},
                                   {1, SCENE_NOW, D(17, 22, 29), "hold 14 d, 4 d 9 h served"},
                                   {2, D(18, 10, 0), D(23, 10, 0), "salinity up"},
                                   {3, D(23, 10, 0), D(30, 10, 0), "watch 7 d"}};
static const lzd_way one_way[] = {{.name = "0412",
                                   .legs = one_legs,
                                   .n_legs = 6,
                                   .early = D(30, 10, 0),
                                   .likely = D(31, 10, 0),
                                   .late = D(34, 10, 0),
                                   .release_title = "Release Thu 1 April",
                                   .release_range = "31 March to 4 April"}};
static const lzd_time_tick weeks[] = {{D(0, 0, 0), "Mon 1 March", 0}, {D(7, 0, 0), "Mon 8", 0},
                                      {D(14, 0, 0), "Mon 15", 0},     {D(21, 0, 0), "Mon 22", 0},
                                      {D(28, 0, 0), "Mon 29", 0},     {D(35, 0, 0), "5 Apr", 0}};

static const lzd_lane lanes[] = {{"Dock-1", 0, "102 of 110"}, {"Pearl-1", 0, "0 of 130"},
                                 {"Coral-3", 0, "24 of 120"}, {"Green-1", 0, "0 of 90"},
                                 {"Blue-1", 1, "64 of 140"},  {"Blue-2", 3, "119 of 160"},
                                 {"Red-2", 2, "20 of 60"}};
static const lzd_leg legs[][3] = {
    {{0, D(8, 10, 0), D(16, 2, 0), NULL}, {1, D(16, 12, 0), D(40, 0, 0), NULL}},
    {{2, D(2, 0, 0), D(34, 0, 0), NULL}},
    {{5, D(3, 0, 0), D(9, 20, 0), NULL},
     {3, D(10, 6, 0), D(15, 0, 0), NULL},
     {2, D(15, 12, 0), D(22, 0, 0), NULL}},
    {{5, D(0, 18, 0), D(17, 22, 0), NULL},
     {3, D(18, 10, 0), D(23, 0, 0), NULL},
     {2, D(23, 10, 0), D(30, 10, 0), NULL}},
    {{5, D(1, 0, 0), D(17, 22, 0), NULL},
     {3, D(18, 10, 0), D(23, 0, 0), NULL},
     {2, D(23, 10, 0), D(37, 0, 0), NULL}},
    {{4, D(2, 0, 0), D(25, 2, 0), NULL}, {1, D(25, 18, 0), D(40, 0, 0), NULL}},
    {{6, D(2, 0, 0), D(21, 0, 0), NULL}, {1, D(21, 14, 0), D(28, 0, 0), NULL}},
    {{5, D(4, 0, 0), D(17, 22, 0), NULL}, {3, D(18, 10, 0), D(25, 0, 0), NULL}},
    {{5, D(5, 0, 0), D(17, 22, 0), NULL}, {3, D(18, 10, 0), D(25, 0, 0), NULL}},
    {{0, D(17, 12, 0), D(18, 6, 0), NULL},
     {5, D(18, 20, 0), D(34, 0, 0), NULL},
     {3, D(34, 12, 0), D(40, 0, 0), NULL}},
};
#define WAY(lot, i, n, e, l)                                                                       \
  {                                                                                                \
    .name = lot, .id = i, .legs = legs[i], .n_legs = n, .early = D(e, 10, 0),                      \
    .likely = D(e, 20, 0), .late = D(l, 0, 0)                                                      \
  }
#define OPEN_WAY(lot, i, n)                                                                        \
  {                                                                                                \
    .name = lot, .id = i, .legs = legs[i], .n_legs = n, .early = LZD_NEVER, .likely = LZD_NEVER,   \
    .late = LZD_NEVER                                                                              \
  }
static const lzd_way ways[] = {OPEN_WAY("S-0090, 102", 0, 2),
                               WAY("0416, 24", 1, 1, 34, 37),
                               WAY("0409", 2, 3, 22, 24),
                               WAY("0412, 29", 3, 3, 30, 34),
                               WAY("0418, 52", 4, 3, 37, 39),
                               OPEN_WAY("0411, 64", 5, 2),
                               WAY("0405, 20", 6, 2, 28, 30),
                               OPEN_WAY("0422", 7, 2),
                               OPEN_WAY("0423", 8, 2),
                               {.name = "S-0093, 60",
                                .id = 9,
                                .kind = LZD_WAY_WHAT_IF,
                                .legs = legs[9],
                                .n_legs = 3,
                                .early = LZD_NEVER,
                                .likely = LZD_NEVER,
                                .late = LZD_NEVER}};
static const lzd_window weekends[] = {{D(5, 0, 0), D(7, 0, 0)},
                                      {D(12, 0, 0), D(14, 0, 0)},
                                      {D(19, 0, 0), D(21, 0, 0)},
                                      {D(26, 0, 0), D(28, 0, 0)},
                                      {D(33, 0, 0), D(35, 0, 0)}};
static const lzd_conflict conflicts[] = {
    {5, D(17, 0, 0), D(18, 0, 0), "conflict Thu 18 March, see right"}};

void
scene_ribbon(lzd_ribbon *one, lzd_ribbon *many)
{
  *one = (lzd_ribbon){.window = {0, D(37, 0, 0)},
                      MANY(weeks),
                      .now = SCENE_NOW,
                      .now_text = "now",
                      .lanes = one_lanes,
                      .n_lanes = 4,
                      .ways = one_way,
                      .n_ways = 1};
  *many = (lzd_ribbon){.window = {D(6, 0, 0), D(40, 0, 0)},
                       MANY(weeks),
                       MANY(weekends),
                       .now = SCENE_NOW,
                       .now_text = "now",
                       .lanes = lanes,
                       .n_lanes = 7,
                       .ways = ways,
                       .n_ways = sizeof ways / sizeof ways[0],
                       .conflicts = conflicts,
                       .n_conflicts = 1};
}

void
scene_credit(lzd_credit_grid *grid)
{
  static const char *const labels[15] = {"Thu 4",  "Fri 5",  "Sat 6",  "Sun 7",  "Mon 8",
                                         "Tue 9",  "Wed 10", "Thu 11", "Fri 12", "Sat 13",
                                         "Sun 14", "Mon 15", "Tue 16", "Wed 17", "Thu 18"};
  static const char *const totals[6] = {"14 h 00", "23 h 31", "16 h 30",
                                        "19 h 30", "24 h 00", "8 h 16"};
  static const char *const notes[4] = {"hold begins 10:00", "no evening test: 16 h end at 23:30",
                                       "until the test of 07:30", "change, copper not replaced"};
  static lzd_credit_day days[15];
  for (int i = 0; i < 15; i++)
    days[i] = (lzd_credit_day){D(i + 3, 0, 0),           D(i + 4, 0, 0),          labels[i],
                               i < 6 ? totals[i] : NULL, i < 4 ? notes[i] : NULL, i == 5};
  *grid = (lzd_credit_grid){.days = days,
                            .n_days = 15,
                            .spans = scene_spans,
                            .n_spans = SCENE_SPANS,
                            .hour_label = {"00", "06", "12", "18", "24"},
                            .total_head = "served",
                            .served = "served",
                            .open = "served, not yet borne out",
                            .not_served = "not served",
                            .to_serve = "still to serve",
                            .selected = SIZE_MAX};
}
