// SPDX-License-Identifier: GPL-3.0-or-later
// What the two ways to a customer's plan share: the usual course, and a protocol of the station.
#ifndef LZR_TAKE_HOME_H
#define LZR_TAKE_HOME_H

#include "lzr_sheet.h"

typedef struct {
  LzrBuild *build;
  int day;         // the next one, from 1
  double salinity; // PSS-78, where the plan has brought it
  gboolean copper; // the water holds it
} LzrHome;

// A row to tick; day, what and amount may be NULL.
void lzr_home_step(LzrBuild *build, const char *day, const char *what, const char *amount);
const char *lzr_home_ml(LzrBuild *build, double amount);
const char *lzr_home_level(LzrBuild *build, double value); // copper, mg/L
const char *lzr_home_number(LzrBuild *build, double value, int decimals);
// mL of the customer's medicine that bring the tank from one level to another, mg/L.
double lzr_home_dose_ml(const LzrOptions *o, double from, double to);

// Engine index of the protocol that the options name; LZQ_NONE = none, the usual course.
uint32_t lzr_home_protocol(LzDesk *desk, const LzrOptions *options);
// By a protocol of the station (engine index). Whether it may be carried on at home:
// LZ_DESK_ERROR_USAGE says why not (a veterinarian's, a bath, prescription, a second system).
gboolean lzr_home_check(LzDesk *desk, uint32_t protocol, GError **error);
gboolean lzr_home_copper(LzDesk *desk, uint32_t protocol); // it doses copper
// The first band that copper is held in; NULL if it doses none.
const lzq_band *lzr_home_band(LzDesk *desk, uint32_t protocol);
// The rows of its phases, in the table that the caller began.
void lzr_home_days(LzrBuild *build, uint32_t protocol);

#endif
