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
const lzd_credit_span scene_spans[SCENE_SPANS] = {
    {D(3, 10, 0), D(4, 23, 31), LZD_CREDIT_SERVED},
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
  s->strip = (lzd_strip){"credit", scene_spans, SCENE_SPANS};
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

static void
small_credit(cairo_t *cr, const lzd_look *look, double width, double height, const void *data)
{
  lzd_credit_bar(cr, look, (lzd_rect){0, 4, width, height - 8},
                 (lzd_window){D(3, 10, 0), D(17, 22, 29)}, scene_spans, SCENE_SPANS);
}

static void
water_table(lzd_sheet *sheet)
{
  static const lzd_column columns[] = {
      {"system", 62, LZD_START},        {"course", 0, LZD_START},     {"served", 84, LZD_START},
      {"last reading", 118, LZD_START}, {"next test", 74, LZD_START}, {"dose today", 70, LZD_END}};
  static const lzd_cell rows[4][6] = {
      {{.text = "Blue-1", .basin = true, .water = LZD_WATER_COPPER},
       {.text = "Ionic copper"},
       {.text = "5 d 9 h of 21 d"},
       {.text = "0.191 mg/L 17:20", .mark = LZD_BAND_IN},
       {.text = "Wed 07:30", .bold = true},
       {.text = "68.4 mL, MK"}},
      {{.text = "Blue-2", .basin = true, .water = LZD_WATER_COPPER | LZD_WATER_LOW_SALT},
       {.text = "Copper + low salinity"},
       {.text = "4 d 19 h of 14 d"},
       {.text = "0.484 mg/L 07:24 and 21.5 ppt 07:26", .mark = LZD_BAND_IN},
       {.text = "today 19:30", .bold = true},
       {.text = "32.2 mL, TA"}},
      {{.text = "Red-2", .basin = true, .water = LZD_WATER_LOW_SALT},
       {.text = "Low salinity"},
       {.text = "12 d 2 h of 28 d"},
       {.text = "16.3 ppt 17:15", .mark = LZD_BAND_EDGE_LOW},
       {.text = "today 21:00", .bold = true},
       {.text = "none given"}},
      {{.text = "Grey-1", .basin = true},
       {.text = "Medicated feed"},
       {.text = "3 of 7 days"},
       {.text = "ate 80 % 15:10", .mark = LZD_BAND_IN},
       {.text = "Wed 08:30", .bold = true},
       {.text = "fed, JR"}}};
  lzd_sheet_table(sheet, columns, 6, true);
  for (int i = 0; i < 4; i++)
    lzd_sheet_row(sheet, rows[i], 6);
  lzd_sheet_end_table(sheet);
}

static void
task_table(lzd_sheet *sheet)
{
  static const lzd_column columns[] = {
      {NULL, 86, LZD_START}, {NULL, 0, LZD_START}, {NULL, 50, LZD_START}, {NULL, 90, LZD_START}};
  static const char *const tasks[][3] = {
      {"Coral-3", "Test ammonia, late since 07:30: kit was empty, new one on shelf B", "first"},
      {"Dock-1", "Test ammonia", "19:00"},
      {"Blue-2", "Test copper and salinity; after 23:24 the hold stops counting", "19:30"},
      {"Red-2", "Test salinity; if above 16.5, change 40 L with fresh water", "21:00"}};
  lzd_sheet_table(sheet, columns, 4, false);
  for (int i = 0; i < 4; i++) {
    lzd_cell cells[3] = {{.text = tasks[i][0], .bold = true},
                         {.text = tasks[i][1]},
                         {.text = tasks[i][2], .bold = true}};
    lzd_sheet_tick_row(sheet, cells, 3);
  }
  lzd_sheet_end_table(sheet);
}

lzd_status
scene_sheet(lzd_sheet **out, lzd_paper paper, lzd_fault *fault)
{
  static const lzd_run high[] = {
      {"Dock-1 ammonia 0.6 mg/L, high. ", true, LZD_TEXT},
      {"Half feed; test again 19:00; change 60 L if still above 0.5.", false, LZD_TEXT}};
  static const lzd_run old[] = {{"Blue-2 pH 8.0, 3 days old. ", true, LZD_TEXT},
                                {"Meter broken; use the drop test, drawer 2.", false, LZD_TEXT}};
  static const char *const signs[] = {"Given, read aloud", "Read back by"};
  static const char *const names[] = {"Came", "Counted"};
  static const char *const values[] = {"Mon 1 March 2027 17:40, shipment S-0088",
                                       "30, 0 dead. Here now: 29"};
  lzd_status status = lzd_sheet_new(out, paper, NULL, fault);
  if (status != LZD_OK)
    return status;
  lzd_sheet *s = *out;
  lzd_sheet_head(s, "Handover, day to evening", "Quay Street station, Tuesday 9 March 2027",
                 "Printed 17:32, sheet 0173, page {page} of {pages}", "Data until 17:30");
  lzd_sheet_foot(s, "Local rules and a veterinarian decide on medicines.", NULL);
  lzd_sheet_heading(s, "1", "Out of range now", "what it is, what to do");
  lzd_sheet_text(s, LZD_BAND_HIGH, high, 2);
  lzd_sheet_text(s, LZD_BAND_OLD, old, 2);
  lzd_sheet_heading(s, "2", "Water under treatment", NULL);
  water_table(s);
  lzd_sheet_space(s, 4);
  lzd_sheet_line(s, "Blue-1 and Blue-2 are dosed for today: no second dose without a new reading.",
                 true);
  lzd_sheet_heading(s, "3", "Lot 0412", NULL);
  lzd_sheet_facts(s, "0412", names, values, 2);
  lzd_sheet_block(s, 22, small_credit, NULL);
  lzd_sheet_warning(s, LZD_TASK_BLOCKED, "Nothing in or out of Blue-2",
                    "Lot 0409 waits until Thu 11.");
  lzd_sheet_heading(s, "6", "Not started: yours now", "tick, time, initials");
  task_table(s);
  lzd_sheet_tick_line(s, "Not released.", "To come: 9 d 14 h of hold.");
  lzd_sheet_heading(s, "9", "By pen", NULL);
  lzd_sheet_pen_lines(s, 2);
  lzd_sheet_to_foot(s);
  lzd_sheet_rule(s, 0.9);
  lzd_sheet_sign(s, signs, 2, true);
  return LZD_OK;
}
