// SPDX-License-Identifier: GPL-3.0-or-later
// Oxygen in water at equilibrium with moist air.
//
// Source: Benson & Krause (1984), Limnology and Oceanography 29:620-632, eq. 32 in mg/L, with its
// pressure term; the 31 values of ISO 5814 in fresh water follow from it. t in °C as given (the
// scales differ by less than the equation's own error here).
#ifndef LZQ_OXYGEN_H
#define LZQ_OXYGEN_H

#include "lzq_status.h"

// mg/L at saturation. S 0..40, t 0..40 °C, pressure 0.5..1.1 atm. Else LZQ_OUT_OF_RANGE, *out NAN.
lzq_status lzq_oxygen_saturation(double salinity, double t_c, double pressure_atm, double *out);

// Share of saturation (1 = saturated) of a reading in mg/L.
lzq_status lzq_oxygen_share(double oxygen_mg_l, double salinity, double t_c, double pressure_atm,
                            double *out);

// Vapour pressure of the water, atm (same ranges are not checked here).
double lzq_vapour_pressure_atm(double salinity, double t_c);

// Mean pressure of the air at a height above the sea, atm: the standard atmosphere of ISO 2533:1975
// below 11 km, (1 - 0.0065 h / 288.15)^5.25588. Weather moves it by some 3 %.
double lzq_pressure_at_height_atm(double metres);

#define LZQ_KPA_PER_ATM 101.325

#endif
