// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_text_table.h"

#include <glib/gi18n.h>
#include <math.h>

#include "lz_access.h"
#include "lz_fresh.h"

#define LEAST_DIGITS 6
#define FIRST        60  // rows that are laid out when a table comes up: more than a screen holds
#define MORE         300 // and each time that its end comes near

struct _LzTextTable {
  GtkWidget parent;
  GtkWidget *scroll;
  GtkColumnView *view;
  GtkSingleSelection *selection;
  GListStore *rows;            // what the selection is over, before it is sorted
  GtkSliceListModel *laid_out; // the first of them, sorted: GTK makes widgets of 200 at once
  GListModel *next;            // what it will be once the table is seen; NULL = it is that already
};

G_DEFINE_FINAL_TYPE(LzTextTable, lz_text_table, GTK_TYPE_WIDGET)

enum { CHOSEN, SELECTED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
cell_setup(GtkListItemFactory *factory, GtkListItem *item)
{
  GtkWidget *label = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
  gtk_list_item_set_child(item, label);
}

// As wide as its head, also where the column takes what is left.
static void
number_setup(GtkListItemFactory *factory, GtkListItem *item, gpointer width)
{
  cell_setup(factory, item);
  GtkWidget *label = gtk_list_item_get_child(item);
  gtk_label_set_xalign(GTK_LABEL(label), 1);
  gtk_label_set_width_chars(GTK_LABEL(label), GPOINTER_TO_INT(width));
  gtk_widget_set_halign(label, GTK_ALIGN_START);
}

static void
cell_bind(GtkListItemFactory *factory, GtkListItem *item, gpointer column)
{
  GtkWidget *label = gtk_list_item_get_child(item);
  const char *text = lz_text_row_cell(gtk_list_item_get_item(item), GPOINTER_TO_UINT(column));
  gtk_label_set_label(GTK_LABEL(label), text);
  gtk_widget_set_tooltip_text(label, g_utf8_strlen(text, -1) > 30 ? text : NULL);
  if (GPOINTER_TO_UINT(column) == 0) {
    g_autofree char *all = lz_text_row_words(gtk_list_item_get_item(item));
    lz_access_row(label, all, NULL);
  }
}

static int
compare_cells(gconstpointer a, gconstpointer b, gpointer column)
{
  guint i = GPOINTER_TO_UINT(column);
  double first = lz_text_row_order((gpointer)a, i), second = lz_text_row_order((gpointer)b, i);
  if (isfinite(first) || isfinite(second))
    return isnan(second) ? -1 : isnan(first) ? 1 : first < second ? -1 : first > second;
  g_autofree char *left = g_utf8_collate_key_for_filename(lz_text_row_cell((gpointer)a, i), -1);
  g_autofree char *right = g_utf8_collate_key_for_filename(lz_text_row_cell((gpointer)b, i), -1);
  return g_strcmp0(left, right);
}

static void
add_column(LzTextTable *self, const char *title, guint i, gboolean is_number, gboolean last)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new();
  if (is_number)
    g_signal_connect(factory, "setup", G_CALLBACK(number_setup),
                     GINT_TO_POINTER(MAX(LEAST_DIGITS, (int)g_utf8_strlen(title, -1))));
  else
    g_signal_connect(factory, "setup", G_CALLBACK(cell_setup), NULL);
  g_signal_connect(factory, "bind", G_CALLBACK(cell_bind), GUINT_TO_POINTER(i));
  g_autoptr(GtkColumnViewColumn) column = gtk_column_view_column_new(title, factory);
  g_autoptr(GtkSorter) sorter =
      GTK_SORTER(gtk_custom_sorter_new(compare_cells, GUINT_TO_POINTER(i), NULL));
  gtk_column_view_column_set_sorter(column, sorter);
  gtk_column_view_column_set_resizable(column, TRUE);
  gtk_column_view_column_set_expand(column, last);
  gtk_column_view_append_column(self->view, column);
}

void
lz_text_table_set_columns(LzTextTable *self, const char *name, const char *const *titles,
                          guint numbers)
{
  g_return_if_fail(LZ_IS_TEXT_TABLE(self));
  GListModel *columns = gtk_column_view_get_columns(self->view);
  while (g_list_model_get_n_items(columns)) {
    g_autoptr(GtkColumnViewColumn) column = g_list_model_get_item(columns, 0);
    gtk_column_view_remove_column(self->view, column);
  }
  for (guint i = 0; titles[i]; i++)
    add_column(self, titles[i], i, (numbers & (1u << i)) != 0, titles[i + 1] == NULL);
  gtk_accessible_update_property(GTK_ACCESSIBLE(self->view), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                 -1);
  for (GtkWidget *part = gtk_widget_get_first_child(GTK_WIDGET(self->view)); part;
       part = gtk_widget_get_next_sibling(part)) // the heads' row, and the list of the other rows
    gtk_accessible_update_property(GTK_ACCESSIBLE(part), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   GTK_IS_LIST_VIEW(part) ? name : _("Column heads"), -1);
}

