// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_sign.h"

#include "lz_look.h"

typedef enum { NOTHING, MARK, BASIN, INSTRUMENT, CELLS, PENNANT, KNOT } Kind;

struct _LzSign {
  GtkWidget parent;
  Kind kind;
  lzd_mark mark;
  lzd_mark_state state;
  lzd_role role;
  lzd_pennant pennant;
  lzd_knot knot;
  unsigned water;
  double size;
  char *name;
  lzd_cell_text *cells;
  size_t n_cells;
};

G_DEFINE_FINAL_TYPE(LzSign, lz_sign, GTK_TYPE_WIDGET)

#define BASIN_HEIGHT  24 // the trough
#define BASIN_UNDER   8  // room for the dashed line of lowered salinity
#define CELL_WIDTH    36
#define CELLS_HEIGHT  46
#define CORD_WIDTH    32
#define PENNANT_GROWS 1.8 // height over type size
#define GLYPH         14  // an instrument's mark before its name
#define GLYPH_GAP     8

static void
clear_cells(LzSign *self)
{
  for (size_t i = 0; i < self->n_cells; i++) {
    g_free((char *)self->cells[i].above);
    g_free((char *)self->cells[i].inside);
  }
  g_clear_pointer(&self->cells, g_free);
  self->n_cells = 0;
}

static void
become(LzSign *self, Kind kind, const char *name, double size, const char *word)
{
  self->kind = kind;
  self->size = size;
  g_free(self->name);
  self->name = g_strdup(name);
  gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 word ? word : "", -1);
  gtk_widget_queue_resize(GTK_WIDGET(self));
}

void
lz_sign_set_mark(LzSign *self, lzd_mark mark, lzd_mark_state state, double size, const char *word)
{
  g_return_if_fail(LZ_IS_SIGN(self));
  self->mark = mark;
  self->state = state;
  self->role = lzd_mark_role(mark, state);
  become(self, MARK, NULL, size, word);
}

void
lz_sign_set_role(LzSign *self, lzd_role role)
{
  g_return_if_fail(LZ_IS_SIGN(self));
  self->role = role;
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

void
lz_sign_set_basin(LzSign *self, const char *name, unsigned water, double size)
{
  g_return_if_fail(LZ_IS_SIGN(self));
  self->water = water;
  become(self, BASIN, name, size, name);
}

void
lz_sign_set_instrument(LzSign *self, const char *name, lzd_mark mark, double size)
{
  g_return_if_fail(LZ_IS_SIGN(self));
  self->mark = mark;
  become(self, INSTRUMENT, name, size, name);
}

void
lz_sign_set_cells(LzSign *self, const lzd_cell_text *cells, size_t n, unsigned water,
                  const char *word)
{
  g_return_if_fail(LZ_IS_SIGN(self));
  clear_cells(self);
  self->cells = g_new0(lzd_cell_text, n + 1);
  self->n_cells = n;
  for (size_t i = 0; i < n; i++)
    self->cells[i] =
        (lzd_cell_text){g_strdup(cells[i].above), g_strdup(cells[i].inside), cells[i].strong};
  self->water = water;
  become(self, CELLS, NULL, 0, word);
}

void
lz_sign_set_pennant(LzSign *self, const char *name, lzd_pennant kind, double size)
{
  g_return_if_fail(LZ_IS_SIGN(self));
  self->pennant = kind;
  become(self, PENNANT, name, size, name);
}

void
lz_sign_set_knot(LzSign *self, lzd_knot knot)
{
  g_return_if_fail(LZ_IS_SIGN(self));
  self->knot = knot;
  become(self, KNOT, NULL, 0, NULL);
}

static void
natural_size(LzSign *self, double *width, double *height)
{
  lzd_look look = lz_look_of(GTK_WIDGET(self));
  double scale = lzd_look_text(&look);
  *width = *height = 0;
  switch (self->kind) {
  case NOTHING: break;
  case MARK: *width = *height = self->size * scale; break;
  case BASIN:
    *width = MAX(80 * scale, lzd_basin_width(&look, self->name, self->size));
    *height = (BASIN_HEIGHT * self->size / LZD_SIZE_BODY + BASIN_UNDER) * scale;
    break;
  case INSTRUMENT:
    *width = (GLYPH + GLYPH_GAP) * scale + lzd_text_width(&look, self->size, TRUE, self->name);
    *height = BASIN_HEIGHT * self->size / LZD_SIZE_BODY * scale;
    break;
  case CELLS:
    *width = CELL_WIDTH * scale * (double)self->n_cells;
    *height = (CELLS_HEIGHT + BASIN_UNDER) * scale;
    break;
  case PENNANT:
    *width = lzd_pennant_width(&look, self->name, self->size);
    *height = PENNANT_GROWS * self->size * scale;
    break;
  case KNOT:
    *width = CORD_WIDTH * scale;
    *height = 16;
    break;
  }
}

static void
lz_sign_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                int *natural, int *minimum_baseline, int *natural_baseline)
{
  double width, height;
  natural_size(LZ_SIGN(widget), &width, &height);
  *minimum = *natural = (int)(orientation == GTK_ORIENTATION_HORIZONTAL ? width : height) + 1;
}

