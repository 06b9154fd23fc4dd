// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: what waters share besides water. Net and tool sets by name, waters within reach
// of each other, and the lasting mark of nets that have been in copper: brass and nets that held
// copper have killed invertebrates at 15 to 50 microgram a litre (Wynne 2015), so the mark never
// goes away, whatever the set is used for afterwards.
#ifndef LZ_NETS_H
#define LZ_NETS_H

#include "lz_model.h"

// Indices of the systems within reach of that one: those that it names, and those that name it.
GArray *lz_nets_near(const LzModel *model, uint32_t system);
// A name that `near` holds and no system has; NULL = none. Newly allocated.
char *lz_nets_unknown_near(const LzModel *model, const char *near);
// First minute at which a water that a set of this name serves or served held copper; LZQ_NEVER.
lzq_minute lz_nets_set_in_copper(const LzModel *model, const char *nets);
// First minute at which a water that this system's net set served then held copper; LZQ_NEVER. A
// system without a named set has its own nets, and their mark is that of its own water.
lzq_minute lz_nets_in_copper(const LzModel *model, uint32_t system);

#endif
