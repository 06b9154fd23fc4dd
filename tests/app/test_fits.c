// SPDX-License-Identifier: GPL-3.0-or-later
// Every page of the window laid out in a language, a size and a size of text: nothing asks for more
// than the screen has, no two words lie upon each other, and what is cut can be read in full.
// meson.build runs it in English, in German and in a generated language written from right to left.
#include <string.h>

#include "lz_app_window.h"
#include "lz_chart.h"
#include "lz_receive_private.h"
#include "lz_round_line.h"
#include "lz_tip.h"
#include "lz_window_private.h"
#include "lz_words.h"

static const struct {
  int width, height, percent;
} screens[] = {{1366, 728, 100}, {1366, 728, 200}, {1024, 728, 130}, {1920, 1040, 100}};

#define GATE_LINES 30 // of the round are tried
#define FRAME      10 // the window's own, where the display composes nothing

typedef struct {
  GPtrArray *labels; // of GtkWidget
  GArray *inks;      // of GdkRectangle: where their letters are
  char *where;
  int percent;
  guint charts; // that are shown whole
} Layout;

// Names and sentences of the record may be of any length, and who is here and the date give way to
// the places; what the program itself says on a control is not cut.
static gboolean
may_be_cut(GtkWidget *label)
{
  return !gtk_widget_get_ancestor(label, GTK_TYPE_BUTTON) &&
         !gtk_widget_get_ancestor(label, LZ_TYPE_FORM);
}

static void
take_label(GtkWidget *widget, const GdkRectangle *box, gpointer data)
{
  Layout *layout = data;
  PangoRectangle ink;
  int x, y;
  layout->charts += LZ_IS_CHART(widget);
  if (!GTK_IS_LABEL(widget) || !*gtk_label_get_text(GTK_LABEL(widget)))
    return;
  PangoLayout *pango = gtk_label_get_layout(GTK_LABEL(widget));
  if (pango_layout_is_ellipsized(pango)) {
    ck_assert_msg(layout->percent > 130 || may_be_cut(widget), "%s: \"%s\" is cut", layout->where,
                  gtk_label_get_text(GTK_LABEL(widget)));
    ck_assert_str_eq(lz_tip_of(widget), gtk_label_get_text(GTK_LABEL(widget)));
  }
  pango_layout_get_pixel_extents(pango, &ink, NULL);
  gtk_label_get_layout_offsets(GTK_LABEL(widget), &x, &y);
  GdkRectangle is = {box->x + x + ink.x, box->y + y + ink.y, ink.width, ink.height};
  g_ptr_array_add(layout->labels, widget);
  g_array_append_val(layout->inks, is);
}

static void
no_two_overlap(const Layout *layout)
{
  for (guint i = 0; i < layout->labels->len; i++)
    for (guint k = 0; k < i; k++) {
      GdkRectangle both;
      GtkLabel *a = layout->labels->pdata[i], *b = layout->labels->pdata[k];
      gboolean overlap =
          gdk_rectangle_intersect(&g_array_index(layout->inks, GdkRectangle, i),
                                  &g_array_index(layout->inks, GdkRectangle, k), &both) &&
          both.width > 2 && both.height > 2;
      ck_assert_msg(!overlap, "%s: \"%s\" lies on \"%s\"", layout->where, gtk_label_get_text(a),
                    gtk_label_get_text(b));
    }
}

// The names of the widgets that need this much, down to the narrowest.
static char *
who_needs(GtkWidget *widget, int wide)
{
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child;
       child = gtk_widget_get_next_sibling(child)) {
    int least = 0;
    if (gtk_widget_get_mapped(child))
      gtk_widget_measure(child, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
    if (least > wide * 9 / 10) {
      g_autofree char *below = who_needs(child, least);
      return g_strconcat(G_OBJECT_TYPE_NAME(child), " > ", below, NULL);
    }
  }
  return g_strdup("");
}