static void
draw_instrument(LzSign *self, cairo_t *cr, const lzd_look *look, double width, double height)
{
  double scale = lzd_look_text(look), glyph = GLYPH * scale;
  double room = lzd_text_width(look, self->size, TRUE, self->name);
  double at = glyph + GLYPH_GAP * scale + room / 2;
  lzd_type type = {.size = self->size, .bold = TRUE, .role = LZD_TEXT, .align = LZD_MIDDLE};
  lzd_mark_draw(cr, look, self->mark, LZD_PLAIN, LZD_TEXT,
                look->mirrored ? width - glyph / 2 : glyph / 2, height / 2, glyph);
  lzd_text_draw(cr, look, &type, look->mirrored ? width - at : at,
                height / 2 + 0.35 * self->size * scale, self->name);
}

static void
draw(LzSign *self, cairo_t *cr, double width, double height)
{
  lzd_look look = lz_look_of(GTK_WIDGET(self));
  double scale = lzd_look_text(&look), under = BASIN_UNDER * scale;
  switch (self->kind) {
  case NOTHING: break;
  case MARK:
    lzd_mark_draw(cr, &look, self->mark, self->state, self->role, width / 2, height / 2,
                  self->size * scale);
    break;
  case BASIN:
    lzd_basin_draw(cr, &look, (lzd_rect){1, 1, width - 2, height - under}, self->water, self->name,
                   self->size);
    break;
  case INSTRUMENT: draw_instrument(self, cr, &look, width, height); break;
  case CELLS:
    lzd_basin_cells(cr, &look, (lzd_rect){1, 20 * scale, width - 2, height - 20 * scale - under},
                    self->water, self->cells, self->n_cells);
    break;
  case PENNANT:
    lzd_pennant_draw(cr, &look, (lzd_rect){0, 0, width, height}, self->pennant, self->name,
                     self->size);
    break;
  case KNOT: lzd_cord_draw(cr, &look, self->knot, width / 2, 0, height); break;
  }
}

static void
lz_sign_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
  float width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
  if (width <= 0 || height <= 0)
    return;
  cairo_t *cr = gtk_snapshot_append_cairo(snapshot, &GRAPHENE_RECT_INIT(0, 0, width, height));
  draw(LZ_SIGN(widget), cr, width, height);
  cairo_destroy(cr);
}

static void
lz_sign_css_changed(GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS(lz_sign_parent_class)->css_changed(widget, change);
  gtk_widget_queue_resize(widget);
}

static void
lz_sign_finalize(GObject *object)
{
  LzSign *self = LZ_SIGN(object);
  clear_cells(self);
  g_free(self->name);
  G_OBJECT_CLASS(lz_sign_parent_class)->finalize(object);
}

static void
lz_sign_class_init(LzSignClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->finalize = lz_sign_finalize;
  widget->measure = lz_sign_measure;
  widget->snapshot = lz_sign_snapshot;
  widget->css_changed = lz_sign_css_changed;
  gtk_widget_class_set_css_name(widget, "sign");
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
lz_sign_init(LzSign *self)
{
  gtk_widget_set_valign(GTK_WIDGET(self), GTK_ALIGN_CENTER);
  gtk_widget_set_can_target(GTK_WIDGET(self), FALSE);
}

GtkWidget *
lz_sign_new(void)
{
  return g_object_new(LZ_TYPE_SIGN, NULL);
}
