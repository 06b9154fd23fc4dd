// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_chart_model_private.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <lz_words.h>
#include <math.h>

#include "lz_lookup.h"

const char *
lz_chart_keep(LzChartModel *model, char *text)
{
  g_ptr_array_add(model->texts, text);
  return text;
}

static void
make_arrays(LzChartModel *model)
{
  for (guint p = 0; p < model->n_panels; p++) {
    model->bands[p] = g_array_new(FALSE, FALSE, sizeof(lzd_band));
    model->readings[p] = g_array_new(FALSE, FALSE, sizeof(lzd_reading));
    model->estimate[p] = g_array_new(FALSE, FALSE, sizeof(lzd_span));
    model->forecast[p] = g_array_new(FALSE, FALSE, sizeof(lzd_span));
    model->plan[p] = g_array_new(FALSE, FALSE, sizeof(lzd_point));
    model->exits[p] = g_array_new(FALSE, FALSE, sizeof(lzd_exit));
    model->other[p] = g_array_new(FALSE, FALSE, sizeof(lzd_span));
  }
  for (guint r = 0; r < LZ_CHART_RAILS; r++)
    model->events[r] = g_array_new(FALSE, FALSE, sizeof(lzd_event));
  model->texts = g_ptr_array_new_with_free_func(g_free);
  model->spans = g_ptr_array_new_with_free_func((GDestroyNotify)g_array_unref);
  model->others = g_ptr_array_new_with_free_func(lz_chart_other_free);
}

static void
fill_legend(LzChartModel *model)
{
  bool has[LZD_MARKS] = {false};
  for (guint p = 0; p < model->n_panels; p++)
    for (guint i = 0; i < model->readings[p]->len; i++)
      has[g_array_index(model->readings[p], lzd_reading, i).mark] = true;
  model->legend = (lzd_legend){
      .disc = has[LZD_READ_DISC] ? _("photometer") : NULL,
      .square = has[LZD_READ_SQUARE] ? _("drop test") : NULL,
      .diamond = has[LZD_READ_DIAMOND] ? _("refractometer") : NULL,
      .triangle = has[LZD_READ_TRIANGLE] ? _("conductivity meter") : NULL,
      .cross = has[LZD_READ_CROSS] ? _("kept, not used") : NULL,
      .bar = has[LZD_READ_BAR] ? _("other instrument") : NULL,
      .estimate = _("estimate, 80 %"),
      .plan = _("plan"),
      .forecast = _("forecast"),
      .band = _("band"),
      .other = model->other_name,
  };
}

static void
choose_panels(LzChartModel *model, uint32_t more)
{
  model->analyte[model->n_panels++] = LZQ_COPPER;
  model->analyte[model->n_panels++] = LZQ_SALINITY;
  for (uint32_t a = LZQ_TEMPERATURE; a < LZQ_N_READ && model->n_panels < LZD_MAX_PANELS; a++)
    if (more & (1u << a))
      model->analyte[model->n_panels++] = (lzq_analyte)a;
}

LzChartModel *
lz_chart_model_new(LzDesk *desk, uint32_t system, lzq_minute from, lzq_minute to,
                   const LzChartChoice *choice)
{
  static const LzChartChoice plain = LZ_CHART_PLAIN;
  LzChartModel *model = g_new0(LzChartModel, 1);
  model->desk = g_object_ref(desk);
  model->system = system;
  model->choice = choice ? *choice : plain;
  choose_panels(model, model->choice.more);
  make_arrays(model);
  for (guint p = 0; p < model->n_panels; p++) {
    model->data[p] =
        lz_chart_data_of_tank(desk, system, model->choice.tank, model->analyte[p], from, to);
    lz_chart_fill_other(model, p);
    lz_chart_fill_panel(model, p);
  }
  model->chart.panels = model->panels;
  model->chart.n_panels = model->n_panels;
  model->chart.now = lz_desk_now(desk);
  model->chart.now_text = _("now");
  model->chart.legend = &model->legend;
  model->chart.cursor.minute = LZD_NEVER;
  lz_chart_fill_rails(model);
  lz_chart_fill_strips(model);
  fill_legend(model);
  return model;
}

void
lz_chart_model_free(LzChartModel *model)
{
  if (!model)
    return;
  for (guint p = 0; p < model->n_panels; p++) {
    GArray *arrays[] = {model->bands[p], model->readings[p], model->estimate[p], model->forecast[p],
                        model->plan[p],  model->exits[p],    model->other[p]};
    for (size_t i = 0; i < G_N_ELEMENTS(arrays); i++)
      g_array_unref(arrays[i]);
    lz_chart_data_free(model->data[p]);
    lzd_index_free(model->index[p]);
  }
  for (guint r = 0; r < LZ_CHART_RAILS; r++)
    g_array_unref(model->events[r]);
  for (size_t i = 0; i < G_N_ELEMENTS(model->callout_text); i++)
    g_free(model->callout_text[i]);
  g_free(model->callout_title);
  g_ptr_array_unref(model->spans);
  g_ptr_array_unref(model->others);
  g_ptr_array_unref(model->texts);
  lz_time_axis_clear(&model->axis);
  g_object_unref(model->desk);
  g_free(model);
}

lzd_chart *
lz_chart_model_view(LzChartModel *model, lzd_window window, double pixels, double scale)
{
  lz_time_axis_fill(&model->axis, lz_desk_zone(model->desk), window, pixels, scale,
                    model->chart.now);
  model->chart.window = window;
  model->chart.ticks = (const lzd_time_tick *)model->axis.ticks->data;
  model->chart.n_ticks = model->axis.ticks->len;
  model->chart.label_between = model->axis.label_between;
  return &model->chart;
}

const LzChartData *
lz_chart_model_data(const LzChartModel *model, guint panel)
{
  return panel < model->n_panels ? model->data[panel] : NULL;
}

char *
lz_chart_model_title(const LzChartModel *model, lzd_window window)
{
  const LzChartChoice *choice = &model->choice;
  const char *water = choice->tank != LZQ_NONE ? lz_desk_name(model->desk, "tank", choice->tank)
                                               : lz_desk_name(model->desk, "system", model->system);
  LzZone *zone = lz_desk_zone(model->desk);
  // Translators: strftime directives of a day in a title: "1 Mar 2027".
  g_autofree char *from = lz_time_text(zone, window.from, _("%-d %b %Y"));
  g_autofree char *to = lz_time_text(zone, window.to, _("%-d %b %Y"));
  const char *station = lz_desk_station_name(model->desk);
  if (model->other_name)
    return g_strdup_printf(_("%s, %s and %s, %s to %s"), station, water, model->other_name, from,
                           to);
  return g_strdup_printf(_("%s, %s, %s to %s"), station, water, from, to);
}

char *
lz_chart_model_sentence(const LzChartModel *model)
{
  const LzSystemInfo *system = lz_desk_system_info(model->desk, model->system);
  if (!system)
    return g_strdup("");
  GString *out = g_string_new(system->name);
  for (int i = 0; i < 2; i++) {
    lzq_analyte analyte = i ? LZQ_SALINITY : LZQ_COPPER;
    g_autofree char *level = lz_format_level(analyte, system->level[i]);
    g_string_append_printf(out, "; %s %s %s %s", lz_words_analyte(analyte), level,
                           lz_words_analyte_unit(analyte), lz_band_word(system->mark[i]));
    if (model->exits[i]->len)
      g_string_append_printf(out, ", %s", g_array_index(model->exits[i], lzd_exit, 0).title);
  }
  if (model->other_name)
    g_string_append_printf(out, "; %s", model->other_name);
  return g_string_free(out, FALSE);
}
