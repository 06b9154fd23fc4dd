// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_fold.h"

#include "lz_theme.h"

#define COLUMNS 3
#define GAP     32  // px between columns
#define BELOW   8   // px between what lies below each other
#define LAST    240 // px at 100 % that the last column has at least, or it goes below
#define OF_ALL  420 // and as the third, or the middle one goes below

struct _LzFold {
  GtkWidget parent;
};

G_DEFINE_FINAL_TYPE(LzFold, lz_fold, GTK_TYPE_WIDGET)

typedef struct {
  GtkWidget *child[COLUMNS]; // that are shown
  int n, least[COLUMNS], natural[COLUMNS];
} Shown;

// Boxes of a layout: column by column, a place above or below.
typedef struct {
  GdkRectangle box[COLUMNS];
  int height;
} Layout;

// Such a one takes no room, and no gap.
static gboolean
is_empty(GtkWidget *child)
{
  int natural = 0;
  if (gtk_widget_should_layout(child))
    gtk_widget_measure(child, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &natural, NULL, NULL);
  return natural == 0;
}

static Shown
shown(LzFold *self)
{
  Shown s = {0};
  for (GtkWidget *child = gtk_widget_get_first_child(GTK_WIDGET(self)); child && s.n < COLUMNS;
       child = gtk_widget_get_next_sibling(child)) {
    if (is_empty(child))
      continue;
    s.child[s.n] = child;
    gtk_widget_measure(child, GTK_ORIENTATION_HORIZONTAL, -1, &s.least[s.n], &s.natural[s.n], NULL,
                       NULL);
    s.n++;
  }
  return s;
}

static int
height_of(GtkWidget *child, int width)
{
  int least, natural;
  gtk_widget_measure(child, GTK_ORIENTATION_VERTICAL, width, &least, &natural, NULL, NULL);
  return natural;
}

// What the last column asks for, wherever it has `wanted` px at 100 %.
static int
last_least(const Shown *s, int wanted)
{
  int scaled = (int)(wanted * lz_theme_text_scale());
  return MAX(s->least[s->n - 1], MIN(scaled, s->natural[s->n - 1]));
}

static int
side_by_side(const Shown *s)
{
  int all = last_least(s, s->n == COLUMNS ? OF_ALL : LAST) + GAP * (s->n - 1);
  for (int i = 0; i + 1 < s->n; i++)
    all += s->least[i];
  return all;
}

static void
put(Layout *layout, const Shown *s, int i, int x, int y, int width)
{
  layout->box[i] = (GdkRectangle){x, y, width, height_of(s->child[i], width)};
  layout->height = MAX(layout->height, y + layout->box[i].height);
}

// A column that does not expand is no wider for standing last or alone.
static int
last_width(const Shown *s, int room)
{
  GtkWidget *last = s->child[s->n - 1];
  return gtk_widget_compute_expand(last, GTK_ORIENTATION_HORIZONTAL)
             ? room
             : MIN(room, s->natural[s->n - 1]);
}

static void
put_in_columns(Layout *layout, const Shown *s, int width)
{
  int left = width - side_by_side(s), x = 0;
  for (int i = 0; i < s->n; i++) {
    int more = i + 1 < s->n ? MIN(left, s->natural[i] - s->least[i]) : 0;
    int wide = i + 1 < s->n ? s->least[i] + more : last_width(s, width - x);
    put(layout, s, i, x, 0, wide);
    left -= more;
    x += wide + GAP;
  }
}

static void
put_below(Layout *layout, const Shown *s, int i, int width)
{
  put(layout, s, i, 0, layout->height ? layout->height + BELOW : 0, width);
}

static Layout
lay_out(const Shown *s, int width)
{
  Layout layout = {0};
  if (s->n == 0)
    return layout;
  if (side_by_side(s) <= width) {
    put_in_columns(&layout, s, width);
    return layout;
  }
  gboolean last_beside = s->n == COLUMNS && s->least[0] + GAP + last_least(s, LAST) <= width;
  put(&layout, s, 0, 0, 0, last_beside ? s->least[0] : width);
  if (last_beside)
    put(&layout, s, COLUMNS - 1, s->least[0] + GAP, 0, width - s->least[0] - GAP);
  else if (s->n == COLUMNS)
    put_below(&layout, s, COLUMNS - 1, width);
  if (s->n > 1)
    put_below(&layout, s, 1, width);
  return layout;
}

static GtkSizeRequestMode
lz_fold_request_mode(GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
lz_fold_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                int *natural, int *minimum_baseline, int *natural_baseline)
{
  Shown s = shown(LZ_FOLD(widget));
  *minimum = *natural = 0;
  for (int i = 0; i < s.n; i++) {
    *minimum = MAX(*minimum, s.least[i]);
    *natural += s.natural[i] + (i ? GAP : 0);
  }
  if (orientation == GTK_ORIENTATION_VERTICAL)
    *minimum = *natural = lay_out(&s, for_size < 0 ? *natural : MAX(for_size, *minimum)).height;
}

static void
lz_fold_size_allocate(GtkWidget *widget, int width, int height, int baseline)
{
  Shown s = shown(LZ_FOLD(widget));
  Layout layout = lay_out(&s, width);
  gboolean rtl = gtk_widget_get_direction(widget) == GTK_TEXT_DIR_RTL;
  for (int i = 0; i < s.n; i++) {
    GtkAllocation box = layout.box[i];
    box.x = rtl ? width - box.x - box.width : box.x;
    gtk_widget_size_allocate(s.child[i], &box, -1);
  }
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child;
       child = gtk_widget_get_next_sibling(child))
    if (gtk_widget_should_layout(child) && is_empty(child))
      gtk_widget_size_allocate(child, &(GtkAllocation){0, 0, 0, 0}, -1);
}

static void
lz_fold_dispose(GObject *object)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(object))))
    gtk_widget_unparent(child);
  G_OBJECT_CLASS(lz_fold_parent_class)->dispose(object);
}

static void
lz_fold_class_init(LzFoldClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_fold_dispose;
  widget->get_request_mode = lz_fold_request_mode;
  widget->measure = lz_fold_measure;
  widget->size_allocate = lz_fold_size_allocate;
}

static void
lz_fold_init(LzFold *self)
{
}
