// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_app_window.h"

#include <math.h>
#include <string.h>

#include "lz_application.h"
#include "lz_settings.h"

static LzAppStation station;
static GtkApplication *application;
static LzWindow *window;

gboolean
lz_app_window_init(void)
{
  if (!gtk_init_check())
    return FALSE;
  application = lz_application_new();
  g_application_set_flags(G_APPLICATION(application), G_APPLICATION_NON_UNIQUE);
  return g_application_register(G_APPLICATION(application), NULL, NULL);
}

static void
present(void)
{
  window = LZ_WINDOW(lz_window_new(application));
  lz_window_set_desk(window, g_object_ref(station.desk));
  gtk_window_present(GTK_WINDOW(window));
  lz_wait_until(gtk_widget_get_mapped(GTK_WIDGET(window)));
}

void
lz_app_window_setup(void)
{
  lz_app_station_open(&station);
  lz_app_station_lot(&station);
  present();
}

void
lz_app_window_setup_demo(void)
{
  lz_app_station_demo(&station);
  present();
}

void
lz_app_window_teardown(void)
{
  gtk_window_destroy(GTK_WINDOW(window));
  g_settings_reset(lz_settings(), "theme");
  g_settings_reset(lz_settings(), "text-percent");
  lz_app_station_close(&station);
}

LzWindow *
lz_app_window(void)
{
  return window;
}

LzAppStation *
lz_app_window_station(void)
{
  return &station;
}

void
lz_app_window_settle(void)
{
  graphene_rect_t was = GRAPHENE_RECT_INIT(0, 0, 0, 0), is;
  for (int same = 0, i = 0; same < 2 && i < 100; i++) {
    gtk_test_widget_wait_for_draw(GTK_WIDGET(window));
    GtkWidget *focus = gtk_window_get_focus(GTK_WINDOW(window));
    if (!focus)
      focus = GTK_WIDGET(window);
    gboolean laid = gtk_widget_compute_bounds(focus, GTK_WIDGET(window), &is);
    same = laid && is.size.height > 0 && graphene_rect_equal(&is, &was) ? same + 1 : 0;
    was = is;
  }
}

void
lz_app_window_theme(const char *theme)
{
  g_settings_set_string(lz_settings(), "theme", theme);
  lz_app_window_settle();
}

void
lz_app_window_text(int percent)
{
  g_settings_set_int(lz_settings(), "text-percent", percent);
  lz_app_window_settle();
}

void
lz_app_window_size(int width, int height)
{
  gtk_window_set_default_size(GTK_WINDOW(window), width, height);
  lz_app_window_settle();
}

void
lz_app_window_go(const char *place)
{
  lz_window_go(window, place);
  lz_app_window_settle();
}

// The window with its decoration, which lies outside of its own coordinates.
static graphene_rect_t
painted(void)
{
  graphene_rect_t all;
  ck_assert(gtk_widget_compute_bounds(GTK_WIDGET(window), GTK_WIDGET(window), &all));
  return all;
}

cairo_surface_t *
lz_app_window_picture(void)
{
  graphene_rect_t all = painted();
  int width = (int)all.size.width, height = (int)all.size.height;
  g_autoptr(GdkPaintable) paintable = gtk_widget_paintable_new(GTK_WIDGET(window));
  GtkSnapshot *snapshot = gtk_snapshot_new();
  gdk_paintable_snapshot(paintable, snapshot, width, height);
  GskRenderNode *node = gtk_snapshot_free_to_node(snapshot);
  cairo_surface_t *picture = cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create(picture);
  ck_assert_ptr_nonnull(node);
  gsk_render_node_draw(node, cr);
  gsk_render_node_unref(node);
  cairo_destroy(cr);
  cairo_surface_flush(picture);
  return picture;
}

uint32_t
lz_app_pixel(cairo_surface_t *picture, int x, int y)
{
  uint32_t value;
  const unsigned char *row = cairo_image_surface_get_data(picture) +
                             (ptrdiff_t)y * cairo_image_surface_get_stride(picture);
  memcpy(&value, row + (ptrdiff_t)x * 4, 4);
  return value & 0xFFFFFF;
}

static gboolean
inside(const graphene_rect_t *box, const graphene_rect_t *clip)
{
  graphene_rect_t all = *clip;
  graphene_rect_inset(&all, -1, -1);
  return graphene_rect_contains_rect(&all, box);
}

static void
each(GtkWidget *widget, const graphene_rect_t *all, const graphene_rect_t *clip, LzAppVisit visit,
     gpointer data)
{
  graphene_rect_t box, part = *clip;
  if (!gtk_widget_get_mapped(widget) ||
      !gtk_widget_compute_bounds(widget, GTK_WIDGET(window), &box))
    return;
  if (box.size.width >= 1 && box.size.height >= 1 && inside(&box, clip))
    visit(widget,
          &(GdkRectangle){(int)floorf(box.origin.x - all->origin.x),
                          (int)floorf(box.origin.y - all->origin.y), (int)ceilf(box.size.width),
                          (int)ceilf(box.size.height)},
          data);
  if (gtk_widget_get_overflow(widget) == GTK_OVERFLOW_HIDDEN)
    graphene_rect_intersection(&box, clip, &part);
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child;
       child = gtk_widget_get_next_sibling(child))
    if (!GTK_IS_NATIVE(child)) // a popover has a surface of its own
      each(child, all, &part, visit, data);
}

gpointer
lz_app_below(GtkWidget *root, GType type)
{
  gpointer found = g_type_is_a(G_OBJECT_TYPE(root), type) ? root : NULL;
  for (GtkWidget *child = gtk_widget_get_first_child(root); child && !found;
       child = gtk_widget_get_next_sibling(child))
    found = lz_app_below(child, type);
  return found;
}

void
lz_app_window_each(LzAppVisit visit, gpointer data)
{
  graphene_rect_t all = painted();
  each(GTK_WIDGET(window), &all, &all, visit, data);
}
