// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: an estimate of a bank that the caller has fed.
#ifndef LZ_ESTIMATE_PRIVATE_H
#define LZ_ESTIMATE_PRIVATE_H

#include "lz_desk_private.h"
#include "lz_estimate.h"

// plan NULL = no band. `at` not before the last record fed.
void lz_estimate_of_bank(LzDesk *desk, const lzq_plan *plan, const lzq_water_bank *bank,
                         lzq_minute at, LzEstimate *out);

#endif
