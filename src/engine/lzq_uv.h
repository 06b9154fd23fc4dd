// SPDX-License-Identifier: GPL-3.0-or-later
// Ultraviolet at 254 nm: the fluence that water really gets. mJ/cm2, mW/cm2, cm, s, mL/s.
//
// Source: Beer-Lambert averages; collimated beam of Bolton & Linden (2003), J. Environ. Eng.
// 129:209-215 (formula from memory). Lamp ageing 0.80 at 8,000 h (Malley 2020 citing USEPA UVDGM
// 2006). Electricity beside water: unplug before opening, never look into a lamp.
#ifndef LZQ_UV_H
#define LZQ_UV_H

#include "lzq_status.h"

// Absorbance per cm from a transmittance (0..1] through 1 cm.
double lzq_uv_absorbance(double transmittance_1cm);

// Mean over depth_cm of the irradiance in water: (1 - 10^(-a d)) / (a d ln 10), 1 for a d = 0.
double lzq_uv_water_factor(double absorbance_cm, double depth_cm);

// Collimated beam: E0 Pf (1-R) L/(d+L) WF t, R = 0.025. mJ/cm2.
double lzq_uv_beam(double e0_mw_cm2, double petri_factor, double distance_cm, double depth_cm,
                   double absorbance_cm, double seconds);

// Volume mean of an annulus r1..r2 around a lamp of power_w over length_cm, W/cm2, no end loss; a
// -> 0 gives P / (pi (r1 + r2) L).
double lzq_uv_annulus(double power_w, double length_cm, double r1_cm, double r2_cm,
                      double absorbance_cm);

// One pass through that annulus at flow_ml_s, mJ/cm2 (plug flow): mean irradiance * volume / flow.
double lzq_uv_pass(double power_w, double length_cm, double r1_cm, double r2_cm,
                   double absorbance_cm, double flow_ml_s);

// Rated at rated_flow with a new lamp and a clean sleeve; delivered = rated * lamp * sleeve *
// rated_flow / flow.
double lzq_uv_delivered(double rated_mj_cm2, double lamp_share, double sleeve_share,
                        double rated_flow, double flow);

#endif
