// SPDX-License-Identifier: GPL-3.0-or-later
// One table of linear maps, and the shares of an analyte in the salts that labels name.
#include "lzq_units.h"

#include <math.h>

typedef struct {
  lzq_kind kind;
  double factor; // canonical = value * factor + offset
  double offset;
  const char *name;
} unit_map;

#define CUBIC_INCH_L (2.54 * 2.54 * 2.54 / 1000.0)

static const unit_map maps[LZQ_N_MEASURES] = {
    [LZQ_MEASURE_L] = {LZQ_KIND_VOLUME, 1.0, 0.0, "L"},
    [LZQ_MEASURE_ML] = {LZQ_KIND_VOLUME, 1e-3, 0.0, "mL"},
    [LZQ_MEASURE_M3] = {LZQ_KIND_VOLUME, 1e3, 0.0, "m3"},
    [LZQ_MEASURE_US_GALLON] = {LZQ_KIND_VOLUME, 231.0 * CUBIC_INCH_L, 0.0, "US gal"},
    [LZQ_MEASURE_IMPERIAL_GALLON] = {LZQ_KIND_VOLUME, 4.54609, 0.0, "imp gal"},
    [LZQ_MEASURE_US_FLUID_OUNCE] = {LZQ_KIND_VOLUME, 231.0 * CUBIC_INCH_L / 128.0, 0.0, "US fl oz"},
    [LZQ_MEASURE_CUBIC_FOOT] = {LZQ_KIND_VOLUME, 1728.0 * CUBIC_INCH_L, 0.0, "ft3"},
    [LZQ_MEASURE_G] = {LZQ_KIND_MASS, 1.0, 0.0, "g"},
    [LZQ_MEASURE_MG] = {LZQ_KIND_MASS, 1e-3, 0.0, "mg"},
    [LZQ_MEASURE_KG] = {LZQ_KIND_MASS, 1e3, 0.0, "kg"},
    [LZQ_MEASURE_POUND] = {LZQ_KIND_MASS, 453.59237, 0.0, "lb"},
    [LZQ_MEASURE_OUNCE] = {LZQ_KIND_MASS, 453.59237 / 16.0, 0.0, "oz"},
    [LZQ_MEASURE_MG_L] = {LZQ_KIND_LEVEL, 1.0, 0.0, "mg/L"},
    [LZQ_MEASURE_PPM] = {LZQ_KIND_LEVEL, 1.0, 0.0, "ppm"},
    [LZQ_MEASURE_UG_L] = {LZQ_KIND_LEVEL, 1e-3, 0.0, "ug/L"},
    [LZQ_MEASURE_G_M3] = {LZQ_KIND_LEVEL, 1.0, 0.0, "g/m3"},
    [LZQ_MEASURE_MG_ML] = {LZQ_KIND_STRENGTH, 1.0, 0.0, "mg/mL"},
    [LZQ_MEASURE_G_L] = {LZQ_KIND_STRENGTH, 1.0, 0.0, "g/L"},
    [LZQ_MEASURE_PERCENT_WV] = {LZQ_KIND_STRENGTH, 10.0, 0.0, "% w/v"},
    [LZQ_MEASURE_CELSIUS] = {LZQ_KIND_TEMPERATURE, 1.0, 0.0, "degC"},
    [LZQ_MEASURE_FAHRENHEIT] = {LZQ_KIND_TEMPERATURE, 5.0 / 9.0, -160.0 / 9.0, "degF"},
    [LZQ_MEASURE_KELVIN] = {LZQ_KIND_TEMPERATURE, 1.0, -273.15, "K"},
};

static const unit_map *
map_of(lzq_measure measure)
{
  return &maps[(unsigned)measure < LZQ_N_MEASURES ? measure : LZQ_MEASURE_L];
}

lzq_kind
lzq_measure_kind(lzq_measure measure)
{
  return map_of(measure)->kind;
}

const char *
lzq_measure_name(lzq_measure measure)
{
  return map_of(measure)->name;
}

double
lzq_to_canonical(lzq_measure measure, double value)
{
  const unit_map *map = map_of(measure);
  return value * map->factor + map->offset;
}

double
lzq_from_canonical(lzq_measure measure, double value)
{
  const unit_map *map = map_of(measure);
  return (value - map->offset) / map->factor;
}

double
lzq_share_of(lzq_as as)
{
  const double sulfate = LZQ_MASS_CU + LZQ_MASS_S + 4.0 * LZQ_MASS_O;
  const double water = 2.0 * LZQ_MASS_H + LZQ_MASS_O;
  switch (as) {
  case LZQ_AS_COPPER_SULFATE_5H2O: return LZQ_MASS_CU / (sulfate + 5.0 * water);
  case LZQ_AS_COPPER_SULFATE: return LZQ_MASS_CU / sulfate;
  case LZQ_AS_SODIUM_HYPOCHLORITE:
    return 2.0 * LZQ_MASS_CL / (LZQ_MASS_NA + LZQ_MASS_O + LZQ_MASS_CL);
  case LZQ_AS_AMMONIA: return LZQ_MASS_N / (LZQ_MASS_N + 3.0 * LZQ_MASS_H);
  case LZQ_AS_NITRITE: return LZQ_MASS_N / (LZQ_MASS_N + 2.0 * LZQ_MASS_O);
  case LZQ_AS_NITRATE: return LZQ_MASS_N / (LZQ_MASS_N + 3.0 * LZQ_MASS_O);
  case LZQ_AS_ITSELF:
  case LZQ_N_AS: break;
  }
  return 1.0;
}

double
lzq_from_label(lzq_as as, double labelled)
{
  return labelled * lzq_share_of(as);
}

double
lzq_to_label(lzq_as as, double counted)
{
  return counted / lzq_share_of(as);
}

double
lzq_g_l_from_percent_ww(double percent, double density_g_ml)
{
  return percent / 100.0 * density_g_ml * 1000.0;
}
