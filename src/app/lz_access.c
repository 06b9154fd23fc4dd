// SPDX-License-Identifier: GPL-3.0-or-later
// GTK 4.12 brings gtk_list_item_set_accessible_label; until then the row is found from its child.
#include "lz_access.h"

#include <glib/gi18n.h>
#include <string.h>

#define LEVELS 3 // a cell of a table stands two levels below its row

void
lz_access_row(GtkWidget *child, const char *name, const char *description)
{
  GtkWidget *at = gtk_widget_get_parent(child);
  for (int i = 0; at && i < LEVELS; i++, at = gtk_widget_get_parent(at)) {
    GtkAccessibleRole role = gtk_accessible_get_accessible_role(GTK_ACCESSIBLE(at));
    if (role != GTK_ACCESSIBLE_ROLE_LIST_ITEM && role != GTK_ACCESSIBLE_ROLE_ROW)
      continue;
    gtk_accessible_update_property(GTK_ACCESSIBLE(at), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                   GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                   description ? description : "", -1);
    return;
  }
}

static void
say_chosen(GtkDropDown *drop)
{
  const char *name = g_object_get_data(G_OBJECT(drop), "accessible-name");
  GObject *item = gtk_drop_down_get_selected_item(drop);
  GtkExpression *expression = gtk_drop_down_get_expression(drop);
  GtkWidget *button = gtk_widget_get_first_child(GTK_WIDGET(drop));
  g_auto(GValue) value = G_VALUE_INIT;
  g_autofree char *said = NULL;
  if (item && expression && gtk_expression_evaluate(expression, item, &value) &&
      G_VALUE_HOLDS_STRING(&value) && g_value_get_string(&value))
    said = g_strdup_printf("%s: %s", name, g_value_get_string(&value));
  else if (GTK_IS_STRING_OBJECT(item))
    said = g_strdup_printf("%s: %s", name, gtk_string_object_get_string(GTK_STRING_OBJECT(item)));
  if (button)
    gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   said ? said : name, -1);
}

void
lz_access_inner(GtkWidget *widget, const char *name)
{
  gtk_accessible_update_property(GTK_ACCESSIBLE(widget), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  if (GTK_IS_DROP_DOWN(widget)) {
    gboolean first = !g_object_get_data(G_OBJECT(widget), "accessible-name");
    g_object_set_data_full(G_OBJECT(widget), "accessible-name", g_strdup(name), g_free);
    if (first)
      g_signal_connect(widget, "notify::selected-item", G_CALLBACK(say_chosen), NULL);
    say_chosen(GTK_DROP_DOWN(widget));
    return;
  }
  GtkWidget *button = gtk_widget_get_first_child(widget);
  if (button)
    gtk_accessible_reset_relation(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_RELATION_LABELLED_BY);
  if (button)
    gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

// The list or table around the focus; NULL = none.
static GtkWidget *
list_around(GtkWidget *focus)
{
  GtkWidget *list = focus ? gtk_widget_get_ancestor(focus, GTK_TYPE_LIST_VIEW) : NULL;
  GtkWidget *table = list ? gtk_widget_get_ancestor(list, GTK_TYPE_COLUMN_VIEW) : NULL;
  if (!list && focus)
    list = gtk_widget_get_ancestor(focus, GTK_TYPE_LIST_BOX);
  return table ? table : list;
}

// As GTK sorts what Tab walks: by the middle's height, then along the line of reading.
static int
in_order(gconstpointer a, gconstpointer b)
{
  GtkWidget *left = *(GtkWidget **)a, *right = *(GtkWidget **)b;
  GtkWidget *parent = gtk_widget_get_parent(left);
  graphene_rect_t one, two;
  if (!gtk_widget_compute_bounds(left, parent, &one) ||
      !gtk_widget_compute_bounds(right, parent, &two))
    return 0;
  float dy = one.origin.y + one.size.height / 2 - two.origin.y - two.size.height / 2;
  float dx = one.origin.x + one.size.width / 2 - two.origin.x - two.size.width / 2;
  if (gtk_widget_get_direction(parent) == GTK_TEXT_DIR_RTL)
    dx = -dx;
  return dy != 0 ? (dy > 0 ? 1 : -1) : (dx > 0 ? 1 : -1);
}

static gboolean
focus_beside(GtkWidget *at, GtkDirectionType direction)
{
  g_autoptr(GPtrArray) order = g_ptr_array_new();
  guint i;
  for (GtkWidget *w = gtk_widget_get_first_child(gtk_widget_get_parent(at)); w;
       w = gtk_widget_get_next_sibling(w))
    if (gtk_widget_get_mapped(w))
      g_ptr_array_add(order, w);
  g_ptr_array_sort(order, in_order);
  if (!g_ptr_array_find(order, at, &i))
    return FALSE;
  int by = direction == GTK_DIR_TAB_FORWARD ? 1 : -1;
  int n = (int)order->len;
  gboolean round = GTK_IS_ROOT(gtk_widget_get_parent(at)); // behind the last comes the first
  for (int step = 1; step < n; step++) {
    int next = (int)i + by * step;
    if (!round && (next < 0 || next >= n))
      return FALSE;
    if (gtk_widget_child_focus(g_ptr_array_index(order, (next + n) % n), direction))
      return TRUE;
  }
  return FALSE;
}

gboolean
lz_access_leave_list(GtkWidget *focus, GtkDirectionType direction)
{
  for (GtkWidget *at = list_around(focus); at && gtk_widget_get_parent(at);
       at = gtk_widget_get_parent(at))
    if (focus_beside(at, direction))
      return TRUE;
  return FALSE;
}

static void
name_one(GtkWidget *widget)
{
  if (GTK_IS_BUTTON(widget) && gtk_button_get_use_underline(GTK_BUTTON(widget)) &&
      gtk_button_get_label(GTK_BUTTON(widget))) {
    g_auto(GStrv) parts = g_strsplit(gtk_button_get_label(GTK_BUTTON(widget)), "_", -1);
    g_autofree char *plain = g_strjoinv("", parts);
    gtk_accessible_reset_relation(GTK_ACCESSIBLE(widget), GTK_ACCESSIBLE_RELATION_LABELLED_BY);
    gtk_accessible_update_property(GTK_ACCESSIBLE(widget), GTK_ACCESSIBLE_PROPERTY_LABEL, plain,
                                   -1);
  } else if (GTK_IS_SCROLLED_WINDOW(widget)) { // takes the focus where nothing inside does
    gtk_accessible_update_property(GTK_ACCESSIBLE(widget), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   _("More of this page"), -1);
  } else if (gtk_widget_get_ancestor(widget, GTK_TYPE_SHORTCUTS_WINDOW) &&
             (GTK_IS_SEARCH_ENTRY(widget) || GTK_IS_TOGGLE_BUTTON(widget) ||
              GTK_IS_MENU_BUTTON(widget))) {
    gtk_accessible_update_property(GTK_ACCESSIBLE(widget), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   _("Search the keys"), -1);
  }
}

void
lz_access_plain(GtkWidget *root)
{
  name_one(root);
  for (GtkWidget *child = gtk_widget_get_first_child(root); child;
       child = gtk_widget_get_next_sibling(child))
    lz_access_plain(child);
}

void
lz_access_shut(GtkWidget *widget, const char *why_not, const char *otherwise)
{
  const char *words = why_not ? why_not : otherwise;
  gtk_widget_set_sensitive(widget, why_not == NULL);
  gtk_widget_set_tooltip_text(widget, words);
  gtk_accessible_update_property(GTK_ACCESSIBLE(widget), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                 words ? words : "", -1);
}
