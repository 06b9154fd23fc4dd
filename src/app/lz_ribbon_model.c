// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_ribbon_model.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <lz_words.h>

#include "lz_lookup.h"
#include "lz_ribbon_model_private.h"
#include "lz_text_table.h"

const char *
lz_ribbon_keep(LzRibbonModel *model, char *text)
{
  g_ptr_array_add(model->texts, text);
  return text;
}

void
lz_ribbon_way_free(gpointer data)
{
  LzRibbonWay *way = data;
  g_array_unref(way->segments);
  g_array_unref(way->legs);
  g_free(way->name);
  g_free(way);
}

size_t
lz_ribbon_lane(LzRibbonModel *model, uint32_t system)
{
  for (guint i = 0; i < model->lane_systems->len; i++)
    if (g_array_index(model->lane_systems, uint32_t, i) == system)
      return i;
  g_array_append_val(model->lane_systems, system);
  return model->lane_systems->len - 1;
}

static const char *
phase_name(LzRibbonModel *model, const lzq_segment *segment)
{
  const lzq_snapshot *snapshot = lz_desk_snapshot(model->desk);
  if (segment->protocol >= snapshot->n_protocols ||
      segment->phase >= snapshot->protocols[segment->protocol].n_phases)
    return NULL;
  uint32_t phase = snapshot->protocols[segment->protocol].first_phase + segment->phase;
  return lz_desk_name(model->desk, "phase", phase);
}

void
lz_ribbon_add_legs(LzRibbonModel *model, LzRibbonWay *way, lzq_minute end)
{
  for (guint i = 0; i < way->segments->len; i++) {
    const lzq_segment *segment = &g_array_index(way->segments, lzq_segment, i);
    lzq_minute to = segment->end == LZQ_NEVER ? end : segment->end;
    if (segment->system == LZQ_NONE || segment->start >= to)
      continue;
    lzd_leg leg = {
        .lane = lz_ribbon_lane(model, segment->system), .from = segment->start, .to = to};
    lzd_leg *last = way->legs->len ? &g_array_index(way->legs, lzd_leg, way->legs->len - 1) : NULL;
    if (last && leg.from < last->to)
      leg.from = last->to;
    if (leg.from >= leg.to)
      continue;
    if (!model->all && phase_name(model, segment))
      leg.text = lz_ribbon_keep(model, g_strdup(phase_name(model, segment)));
    g_array_append_val(way->legs, leg);
  }
}

static void
set_release(LzRibbonModel *model, lzd_way *out, const LzLotInfo *lot, LzRibbonWay *way)
{
  LzZone *zone = lz_desk_zone(model->desk);
  bool known = lot->earliest != LZQ_NEVER && lot->late != LZQ_NEVER && !lot->released &&
               lot->earliest <= lot->late && way->legs->len;
  lzd_leg *last = way->legs->len ? &g_array_index(way->legs, lzd_leg, way->legs->len - 1) : NULL;
  out->early = out->likely = out->late = LZD_NEVER;
  if (!known || lot->earliest <= last->from)
    return;
  out->early = lot->earliest;
  out->late = lot->late;
  out->likely = CLAMP(lot->likely, out->early, out->late);
  last->to = out->early;
  if (model->all)
    return;
  g_autofree char *likely = lz_format_date(zone, out->likely);
  g_autofree char *early = lz_format_date(zone, out->early);
  g_autofree char *late = lz_format_date(zone, out->late);
  out->release_title = lz_ribbon_keep(model, g_strdup_printf(_("Release %s"), likely));
  if (g_strcmp0(early, late) != 0)
    out->release_range = lz_ribbon_keep(model, g_strdup_printf(_("%s to %s"), early, late));
}

static void
add_way(LzRibbonModel *model, const LzLotInfo *lot, lzq_minute end, const GArray *stays)
{
  LzRibbonWay *way = g_new0(LzRibbonWay, 1);
  way->lot = lot->index;
  way->segments = lz_lot_segments_in(model->desk, lot->index, stays);
  way->legs = g_array_new(FALSE, FALSE, sizeof(lzd_leg));
  lz_ribbon_add_legs(model, way, end);
  if (way->legs->len == 0) {
    lz_ribbon_way_free(way);
    return;
  }
  lzd_way out = {.kind = LZD_WAY_PLAN, .id = lot->index};
  if (model->all)
    out.name = lz_ribbon_keep(model, g_strdup_printf("%s, %d", lot->code, lot->heads));
  set_release(model, &out, lot, way);
  out.legs = (const lzd_leg *)way->legs->data;
  out.n_legs = way->legs->len;
  g_array_append_val(model->ways, out);
  g_ptr_array_add(model->sources, way);
}

