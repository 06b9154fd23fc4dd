// SPDX-License-Identifier: GPL-3.0-or-later
// Contrast of what is really painted, in every palette: W3C, WCAG 2.1, 1.4.3 (words 4.5:1), 1.4.6
// (7:1 in high contrast) and 1.4.11 (outlines of controls 3:1). The ground is the commonest pixel
// in a widget's box, the ink the colour that its style sheet gives it.
#include <lz_error.h>
#include <string.h>

#include "lz_app_window.h"
#include "lz_form_private.h"
#include "lz_sign.h"
#include "lz_theme.h"
#include "lz_window_private.h"

static const struct {
  const char *name;
  double words; // least contrast
} themes[] = {{"light", 4.5}, {"dark", 4.5}, {"contrast", 7}, {"contrast-dark", 7}};

static const char *const places[] = {"round", "water", "lots", "plan", "station"};

typedef struct {
  cairo_surface_t *picture;
  const char *where;
  double least;
  guint words, drawings, outlines;
} Look;

// The part of a widget's box that is in the picture.
static GdkRectangle
seen(const Look *look, const GdkRectangle *box)
{
  GdkRectangle all = {0, 0, cairo_image_surface_get_width(look->picture),
                      cairo_image_surface_get_height(look->picture)};
  GdkRectangle part = {0};
  gdk_rectangle_intersect(&all, box, &part);
  return part;
}

static void
count_pixels(const Look *look, const GdkRectangle *box, GHashTable *counts)
{
  for (int y = box->y; y < box->y + box->height; y++)
    for (int x = box->x; x < box->x + box->width; x++) {
      gpointer key = GUINT_TO_POINTER(lz_app_pixel(look->picture, x, y));
      guint n = GPOINTER_TO_UINT(g_hash_table_lookup(counts, key));
      g_hash_table_insert(counts, key, GUINT_TO_POINTER(n + 1));
    }
}

static guint
count_of(GHashTable *counts, uint32_t rgb)
{
  return GPOINTER_TO_UINT(g_hash_table_lookup(counts, GUINT_TO_POINTER(rgb)));
}

static uint32_t
ground_of(const Look *look, const GdkRectangle *box)
{
  g_autoptr(GHashTable) counts = g_hash_table_new(NULL, NULL);
  GHashTableIter iter;
  gpointer key;
  uint32_t best = 0;
  count_pixels(look, box, counts);
  g_hash_table_iter_init(&iter, counts);
  while (g_hash_table_iter_next(&iter, &key, NULL))
    if (count_of(counts, GPOINTER_TO_UINT(key)) > count_of(counts, best))
      best = GPOINTER_TO_UINT(key);
  return best;
}

// The strongest contrast to `ground` that any pixel of the box has.
static double
strongest(const Look *look, const GdkRectangle *box, uint32_t ground)
{
  double most = 1;
  for (int y = box->y; y < box->y + box->height; y++)
    for (int x = box->x; x < box->x + box->width; x++)
      most = MAX(most, lzd_contrast(lz_app_pixel(look->picture, x, y), ground));
  return most;
}

static uint32_t
ink_of(GtkWidget *widget)
{
  GdkRGBA c;
  gtk_style_context_get_color(gtk_widget_get_style_context(widget), &c);
  return (uint32_t)(c.red * 255 + 0.5F) << 16 | (uint32_t)(c.green * 255 + 0.5F) << 8 |
         (uint32_t)(c.blue * 255 + 0.5F);
}

static void
look_at_words(GtkWidget *widget, const GdkRectangle *part, Look *look)
{
  const char *text = gtk_label_get_text(GTK_LABEL(widget));
  if (!*text)
    return;
  uint32_t ground = ground_of(look, part), ink = ink_of(widget);
  double ratio = lzd_contrast(ink, ground);
  ck_assert_msg(ratio >= look->least, "%s: \"%s\" is #%06X on #%06X, %.2f:1", look->where, text,
                ink, ground, ratio);
  // and it is really there: thin strokes are grey at their rims, so half of it is asked
  double there = strongest(look, part, ground);
  ck_assert_msg(there >= look->least / 2, "%s: \"%s\" does not show, %.2f:1", look->where, text,
                there);
  look->words++;
}

