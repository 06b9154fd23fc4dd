// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_chart_model_private.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <lz_words.h>
#include <math.h>

#include "lz_lookup.h"
#include "lz_text_table.h"

const char *const lz_chart_model_titles[] = {N_("when"), N_("what"),   N_("value"),
                                             N_("with"), N_("remark"), NULL};

const char *
lz_chart_keep(LzChartModel *model, char *text)
{
  g_ptr_array_add(model->texts, text);
  return text;
}

static void
make_arrays(LzChartModel *model)
{
  for (guint p = 0; p < LZ_CHART_PANELS; p++) {
    model->bands[p] = g_array_new(FALSE, FALSE, sizeof(lzd_band));
    model->readings[p] = g_array_new(FALSE, FALSE, sizeof(lzd_reading));
    model->estimate[p] = g_array_new(FALSE, FALSE, sizeof(lzd_span));
    model->forecast[p] = g_array_new(FALSE, FALSE, sizeof(lzd_span));
    model->plan[p] = g_array_new(FALSE, FALSE, sizeof(lzd_point));
    model->exits[p] = g_array_new(FALSE, FALSE, sizeof(lzd_exit));
  }
  for (guint r = 0; r < LZ_CHART_RAILS; r++)
    model->events[r] = g_array_new(FALSE, FALSE, sizeof(lzd_event));
  model->texts = g_ptr_array_new_with_free_func(g_free);
  model->spans = g_ptr_array_new_with_free_func((GDestroyNotify)g_array_unref);
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
  };
}

