// SPDX-License-Identifier: GPL-3.0-or-later
// The chart as a table: every reading and event, what is aimed at, where the level leaves its band,
// and the readings of what it is compared with; newest first.
#include <glib/gi18n.h>
#include <lz_format.h>
#include <lz_words.h>

#include "lz_chart_model_private.h"
#include "lz_lookup.h"
#include "lz_text_table.h"

const char *const lz_chart_model_titles[] = {N_("when"), N_("what"),   N_("value"),
                                             N_("with"), N_("remark"), NULL};

const char *
lz_chart_event_name(LzChartEventKind kind)
{
  static const char *const names[] = {
      [LZ_CHART_DOSE] = N_("dose"),         [LZ_CHART_CHANGE] = N_("water change"),
      [LZ_CHART_TOPUP] = N_("top-up"),      [LZ_CHART_MOVE_IN] = N_("move in"),
      [LZ_CHART_MOVE_OUT] = N_("move out"), [LZ_CHART_SIGHTING] = N_("sighting"),
      [LZ_CHART_DEATH] = N_("death"),       [LZ_CHART_GEAR] = N_("equipment")};
  return _(names[kind]);
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

// shift: minutes by which what is compared was moved to lie over this water; of: its name, or NULL.
static void
add_readings(const LzChartModel *model, const LzChartData *data, lzq_minute shift, const char *of,
             GArray *rows)
{
  for (guint i = 0; i < data->readings->len; i++) {
    const LzChartReading *reading = &g_array_index(data->readings, LzChartReading, i);
    const char *name = "";
    lz_chart_instrument_mark(model->desk, reading->instrument, &name);
    g_autofree char *level = lz_format_level(data->analyte, reading->value);
    g_autofree char *value =
        g_strchomp(g_strdup_printf("%s %s", level, lz_chart_unit(data->analyte)));
    g_autofree char *what = of ? g_strdup_printf("%s, %s", lz_words_analyte(data->analyte), of)
                               : g_strdup(lz_words_analyte(data->analyte));
    const char *remark = reading->wrong_form ? _("kept, not used")
                         : reading->suspect  ? _("suspect")
                                             : "";
    add_row(rows, lz_desk_zone(model->desk), reading->at + shift, reading->id, what, value, name,
            remark);
  }
}

static char *
band_value(const lzq_band *band)
{
  const char *unit = lz_chart_unit((lzq_analyte)band->analyte);
  g_autofree char *works = lz_format_level(band->analyte, band->works);
  if (band->side == LZQ_BETWEEN) {
    g_autofree char *high = lz_format_level(band->analyte, band->works_high);
    return g_strdup_printf(_("%s to %s %s"), works, high, unit);
  }
  return g_strdup_printf(band->side == LZQ_AT_OR_ABOVE ? _("from %s %s up") : _("up to %s %s"),
                         works, unit);
}

static void
add_aims(const LzChartModel *model, guint panel, GArray *rows)
{
  const LzChartData *data = model->data[panel];
  LzZone *zone = lz_desk_zone(model->desk);
  g_autofree char *band_of = g_strdup_printf(_("%s band"), lz_words_analyte(data->analyte));
  for (guint i = 0; i < data->bands->len; i++) {
    const LzChartBand *band = &g_array_index(data->bands, LzChartBand, i);
    g_autofree char *value = band_value(&band->band);
    g_autofree char *end = lz_format_time(zone, band->to);
    g_autofree char *until = g_strdup_printf(_("until %s"), end);
    add_row(rows, zone, band->from, 0, band_of, value, "", until);
  }
  for (guint i = 0; i < model->exits[panel]->len; i++) {
    const lzd_exit *leaves = &g_array_index(model->exits[panel], lzd_exit, i);
    g_autofree char *level = lz_format_level(data->analyte, leaves->value);
    g_autofree char *value =
        g_strchomp(g_strdup_printf("%s %s", level, lz_chart_unit(data->analyte)));
    g_autofree char *remark =
        g_strdup_printf("%s, %s", leaves->title, leaves->range ? leaves->range : leaves->note);
    add_row(rows, zone, leaves->likely, 0, lz_words_analyte(data->analyte), value, _("forecast"),
            remark);
  }
}

GListModel *
lz_chart_model_rows(const LzChartModel *model)
{
  g_autoptr(GArray) rows = g_array_new(FALSE, FALSE, sizeof(Dated));
  for (guint p = 0; p < model->n_panels; p++) {
    add_readings(model, model->data[p], 0, NULL, rows);
    add_aims(model, p, rows);
  }
  for (guint i = 0; i < model->others->len; i++) {
    const LzChartOther *other = g_ptr_array_index(model->others, i);
    add_readings(model, other->data, other->shift, model->other_name, rows);
  }
  GPtrArray *events = model->data[0]->events;
  for (guint i = 0; i < events->len; i++) {
    const LzChartEvent *event = g_ptr_array_index(events, i);
    add_row(rows, lz_desk_zone(model->desk), event->at, event->id, lz_chart_event_name(event->kind),
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
