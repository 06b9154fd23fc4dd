// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_key_bar.h"

#include "lz_place.h"

struct _LzKeyBar {
  GtkWidget parent;
  char *shown; // what the hints were, to rebuild only on a change
};

G_DEFINE_FINAL_TYPE(LzKeyBar, lz_key_bar, GTK_TYPE_WIDGET)

GtkWidget *
lz_keycap_new(const char *keys)
{
  GtkWidget *label = gtk_label_new(keys);
  gtk_widget_add_css_class(label, "key-cap");
  gtk_widget_set_valign(label, GTK_ALIGN_CENTER);
  gtk_widget_set_direction(label, GTK_TEXT_DIR_LTR); // a cap is not turned with the writing
  return label;
}

static GtkWidget *
hint_new(const LzHint *hint)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *words = gtk_label_new(hint->label);
  GtkWidget *button = gtk_button_new();
  gtk_box_append(GTK_BOX(box), lz_keycap_new(hint->keys));
  gtk_box_append(GTK_BOX(box), words);
  gtk_button_set_child(GTK_BUTTON(button), box);
  gtk_widget_add_css_class(button, "hint");
  gtk_widget_set_focusable(button, FALSE); // the key itself is the way by keyboard
  gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL, hint->label,
                                 GTK_ACCESSIBLE_PROPERTY_KEY_SHORTCUTS, hint->keys, -1);
  if (hint->action)
    gtk_actionable_set_detailed_action_name(GTK_ACTIONABLE(button), hint->action);
  else
    gtk_widget_set_can_target(button, FALSE);
  return button;
}

static char *
written_out(GPtrArray *hints)
{
  GString *all = g_string_new(NULL);
  for (guint i = 0; i < hints->len; i++) {
    const LzHint *hint = g_ptr_array_index(hints, i);
    g_string_append_printf(all, "%s\t%s\t%s\n", hint->keys, hint->label,
                           hint->action ? hint->action : "");
  }
  return g_string_free(all, FALSE);
}

void
lz_key_bar_set(LzKeyBar *self, GPtrArray *hints)
{
  g_return_if_fail(LZ_IS_KEY_BAR(self));
  g_autofree char *all = written_out(hints);
  if (g_strcmp0(all, self->shown) == 0)
    return;
  g_free(self->shown);
  self->shown = g_steal_pointer(&all);
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(self))))
    gtk_widget_unparent(child);
  for (guint i = 0; i < hints->len; i++)
    gtk_widget_set_parent(hint_new(g_ptr_array_index(hints, i)), GTK_WIDGET(self));
}

static int
width_of(GtkWidget *child)
{
  int natural = 0;
  gtk_widget_measure(child, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &natural, NULL, NULL);
  return natural;
}

static void
lz_key_bar_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                   int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = 0;
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child;
       child = gtk_widget_get_next_sibling(child)) {
    int size = 0;
    gtk_widget_measure(child, orientation, -1, NULL, &size, NULL, NULL);
    *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? *natural + size : MAX(*natural, size);
  }
  if (orientation == GTK_ORIENTATION_VERTICAL)
    *minimum = *natural;
}

// Whole hints or none: in a narrow window the last ones go, but the one for all keys stays.
static void
lz_key_bar_size_allocate(GtkWidget *widget, int width, int height, int baseline)
{
  GtkWidget *last = gtk_widget_get_last_child(widget);
  int keep = last ? width_of(last) : 0, x = 0;
  gboolean rtl = gtk_widget_get_direction(widget) == GTK_TEXT_DIR_RTL, full = FALSE;
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child;
       child = gtk_widget_get_next_sibling(child)) {
    int size = width_of(child);
    full = full || (child != last && x + size + keep > width);
    gboolean shown = child == last || !full;
    gtk_widget_set_child_visible(child, shown);
    if (!shown)
      continue;
    GtkAllocation at = {rtl ? width - x - size : x, 0, size, height};
    gtk_widget_size_allocate(child, &at, -1);
    x += size;
  }
}

static void
lz_key_bar_dispose(GObject *object)
{
  LzKeyBar *self = LZ_KEY_BAR(object);
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(self))))
    gtk_widget_unparent(child);
  g_clear_pointer(&self->shown, g_free);
  G_OBJECT_CLASS(lz_key_bar_parent_class)->dispose(object);
}

static void
lz_key_bar_class_init(LzKeyBarClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_key_bar_dispose;
  gtk_widget_class_set_css_name(widget_class, "keybar");
  widget_class->measure = lz_key_bar_measure;
  widget_class->size_allocate = lz_key_bar_size_allocate;
  gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_TOOLBAR);
}

static void
lz_key_bar_init(LzKeyBar *self)
{
  gtk_widget_add_css_class(GTK_WIDGET(self), "keybar");
  gtk_widget_set_overflow(GTK_WIDGET(self), GTK_OVERFLOW_HIDDEN);
}