static void
no_larger_than_the_screen(const Layout *layout, int width, int height)
{
  GtkWidget *window = GTK_WIDGET(lz_app_window());
  int wide, high, told;
  gtk_widget_measure(window, GTK_ORIENTATION_HORIZONTAL, -1, &wide, NULL, NULL, NULL);
  gtk_widget_measure(window, GTK_ORIENTATION_VERTICAL, width, &high, NULL, NULL, NULL);
  // and what GTK 4.8 tells the display, which makes the window as high as that
  gtk_widget_measure(window, GTK_ORIENTATION_VERTICAL, -1, &told, NULL, NULL, NULL);
  high = MAX(high, told);
  g_autofree char *who = who_needs(window, wide);
  ck_assert_msg(wide <= width && high <= height, "%s needs %d x %d: %s", layout->where, wide, high,
                who);
}

// To look at: SHOTS names a folder.
static void
save_picture(const Layout *layout)
{
  const char *folder = g_getenv("SHOTS");
  if (!folder || !*folder)
    return;
  g_autofree char *name = g_strdelimit(g_strdup(layout->where), " /%", '-');
  g_autofree char *path = g_strdup_printf("%s/%s.png", folder, name);
  cairo_surface_t *picture = lz_app_window_picture();
  cairo_surface_write_to_png(picture, path);
  cairo_surface_destroy(picture);
}

// GTK gives no window more than the display has.
static void
is_as_wide(int width)
{
  int is = gtk_widget_get_width(GTK_WIDGET(lz_app_window()));
  ck_assert_msg(is <= width && is >= width - FRAME, "%d for %d", is, width);
}

static void
look(int screen, const char *page)
{
  Layout layout = {g_ptr_array_new(), g_array_new(FALSE, FALSE, sizeof(GdkRectangle)),
                   g_strdup_printf("%dx%d %d%% %s", screens[screen].width, screens[screen].height,
                                   screens[screen].percent, page),
                   screens[screen].percent};
  lz_app_window_settle();
  is_as_wide(screens[screen].width);
  save_picture(&layout);
  no_larger_than_the_screen(&layout, screens[screen].width, screens[screen].height);
  lz_app_window_each(take_label, &layout);
  ck_assert_uint_gt(layout.labels->len, 5);
  no_two_overlap(&layout);
  if (layout.percent == 100 && g_str_equal(page, "water"))
    ck_assert_uint_eq(layout.charts, 1);
  g_ptr_array_unref(layout.labels);
  g_array_unref(layout.inks);
  g_free(layout.where);
}

// Whether this run has the display for it: meson.build runs the wide one by itself.
static gboolean
is_of_this_run(int screen)
{
  return (screens[screen].width > 1366) == (g_getenv("FITS_WIDE") != NULL);
}

// FALSE where the generated language is left out: at 200 % its doubled words ask for more than any
// language that is spoken.
static gboolean
set_up_screen(int screen)
{
  g_autofree char *language = lz_words_language();
  if (!is_of_this_run(screen))
    return FALSE;
  if (screens[screen].percent == 200 && g_str_equal(language, "qps"))
    return FALSE;
  lz_app_window_size(screens[screen].width, screens[screen].height);
  lz_app_window_text(screens[screen].percent);
  return TRUE;
}

static void
do_action(const char *name)
{
  g_autofree char *action = g_strconcat("win.", name, NULL);
  gtk_widget_activate_action(GTK_WIDGET(lz_app_window()), action, NULL);
}

START_TEST(every_place_fits)
{
  static const char *const places[] = {"round", "water", "lots", "plan", "station"};
  static const char *const pages[] = {"receive",   "power", "how-much",
                                      "hand-over", "print", "ledger"};
  if (!set_up_screen(_i))
    return;
  for (guint i = 0; i < G_N_ELEMENTS(places); i++) {
    lz_window_go(lz_app_window(), places[i]);
    look(_i, places[i]);
  }
  for (guint i = 0; i < G_N_ELEMENTS(pages); i++) {
    lz_window_go(lz_app_window(), "round");
    do_action(pages[i]);
    look(_i, pages[i]);
  }
}
END_TEST

