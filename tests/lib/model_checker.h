// SPDX-License-Identifier: GPL-3.0-or-later
// Watches a list model as a view does: keeps its own copy from items-changed alone, and says when
// the two differ, when a stretch lies outside the list, or when a signal names more than changed.
#ifndef LZT_MODEL_CHECKER_H
#define LZT_MODEL_CHECKER_H

#include <gio/gio.h>

typedef struct _LztModelChecker LztModelChecker;

LztModelChecker *lzt_model_checker_new(GListModel *model);
void lzt_model_checker_free(LztModelChecker *checker);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LztModelChecker, lzt_model_checker_free)

// NULL = all is well, else what was wrong first; owned by the checker.
const char *lzt_model_checker_fault(LztModelChecker *checker);
// items-changed so far.
guint lzt_model_checker_signals(LztModelChecker *checker);

#endif
