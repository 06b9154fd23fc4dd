// SPDX-License-Identifier: GPL-3.0-or-later
// Everything the engine offers. libc and libm only; see docs/map.md.
#ifndef LZ_ENGINE_H
#define LZ_ENGINE_H

#include "lzq_status.h"
#include "lzq_arena.h"
#include "lzq_model.h"
#include "lzq_history.h"
#include "lzq_credit.h"
#include "lzq_plan.h"

#endif
