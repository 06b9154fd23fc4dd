// SPDX-License-Identifier: GPL-3.0-or-later
// Everything the engine offers. libc and libm only; see docs/map.md.
#ifndef LZ_ENGINE_H
#define LZ_ENGINE_H

#include "lzq_status.h"
#include "lzq_arena.h"
#include "lzq_model.h"
#include "lzq_history.h"
#include "lzq_book.h"
#include "lzq_credit.h"
#include "lzq_contacts.h"
#include "lzq_shorts.h"
#include "lzq_plan.h"
#include "lzq_diff.h"
#include "lzq_protocol.h"
#include "lzq_units.h"
#include "lzq_seawater.h"
#include "lzq_balance.h"
#include "lzq_dose.h"
#include "lzq_gate.h"
#include "lzq_bath.h"
#include "lzq_biofilter.h"
#include "lzq_ammonia.h"
#include "lzq_oxygen.h"
#include "lzq_uv.h"
#include "lzq_calibrate.h"
#include "lzq_estimate.h"
#include "lzq_forecast.h"
#include "lzq_trend.h"
#include "lzq_water.h"

#endif
