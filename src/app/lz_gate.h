// SPDX-License-Identifier: GPL-3.0-or-later
// The gate beside an open line: what is wrong with the number, where it would take the water, and
// the ways on. It never blocks typing again.
#ifndef LZ_GATE_H
#define LZ_GATE_H

#include <gtk/gtk.h>
#include <lz_draw.h>

typedef enum {
  LZ_GATE_OPEN,      // nothing in the way: the panel is empty
  LZ_GATE_REPEAT,    // a reading far off: type it again
  LZ_GATE_READ_BACK, // a risky dose: type it again
  LZ_GATE_WITNESS,   // a second person's initials
  LZ_GATE_ALONE,     // their own sum as well
  LZ_GATE_REASON,    // a reason is needed
  LZ_GATE_COST,      // others pay for it: Enter again records it
  LZ_GATE_STOP,      // nobody overrides
} LzGateKind;

// Where the number would take the water. NAN = not shown.
typedef struct {
  double low, high;    // band, from the edge that works to the plan's edge
  double asked, typed; // levels
  int decimals;
} LzGateScale;

#define LZ_TYPE_GATE (lz_gate_get_type())
G_DECLARE_FINAL_TYPE(LzGate, lz_gate, LZ, GATE, GtkWidget)

// sentence is the desk's, shown as it is; scale NULL = no scale.
void lz_gate_set(LzGate *self, LzGateKind kind, const char *sentence, const LzGateScale *scale);
LzGateKind lz_gate_kind(LzGate *self);

#define LZ_TYPE_GATE_SCALE (lz_gate_scale_get_type())
G_DECLARE_FINAL_TYPE(LzGateScaleArea, lz_gate_scale, LZ, GATE_SCALE, GtkWidget)
void lz_gate_scale_set(LzGateScaleArea *self, const LzGateScale *scale);

#endif
