// SPDX-License-Identifier: GPL-3.0-or-later
// What a change would do, over the present ways: hatched, from now on; and where no water serves
// two lots.
#include <glib/gi18n.h>

#include "lz_ribbon_model_private.h"

#define OPEN_DAYS      30            // shown of a way without an end
#define CONFLICT_LEAST (LZQ_DAY / 2) // long enough to be seen

static void
set_release(lzd_way *out, const LzShift *shift, LzRibbonWay *way)
{
  lzd_leg *last = &g_array_index(way->legs, lzd_leg, way->legs->len - 1);
  out->early = out->likely = out->late = LZD_NEVER;
  if (shift->after == LZQ_NEVER || shift->after <= last->from)
    return;
  out->early = out->likely = shift->after;
  out->late = MAX(shift->late == LZQ_NEVER ? shift->after : shift->late, shift->after);
  last->to = out->early;
}

void
lz_ribbon_add_what_if(LzRibbonModel *model, const LzForesight *foresight)
{
  lzq_minute now = lz_desk_now(model->desk);
  for (guint i = 0; i < foresight->lots->len; i++) {
    const LzShift *shift = g_ptr_array_index(foresight->lots, i);
    LzRibbonWay *way = g_new0(LzRibbonWay, 1);
    way->lot = shift->index;
    way->name = g_strdup(shift->lot);
    way->segments = g_array_new(FALSE, FALSE, sizeof(lzq_segment));
    way->legs = g_array_new(FALSE, FALSE, sizeof(lzd_leg));
    for (guint s = 0; s < shift->segments->len; s++) {
      lzq_segment segment = g_array_index(shift->segments, lzq_segment, s);
      segment.start = MAX(segment.start, now);
      if (segment.end > segment.start)
        g_array_append_val(way->segments, segment);
    }
    lz_ribbon_add_legs(model, way, now + OPEN_DAYS * LZQ_DAY);
    if (way->legs->len == 0) {
      lz_ribbon_way_free(way);
      continue;
    }
    lzd_way out = {.kind = LZD_WAY_WHAT_IF, .id = shift->index};
    out.name = lz_ribbon_keep(model, g_strdup_printf("%s, %d", shift->lot, shift->heads));
    set_release(&out, shift, way);
    out.legs = (const lzd_leg *)way->legs->data;
    out.n_legs = way->legs->len;
    g_array_append_val(model->ways, out);
    g_ptr_array_add(model->sources, way);
  }
  for (guint i = 0; i < foresight->conflicts->len; i++) {
    const char *name = g_ptr_array_index(foresight->conflicts, i);
    lzd_conflict conflict = {
        lz_ribbon_lane(
            model, lz_desk_index(model->desk, "system", lz_desk_find(model->desk, "system", name))),
        now, now + CONFLICT_LEAST, _("no level serves all")};
    g_array_append_val(model->conflicts, conflict);
  }
}

// The hours in which both stand in that water; from now on where the plan does not tell.
static lzd_conflict
conflict_of(LzRibbonModel *model, const lzq_plan *plan, uint32_t system)
{
  const lzq_water_plan *water = &plan->waters[system];
  const lzq_lot_plan *a = &plan->lots[water->conflict_a], *b = &plan->lots[water->conflict_b];
  lzd_conflict out = {lz_ribbon_lane(model, system), plan->now, plan->now + CONFLICT_LEAST, NULL};
  for (uint32_t i = 0; i < a->n_segments; i++)
    for (uint32_t j = 0; j < b->n_segments; j++) {
      const lzq_segment *x = &a->segments[i], *y = &b->segments[j];
      lzq_minute from = MAX(MAX(x->start, y->start), plan->now), to = MIN(x->end, y->end);
      if (x->system != system || y->system != system || from >= to)
        continue;
      out.from = from;
      out.to = MAX(from + CONFLICT_LEAST, MIN(to, from + LZQ_DAY));
      i = a->n_segments; // the first one: later ones go with it
      break;
    }
  // Translators: two lots that no level of copper or salinity serves both
  out.text = lz_ribbon_keep(
      model, g_strdup_printf(_("%s and %s"), lz_desk_name(model->desk, "lot", water->conflict_a),
                             lz_desk_name(model->desk, "lot", water->conflict_b)));
  return out;
}

void
lz_ribbon_add_conflicts(LzRibbonModel *model)
{
  const lzq_plan *plan = lz_desk_plan(model->desk);
  uint32_t n = plan ? lz_desk_snapshot(model->desk)->n_systems : 0;
  for (uint32_t i = 0; i < n; i++) {
    const lzq_water_plan *water = &plan->waters[i];
    if (water->conflict_a == LZQ_NONE || water->conflict_b == LZQ_NONE)
      continue;
    lzd_conflict conflict = conflict_of(model, plan, i);
    g_array_append_val(model->conflicts, conflict);
  }
}