gint64
lz_text_table_selected(LzTextTable *self)
{
  g_return_val_if_fail(LZ_IS_TEXT_TABLE(self), 0);
  lz_fresh_now(self);
  LzTextRow *row = self->selection ? gtk_single_selection_get_selected_item(self->selection) : NULL;
  return row ? lz_text_row_id(row) : 0;
}

static GtkWidget *
list_inside(GtkColumnView *view)
{
  GtkWidget *at = gtk_widget_get_first_child(GTK_WIDGET(view));
  while (at && !GTK_IS_LIST_VIEW(at))
    at = gtk_widget_get_next_sibling(at);
  return at;
}

// The action is of the list inside the view.
static void
scroll_to(GtkColumnView *view, guint position)
{
  GtkWidget *list = list_inside(view);
  if (list)
    gtk_widget_activate_action(list, "list.scroll-to-item", "u", position);
}

// The widget of the marked row: GTK 4.8 gives the focus to the row that had it last.
static GtkWidget *
selected_row(GtkColumnView *view)
{
  GtkWidget *list = list_inside(view), *row = list ? gtk_widget_get_first_child(list) : NULL;
  while (row && !(gtk_widget_get_state_flags(row) & GTK_STATE_FLAG_SELECTED))
    row = gtk_widget_get_next_sibling(row);
  return row;
}

// So many rows at least.
static void
lay_out(LzTextTable *self, guint n)
{
  if (self->laid_out && gtk_slice_list_model_get_size(self->laid_out) < n)
    gtk_slice_list_model_set_size(self->laid_out, n);
}

// The end of what is laid out comes near.
static void
on_scrolled(LzTextTable *self, GtkAdjustment *at)
{
  double page = gtk_adjustment_get_page_size(at), end = gtk_adjustment_get_upper(at);
  guint n = self->laid_out ? g_list_model_get_n_items(G_LIST_MODEL(self->laid_out)) : 0;
  if (n == 0 || n < gtk_slice_list_model_get_size(self->laid_out)) // there are no others
    return;
  if (page > 1 && gtk_adjustment_get_value(at) + 2 * page >= end)
    lay_out(self, n + MORE);
}

void
lz_text_table_select(LzTextTable *self, gint64 id)
{
  g_return_if_fail(LZ_IS_TEXT_TABLE(self));
  lz_fresh_now(self);
  GListModel *all = self->laid_out ? gtk_slice_list_model_get_model(self->laid_out) : NULL;
  guint n = all ? g_list_model_get_n_items(all) : 0;
  for (guint i = 0; i < n; i++) {
    g_autoptr(LzTextRow) row = g_list_model_get_item(all, i);
    if (lz_text_row_id(row) != id)
      continue;
    lay_out(self, i + FIRST);
    gtk_single_selection_set_selected(self->selection, i);
    scroll_to(self->view, i);
    return;
  }
}

static void
on_selected(LzTextTable *self)
{
  g_signal_emit(self, signals[SELECTED], 0, lz_text_table_selected(self));
}

static gboolean
same_at(GListModel *a, guint i, GListModel *b, guint k)
{
  g_autoptr(LzTextRow) one = g_list_model_get_item(a, i), other = g_list_model_get_item(b, k);
  return lz_text_row_equal(one, other);
}

// One change, of what lies between the common beginning and end: the scroll, the focus and the
// selection of all the others stay.
static void
change_rows(GListStore *store, GListModel *rows)
{
  GListModel *old = G_LIST_MODEL(store);
  guint n_old = g_list_model_get_n_items(old), n_new = g_list_model_get_n_items(rows);
  guint head = 0, tail = 0, shorter = MIN(n_old, n_new);
  while (head < shorter && same_at(old, head, rows, head))
    head++;
  while (tail < shorter - head && same_at(old, n_old - 1 - tail, rows, n_new - 1 - tail))
    tail++;
  guint removed = n_old - head - tail, added = n_new - head - tail;
  g_autoptr(GPtrArray) items = g_ptr_array_new_with_free_func(g_object_unref);
  for (guint i = 0; i < added; i++)
    g_ptr_array_add(items, g_list_model_get_item(rows, head + i));
  if (removed || added)
    g_list_store_splice(store, head, removed, items->pdata, added);
}