// What the page says of a box that came from far away, into water that has fish in it.
START_TEST(a_box_of_many_words_fits)
{
  static const char *const typed[LZ_N_BOX_FIELDS] = {[LZ_BOX_TEMPERATURE] = "14.5",
                                                     [LZ_BOX_SALINITY] = "12",
                                                     [LZ_BOX_PH] = "6.1",
                                                     [LZ_BOX_AMMONIA] = "8.5",
                                                     [LZ_BOX_SPECIES] = "Centropyge bispinosa",
                                                     [LZ_BOX_INVOICED] = "120",
                                                     [LZ_BOX_COUNTED] = "90",
                                                     [LZ_BOX_DEAD] = "2",
                                                     [LZ_BOX_WEAK] = "7",
                                                     [LZ_BOX_MASS] = "500",
                                                     [LZ_BOX_TANK] = "Blue-1/1"};
  if (!set_up_screen(_i))
    return;
  lz_window_go(lz_app_window(), "round");
  do_action("receive");
  lz_app_window_settle();
  LzReceiveView *view = lz_app_below(GTK_WIDGET(lz_app_window()), LZ_TYPE_RECEIVE_VIEW);
  ck_assert_ptr_nonnull(view);
  for (int f = 0; f < LZ_N_BOX_FIELDS; f++)
    if (typed[f])
      lz_receive_box_set(view->boxes->pdata[0], (LzBoxField)f, typed[f]);
  look(_i, "a box of many words");
}
END_TEST

START_TEST(every_panel_fits)
{
  static const char *const panels[] = {"see", "go-to", "what-if"};
  static const char *const kinds[] = {"dose", "lot", "bottle", "instrument", "scrape"};
  LzWindow *window = lz_app_window();
  if (!set_up_screen(_i))
    return;
  for (guint i = 0; i < G_N_ELEMENTS(panels); i++) {
    lz_window_go(window, i == 2 ? "plan" : "round");
    do_action(panels[i]);
    look(_i, panels[i]);
    lz_window_close_panels(window);
  }
  lz_window_go(window, "water");
  for (guint i = 0; i < G_N_ELEMENTS(kinds); i++) {
    lz_window_open_form(window, kinds[i], 0, NULL, NULL);
    look(_i, kinds[i]);
    ck_assert(lz_window_close_panels(window));
  }
}
END_TEST

static LzRoundLine *
open_line(GtkWidget *widget)
{
  LzRoundLine *line = LZ_IS_ROUND_LINE(widget) ? LZ_ROUND_LINE(widget) : NULL;
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child && !line;
       child = gtk_widget_get_next_sibling(child))
    line = gtk_widget_get_mapped(child) ? open_line(child) : NULL;
  return line;
}

// What is wrong, the scale and the way on end in that; why, below it, may be scrolled to.
static void
count_ways(GtkWidget *widget, const GdkRectangle *box, gpointer data)
{
  *(guint *)data += GTK_IS_LABEL(widget) && gtk_widget_has_css_class(widget, "strong") &&
                    gtk_widget_get_ancestor(widget, LZ_TYPE_GATE);
}

static void
press_digits(int digit, int n)
{
  for (int i = 0; i < n; i++)
    lz_window_press(lz_app_window(), (LzPadKey){LZ_PAD_DIGIT, digit, true});
}

