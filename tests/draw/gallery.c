// SPDX-License-Identifier: GPL-3.0-or-later
// Draws everything the layer can draw into pictures, to be looked at: gallery OUTPUT_DIRECTORY.
#include <stdio.h>
#include <stdlib.h>

#include "scene.h"

static const char *const themes[LZD_THEMES] = {"light", "dark", "print", "light-contrast",
                                               "dark-contrast"};

typedef struct {
  const char *name;
  double width, height;
  void (*draw)(cairo_t *cr, const lzd_look *look, double width, double height, const void *data);
} picture;

static void
chart(cairo_t *cr, const lzd_look *look, double width, double height, const void *data)
{
  static scene s;
  scene_fill(&s);
  lzd_fault fault = {0};
  cairo_translate(cr, 16, 16);
  if (lzd_chart_draw(cr, &s.chart, look, width - 32, height - 32, &fault) != LZD_OK)
    fprintf(stderr, "chart: %s %zu %s: %s\n", fault.where, fault.index, fault.field, fault.reason);
}

static void
marks(cairo_t *cr, const lzd_look *look, double width, double height, const void *data)
{
  for (int mark = 1; mark < LZD_MARKS; mark++) {
    double x = 30 + (mark - 1) % 4 * 230, y = 40 + (mark - 1) / 4 * 60;
    lzd_role role = lzd_mark_role(mark, LZD_PLAIN);
    lzd_mark_draw(cr, look, mark, LZD_PLAIN, role, x, y, 16);
    lzd_mark_draw(cr, look, mark, LZD_PLAIN, role, x + 46, y, 48);
    lzd_mark_draw(cr, look, mark, LZD_HOLLOW, role, x + 90, y, 16);
    lzd_type type = {.size = 13, .role = LZD_TEXT};
    lzd_text_draw(cr, look, &type, look->mirrored ? x + 200 : x + 106, y + 5, lzd_mark_name(mark));
  }
}

static void
things(cairo_t *cr, const lzd_look *look, double width, double height, const void *data)
{
  static const char *const names[] = {"Coral-3", "Blue-1", "Red-2", "Blue-2"};
  static const lzd_cell_text cells[] = {{"1", "20", 0}, {"2", "15", 0}, {"3", "18", 1},
                                        {"4", "18", 0}, {"5", "14", 0}, {"6", "17", 0},
                                        {"7", "17", 0}, {"8", "–", 0}};
  for (unsigned i = 0; i < 4; i++) {
    lzd_basin_draw(cr, look, (lzd_rect){24 + i * 100, 24, 80, 28}, i, names[i], 15);
    lzd_basin_draw(cr, look, (lzd_rect){24 + i * 130, 80, 104, 36}, i, names[i], 20);
  }
  lzd_basin_cells(cr, look, (lzd_rect){24, 150, 288, 30}, 3, cells, 8);
  lzd_pennant_draw(cr, look, (lzd_rect){340, 146, 76, 36}, LZD_PENNANT_SOLID, "0412", 20);
  lzd_pennant_draw(cr, look, (lzd_rect){430, 150, 52, 22}, LZD_PENNANT_OUTLINE, "0418", 13);
  lzd_pennant_draw(cr, look, (lzd_rect){496, 150, 52, 22}, LZD_PENNANT_WHAT_IF, "0419", 13);
  for (int i = 0; i < 5; i++)
    lzd_cord_draw(cr, look, (lzd_knot)((i + 4) % 5), 600, 24 + i * 36, 60 + i * 36);
  lzd_room_bar(cr, look, (lzd_rect){24, 216, 176, 12}, 0.31, 0.5, 0.6);
  lzd_room_bar(cr, look, (lzd_rect){224, 216, 176, 12}, 2.6, 2.4, 2.8);
}

static void
one_lot(cairo_t *cr, const lzd_look *look, double width, double height, const void *data)
{
  lzd_ribbon one, many;
  scene_ribbon(&one, &many);
  cairo_translate(cr, 16, 10);
  lzd_ribbon_draw(cr, &one, look, width - 32, height - 20, NULL);
}

static void
all_lots(cairo_t *cr, const lzd_look *look, double width, double height, const void *data)
{
  lzd_ribbon one, many;
  scene_ribbon(&one, &many);
  cairo_translate(cr, 16, 10);
  lzd_ribbon_draw(cr, &many, look, width - 32, height - 20, NULL);
}

static void
credit(cairo_t *cr, const lzd_look *look, double width, double height, const void *data)
{
  lzd_credit_grid grid;
  scene_credit(&grid);
  cairo_translate(cr, 16, 10);
  lzd_credit_draw(cr, &grid, look, width - 32, height - 20, NULL);
}

static const picture pictures[] = {
    {"chart", 882, 632, chart},   {"small", 560, 420, chart}, {"marks", 940, 480, marks},
    {"things", 640, 250, things}, {"lot", 900, 240, one_lot}, {"plan", 980, 540, all_lots},
    {"credit", 900, 320, credit},
};

int
main(int argc, char **argv)
{
  if (argc != 2) {
    fprintf(stderr, "usage: gallery DIRECTORY\n");
    return 2;
  }
  for (int theme = 0; theme < LZD_THEMES; theme++)
    for (size_t i = 0; i < sizeof pictures / sizeof pictures[0]; i++)
      for (int mirrored = 0; mirrored <= (theme == LZD_LIGHT); mirrored++) {
        char path[4096];
        snprintf(path, sizeof path, "%s/%s-%s%s.png", argv[1], pictures[i].name, themes[theme],
                 mirrored ? "-mirrored" : "");
        lzd_look look = {.palette = lzd_palette_get((lzd_theme)theme), .mirrored = mirrored};
        lzd_fault fault = {0};
        if (lzd_export(path, LZD_PNG, pictures[i].width, pictures[i].height, 1, &look,
                       pictures[i].draw, NULL, NULL, &fault) != LZD_OK)
          fprintf(stderr, "%s: %s\n", path, fault.reason);
      }
  return 0;
}
