// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene.h"

#include <math.h>
#include <string.h>

#define D(day, hour, minute) ((day)*1440 + (hour)*60 + (minute))

static const char *const day_names[SCENE_DAYS + 1] = {"Mon 1", "Tue 2",  "Wed 3",  "Thu 4",
                                                      "Fri 5", "Sat 6",  "Sun 7",  "Mon 8",
                                                      "Tue 9", "Wed 10", "Thu 11", NULL};

static const lzd_band copper_band[] = {{D(3, 10, 0), D(12, 0, 0), 0.45, 0.60, LZD_EDGE_WORKS,
                                        LZD_EDGE_PLAN, "0.45 works from here up",
                                        "0.60 not beyond by plan; 0.80 harms"}};
static const lzd_band salt_band[] = {{D(3, 10, 0), D(12, 0, 0), 20.5, 22.5, LZD_EDGE_PLAN,
                                      LZD_EDGE_WORKS, "20.5 not below by plan",
                                      "22.5 works from here down"}};
static const lzd_point copper_plan[] = {
    {D(1, 0, 0), 0},     {D(1, 10, 0), 0},   {D(1, 10, 0), 0.17}, {D(2, 10, 0), 0.17},
    {D(2, 10, 0), 0.34}, {D(3, 9, 0), 0.34}, {D(3, 9, 0), 0.50},  {D(12, 0, 0), 0.50}};
static const lzd_point salt_plan[] = {{D(0, 0, 0), 34},    {D(1, 9, 30), 34},  {D(1, 9, 30), 29},
                                      {D(2, 9, 30), 29},   {D(2, 9, 30), 25},  {D(3, 8, 30), 25},
                                      {D(3, 8, 30), 21.5}, {D(12, 0, 0), 21.5}};

#define R(d, h, m, v, mark)                                                                        \
  {                                                                                                \
    D(d, h, m), v, NULL, 0, mark, LZD_PLAIN                                                        \
  }
static const lzd_reading copper_readings[] = {
    R(1, 19, 30, .163, LZD_READ_SQUARE),
    R(2, 7, 30, .158, LZD_READ_DISC),
    R(2, 19, 30, .331, LZD_READ_DISC),
    R(3, 7, 30, .322, LZD_READ_DISC),
    R(3, 10, 0, .498, LZD_READ_DISC),
    R(3, 19, 30, .494, LZD_READ_DISC),
    R(4, 7, 30, .487, LZD_READ_DISC),
    R(5, 7, 30, .481, LZD_READ_DISC),
    R(5, 19, 30, .492, LZD_READ_DISC),
    R(6, 7, 30, .474, LZD_READ_DISC),
    R(6, 19, 30, .499, LZD_READ_DISC),
    R(7, 7, 30, .486, LZD_READ_DISC),
    {D(7, 19, 20), .66, NULL, 7, LZD_READ_SQUARE, LZD_SUSPECT},
    R(7, 19, 28, .495, LZD_READ_DISC),
    R(8, 7, 24, .484, LZD_READ_DISC),
};
static const lzd_reading salt_readings[] = {
    R(0, 7, 30, 33.8, LZD_READ_DIAMOND),   R(1, 19, 30, 29.1, LZD_READ_DIAMOND),
    R(2, 7, 30, 29.4, LZD_READ_DIAMOND),   R(2, 19, 30, 25.1, LZD_READ_TRIANGLE),
    R(3, 7, 30, 25.0, LZD_READ_TRIANGLE),  R(3, 10, 0, 21.5, LZD_READ_TRIANGLE),
    R(3, 19, 30, 21.3, LZD_READ_TRIANGLE), R(4, 7, 30, 21.4, LZD_READ_TRIANGLE),
    R(5, 7, 30, 21.5, LZD_READ_TRIANGLE),  R(5, 19, 30, 21.5, LZD_READ_TRIANGLE),
    R(6, 7, 30, 21.6, LZD_READ_TRIANGLE),  R(6, 19, 30, 21.6, LZD_READ_TRIANGLE),
    R(7, 7, 30, 21.3, LZD_READ_TRIANGLE),  R(7, 19, 28, 21.5, LZD_READ_TRIANGLE),
    R(8, 7, 26, 21.5, LZD_READ_TRIANGLE),
};
static const lzd_exit copper_exit[] = {{D(9, 9, 0), D(9, 18, 0), D(10, 6, 0), 0.45,
                                        "leaves the band Wed 18:00", "Wed 09:00 to Thu 06:00",
                                        "if nothing is dosed"}};
