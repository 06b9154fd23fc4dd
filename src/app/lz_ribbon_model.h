// SPDX-License-Identifier: GPL-3.0-or-later
// Ways of lots across systems as the drawing layer wants them: of one lot, or of all that live.
#ifndef LZ_RIBBON_MODEL_H
#define LZ_RIBBON_MODEL_H

#include <lz_chart_data.h>
#include <lz_draw.h>
#include <lz_foresee.h>
#include <lz_rows.h>

#include "lz_time_axis.h"

typedef struct _LzRibbonModel LzRibbonModel;

// lot = engine index, or LZQ_NONE for all living lots over all systems.
LzRibbonModel *lz_ribbon_model_new(LzDesk *desk, uint32_t lot);
// The lots that a change would move: as planned, and hatched over it as it would be.
LzRibbonModel *lz_ribbon_model_new_what_if(LzDesk *desk, const LzForesight *foresight);
void lz_ribbon_model_free(LzRibbonModel *model);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzRibbonModel, lz_ribbon_model_free)

// The description with ticks for this width; lives as long as the model.
lzd_ribbon *lz_ribbon_model_view(LzRibbonModel *model, double pixels, double scale);
void lz_ribbon_model_set_window(LzRibbonModel *model, lzd_window window);
lzd_window lz_ribbon_model_window(const LzRibbonModel *model);
void lz_ribbon_model_select(LzRibbonModel *model, uint32_t lot); // LZQ_NONE = none
// Lot of a way; LZQ_NONE beyond the last.
uint32_t lz_ribbon_model_lot(const LzRibbonModel *model, size_t way);
guint lz_ribbon_model_n_ways(const LzRibbonModel *model);
// One sentence for a screen reader; newly allocated.
char *lz_ribbon_model_sentence(const LzRibbonModel *model);
// Stays as rows of a table (LzTextRow): lot, from, to, system, phase, why. Ids are lot indexes + 1.
GListModel *lz_ribbon_model_rows(const LzRibbonModel *model);

#endif