static void
fill_lanes(LzRibbonModel *model)
{
  for (guint i = 0; i < model->lane_systems->len; i++) {
    uint32_t system = g_array_index(model->lane_systems, uint32_t, i);
    const LzSystemInfo *info = lz_desk_system_info(model->desk, system);
    lzd_lane lane = {
        .name = lz_ribbon_keep(model, g_strdup(lz_desk_name(model->desk, "system", system)))};
    if (info) {
      lane.water = lz_water_bits(info);
      if (model->all)
        lane.note = lz_ribbon_keep(
            model,
            g_strdup_printf(ngettext("%d fish", "%d fish", (gulong)info->heads), info->heads));
    }
    g_array_append_val(model->lanes, lane);
  }
}

// From the first leg (at most four weeks back where all are shown) to a little after the last.
static lzd_window
whole_window(LzRibbonModel *model)
{
  lzq_minute now = lz_desk_now(model->desk), from = now, to = now + 7 * LZQ_DAY;
  for (guint i = 0; i < model->ways->len; i++) {
    const lzd_way *way = &g_array_index(model->ways, lzd_way, i);
    from = MIN(from, way->legs[0].from);
    to = MAX(to, way->legs[way->n_legs - 1].to);
    if (way->late != LZD_NEVER)
      to = MAX(to, way->late);
  }
  if (model->all)
    from = MAX(from, now - 3 * LZQ_DAY);
  from = MAX(from, now - 120 * LZQ_DAY);
  to = MIN(to, now + 120 * LZQ_DAY);
  return (lzd_window){from - (to - from) / 60, to + (to - from) / 20};
}

static void
fill_shades(LzRibbonModel *model)
{
  LzZone *zone = lz_desk_zone(model->desk);
  g_array_set_size(model->shades, 0);
  lzd_window window = model->ribbon.window;
  if (!model->all || window.to - window.from > 200 * LZQ_DAY)
    return;
  for (int32_t day = lz_zone_day(zone, window.from); day <= lz_zone_day(zone, window.to); day++) {
    lzq_minute at = lz_zone_day_start(zone, day);
    if (lz_zone_local(zone, at).weekday != 6)
      continue;
    lzd_window shade = {at, lz_zone_day_start(zone, day + 2)};
    g_array_append_val(model->shades, shade);
  }
}

static gboolean
is_shown(const LzRibbonModel *model, const LzLotInfo *info, uint32_t lot,
         const LzForesight *foresight)
{
  if (!model->all)
    return info->index == lot;
  for (guint i = 0; foresight && i < foresight->lots->len; i++)
    if (((const LzShift *)g_ptr_array_index(foresight->lots, i))->index == info->index)
      return info->living;
  return info->living && !foresight;
}

static LzRibbonModel *
make(LzDesk *desk, uint32_t lot, const LzForesight *foresight)
{
  LzRibbonModel *model = g_new0(LzRibbonModel, 1);
  GListModel *lots = lz_desk_lots(desk), *systems = lz_desk_systems(desk);
  model->desk = g_object_ref(desk);
  model->all = lot == LZQ_NONE;
  model->lane_systems = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  model->lanes = g_array_new(FALSE, FALSE, sizeof(lzd_lane));
  model->ways = g_array_new(FALSE, FALSE, sizeof(lzd_way));
  model->shades = g_array_new(FALSE, FALSE, sizeof(lzd_window));
  model->conflicts = g_array_new(FALSE, FALSE, sizeof(lzd_conflict));
  model->sources = g_ptr_array_new_with_free_func(lz_ribbon_way_free);
  model->texts = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; model->all && !foresight && i < g_list_model_get_n_items(systems); i++) {
    g_autoptr(LzSystemRow) row = g_list_model_get_item(systems, i);
    lz_ribbon_lane(model, lz_system_row_info(row)->index);
  }
  lzq_minute end = lz_desk_now(desk) + 30 * LZQ_DAY;
  g_autoptr(GArray) stays = lz_lots_stays(desk);
  for (guint i = 0; i < g_list_model_get_n_items(lots); i++) {
    g_autoptr(LzLotRow) row = g_list_model_get_item(lots, i);
    const LzLotInfo *info = lz_lot_row_info(row);
    if (is_shown(model, info, lot, foresight))
      add_way(model, info, end, stays);
  }
  if (foresight)
    lz_ribbon_add_what_if(model, foresight);
  if (model->all)
    lz_ribbon_add_conflicts(model);
  fill_lanes(model);
  model->ribbon.now = lz_desk_now(desk);
  model->ribbon.now_text = _("now");
  model->ribbon.lanes = (const lzd_lane *)model->lanes->data;
  model->ribbon.n_lanes = model->lanes->len;
  model->ribbon.ways = (const lzd_way *)model->ways->data;
  model->ribbon.n_ways = model->ways->len;
  model->ribbon.rows = foresight ? LZD_ROWS_MOST : 0; // few lanes, each twice
  model->ribbon.conflicts = (const lzd_conflict *)model->conflicts->data;
  model->ribbon.n_conflicts = model->conflicts->len;
  lz_ribbon_model_set_window(model, whole_window(model));
  return model;
}

