// SPDX-License-Identifier: GPL-3.0-or-later
// A dose worked out from the reading before one that is in doubt. A higher one may be right: then a
// dose is in the water that nobody wrote down, and this one comes on top of it. A lower one may be
// right, too; then this dose leaves the water below its band, where the repeat finds it, and harms
// no fish.
#include <glib/gi18n-lib.h>
#include <lzq_gate.h>
#include <lzq_protocol.h>
#include <math.h>

#include "lz_format.h"
#include "lz_gate_medicine.h"
#include "lz_words.h"

typedef struct {
  const LzMedicineGate *gate;
  const LzDoseAdvice *advice;
} Doubt;

static void
stop(const Doubt *doubt, LzGateCode code, double most)
{
  const LzMedicineGate *g = doubt->gate;
  g_autofree char *was = lz_format_short(g->doubted, 4);
  g_autofree char *then = lz_format_short(g->if_right, 4), *limit = lz_format_short(most, 4);
  lz_gate_stop(g->draft, code,
               g_strdup_printf(_("system: %1$s read %2$s mg/L, in doubt; if that is right, this "
                                 "dose would make %3$s mg/L, above %4$s. Test again first"),
                               g->system->label, was, then, limit));
}

// The most that the pace of a rise allows now: a day's rise, and no step on top of one.
static double
most_of_rise(const Doubt *doubt)
{
  const LzDoseAdvice *advice = doubt->advice;
  double most = isnan(advice->day_edge) ? INFINITY : advice->day_edge + LZ_HALF_AS_READ;
  if (advice->rises && doubt->gate->doubted >= advice->target - LZQ_EDGE)
    most = fmin(most, advice->target);
  return most;
}

// The most of a medicine that no band bounds: what is computed, with what the slip gate leaves; or
// what is published.
static double
most_unbounded(const Doubt *doubt)
{
  const LzMedicineGate *g = doubt->gate;
  const double published = lzq_published_limit(g->analyte, g->form);
  if (!doubt->advice->possible)
    return isnan(published) ? INFINITY : published;
  const double computed = doubt->advice->target - g->before;
  return g->before + LZQ_SLIP_SECOND * fmax(computed, 0);
}

gboolean
lz_gate_doubted(const LzMedicineGate *g, const LzDoseAdvice *advice)
{
  const Doubt doubt = {g, advice};
  if (!isfinite(g->if_right) || !(g->doubted > g->before + LZQ_EDGE))
    return TRUE;
  if (isfinite(advice->plan_edge) && g->if_right > advice->plan_edge + LZQ_EDGE) {
    stop(&doubt, LZ_GATED_UNKNOWN, advice->plan_edge);
    return !g->draft->live;
  }
  const double rise = most_of_rise(&doubt);
  const double unbounded = isnan(advice->plan_edge) ? most_unbounded(&doubt) : INFINITY;
  if (g->if_right > fmin(rise, unbounded) + LZQ_EDGE)
    stop(&doubt, LZ_GATED_DOUBTED, fmin(rise, unbounded));
  return TRUE;
}