static const lzd_event doses[] = {
    {D(1, 10, 0), NULL, 1, LZD_RAIL_DOSE, false}, {D(2, 10, 0), NULL, 2, LZD_RAIL_DOSE, false},
    {D(3, 9, 0), NULL, 3, LZD_RAIL_DOSE, false},  {D(4, 10, 0), NULL, 4, LZD_RAIL_DOSE, false},
    {D(5, 10, 0), NULL, 5, LZD_RAIL_DOSE, false}, {D(6, 15, 10), NULL, 6, LZD_RAIL_DOSE, false},
    {D(7, 10, 0), NULL, 7, LZD_RAIL_DOSE, false}, {D(8, 10, 0), NULL, 8, LZD_RAIL_DOSE, true}};
static const lzd_event changes[] = {{D(1, 9, 30), NULL, 11, LZD_RAIL_CHANGE, false},
                                    {D(2, 9, 30), NULL, 12, LZD_RAIL_CHANGE, false},
                                    {D(3, 8, 30), NULL, 13, LZD_RAIL_CHANGE, false},
                                    {D(6, 10, 40), NULL, 14, LZD_RAIL_CHANGE, false},
                                    {D(8, 14, 0), NULL, 15, LZD_RAIL_CHANGE, true}};
static const lzd_event moves[] = {{D(0, 18, 0), NULL, 21, LZD_RAIL_MOVE, false},
                                  {D(1, 19, 0), NULL, 22, LZD_RAIL_MOVE, false}};
static const lzd_event seen[] = {{D(2, 15, 10), "spot, tank 5", 31, LZD_RAIL_SEEN, false},
                                 {D(5, 7, 15), "1 dead, tank 2", 32, LZD_RAIL_DEAD, false}};
static const lzd_credit_span credit[] = {{D(3, 10, 0), D(4, 23, 31), LZD_CREDIT_SERVED},
                                         {D(4, 23, 31), D(5, 7, 30), LZD_CREDIT_NOT_SERVED},
                                         {D(5, 7, 30), D(6, 10, 40), LZD_CREDIT_SERVED},
                                         {D(6, 10, 40), D(6, 15, 10), LZD_CREDIT_NOT_SERVED},
                                         {D(6, 15, 10), D(7, 19, 28), LZD_CREDIT_SERVED},
                                         {D(7, 19, 28), SCENE_NOW, LZD_CREDIT_OPEN},
                                         {SCENE_NOW, D(17, 22, 29), LZD_CREDIT_TO_SERVE}};
static const lzd_callout_line callout[] = {
    {LZD_READ_SQUARE, LZD_SUSPECT, "0.66 drop test, JR: suspect", true},
    {LZD_READ_DISC, LZD_PLAIN, "0.495 photometer, JR 19:28: used", false}};

static double
decayed(double from, double hours)
{
  return from * exp(-0.0021 * hours);
}

// Doses and changes that set the level of copper and of salt, by hour.
static const struct {
  int hour;
  double copper, salt;
} steps[] = {{0, 0, 34},     {33, -1, 29.1}, {34, .17, -1},   {57, -1, 25.1},
             {58, .34, -1},  {80, -1, 21.5}, {81, .505, -1},  {106, .50, -1},
             {130, .50, -1}, {154, .41, -1}, {159, .505, -1}, {178, .506, -1}};

