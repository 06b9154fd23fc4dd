// SPDX-License-Identifier: GPL-3.0-or-later
// Inside lz_carry: the walk over the records of one water, and their order.
#ifndef LZ_CARRY_PRIVATE_H
#define LZ_CARRY_PRIVATE_H

#include "lz_carry.h"
#include "lz_trust.h"

// Whether a record of the water says something about the analyte's level.
gboolean lz_carry_concerns(const lzq_record *record, lzq_analyte analyte);
// Puts a record (index in the model) where it acts: at the end nearly always; what was entered late
// goes further up.
void lz_carry_put(GArray *records, LzModel *model, uint32_t index);
// Steps of records[from ...] up to `until`, with nothing known before them but the volume.
GArray *lz_carry_walk(LzModel *model, const LzTrust *trust, lzq_analyte analyte,
                      const GArray *records, guint from, double volume_l, lzq_minute until);

#endif
