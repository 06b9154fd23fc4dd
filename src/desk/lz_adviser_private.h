// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the adviser: one question while it is answered.
#ifndef LZ_ADVISER_PRIVATE_H
#define LZ_ADVISER_PRIVATE_H

#include "lz_adviser.h"
#include "lz_desk_private.h"

typedef struct {
  LzDesk *desk;
  const LzQuestion *ask;
  LzAnswer *out;
  double volume, level; // asked for, or of the water; NAN = not known
} LzAdvising;

// Both volume and level, or a refusal that names what is missing.
gboolean lz_advising_needs(const LzAdvising *a, const char *field, double value, GError **error);
// Appends the working, and how `exact` is measured with the syringe (mL) or the balance (g).
void lz_advising_measure(LzAdvising *a, lzq_working *working, double exact, lzq_unit unit);
void lz_advising_caution(LzAdvising *a, const char *sentence);
// What is dosed from: the strength asked for, or that of a bottle as its label counts it.
gboolean lz_advising_stock(LzAdvising *a, lzq_stock *out, GError **error);
// The engine's refusal as a sentence.
gboolean lz_advising_failed(lzq_status status, GError **error);

gboolean lz_adviser_freshen(LzAdvising *a, GError **error);
gboolean lz_adviser_salt(LzAdvising *a, GError **error);
gboolean lz_adviser_bleach(LzAdvising *a, GError **error);
gboolean lz_adviser_neutralise(LzAdvising *a, GError **error);
gboolean lz_adviser_bath(LzAdvising *a, GError **error);
gboolean lz_adviser_bath_lots(LzAdvising *a, GError **error); // what each takes
gboolean lz_adviser_feed(LzAdvising *a, GError **error);

#endif
