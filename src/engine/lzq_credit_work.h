// SPDX-License-Identifier: GPL-3.0-or-later
// Private to the engine: the credit of a record that has been put in order already, so that the
// plan, which needs that order too, makes it once.
#ifndef LZQ_CREDIT_WORK_H
#define LZQ_CREDIT_WORK_H

#include "lzq_credit.h"

// As lzq_credit_run, of a snapshot that passed lzq_snapshot_check and its history up to `until`.
lzq_status lzq_credit_of_history(const lzq_snapshot *snapshot, const lzq_history *history,
                                 lzq_minute until, lzq_arena *arena, const lzq_credit **out);

#endif
