// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_instrument.h"

#include <lz_words.h>
#include <string.h>

#include "lz_task_form.h"

#define LOOK_BACK ((lzq_minute)90 * LZQ_DAY)

// A kind that reads one thing only.
static guint
of_kind(const char *method)
{
  static const struct {
    const char *method;
    lzq_analyte analyte;
  } kinds[] = {{"refractometer", LZQ_SALINITY},
               {"conductivity", LZQ_SALINITY},
               {"hydrometer", LZQ_SALINITY},
               {"thermometer", LZQ_TEMPERATURE}};
  for (gsize i = 0; i < G_N_ELEMENTS(kinds); i++)
    if (g_strcmp0(kinds[i].method, method) == 0)
      return 1u << kinds[i].analyte;
  return 0;
}

static guint
of_readings(LzDesk *desk, int64_t instrument)
{
  guint bits = 0;
  char *words[LZQ_N_READ];
  for (guint a = 0; a < LZQ_N_READ; a++)
    words[a] = lz_field_word("reading", "analyte", a);
  lzq_minute now = lz_desk_now(desk);
  g_autoptr(GPtrArray) readings = lz_desk_facts(desk, "reading", now - LOOK_BACK, now + 1);
  for (guint i = 0; i < readings->len; i++) {
    const LzEntry *entry = g_ptr_array_index(readings, i);
    if (lz_entry_int(entry, "instrument") != instrument)
      continue;
    for (guint a = 0; a < LZQ_N_READ; a++)
      if (g_strcmp0(words[a], lz_entry_text(entry, "analyte")) == 0)
        bits |= 1u << a;
  }
  for (guint a = 0; a < LZQ_N_READ; a++)
    g_free(words[a]);
  return bits;
}

char *
lz_instrument_measures(LzDesk *desk, const LzInstrumentInfo *info)
{
  GString *out = g_string_new(NULL);
  guint bits = of_kind(info->method) | of_readings(desk, info->id);
  if (*info->sees)
    bits |= 1u << LZQ_COPPER;
  for (guint a = 0; a < LZQ_N_READ; a++) {
    if (!(bits & (1u << a)))
      continue;
    g_string_append_printf(out, "%s%s", out->len ? ", " : "", lz_words_analyte((lzq_analyte)a));
    g_autofree char *sees = lz_word_shown(info->sees);
    if (a == LZQ_COPPER && *sees)
      g_string_append_printf(out, " (%s)", sees);
  }
  if (!out->len)
    g_string_append(out, "–");
  return g_string_free(out, FALSE);
}
