// SPDX-License-Identifier: GPL-3.0-or-later
// Each line as one would write it: what it is, the sum with its numbers put in, and the outcome.
#include "lz_working.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "lz_format.h"

// {0} ... {3} are the numbers of the line, {0%} one as per cent, {u} the unit of levels, {t} that
// of the measuring tool.
static const struct {
  const char *what, *how, *value;
  gboolean result;
} forms[LZQ_N_LINES] = {
    [LZQ_LINE_SHARE] = {N_("Share changed"), "{0} L ÷ {1} L", "{2%} %", FALSE},
    [LZQ_LINE_SHARE_DRIP] = {N_("Share changed, continuous"), "1 − exp(−{0} L ÷ {1} L)", "{2%} %",
                             FALSE},
    [LZQ_LINE_AFTER_CHANGE] = {N_("After the change"), "{0} × (1 − {1}) + {2} × {1}", "{3} {u}",
                               FALSE},
    [LZQ_LINE_MASS_IN_NEW] = {N_("Into the new water"), "{0} L × ({1} − {2}) mg/L", "{3} mg",
                              FALSE},
    [LZQ_LINE_MASS_RAISE] = {N_("To add"), "{0} L × ({1} − {2}) mg/L", "{3} mg", FALSE},
    [LZQ_LINE_NEW_LEVEL] = {N_("Level in the new water"), "{0} mg ÷ {1} L + {2} mg/L", "{3} mg/L",
                            FALSE},
    [LZQ_LINE_AS_LABEL] = {N_("Counted as the label does"), "{0} mg ÷ {1}", "{2} mg", FALSE},
    [LZQ_LINE_STOCK] = {N_("From the stock"), "{0} mg ÷ {1} mg/mL", "{2} mL", TRUE},
    [LZQ_LINE_AFTER_DOSE] = {N_("Level afterwards"), "{0} + {1} mg ÷ {2} L", "{3} mg/L", FALSE},
    [LZQ_LINE_SHARE_NEEDED] = {N_("Share to change"), "({0} − {1}) ÷ ({0} − {2})", "{3%} %", FALSE},
    [LZQ_LINE_SHARE_DAY] = {N_("Changes"), N_("{0%} % needed, at most {1%} % a day"), "{2}", FALSE},
    [LZQ_LINE_LITRES] = {N_("New water"), "{0%} % × {1} L", "{2} L", TRUE},
    [LZQ_LINE_NONE_NEEDED] = {N_("Nothing to do"), N_("{0} {u} is there, {1} {u} is wanted"), "0",
                              TRUE},
    [LZQ_LINE_MASS] = {N_("Amount"), "{0} L × {1} mg/L", "{2} mg", FALSE},
    [LZQ_LINE_VOLUME_PART] = {N_("Amount"), "{0} L × {1} µL/L ÷ 1000", "{2} mL", TRUE},
    [LZQ_LINE_DENSITY] = {N_("As a liquid"), "{0} mg ÷ {1} g/mL ÷ 1000", "{2} mL", TRUE},
    [LZQ_LINE_RATIO] = {N_("Neutraliser"), "{0} mg × {1} mg/mg", "{2} mg", TRUE},
    [LZQ_LINE_BIOMASS] = {N_("Fish of a lot"), "{0} × {1} g", "{2} g", FALSE},
    [LZQ_LINE_BIOMASS_SUM] = {N_("All lots together"), "{0}", "{1} kg", FALSE},
    [LZQ_LINE_FEED_DRUG] = {N_("Medicine a day"), "{0} kg × {1} mg/kg", "{2} mg", TRUE},
    [LZQ_LINE_FEED_RATION] = {N_("Feed a day"), "{0} kg × {1%} %", "{2} kg", FALSE},
    [LZQ_LINE_FEED_RATE] = {N_("In the feed"), "{0} mg ÷ {1} kg", "{2} mg/kg", FALSE},
    [LZQ_LINE_PRODUCT] = {N_("Of the product"), "{0} mg ÷ {1}", "{2} mg", TRUE},
    [LZQ_LINE_TOOL] = {N_("Measured"), "{0} × {1} + {2} {t}", "{3} {t}", TRUE},
    [LZQ_LINE_TOOL_ERROR] = {N_("Error of rounding"), "{0} − {1} {t}", "{2} {t} ({3%} %)", FALSE},
};

static void
line_free(gpointer data)
{
  LzWorkingLine *line = data;
  g_free(line->what);
  g_free(line->how);
  g_free(line->value);
  g_free(line);
}

GPtrArray *
lz_working_new(void)
{
  return g_ptr_array_new_with_free_func(line_free);
}

void
lz_working_add(GPtrArray *lines, const char *what, const char *how, const char *value,
               gboolean result)
{
  LzWorkingLine *line = g_new(LzWorkingLine, 1);
  *line = (LzWorkingLine){g_strdup(what), g_strdup(how), g_strdup(value), result};
  g_ptr_array_add(lines, line);
}

// Enough decimals to follow the sum by hand, none that say nothing.
static char *
number(double value)
{
  double size = fabs(value);
  return lz_format_short(value, size >= 1000 ? 1 : size >= 10 ? 2 : 4);
}

static char *
filled(const char *form, const double *n, const char *unit, const char *tool_unit)
{
  GString *out = g_string_new(NULL);
  for (const char *at = form; *at; at++) {
    const char *close = *at == '{' ? strchr(at, '}') : NULL;
    if (!close) {
      g_string_append_c(out, *at);
      continue;
    }
    if (at[1] == 'u' || at[1] == 't') {
      g_string_append(out, at[1] == 'u' ? unit : tool_unit);
    } else {
      double value = n[at[1] - '0'];
      g_autofree char *text = at[2] == '%' ? lz_format_short(100 * value, 2) : number(value);
      g_string_append(out, text);
    }
    at = close;
  }
  return g_strchomp(g_string_free(out, FALSE));
}

void
lz_working_append(GPtrArray *lines, const lzq_working *working, const char *unit,
                  const char *tool_unit)
{
  for (uint32_t i = 0; i < working->n; i++) {
    const lzq_line *line = &working->lines[i];
    if (line->code <= LZQ_LINE_NONE || line->code >= LZQ_N_LINES)
      continue;
    const char *how_form = forms[line->code].how;
    if (line->code == LZQ_LINE_TOOL && line->n[0] == 0)
      how_form = "{2} {t}"; // in one go
    g_autofree char *how = filled(_(how_form), line->n, unit, tool_unit);
    g_autofree char *value = filled(forms[line->code].value, line->n, unit, tool_unit);
    lz_working_add(lines, _(forms[line->code].what), how, value, forms[line->code].result);
  }
}
