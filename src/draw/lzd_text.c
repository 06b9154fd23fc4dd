// SPDX-License-Identifier: GPL-3.0-or-later
// Pango behind a small door. Hinting of metrics is off, so that a text is as wide on screen as on
// paper and a picture does not depend on the machine's settings.
#include "lzd_text.h"

#include <string.h>
#include <pango/pangocairo.h>

static PangoAttrList *
base_attributes(void)
{
  PangoAttrList *list = pango_attr_list_new();
  pango_attr_list_insert(list, pango_attr_font_features_new("tnum=1"));
  return list;
}

static void
set_width(PangoLayout *layout, const lzd_look *look, const lzd_type *type)
{
  if (!(type->width > 0))
    return;
  bool rtl_text = pango_layout_get_direction(layout, 0) == PANGO_DIRECTION_RTL;
  bool to_left = (type->align == LZD_START) != look->mirrored;
  pango_layout_set_width(layout, (int)(type->width * PANGO_SCALE));
  if (type->wrap)
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
  else
    pango_layout_set_ellipsize(layout, PANGO_ELLIPSIZE_END);
  // Pango turns LEFT and RIGHT about for a right-to-left paragraph; our sides are the page's.
  if (type->align == LZD_MIDDLE)
    pango_layout_set_alignment(layout, PANGO_ALIGN_CENTER);
  else
    pango_layout_set_alignment(layout, to_left != rtl_text ? PANGO_ALIGN_LEFT : PANGO_ALIGN_RIGHT);
}

// A layout on cr, or on no surface at all where cr is NULL. Caller unrefs.
static PangoLayout *
make_layout(cairo_t *cr, const lzd_look *look, const lzd_type *type, const char *text)
{
  PangoContext *context = pango_font_map_create_context(pango_cairo_font_map_get_default());
  cairo_font_options_t *options = cairo_font_options_create();
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options(context, options);
  cairo_font_options_destroy(options);
  pango_context_set_round_glyph_positions(context, FALSE);
  if (cr)
    pango_cairo_update_context(cr, context);
  PangoLayout *layout = pango_layout_new(context);
  g_object_unref(context);

  PangoFontDescription *font = pango_font_description_new();
  pango_font_description_set_family_static(font, LZD_FONT);
  pango_font_description_set_absolute_size(font, type->size * lzd_look_text(look) * PANGO_SCALE);
  pango_font_description_set_weight(font, type->bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description(layout, font);
  pango_font_description_free(font);
  pango_layout_set_text(layout, text, -1);
  set_width(layout, look, type);
  return layout;
}

static void
set_plain(PangoLayout *layout)
{
  PangoAttrList *list = base_attributes();
  pango_layout_set_attributes(layout, list);
  pango_attr_list_unref(list);
}

// Left edge of the layout's box for an anchor at x.
static double
left_of(PangoLayout *layout, const lzd_look *look, const lzd_type *type, double x)
{
  PangoRectangle logical;
  pango_layout_get_extents(layout, NULL, &logical);
  double box = type->width > 0 ? type->width : (double)logical.width / PANGO_SCALE;
  if (type->align == LZD_MIDDLE)
    return x - box / 2;
  return (type->align == LZD_START) != look->mirrored ? x : x - box;
}

double
lzd_text_draw(cairo_t *cr, const lzd_look *look, const lzd_type *type, double x, double y,
              const char *text)
{
  if (!text || !*text)
    return 0;
  PangoLayout *layout = make_layout(cr, look, type, text);
  set_plain(layout);
  PangoRectangle logical;
  pango_layout_get_extents(layout, NULL, &logical);
  double baseline = (double)pango_layout_get_baseline(layout) / PANGO_SCALE;
  lzd_ink(cr, look->palette, type->role, 1);
  cairo_move_to(cr, left_of(layout, look, type, x), y - baseline);
  pango_cairo_show_layout(cr, layout);
  g_object_unref(layout);
  return (double)logical.height / PANGO_SCALE;
}

void
lzd_text_measure(const lzd_look *look, const lzd_type *type, const char *text, double *width,
                 double *height)
{
  PangoRectangle logical = {0};
  if (text && *text) {
    PangoLayout *layout = make_layout(NULL, look, type, text);
    set_plain(layout);
    pango_layout_get_extents(layout, NULL, &logical);
    g_object_unref(layout);
  }
  if (width)
    *width = (double)logical.width / PANGO_SCALE;
  if (height)
    *height = (double)logical.height / PANGO_SCALE;
}

double
lzd_text_width(const lzd_look *look, double size, bool bold, const char *text)
{
  lzd_type type = {.size = size, .bold = bold};
  double width;
  lzd_text_measure(look, &type, text, &width, NULL);
  return width;
}

static void
add_run(PangoAttrList *list, const lzd_look *look, const lzd_run *run, guint from, guint to)
{
  uint32_t rgb = look->palette->rgb[run->role ? run->role : LZD_TEXT];
  PangoAttribute *weight =
      pango_attr_weight_new(run->bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  PangoAttribute *ink =
      pango_attr_foreground_new((guint16)((rgb >> 16 & 255) * 257),
                                (guint16)((rgb >> 8 & 255) * 257), (guint16)((rgb & 255) * 257));
  weight->start_index = ink->start_index = from;
  weight->end_index = ink->end_index = to;
  pango_attr_list_insert(list, weight);
  pango_attr_list_insert(list, ink);
}

double
lzd_text_runs(cairo_t *cr, const lzd_look *look, const lzd_type *type, double x, double y,
              const lzd_run *runs, size_t n_runs)
{
  GString *all = g_string_new(NULL);
  PangoAttrList *list = base_attributes();
  for (size_t i = 0; i < n_runs; i++) {
    guint from = (guint)all->len;
    g_string_append(all, runs[i].text ? runs[i].text : "");
    add_run(list, look, &runs[i], from, (guint)all->len);
  }
  lzd_type plain = *type;
  plain.bold = false;
  PangoLayout *layout = make_layout(cr, look, &plain, all->str);
  pango_layout_set_attributes(layout, list);
  PangoRectangle logical;
  pango_layout_get_extents(layout, NULL, &logical);
  if (cr) {
    lzd_ink(cr, look->palette, LZD_TEXT, 1);
    cairo_move_to(cr, left_of(layout, look, type, x), y);
    pango_cairo_show_layout(cr, layout);
  }
  g_object_unref(layout);
  pango_attr_list_unref(list);
  g_string_free(all, TRUE);
  return n_runs ? (double)logical.height / PANGO_SCALE : 0;
}