// Down the round, a number on each line that the water cannot have: the gate that opens beside the
// line is on the screen down to its way on, up to text of 130 %.
START_TEST(every_gate_fits)
{
  const LzPadKey down = {LZ_PAD_DOWN, 0, false}, enter = {LZ_PAD_ENTER, 0, true};
  guint seen = 0;
  if (!set_up_screen(_i))
    return;
  g_autoptr(GArray) people = lz_desk_entities(lz_app_window_station()->desk, "person");
  lz_desk_set_actor(lz_app_window_station()->desk, g_array_index(people, int64_t, 0));
  lz_app_window_go("round");
  for (int i = 0; i < GATE_LINES; i++) {
    guint whole = 0;
    lz_window_press(lz_app_window(), down);
    press_digits(9, 2);
    lz_window_press(lz_app_window(), enter);
    lz_app_window_settle();
    LzRoundLine *line = open_line(GTK_WIDGET(lz_app_window()));
    LzGateKind kind = line ? lz_round_line_gate(line) : LZ_GATE_OPEN;
    if (kind == LZ_GATE_OPEN || seen & 1U << kind)
      continue;
    seen |= 1U << kind;
    g_autofree char *name = g_strdup_printf("gate %d", kind);
    look(_i, name);
    lz_app_window_each(count_ways, &whole);
    ck_assert_msg(whole == 1 || screens[_i].percent > 130, "%s: its way on is cut", name);
    lz_round_line_back(line);
  }
  ck_assert_msg(seen & 1U << LZ_GATE_REPEAT && seen & 1U << LZ_GATE_STOP, "gates seen: %x", seen);
}
END_TEST

static void
count_open_lines(GtkWidget *widget, const GdkRectangle *box, gpointer data)
{
  *(guint *)data += LZ_IS_ROUND_LINE(widget);
}

// Far down the round too, the open line is seen with its echo and its instrument.
START_TEST(an_open_line_is_whole)
{
  const LzPadKey down = {LZ_PAD_DOWN, 0, false}, digit = {LZ_PAD_DIGIT, 1, true};
  lz_app_window_size(1366, 728);
  lz_app_window_go("round");
  for (int i = 0; i < 8; i++) {
    guint whole = 0;
    lz_window_press(lz_app_window(), down);
    lz_app_window_settle();
    lz_window_press(lz_app_window(), digit);
    lz_app_window_settle();
    lz_app_window_each(count_open_lines, &whole);
    ck_assert_msg(whole == 1, "after %d lines", i + 1);
  }
}
END_TEST

// The language of this run decides on which side the places begin.
START_TEST(the_window_follows_the_writing)
{
  g_autofree char *language = lz_words_language();
  gboolean rtl = g_str_equal(language, "qps");
  GtkWidget *places = GTK_WIDGET(lz_app_window()->places);
  lz_app_window_go("round");
  ck_assert_int_eq(gtk_widget_get_direction(places), rtl ? GTK_TEXT_DIR_RTL : GTK_TEXT_DIR_LTR);
  graphene_rect_t first, last;
  ck_assert(gtk_widget_compute_bounds(gtk_widget_get_first_child(places), places, &first));
  ck_assert(gtk_widget_compute_bounds(gtk_widget_get_last_child(places), places, &last));
  ck_assert_int_eq(first.origin.x > last.origin.x, rtl);
}
END_TEST

int
main(void)
{
  lz_words_init();
  gtk_disable_setlocale();
  if (!lz_app_window_init())
    return 77;
  Suite *suite = suite_create("fits");
  TCase *pages = tcase_create("pages");
  tcase_set_timeout(pages, 240);
  tcase_add_checked_fixture(pages, lz_app_window_setup_demo, lz_app_window_teardown);
  tcase_add_loop_test(pages, every_place_fits, 0, G_N_ELEMENTS(screens));
  tcase_add_loop_test(pages, a_box_of_many_words_fits, 0, G_N_ELEMENTS(screens));
  tcase_add_loop_test(pages, every_panel_fits, 0, G_N_ELEMENTS(screens));
  tcase_add_loop_test(pages, every_gate_fits, 0, G_N_ELEMENTS(screens));
  tcase_add_test(pages, an_open_line_is_whole);
  tcase_add_test(pages, the_window_follows_the_writing);
  suite_add_tcase(suite, pages);
  return lz_app_test_run(suite, true);
}
