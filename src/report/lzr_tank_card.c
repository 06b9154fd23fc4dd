// SPDX-License-Identifier: GPL-3.0-or-later
// Tank cards, A6: one for each tank of a system that holds fish, a page each. Drawn large, to be
// read from the aisle: system and its water, tank, lot, fish, and whether they may be moved.
#include <glib/gi18n-lib.h>
#include <string.h>

#include <lz_format.h>
#include <lz_words.h>

#include "lzr_stay.h"

#define BIG        30.0
#define NUMBER     44.0
#define FLAG       20.0
#define FLAG_SHARE 0.66 // of the width; a longer lot is set smaller

typedef struct {
  const char *system, *tank, *tank_word, *lot, *heads;
  unsigned water;
} Face;

static void
draw_face(cairo_t *cr, const lzd_look *look, double width, double height, const void *data)
{
  const Face *face = data;
  double wide = MIN(width * 0.64, MAX(150, lzd_basin_width(look, face->system, BIG)));
  double letters = FLAG;
  while (letters > 8 && lzd_pennant_width(look, face->lot, letters) > width * FLAG_SHARE)
    letters--;
  double flag = MIN(width, lzd_pennant_width(look, face->lot, letters));
  lzd_basin_draw(cr, look, (lzd_rect){0, 2, wide, 62}, face->water, face->system, BIG);
  lzd_type small = {.size = 11, .role = LZD_TEXT2, .align = LZD_END};
  lzd_type number = {.size = NUMBER, .bold = true, .role = LZD_TEXT, .align = LZD_END};
  lzd_type heads = {.size = 20, .bold = true, .role = LZD_TEXT, .align = LZD_END};
  lzd_text_draw(cr, look, &small, width, 10, face->tank_word);
  number.width = width - wide - 8;
  lzd_text_draw(cr, look, &number, width, 50, face->tank);
  lzd_pennant_draw(cr, look, (lzd_rect){0, 78, flag, 34}, LZD_PENNANT_SOLID, face->lot, letters);
  heads.width = width - flag - 8;
  lzd_text_draw(cr, look, &heads, width, 103, face->heads);
  (void)height;
}

static const char *
came_words(LzrBuild *build, const LzLotInfo *lot)
{
  LzEntry *receipt = lzr_receipt(build, lot->index);
  LzEntry *shipment =
      receipt && lz_entry_has(receipt, "shipment")
          ? lz_desk_entity(build->desk, "shipment", lz_entry_int(receipt, "shipment"))
          : NULL;
  const char *day = lzr_day(build, lot->received_at);
  if (!shipment)
    return day;
  const char *supplier = lzr_ref(build, shipment, "supplier", "supplier");
  return lzr_printf(build, "%s, %s%s%s", day, lzr_or(lz_entry_text(shipment, "code"), ""),
                    *supplier ? ", " : "", supplier);
}

static const char *
hold_words(LzrBuild *build, const LzLotInfo *lot)
{
  if (lot->needed_min <= 0)
    return lot->phase;
  return lzr_printf(build, _("%1$s: %2$s of %3$s"), lot->phase,
                    lzr_duration_short(build, lot->credit_min),
                    lzr_duration_short(build, lot->needed_min));
}

// What the fish last ate.
static const char *
food_words(LzrBuild *build, uint32_t lot)
{
  g_autoptr(GPtrArray) feeds = lz_desk_facts(
      build->desk, "feed", lz_desk_now(build->desk) - 14 * LZQ_DAY, lz_desk_now(build->desk) + 1);
  for (guint i = feeds->len; i-- > 0;)
    if (lzr_index(build, feeds->pdata[i], "lot", "lot") == lot)
      return lzr_printf(build, "%s", lzr_or(lz_entry_text(feeds->pdata[i], "food"), "–"));
  return "–";
}

static void
may_it_move(LzrBuild *build, const LzLotInfo *lot, const LzSystemInfo *system)
{
  LzEntry *entity = lz_desk_entity(build->desk, "system", system->id);
  const char *nets = entity ? lz_entry_text(entity, "nets") : NULL;
  const char *own = nets && *nets ? lzr_printf(build, _("Own net and bucket: %s only."), nets)
                                  : _("Own net and bucket for this water only.");
  gboolean free_to_go = lot->served || lot->released;
  lzd_sheet_warning(build->page, free_to_go ? LZD_TASK_DONE : LZD_TASK_BLOCKED,
                    free_to_go ? _("SERVED: ask before moving") : _("DO NOT MOVE"), own);
}