// A row has a widget for each cell, also in a table that nobody looks at.
static void
fill(gpointer data)
{
  LzTextTable *self = data;
  g_autoptr(GListModel) rows = g_steal_pointer(&self->next);
  if (!rows)
    return;
  gint64 id = lz_text_table_selected(self);
  if (self->selection)
    g_signal_handlers_block_by_func(self->selection, on_selected, self);
  change_rows(self->rows, rows);
  if (id && id != lz_text_table_selected(self))
    lz_text_table_select(self, id);
  if (self->selection)
    g_signal_handlers_unblock_by_func(self->selection, on_selected, self);
  if (id != lz_text_table_selected(self))
    on_selected(self);
}

void
lz_text_table_set_rows(LzTextTable *self, GListModel *rows)
{
  g_return_if_fail(LZ_IS_TEXT_TABLE(self));
  const gboolean none = g_list_model_get_n_items(rows) == 0;
  g_clear_object(&self->next);
  self->next = rows;
  lz_fresh_old(self);
  if (none) // costs nothing, and forgets what was selected
    lz_fresh_now(self);
}

GListModel *
lz_text_table_rows(LzTextTable *self)
{
  g_return_val_if_fail(LZ_IS_TEXT_TABLE(self), NULL);
  lz_fresh_now(self);
  return G_LIST_MODEL(self->rows);
}

// As sorted by the heads pressed.
static void
make_model(LzTextTable *self)
{
  self->rows = g_list_store_new(LZ_TYPE_TEXT_ROW);
  GtkSortListModel *sorted = gtk_sort_list_model_new(
      G_LIST_MODEL(g_object_ref(self->rows)), g_object_ref(gtk_column_view_get_sorter(self->view)));
  self->laid_out = gtk_slice_list_model_new(G_LIST_MODEL(sorted), 0, FIRST);
  self->selection = gtk_single_selection_new(G_LIST_MODEL(self->laid_out));
  gtk_column_view_set_model(self->view, GTK_SELECTION_MODEL(self->selection));
  g_object_unref(self->selection); // the view keeps it
  g_signal_connect_object(self->selection, "notify::selected-item", G_CALLBACK(on_selected), self,
                          G_CONNECT_SWAPPED);
}

// What is marked is meant: where the program marked a row, GTK 4.8 leaves the focus, and with it
// the position that Enter activates, on the row of an earlier visit.
static void
on_activate(GtkColumnView *view, guint position, LzTextTable *self)
{
  gint64 id = lz_text_table_selected(self);
  if (id)
    g_signal_emit(self, signals[CHOSEN], 0, id);
}

static void
lz_text_table_dispose(GObject *object)
{
  LzTextTable *self = LZ_TEXT_TABLE(object);
  self->selection = NULL;
  self->laid_out = NULL;
  g_clear_object(&self->rows);
  g_clear_object(&self->next);
  g_clear_pointer(&self->scroll, gtk_widget_unparent);
  G_OBJECT_CLASS(lz_text_table_parent_class)->dispose(object);
}

static gboolean
lz_text_table_grab_focus(GtkWidget *widget)
{
  GtkColumnView *view = LZ_TEXT_TABLE(widget)->view;
  GtkWidget *row = selected_row(view);
  return (row && gtk_widget_grab_focus(row)) || gtk_widget_grab_focus(GTK_WIDGET(view));
}

static void
lz_text_table_class_init(LzTextTableClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_text_table_dispose;
  widget->grab_focus = lz_text_table_grab_focus;
  signals[CHOSEN] = g_signal_new("chosen", LZ_TYPE_TEXT_TABLE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[SELECTED] = g_signal_new("selected", LZ_TYPE_TEXT_TABLE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
}

static void
lz_text_table_init(LzTextTable *self)
{
  self->view = GTK_COLUMN_VIEW(gtk_column_view_new(NULL));
  gtk_column_view_set_show_row_separators(self->view, FALSE);
  make_model(self);
  self->scroll = gtk_scrolled_window_new();
  gtk_widget_set_vexpand(self->scroll, TRUE);
  gtk_widget_set_hexpand(self->scroll, TRUE);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(self->scroll), GTK_WIDGET(self->view));
  gtk_widget_set_parent(self->scroll, GTK_WIDGET(self));
  GtkAdjustment *at = gtk_scrolled_window_get_vadjustment(GTK_SCROLLED_WINDOW(self->scroll));
  g_signal_connect_object(at, "value-changed", G_CALLBACK(on_scrolled), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(self->view, "activate", G_CALLBACK(on_activate), self, 0);
  lz_fresh_keep(self, fill);
}

GtkWidget *
lz_text_table_new(void)
{
  return g_object_new(LZ_TYPE_TEXT_TABLE, NULL);
}
