// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: an act that is accepted and changes nothing is said at once, to whoever enters
// it. The list of all of them stands among what matters (lz_matters_list).
#ifndef LZ_EFFECT_H
#define LZ_EFFECT_H

#include "lz_desk.h"

// `commands` are the last n entries of the model, in that order. Adds notes to them; a plan that
// cannot be made adds none.
void lz_effect_note(LzDesk *desk, LzCommand *const *commands, gsize n);

#endif
