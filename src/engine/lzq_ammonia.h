// SPDX-License-Identifier: GPL-3.0-or-later
// Un-ionised ammonia: what share of total ammonia is NH3, on the pH scale the meter really reads.
//
// A meter calibrated in NBS buffers reads 0.1-0.14 above the total scale in seawater. Mixing the
// scales moves the answer by 15-26 %, so the scale is an argument that nobody can forget.
// Shown as mg/L NH3-N.
//
// Sources: NBS: pKa = 9.350 + 0.0324 (25 - t) at S = 34 reproduces all 44 values of Bower & Bidwell
// (1978), J. Fish. Res. Board Can. 35:1012-1016; other salinities by Whitfield's ionic-strength
// term 0.116 (I - 0.701), I = 19.9273 S / (1000 - 1.005109 S) (as in EPA 440/5-88-004; value from
// memory). Total scale: Clegg & Whitfield (1995), Geochim. Cosmochim. Acta 59:2403-2421, eq. 18,
// brought to mol/kg of seawater. Fresh water: Emerson et al. (1975), J. Fish. Res. Board Can.
// 32:2379-2383.
#ifndef LZQ_AMMONIA_H
#define LZQ_AMMONIA_H

#include "lzq_status.h"

typedef enum { LZQ_PH_NBS, LZQ_PH_TOTAL } lzq_ph_scale;

#define LZQ_NH3_PER_N 1.21589 // mg NH3 in 1 mg NH3-N

// pKa of ammonium. NBS: S 5..40, t 0..40 °C; TOTAL: S 0..40, t -2..40 °C. Else LZQ_OUT_OF_RANGE,
// *out NAN.
lzq_status lzq_ammonia_pka(double salinity, double t_c, lzq_ph_scale scale, double *out);

// Of fresh water, 0..30 °C, NBS pH, with T = 273.15 + t: the printed tables follow to their last
// digit.
lzq_status lzq_ammonia_pka_fresh(double t_c, double *out);

// Share 0..1 of total ammonia that is NH3.
double lzq_ammonia_share(double pka, double ph);

// mg/L NH3-N of a total of tan_mg_l (as N). pH 4..11.
lzq_status lzq_ammonia_unionised(double tan_mg_l, double salinity, double t_c, double ph,
                                 lzq_ph_scale scale, double *out);

#endif