LzChartModel *
lz_chart_model_new(LzDesk *desk, uint32_t system, lzq_minute from, lzq_minute to)
{
  static const lzq_analyte analytes[LZ_CHART_PANELS] = {LZQ_COPPER, LZQ_SALINITY};
  LzChartModel *model = g_new0(LzChartModel, 1);
  model->desk = g_object_ref(desk);
  model->system = system;
  model->n_panels = LZ_CHART_PANELS;
  make_arrays(model);
  for (guint p = 0; p < LZ_CHART_PANELS; p++) {
    model->data[p] = lz_chart_data_new(desk, system, analytes[p], from, to);
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
  for (guint p = 0; p < LZ_CHART_PANELS; p++) {
    GArray *arrays[] = {model->bands[p],    model->readings[p], model->estimate[p],
                        model->forecast[p], model->plan[p],     model->exits[p]};
    for (size_t i = 0; i < G_N_ELEMENTS(arrays); i++)
      g_array_unref(arrays[i]);
    lz_chart_data_free(model->data[p]);
  }
  for (guint r = 0; r < LZ_CHART_RAILS; r++)
    g_array_unref(model->events[r]);
  for (size_t i = 0; i < G_N_ELEMENTS(model->callout_text); i++)
    g_free(model->callout_text[i]);
  g_free(model->callout_title);
  g_ptr_array_unref(model->spans);
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
lz_chart_model_sentence(const LzChartModel *model)
{
  const LzSystemInfo *system = lz_lookup_system(model->desk, model->system);
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
  return g_string_free(out, FALSE);
}

static char *
reading_text(const LzChartModel *model, guint panel, const LzChartReading *reading)
{
  const char *name = "";
  lz_chart_instrument_mark(model->desk, reading->instrument, &name);
  g_autofree char *level = lz_format_level(model->data[panel]->analyte, reading->value);
  const char *remark = reading->wrong_form ? _(": kept, not used")
                       : reading->suspect  ? _(": suspect")
                                           : "";
  return g_strdup_printf("%s %s%s", level, name, remark);
}

void
lz_chart_model_callout(LzChartModel *model, guint panel, guint reading, lzd_cursor *out)
{
  const LzChartData *data = model->data[panel];
  const LzChartReading *at = &g_array_index(data->readings, LzChartReading, reading);
  const lzd_reading *drawn = &g_array_index(model->readings[panel], lzd_reading, reading);
  g_autoptr(GError) error = NULL;
  g_autoptr(LzEntry) entry = lz_desk_entry(model->desk, at->id, &error);
  g_free(model->callout_title);
  model->callout_title = lz_format_time(lz_desk_zone(model->desk), at->at);
  g_free(model->callout_text[0]);
  g_free(model->callout_text[1]);
  model->callout_text[0] = reading_text(model, panel, at);
  const char *who = entry ? lz_desk_person_initials(model->desk, lz_entry_who(entry)) : "";
  model->callout_text[1] = *who ? g_strdup_printf(_("by %s"), who) : NULL;
  model->callout[0] = (lzd_callout_line){drawn->mark, drawn->state, model->callout_text[0], true};
  model->callout[1] = (lzd_callout_line){LZD_MARK_NONE, LZD_PLAIN, model->callout_text[1], false};
  *out = (lzd_cursor){.minute = at->at,
                      .panel = panel,
                      .reading = reading,
                      .title = model->callout_title,
                      .lines = model->callout,
                      .n_lines = model->callout_text[1] ? 2 : 1};
}

typedef struct {
  lzq_minute at;
  LzTextRow *row;
} Dated;

static int
newest_first(gconstpointer a, gconstpointer b)
{
  const Dated *left = a, *right = b;
  return left->at > right->at ? -1 : left->at < right->at;
}

static void
add_row(GArray *rows, LzZone *zone, lzq_minute at, int64_t id, const char *what, const char *value,
        const char *with, const char *remark)
{
  g_autofree char *when = lz_format_time(zone, at);
  const char *cells[] = {when, what, value, with, remark};
  Dated dated = {at, lz_text_row_new(id, cells, G_N_ELEMENTS(cells))};
  g_array_append_val(rows, dated);
}

static void
add_readings(const LzChartModel *model, guint panel, GArray *rows)
{
  const LzChartData *data = model->data[panel];
  for (guint i = 0; i < data->readings->len; i++) {
    const LzChartReading *reading = &g_array_index(data->readings, LzChartReading, i);
    const char *name = "";
    lz_chart_instrument_mark(model->desk, reading->instrument, &name);
    g_autofree char *level = lz_format_level(data->analyte, reading->value);
    g_autofree char *value = g_strdup_printf("%s %s", level, lz_words_analyte_unit(data->analyte));
    add_row(rows, lz_desk_zone(model->desk), reading->at, reading->id,
            lz_words_analyte(data->analyte), value, name,
            reading->wrong_form ? _("kept, not used")
            : reading->suspect  ? _("suspect")
                                : "");
  }
}

GListModel *
lz_chart_model_rows(const LzChartModel *model)
{
  static const char *const names[] = {
      [LZ_CHART_DOSE] = N_("dose"),         [LZ_CHART_CHANGE] = N_("water change"),
      [LZ_CHART_TOPUP] = N_("top-up"),      [LZ_CHART_MOVE_IN] = N_("move in"),
      [LZ_CHART_MOVE_OUT] = N_("move out"), [LZ_CHART_SIGHTING] = N_("sighting"),
      [LZ_CHART_DEATH] = N_("death"),       [LZ_CHART_GEAR] = N_("equipment")};
  g_autoptr(GArray) rows = g_array_new(FALSE, FALSE, sizeof(Dated));
  for (guint p = 0; p < model->n_panels; p++)
    add_readings(model, p, rows);
  GPtrArray *events = model->data[0]->events;
  for (guint i = 0; i < events->len; i++) {
    const LzChartEvent *event = g_ptr_array_index(events, i);
    add_row(rows, lz_desk_zone(model->desk), event->at, event->id, _(names[event->kind]),
            event->words, "", event->planned ? _("planned") : "");
  }
  g_array_sort(rows, newest_first);
  GListStore *store = g_list_store_new(LZ_TYPE_TEXT_ROW);
  for (guint i = 0; i < rows->len; i++) {
    LzTextRow *row = g_array_index(rows, Dated, i).row;
    g_list_store_append(store, row);
    g_object_unref(row);
  }
  return G_LIST_MODEL(store);
}