// The pixels around a box, a little away from the strokes in it.
static guint
count_around(const Look *look, const GdkRectangle *part, GHashTable *counts)
{
  const int away = 3, wide = part->width + 2 * away, high = part->height + 2 * away;
  const GdkRectangle sides[] = {{part->x - away, part->y - away, wide, 1},
                                {part->x - away, part->y + part->height + away - 1, wide, 1},
                                {part->x - away, part->y - away, 1, high},
                                {part->x + part->width + away - 1, part->y - away, 1, high}};
  guint n = 0;
  for (guint i = 0; i < G_N_ELEMENTS(sides); i++) {
    GdkRectangle side = seen(look, &sides[i]);
    count_pixels(look, &side, counts);
    n += (guint)(side.width * side.height);
  }
  return n;
}

// What draws itself was promised these grounds (tests/draw/test_palette.c): a quarter of what is
// around it is one of them, or it is drawn for another window than it stands in.
static void
look_at_drawing(GtkWidget *widget, const GdkRectangle *part, Look *look)
{
  static const lzd_role grounds[] = {LZD_BACKGROUND, LZD_SURFACE, LZD_SUNK, LZD_ACCENT_TINT,
                                     LZD_ALARM_TINT};
  const uint32_t *rgb = lz_theme_palette()->rgb;
  g_autoptr(GHashTable) counts = g_hash_table_new(NULL, NULL);
  guint around = count_around(look, part, counts);
  uint32_t ground = rgb[grounds[0]];
  for (guint i = 1; i < G_N_ELEMENTS(grounds); i++)
    if (count_of(counts, rgb[grounds[i]]) > count_of(counts, ground))
      ground = rgb[grounds[i]];
  double there = strongest(look, part, ground);
  if (there <= 1 && LZ_IS_SIGN(widget))
    return; // the line has nothing to draw here; in no palette, or the count differs
  ck_assert_msg(4 * count_of(counts, ground) >= around, "%s: %s at %d, %d is on a foreign ground",
                look->where, G_OBJECT_TYPE_NAME(widget), part->x, part->y);
  ck_assert_msg(there >= 3, "%s: %s at %d, %d does not show, %.2f:1", look->where,
                G_OBJECT_TYPE_NAME(widget), part->x, part->y, there);
  look->drawings++;
}

// A line across the left edge of a control meets its outline.
static void
look_at_outline(GtkWidget *widget, const GdkRectangle *part, Look *look)
{
  GdkRectangle edge = {part->x - 3, part->y + part->height / 2, 8, 1};
  GdkRectangle line = seen(look, &edge);
  uint32_t outside = lz_app_pixel(look->picture, line.x, line.y);
  double there = strongest(look, &line, outside);
  ck_assert_msg(there >= 3, "%s: the outline of %s at %d, %d has %.2f:1", look->where,
                G_OBJECT_TYPE_NAME(widget), part->x, part->y, there);
  look->outlines++;
}

static gboolean
draws_itself(GtkWidget *widget)
{
  static const char *const types[] = {"LzChart", "LzRibbonArea", "LzCreditArea", "LzSign"};
  return g_strv_contains((const char *const[]){types[0], types[1], types[2], types[3], NULL},
                         G_OBJECT_TYPE_NAME(widget));
}

static gboolean
has_outline(GtkWidget *widget)
{
  const char *css = gtk_widget_get_css_name(widget);
  if (!gtk_widget_get_sensitive(widget))
    return FALSE; // 1.4.11 leaves out what cannot be used
  if (GTK_IS_BUTTON(widget))
    return gtk_widget_has_css_class(widget, "main") || gtk_widget_has_css_class(widget, "way");
  return strcmp(css, "entry") == 0 || strcmp(css, "check") == 0 || strcmp(css, "spinbutton") == 0;
}

static void
look_at(GtkWidget *widget, const GdkRectangle *box, gpointer data)
{
  Look *look = data;
  GdkRectangle part = seen(look, box);
  if (part.width < 2 || part.height < 2)
    return;
  if (GTK_IS_LABEL(widget))
    look_at_words(widget, &part, look);
  else if (draws_itself(widget))
    look_at_drawing(widget, &part, look);
  else if (has_outline(widget))
    look_at_outline(widget, &part, look);
}

static Look
look_around(int theme, const char *what)
{
  g_autofree char *where = g_strdup_printf("%s, %s", themes[theme].name, what);
  Look look = {.picture = lz_app_window_picture(), .where = where, .least = themes[theme].words};
  lz_app_window_each(look_at, &look);
  cairo_surface_destroy(look.picture);
  look.where = NULL;
  return look;
}

