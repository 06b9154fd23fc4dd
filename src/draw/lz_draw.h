// SPDX-License-Identifier: GPL-3.0-or-later
// Gathers the draw layer.
#ifndef LZ_DRAW_H
#define LZ_DRAW_H

#include "lzd_base.h"
#include "lzd_chart.h"
#include "lzd_credit.h"
#include "lzd_export.h"
#include "lzd_hatch.h"
#include "lzd_hit.h"
#include "lzd_index.h"
#include "lzd_marks.h"
#include "lzd_page.h"
#include "lzd_palette.h"
#include "lzd_ribbon.h"
#include "lzd_scale.h"
#include "lzd_text.h"
#include "lzd_ticks.h"

#endif
