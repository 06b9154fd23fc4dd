// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_page_preview.h"

#include <glib/gi18n.h>
#include <math.h>

#define READABLE 1.3 // pixels a point at most: letters as on a page held in the hand
#define CARD     1.8 // the same for a card, which is read from the aisle
#define LEAST    300 // pixels of width, whatever room there is

struct _LzPagePreview {
  GtkWidget parent;
  LzrPages *pages;
  char *title;
  guint shown; // page, from 0
  double scale;
  int fitted; // width that the scale was chosen for
  guint fit_later;
  GtkWidget *box;
  GtkLabel *page;
  GtkScrolledWindow *scroll;
  GtkDrawingArea *area;
};

G_DEFINE_FINAL_TYPE(LzPagePreview, lz_page_preview, GTK_TYPE_WIDGET)

static void
fit(LzPagePreview *self)
{
  double width, height, room = gtk_widget_get_width(GTK_WIDGET(self->scroll)) - 24;
  if (!self->pages)
    return;
  lzr_pages_size(self->pages, &width, &height);
  self->scale = fmin(width < 400 ? CARD : READABLE, fmax(room, LEAST) / width);
  gtk_drawing_area_set_content_width(self->area, (int)ceil(width * self->scale));
  gtk_drawing_area_set_content_height(self->area, (int)ceil(height * self->scale));
}

static void
show_page(LzPagePreview *self)
{
  guint n = self->pages ? lzr_pages_count(self->pages) : 0;
  self->shown = n ? MIN(self->shown, n - 1) : 0;
  g_autofree char *page =
      n ? g_strdup_printf(_("page %1$u of %2$u"), self->shown + 1, n) : g_strdup("");
  g_autofree char *name =
      n ? g_strdup_printf(_("Preview: %1$s, page %2$u of %3$u"), self->title, self->shown + 1, n)
        : g_strdup(_("No preview"));
  gtk_label_set_label(self->page, page);
  gtk_accessible_update_property(GTK_ACCESSIBLE(self->area), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                 -1);
  gtk_widget_action_set_enabled(GTK_WIDGET(self), "preview.turn", n > 1);
  gtk_widget_set_visible(GTK_WIDGET(self->area), n > 0);
  fit(self);
  gtk_widget_queue_draw(GTK_WIDGET(self->area));
}

void
lz_page_preview_set(LzPagePreview *self, LzrPages *pages, const char *title, gboolean first)
{
  g_return_if_fail(LZ_IS_PAGE_PREVIEW(self));
  self->pages = pages;
  g_free(self->title);
  self->title = g_strdup(title);
  if (first)
    self->shown = 0;
  show_page(self);
}

void
lz_page_preview_turn(LzPagePreview *self, int by)
{
  g_return_if_fail(LZ_IS_PAGE_PREVIEW(self));
  int n = self->pages ? (int)lzr_pages_count(self->pages) : 0;
  self->shown = (guint)CLAMP((int)self->shown + by, 0, MAX(n - 1, 0));
  gtk_adjustment_set_value(gtk_scrolled_window_get_vadjustment(self->scroll), 0);
  show_page(self);
}

static gboolean
on_key(GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state,
       LzPagePreview *self)
{
  int by = keyval == GDK_KEY_Page_Down || keyval == GDK_KEY_KP_Page_Down ? 1
           : keyval == GDK_KEY_Page_Up || keyval == GDK_KEY_KP_Page_Up   ? -1
                                                                         : 0;
  if (!by)
    return GDK_EVENT_PROPAGATE;
  lz_page_preview_turn(self, by);
  return GDK_EVENT_STOP;
}

void
lz_page_preview_turn_by_keys(LzPagePreview *self, GtkWidget *around)
{
  GtkEventController *keys = gtk_event_controller_key_new();
  gtk_event_controller_set_propagation_phase(keys, GTK_PHASE_CAPTURE);
  g_signal_connect_object(keys, "key-pressed", G_CALLBACK(on_key), self, 0);
  gtk_widget_add_controller(around, keys);
}

static void
act_turn(GtkWidget *widget, const char *name, GVariant *parameter)
{
  lz_page_preview_turn(LZ_PAGE_PREVIEW(widget), g_variant_get_int32(parameter));
}

static void
on_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  LzPagePreview *self = data;
  if (!self->pages)
    return;
  cairo_scale(cr, self->scale, self->scale);
  lzr_pages_draw(self->pages, self->shown, cr);
}

// A size must not be asked for while sizes are given out.
static gboolean
on_fit(gpointer data)
{
  LzPagePreview *self = data;
  self->fit_later = 0;
  fit(self);
  return G_SOURCE_REMOVE;
}

static void
lz_page_preview_size_allocate(GtkWidget *widget, int width, int height, int baseline)
{
  LzPagePreview *self = LZ_PAGE_PREVIEW(widget);
  gtk_widget_allocate(self->box, width, height, baseline, NULL);
  if (self->fitted != width && !self->fit_later)
    self->fit_later = g_idle_add(on_fit, self);
  self->fitted = width;
}

static void
lz_page_preview_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                        int *natural, int *minimum_baseline, int *natural_baseline)
{
  gtk_widget_measure(LZ_PAGE_PREVIEW(widget)->box, orientation, for_size, minimum, natural,
                     minimum_baseline, natural_baseline);
}

static void
lz_page_preview_dispose(GObject *object)
{
  LzPagePreview *self = LZ_PAGE_PREVIEW(object);
  g_clear_handle_id(&self->fit_later, g_source_remove);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  g_clear_pointer(&self->title, g_free);
  G_OBJECT_CLASS(lz_page_preview_parent_class)->dispose(object);
}

static void
lz_page_preview_class_init(LzPagePreviewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_page_preview_dispose;
  widget->size_allocate = lz_page_preview_size_allocate;
  widget->measure = lz_page_preview_measure;
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_page_preview.ui");
  gtk_widget_class_install_action(widget, "preview.turn", "i", act_turn);
  gtk_widget_class_bind_template_child(widget, LzPagePreview, box);
  gtk_widget_class_bind_template_child(widget, LzPagePreview, page);
  gtk_widget_class_bind_template_child(widget, LzPagePreview, scroll);
  gtk_widget_class_bind_template_child(widget, LzPagePreview, area);
}

static void
lz_page_preview_init(LzPagePreview *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
  gtk_drawing_area_set_draw_func(self->area, on_draw, self, NULL);
}