static void
fill_lines(scene *s)
{
  double copper = 0, salt = 34, since = 0;
  size_t at = 0;
  for (int h = 0; h * 60 <= SCENE_NOW; h++) {
    for (; at < sizeof steps / sizeof steps[0] && steps[at].hour == h; at++) {
      s->copper[s->panel[0].n_estimate++] =
          (lzd_span){h * 60, copper - .008, copper, copper + .008};
      copper = steps[at].copper >= 0 ? steps[at].copper : copper * 0.86;
      salt = steps[at].salt >= 0 ? steps[at].salt : salt;
      since = 0;
    }
    double wide = h < 34 ? 0 : (h < 46 ? .02 : .005) + since * .0003;
    s->copper[s->panel[0].n_estimate++] =
        (lzd_span){h * 60, fmax(copper - wide, 0), copper, copper + wide};
    s->salt[s->panel[1].n_estimate++] = (lzd_span){h * 60, salt - .25, salt, salt + .25};
    copper = decayed(copper, 1);
    since++;
  }
  for (int i = 0; i < 60; i++) {
    double v = decayed(0.483, i);
    s->forecast[0][i] =
        (lzd_span){SCENE_NOW + i * 60, v - .006 - i * .0002, v, v + .006 + i * .0002};
    double salinity = 21.5 + i * 0.004;
    s->forecast[1][i] = (lzd_span){SCENE_NOW + i * 60, salinity - .3, salinity, salinity + .3};
  }
}

#define SET(field, array) .field = array, .n_##field = sizeof array / sizeof array[0]

void
scene_fill(scene *s)
{
  memset(s, 0, sizeof *s);
  s->panel[0] = (lzd_panel){.title = "Copper, complexed, mg/L",
                            .low = NAN,
                            .high = NAN,
                            .share = 1.75,
                            SET(bands, copper_band),
                            SET(plan, copper_plan),
                            SET(readings, copper_readings),
                            SET(exits, copper_exit),
                            .estimate = s->copper,
                            .forecast = s->forecast[0],
                            .n_forecast = 60};
  s->panel[1] = (lzd_panel){.title = "Salinity, ppt",
                            .low = NAN,
                            .high = NAN,
                            SET(bands, salt_band),
                            SET(plan, salt_plan),
                            SET(readings, salt_readings),
                            .estimate = s->salt,
                            .forecast = s->forecast[1],
                            .n_forecast = 60};
  fill_lines(s);
  s->rail[0] = (lzd_rail){"dose", SET(events, doses)};
  s->rail[1] = (lzd_rail){"change", SET(events, changes)};
  s->rail[2] = (lzd_rail){"move", SET(events, moves)};
  s->rail[3] = (lzd_rail){"seen", SET(events, seen)};
  s->strip = (lzd_strip){"credit", SET(spans, credit)};
  s->legend = (lzd_legend){.disc = "photometer",
                           .square = "drop test",
                           .diamond = "refractometer",
                           .triangle = "conductivity meter",
                           .estimate = "estimate, 80 %",
                           .plan = "plan",
                           .forecast = "forecast",
                           .band = "band"};
  for (int i = 0; i <= SCENE_DAYS; i++)
    s->tick[i] = (lzd_time_tick){i * 1440, day_names[i], i == 8};
  s->chart = (lzd_chart){.window = {0, SCENE_DAYS * 1440},
                         .ticks = s->tick,
                         .n_ticks = SCENE_DAYS + 1,
                         .label_between = true,
                         .now = SCENE_NOW,
                         .now_text = "now",
                         .panels = s->panel,
                         .n_panels = 2,
                         .rails = s->rail,
                         .n_rails = 4,
                         .strips = &s->strip,
                         .n_strips = 1,
                         .legend = &s->legend,
                         .cursor = {.minute = D(7, 19, 20),
                                    .panel = 0,
                                    .reading = 12,
                                    .title = "Mon 8 March 19:20",
                                    SET(lines, callout)}};
}