START_TEST(every_place_in_every_palette)
{
  static guint in_light[G_N_ELEMENTS(places)];
  lz_app_window_theme(themes[_i].name);
  for (guint i = 0; i < G_N_ELEMENTS(places); i++) {
    lz_app_window_go(places[i]);
    Look look = look_around(_i, places[i]);
    ck_assert_uint_gt(look.words, 10);
    if (_i == 0)
      in_light[i] = look.drawings;
    ck_assert_uint_eq(look.drawings, in_light[i]);
  }
  ck_assert_uint_ge(in_light[0], 8); // signs of the round's lines
  ck_assert_uint_ge(in_light[1], 4); // chart, cells, band marks
  ck_assert_uint_ge(in_light[2], 3); // pennants, the lot's ribbon
  ck_assert_uint_ge(in_light[3], 1); // the plan
}
END_TEST

START_TEST(forms_in_every_palette)
{
  static const char *const kinds[] = {"dose", "reading", "lot"};
  lz_app_window_theme(themes[_i].name);
  for (guint i = 0; i < G_N_ELEMENTS(kinds); i++) {
    lz_window_open_form(lz_app_window(), kinds[i], 0, NULL, NULL);
    lz_app_window_settle();
    Look look = look_around(_i, kinds[i]);
    ck_assert_uint_gt(look.outlines, 2);
    ck_assert(lz_window_close_panels(lz_app_window()));
  }
}
END_TEST

// The frame of one: three pixels of the alarm's colour, where a field with the cursor in it has
// two, so that it is told without its colour.
static void
is_framed(GtkWidget *widget, const GdkRectangle *box, gpointer data)
{
  Look *look = data;
  LzForm *form = lz_app_window()->form;
  const uint32_t alarm = lz_theme_palette()->rgb[LZD_ALARM];
  int thick = 0;
  for (guint i = 0; i < form->inputs->len; i++) {
    LzFormField *field = g_ptr_array_index(form->inputs, i);
    GtkWidget *framed =
        GTK_IS_ENTRY(field->input) ? field->input : gtk_widget_get_first_child(field->input);
    if (widget == field->sign)
      look->drawings++;
    if (widget != framed || !gtk_widget_has_css_class(field->input, "wrong"))
      continue;
    for (int x = box->x; x < box->x + 12; x++)
      thick += lz_app_pixel(look->picture, x, box->y + box->height / 2) == alarm;
    ck_assert_msg(thick == 3, "%s: %s has %d pixels", look->where, field->field->name, thick);
    look->outlines++;
  }
}

// An entry, a drop-down and a box to tick.
START_TEST(a_refused_field_shows)
{
  g_autoptr(GError) error = g_error_new_literal(LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
                                                "system: a\namount_ml: b\nin_new_water: c");
  lz_app_window_theme(themes[_i].name);
  lz_window_open_form(lz_app_window(), "dose", 0, NULL, NULL);
  for (int cursor = 0; cursor < 2; cursor++) {
    lz_form_mark_wrong(lz_app_window()->form, error);
    if (cursor)
      gtk_widget_grab_focus(lz_form_find(lz_app_window()->form, "amount_ml")->input);
    lz_app_window_settle();
    Look look = {lz_app_window_picture(), themes[_i].name, 0, 0, 0, 0};
    lz_app_window_each(is_framed, &look);
    cairo_surface_destroy(look.picture);
    ck_assert_uint_eq(look.outlines, 3);
    ck_assert_uint_eq(look.drawings, 3);
  }
  ck_assert(lz_window_close_panels(lz_app_window()));
}
END_TEST

