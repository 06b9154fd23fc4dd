// SPDX-License-Identifier: GPL-3.0-or-later
// What the box at the cursor says: a reading with its instrument and person, an event in its words,
// or, between them, what every water level is believed to be at that minute.
#include <glib/gi18n.h>
#include <lz_format.h>
#include <lz_words.h>
#include <math.h>

#include "lz_chart_model_private.h"
#include "lz_text_table.h"

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

static void
add_line(LzChartModel *model, lzd_mark mark, lzd_mark_state state, char *text, bool bold)
{
  if (model->n_callout == G_N_ELEMENTS(model->callout)) {
    g_free(text);
    return;
  }
  model->callout_text[model->n_callout] = text;
  model->callout[model->n_callout++] = (lzd_callout_line){mark, state, text, bold};
}

static void
say_reading(LzChartModel *model, guint panel, guint reading)
{
  const LzChartReading *at = &g_array_index(model->data[panel]->readings, LzChartReading, reading);
  const lzd_reading *drawn = &g_array_index(model->readings[panel], lzd_reading, reading);
  g_autoptr(GError) error = NULL;
  g_autoptr(LzEntry) entry = lz_desk_entry(model->desk, at->id, &error);
  const char *who = entry ? lz_desk_person_initials(model->desk, lz_entry_who(entry)) : "";
  add_line(model, drawn->mark, drawn->state, reading_text(model, panel, at), true);
  if (*who)
    add_line(model, LZD_MARK_NONE, LZD_PLAIN, g_strdup_printf(_("by %s"), who), false);
}

static const LzChartEvent *
event_at(const LzChartModel *model, guint rail, guint index)
{
  const lzd_event *drawn = &g_array_index(model->events[rail], lzd_event, index);
  return g_ptr_array_index(model->data[0]->events, drawn->id);
}

static void
say_event(LzChartModel *model, guint rail, guint index)
{
  const lzd_event *drawn = &g_array_index(model->events[rail], lzd_event, index);
  const LzChartEvent *event = event_at(model, rail, index);
  const char *name = lz_chart_event_name(event->kind);
  add_line(model, drawn->mark, LZD_PLAIN,
           event->planned ? g_strdup_printf(_("%s %s, planned"), name, event->words)
                          : g_strdup_printf("%s %s", name, event->words),
           true);
}

// Between two points of an array of lzd_span; FALSE where it says nothing.
static gboolean
span_at(const GArray *spans, lzd_minute minute, lzd_span *out)
{
  for (guint i = 1; i < spans->len; i++) {
    const lzd_span *a = &g_array_index(spans, lzd_span, i - 1), *b = a + 1;
    if (minute < a->minute || minute > b->minute || isnan(a->mid) || isnan(b->mid))
      continue;
    double share =
        b->minute > a->minute ? (double)(minute - a->minute) / (double)(b->minute - a->minute) : 1;
    *out = (lzd_span){minute, a->low + share * (b->low - a->low),
                      a->mid + share * (b->mid - a->mid), a->high + share * (b->high - a->high)};
    return TRUE;
  }
  return FALSE;
}

static void
say_moment(LzChartModel *model, lzd_minute minute)
{
  for (guint p = 0; p < model->n_panels; p++) {
    lzd_span at;
    lzq_analyte analyte = model->analyte[p];
    if (!span_at(model->estimate[p], minute, &at) && !span_at(model->forecast[p], minute, &at))
      continue;
    g_autofree char *mid = lz_format_level(analyte, at.mid);
    g_autofree char *low = lz_format_level(analyte, at.low);
    g_autofree char *high = lz_format_level(analyte, at.high);
    add_line(model, LZD_MARK_NONE, LZD_PLAIN,
             at.low < at.high
                 // Translators: an analyte, its level, and the interval around it.
                 ? g_strdup_printf(_("%s %s (%s to %s)"), lz_words_analyte(analyte), mid, low, high)
                 : g_strdup_printf("%s %s", lz_words_analyte(analyte), mid),
             false);
  }
}

gint64
lz_chart_model_entry(const LzChartModel *model, lzd_hit at)
{
  if (at.kind == LZD_HIT_READING)
    return g_array_index(model->data[at.row]->readings, LzChartReading, at.index).id;
  return at.kind == LZD_HIT_EVENT ? event_at(model, (guint)at.row, (guint)at.index)->id : 0;
}

void
lz_chart_model_callout(LzChartModel *model, lzd_hit at, lzd_cursor *out)
{
  for (guint i = 0; i < G_N_ELEMENTS(model->callout_text); i++)
    g_clear_pointer(&model->callout_text[i], g_free);
  model->n_callout = 0;
  g_free(model->callout_title);
  model->callout_title = lz_format_time(lz_desk_zone(model->desk), at.minute);
  *out = (lzd_cursor){.minute = at.minute, .panel = SIZE_MAX, .title = model->callout_title};
  if (at.kind == LZD_HIT_READING) {
    say_reading(model, (guint)at.row, (guint)at.index);
    out->panel = at.row;
    out->reading = at.index;
  } else if (at.kind == LZD_HIT_EVENT) {
    say_event(model, (guint)at.row, (guint)at.index);
  } else {
    say_moment(model, at.minute);
  }
  out->lines = model->callout;
  out->n_lines = model->n_callout;
}
