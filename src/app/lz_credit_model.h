// SPDX-License-Identifier: GPL-3.0-or-later
// Credit of one lot's phase as the drawing layer's grid: a row per local day.
#ifndef LZ_CREDIT_MODEL_H
#define LZ_CREDIT_MODEL_H

#include <lz_desk.h>
#include <lz_draw.h>

typedef struct _LzCreditModel LzCreditModel;

// NULL where no phase of the lot has asked for credit yet.
LzCreditModel *lz_credit_model_new(LzDesk *desk, uint32_t lot);
void lz_credit_model_free(LzCreditModel *model);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzCreditModel, lz_credit_model_free)

lzd_credit_grid *lz_credit_model_grid(LzCreditModel *model);
// "4 d 9 h 47 min of 14 d served; 9 d 14 h 13 min to go", owned by the model.
const char *lz_credit_model_sentence(const LzCreditModel *model);

#endif