LzRibbonModel *
lz_ribbon_model_new(LzDesk *desk, uint32_t lot)
{
  return make(desk, lot, NULL);
}

LzRibbonModel *
lz_ribbon_model_new_what_if(LzDesk *desk, const LzForesight *foresight)
{
  return make(desk, LZQ_NONE, foresight);
}

void
lz_ribbon_model_free(LzRibbonModel *model)
{
  if (!model)
    return;
  g_array_unref(model->lane_systems);
  g_array_unref(model->lanes);
  g_array_unref(model->ways);
  g_array_unref(model->shades);
  g_array_unref(model->conflicts);
  g_ptr_array_unref(model->sources);
  g_ptr_array_unref(model->texts);
  lz_time_axis_clear(&model->axis);
  g_object_unref(model->desk);
  g_free(model);
}

void
lz_ribbon_model_set_window(LzRibbonModel *model, lzd_window window)
{
  model->ribbon.window = window;
  fill_shades(model);
  model->ribbon.shades = (const lzd_window *)model->shades->data;
  model->ribbon.n_shades = model->shades->len;
}

lzd_window
lz_ribbon_model_window(const LzRibbonModel *model)
{
  return model->ribbon.window;
}

lzd_ribbon *
lz_ribbon_model_view(LzRibbonModel *model, double pixels, double scale)
{
  lz_time_axis_fill(&model->axis, lz_desk_zone(model->desk), model->ribbon.window, pixels, scale,
                    model->ribbon.now);
  model->ribbon.ticks = (const lzd_time_tick *)model->axis.ticks->data;
  model->ribbon.n_ticks = model->axis.ticks->len;
  return &model->ribbon;
}

void
lz_ribbon_model_select(LzRibbonModel *model, uint32_t lot)
{
  for (guint i = 0; i < model->ways->len; i++)
    g_array_index(model->ways, lzd_way, i).selected =
        g_array_index(model->ways, lzd_way, i).id == lot;
}

uint32_t
lz_ribbon_model_lot(const LzRibbonModel *model, size_t way)
{
  return way < model->sources->len ? ((LzRibbonWay *)g_ptr_array_index(model->sources, way))->lot
                                   : LZQ_NONE;
}

guint
lz_ribbon_model_n_ways(const LzRibbonModel *model)
{
  return model->ways->len;
}

char *
lz_ribbon_model_sentence(const LzRibbonModel *model)
{
  if (model->all)
    return g_strdup_printf(ngettext("Plan of %u lot", "Plan of %u lots", model->ways->len),
                           model->ways->len);
  if (model->ways->len == 0)
    return g_strdup(_("No way to show yet"));
  const LzLotInfo *lot = lz_desk_lot_info(model->desk, lz_ribbon_model_lot(model, 0));
  const lzd_way *way = &g_array_index(model->ways, lzd_way, 0);
  return g_strdup_printf(_("Way of lot %s: %u stays. %s"), lot ? lot->code : "", (guint)way->n_legs,
                         way->release_title ? way->release_title : "");
}

GListModel *
lz_ribbon_model_rows(const LzRibbonModel *model)
{
  GListStore *store = g_list_store_new(LZ_TYPE_TEXT_ROW);
  LzZone *zone = lz_desk_zone(model->desk);
  for (guint w = 0; w < model->sources->len; w++) {
    const LzRibbonWay *way = g_ptr_array_index(model->sources, w);
    for (guint i = 0; i < way->segments->len; i++) {
      const lzq_segment *segment = &g_array_index(way->segments, lzq_segment, i);
      const char *phase = phase_name((LzRibbonModel *)model, segment);
      g_autofree char *from = lz_format_time(zone, segment->start);
      g_autofree char *to = lz_format_time(zone, segment->end);
      g_autofree char *why = lz_words_because(model->desk, &segment->because);
      const char *cells[] = {way->name ? way->name : lz_desk_name(model->desk, "lot", way->lot),
                             from,
                             to,
                             lz_desk_name(model->desk, "system", segment->system),
                             phase ? phase : "",
                             g_array_index(model->ways, lzd_way, w).kind == LZD_WAY_WHAT_IF
                                 ? _("what if")
                             : segment->past ? _("done")
                             : segment->firm ? _("planned, firm")
                                             : _("planned"),
                             why};
      g_autoptr(LzTextRow) row = lz_text_row_new((gint64)way->lot + 1, cells, G_N_ELEMENTS(cells));
      g_list_store_append(store, row);
    }
  }
  return G_LIST_MODEL(store);
}
