// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: what another course may keep of the time served so far.
#ifndef LZ_GATE_KEEP_H
#define LZ_GATE_KEEP_H

#include "lz_check.h"

// For a course that asks to keep it (field keep): only into a phase that asks for no more than the
// one that the lot is in (lzq_phase_serves). Where the draft names no phase, the one of the same
// place in the order is put in, or else the first that may keep it. Refuses by name of both phases.
gboolean lz_gate_keep(LzDraft *draft, const LzEntity *lot, const LzEntity *protocol,
                      GError **error);

#endif
