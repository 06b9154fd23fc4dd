// SPDX-License-Identifier: GPL-3.0-or-later
// Small charts of copper for the handover: a week, one for each water with a copper band.
#include <glib/gi18n-lib.h>

#include <lz_words.h>

#include "lzr_chart.h"
#include "lzr_handover.h"

#define CHARTS_MOST 4
#define HEIGHT      60.0
#define GAP         10.0

typedef struct {
  guint n;
  const LzrChart *chart[CHARTS_MOST];
} Row;

static void
draw_row(cairo_t *cr, const lzd_look *look, double width, double height, const void *data)
{
  const Row *row = data;
  double each = (width - GAP * (row->n - 1)) / row->n;
  for (guint i = 0; i < row->n; i++) {
    cairo_save(cr);
    cairo_translate(cr, i * (each + GAP), 4);
    lzr_chart_draw(cr, row->chart[i], look, each, height - 4);
    cairo_restore(cr);
  }
}

void
lzr_copper_charts(LzrBuild *build)
{
  Row *row = g_new0(Row, 1);
  lzq_minute now = lz_desk_now(build->desk);
  GListModel *systems = lz_desk_systems(build->desk);
  lzr_keep(build, (char *)(gpointer)row);
  for (guint i = 0; i < g_list_model_get_n_items(systems) && row->n < CHARTS_MOST; i++) {
    g_autoptr(LzSystemRow) item = g_list_model_get_item(systems, i);
    const LzSystemInfo *info = lz_system_row_info(item);
    if (!info->has_band[0] || !info->lots)
      continue;
    LzrStay stay = {.system = info->index, .from = now - 7 * LZQ_DAY, .to = LZQ_NEVER};
    const LzrChart *chart =
        lzr_chart_new(build, &stay, 1, LZQ_COPPER, &info->band[0], stay.from, now,
                      lzr_printf(build, _("%1$s, copper, mg/L"), info->name));
    if (lzr_chart_readings(chart) > 0)
      row->chart[row->n++] = chart;
  }
  if (row->n)
    lzd_sheet_block(build->page, HEIGHT, draw_row, row);
}