// Names that GTK 4 and older desktops give their themes, and what the portal adds.
START_TEST(the_desktop_chooses_one_palette)
{
  static const struct {
    LzTheme setting;
    LzDesktopLook desktop;
    LzTheme shown;
  } cases[] = {
      {LZ_THEME_SYSTEM, {"Adwaita", false, false}, LZ_THEME_LIGHT},
      {LZ_THEME_SYSTEM, {NULL, false, false}, LZ_THEME_LIGHT},
      {LZ_THEME_SYSTEM, {"Adwaita-dark", false, false}, LZ_THEME_DARK},
      {LZ_THEME_SYSTEM, {"Adwaita:dark", false, false}, LZ_THEME_DARK},
      {LZ_THEME_SYSTEM, {"Adwaita", true, false}, LZ_THEME_DARK},
      {LZ_THEME_SYSTEM, {"HighContrast", false, false}, LZ_THEME_CONTRAST},
      {LZ_THEME_SYSTEM, {"Default-hc", false, false}, LZ_THEME_CONTRAST},
      {LZ_THEME_SYSTEM, {"Default:hc", false, false}, LZ_THEME_CONTRAST},
      {LZ_THEME_SYSTEM, {"HighContrastInverse", false, false}, LZ_THEME_CONTRAST_DARK},
      {LZ_THEME_SYSTEM, {"Default-hc-dark", false, false}, LZ_THEME_CONTRAST_DARK},
      {LZ_THEME_SYSTEM, {"Adwaita", true, true}, LZ_THEME_CONTRAST_DARK},
      {LZ_THEME_SYSTEM, {"Adwaita", false, true}, LZ_THEME_CONTRAST},
      {LZ_THEME_DARK, {"HighContrast", false, true}, LZ_THEME_DARK},
      {LZ_THEME_CONTRAST_DARK, {"Adwaita", false, false}, LZ_THEME_CONTRAST_DARK},
  };
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++)
    ck_assert_msg(lz_theme_choose(cases[i].setting, &cases[i].desktop) == cases[i].shown,
                  "case %u: %s", i, cases[i].desktop.gtk_theme);
}
END_TEST

// What GTK paints and what is drawn is one palette, also when the desktop changes.
START_TEST(the_desktops_theme_reaches_drawings)
{
  g_object_set(gtk_settings_get_default(), "gtk-theme-name", "HighContrastInverse", NULL);
  ck_assert_ptr_eq(lz_theme_palette(), lzd_palette_get(LZD_DARK_CONTRAST));
  lz_app_window_go("water");
  Look look = look_around(3, "water");
  ck_assert_uint_ge(look.drawings, 1);
  g_object_set(gtk_settings_get_default(), "gtk-theme-name", "HighContrast", NULL);
  lz_app_window_go("plan");
  look = look_around(2, "plan");
  ck_assert_uint_ge(look.drawings, 1);
  gtk_settings_reset_property(gtk_settings_get_default(), "gtk-theme-name");
}
END_TEST

// What GTK itself lays out, which our names of windows do not reach: written as our own, and whole
// on a screen of 768 lines, its pages' buttons too.
START_TEST(the_keys_wear_the_palette)
{
  lz_app_window_theme(themes[_i].name);
  GtkWindow *keys =
      GTK_WINDOW(gtk_application_window_get_help_overlay(GTK_APPLICATION_WINDOW(lz_app_window())));
  gtk_window_present(keys);
  lz_wait_until(gtk_widget_get_mapped(GTK_WIDGET(keys)));
  int least, natural;
  ck_assert_uint_eq(ink_of(GTK_WIDGET(keys)), lz_theme_palette()->rgb[LZD_TEXT]);
  gtk_widget_measure(GTK_WIDGET(keys), GTK_ORIENTATION_VERTICAL, -1, &least, &natural, NULL, NULL);
  ck_assert_int_le(least, 728);
  ck_assert_int_gt(least, 300);
  gtk_widget_set_visible(GTK_WIDGET(keys), FALSE);
}
END_TEST

int
main(void)
{
  if (!lz_app_window_init())
    return 77;
  Suite *suite = suite_create("contrast");
  TCase *painted = tcase_create("painted");
  tcase_set_timeout(painted, 120);
  tcase_add_checked_fixture(painted, lz_app_window_setup, lz_app_window_teardown);
  tcase_add_loop_test(painted, every_place_in_every_palette, 0, G_N_ELEMENTS(themes));
  tcase_add_loop_test(painted, forms_in_every_palette, 0, G_N_ELEMENTS(themes));
  tcase_add_loop_test(painted, a_refused_field_shows, 0, G_N_ELEMENTS(themes));
  tcase_add_loop_test(painted, the_keys_wear_the_palette, 0, G_N_ELEMENTS(themes));
  tcase_add_test(painted, the_desktops_theme_reaches_drawings);
  suite_add_tcase(suite, painted);
  TCase *chosen = tcase_create("chosen");
  tcase_add_test(chosen, the_desktop_chooses_one_palette);
  suite_add_tcase(suite, chosen);
  return lz_app_test_run(suite, true);
}
