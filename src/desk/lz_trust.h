// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: which readings an instrument's checks let stand.
#ifndef LZ_TRUST_H
#define LZ_TRUST_H

#include "lz_model.h"

typedef struct _LzTrust LzTrust;

// By the checks that lie at or before `until` (LZQ_NEVER = all).
LzTrust *lz_trust_new(const LzModel *model, lzq_minute until);
void lz_trust_free(LzTrust *trust);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzTrust, lz_trust_free)
// The same, kept by the model until a record comes or another minute is asked for: not to be freed.
const LzTrust *lz_trust_now(LzModel *model, lzq_minute until);

// FALSE for a reading whose instrument failed the last check before it or the first after it, and
// for an instrument not yet checked where the station does not trust that. TRUE without an
// instrument. O(log checks).
gboolean lz_trust_reading(const LzTrust *trust, uint32_t instrument, lzq_minute at);
// The last good check at or before `at`; LZQ_LONG_AGO = none.
lzq_minute lz_trust_checked_at(const LzTrust *trust, uint32_t instrument, lzq_minute at);

#endif