static void
pen_table(LzrBuild *build)
{
  lzd_column columns[] = {{_("date"), 62, LZD_START},
                          {_("dead"), 40, LZD_START},
                          {_("eats"), 40, LZD_START},
                          {_("seen"), 0, LZD_START},
                          {_("by"), 30, LZD_END}};
  static const int rows[LZR_DENSEST + 1] = {3, 2, 2, 2, 1, 1, 0};
  if (!rows[build->density])
    return;
  lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), true);
  for (int i = 0; i < rows[build->density]; i++) {
    lzd_cell cells[5] = {{.text = " "}};
    lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
  }
  lzd_sheet_end_table(build->page);
}

static void
card(LzrBuild *build, const LzLotInfo *lot, const LzTankInfo *tank)
{
  const LzSystemInfo *system = lz_desk_system_info(build->desk, lot->system);
  Face *face = g_new0(Face, 1);
  lzr_keep(build, (char *)(gpointer)face);
  const char *end = lot->code; // a very long code is told by its end, and whole among the facts
  for (glong over = g_utf8_strlen(lot->code, -1) - 20; over > 0; over--)
    end = g_utf8_next_char(end);
  *face = (Face){
      .system = system->name,
      .tank = lzr_printf(build, "%d", tank->number),
      .tank_word = _("tank"),
      .lot = end == lot->code ? end : lzr_printf(build, "…%s", end),
      .heads = lzr_printf(build, ngettext("%d fish", "%d fish", (gulong)lot->heads), lot->heads),
      .water = lzr_water(system)};
  const char *names[] = {_("Lot"),    _("System"), _("Species"),          _("Came"),
                         _("Course"), _("Served"), C_("card", "Release"), C_("card", "Feed")};
  const char *release = lot->likely == LZQ_NEVER
                            ? _("no date yet")
                            : lzr_printf(build, _("likely %s"), lzr_day(build, lot->likely));
  const char *values[] = {lot->code,
                          system->name,
                          lzr_or(lot->species, "–"),
                          came_words(build, lot),
                          lzr_or(lot->protocol, _("none")),
                          lzr_or(hold_words(build, lot), "–"),
                          release,
                          food_words(build, lot->index)};
  lzd_sheet_block(build->page, 116, draw_face, face);
  lzd_sheet_rule(build->page, 1.2);
  gsize skip = g_utf8_strlen(system->name, -1) > 10 || end != lot->code ? 0 : 2;
  lzd_sheet_facts(build->page, NULL, names + skip, values + skip, G_N_ELEMENTS(names) - skip);
  may_it_move(build, lot, system);
  pen_table(build);
}

void
lzr_tank_card(LzrBuild *build)
{
  GListModel *tanks = lz_desk_tanks(build->desk), *lots = lz_desk_lots(build->desk);
  guint cards = 0;
  lzd_sheet_foot(
      build->page,
      lzr_printf(build, "%s%s", lz_desk_is_practice(build->desk) ? _("PRACTICE. ") : "",
                 lz_desk_station_name(build->desk)),
      lzr_printf(build, "%s, {page}/{pages}", lzr_minute(build, lz_desk_now(build->desk))));
  for (guint t = 0; t < g_list_model_get_n_items(tanks); t++) {
    g_autoptr(LzTankRow) row = g_list_model_get_item(tanks, t);
    const LzTankInfo *tank = lz_tank_row_info(row);
    for (guint i = 0; tank->system == build->options->system && i < g_list_model_get_n_items(lots);
         i++) {
      g_autoptr(LzLotRow) item = g_list_model_get_item(lots, i);
      const LzLotInfo *lot = lz_lot_row_info(item);
      if (!lot->living || lot->released || lot->tank != tank->index)
        continue;
      if (cards++)
        lzd_sheet_new_page(build->page);
      card(build, lot, tank);
    }
  }
  build->fit_pages = cards;
  if (!cards)
    lzr_line(build, LZD_MARK_NONE, lz_desk_name(build->desk, "system", build->options->system),
             _("No fish in this system."));
}
