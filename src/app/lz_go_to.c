// SPDX-License-Identifier: GPL-3.0-or-later
// One list over three models of the desk, filtered while typing.
#include "lz_go_to.h"

#include <lz_rows.h>
#include <string.h>

#include "lz_access.h"
#include "lz_acts.h"
#include "lz_text_table.h"

struct _LzGoTo {
  GtkWidget parent;
  LzDesk *desk;
  GtkWidget *box;
  GtkSearchEntry *entry;
  GtkListView *list;
  GtkFilter *filter;
  GtkSingleSelection *selection;
  char *typed; // folded
};

G_DEFINE_FINAL_TYPE(LzGoTo, lz_go_to, GTK_TYPE_WIDGET)

enum { CHOSEN, CANCELLED, N_SIGNALS };
static guint signals[N_SIGNALS];

#define SHOWN 50

static const char *
title_of(gpointer item)
{
  return LZ_IS_ROW(item) ? lz_row_title(item) : lz_text_row_cell(item, 0);
}

static gboolean
has_part(const char *text, const char *folded)
{
  g_autofree char *has = g_utf8_casefold(text ? text : "", -1);
  return strstr(has, folded) != NULL;
}

// A lot is found by its fish too, under the scientific name and the common one.
static gboolean
is_species(LzGoTo *self, LzLotRow *row)
{
  const char *name = lz_lot_row_info(row)->species;
  int64_t id = *name ? lz_desk_find(self->desk, "species", name) : 0;
  LzEntry *species = id ? lz_desk_entity(self->desk, "species", id) : NULL;
  return has_part(name, self->typed) ||
         (species && has_part(lz_entry_text(species, "common"), self->typed));
}

static gboolean
matches(gpointer item, gpointer data)
{
  LzGoTo *self = data;
  if (!self->typed || !*self->typed)
    return LZ_IS_ROW(item); // what can be written down is found by its words
  return has_part(title_of(item), self->typed) || (LZ_IS_LOT_ROW(item) && is_species(self, item));
}

static void
on_typed(LzGoTo *self)
{
  g_free(self->typed);
  self->typed = g_utf8_casefold(gtk_editable_get_text(GTK_EDITABLE(self->entry)), -1);
  gtk_filter_changed(self->filter, GTK_FILTER_CHANGE_DIFFERENT);
  if (self->selection)
    gtk_single_selection_set_selected(self->selection, 0);
}

static void
choose(LzGoTo *self, gpointer row)
{
  if (LZ_IS_LOT_ROW(row))
    g_signal_emit(self, signals[CHOSEN], 0, "lots", lz_lot_row_info(row)->code);
  else if (LZ_IS_TANK_ROW(row))
    g_signal_emit(self, signals[CHOSEN], 0, "water", lz_tank_row_info(row)->name);
  else if (LZ_IS_SYSTEM_ROW(row))
    g_signal_emit(self, signals[CHOSEN], 0, "water", lz_system_row_info(row)->name);
  else if (LZ_IS_TEXT_ROW(row)) {
    gint64 id = lz_text_row_id(row);
    g_signal_emit(self, signals[CANCELLED], 0);
    lz_acts_open(GTK_WIDGET(self), id);
  }
}

void
lz_go_to_choose(LzGoTo *self)
{
  gpointer row = self->selection ? gtk_single_selection_get_selected_item(self->selection) : NULL;
  if (row)
    choose(self, row);
}

static void
on_activate(LzGoTo *self, guint position)
{
  g_autoptr(GObject) row = g_list_model_get_item(G_LIST_MODEL(self->selection), position);
  choose(self, row);
}

static void
on_stop(LzGoTo *self)
{
  g_signal_emit(self, signals[CANCELLED], 0);
}

guint
lz_go_to_n_matches(LzGoTo *self)
{
  return self->selection ? g_list_model_get_n_items(G_LIST_MODEL(self->selection)) : 0;
}

void
lz_go_to_type(LzGoTo *self, const char *text)
{
  gtk_editable_set_text(GTK_EDITABLE(self->entry), text);
  on_typed(self);
}

static GListModel *
all_rows(LzDesk *desk)
{
  GListStore *models = g_list_store_new(G_TYPE_LIST_MODEL);
  g_list_store_append(models, lz_desk_systems(desk));
  g_list_store_append(models, lz_desk_lots(desk));
  g_list_store_append(models, lz_desk_tanks(desk));
  g_autoptr(GListModel) acts = lz_acts();
  g_list_store_append(models, acts);
  return G_LIST_MODEL(gtk_flatten_list_model_new(G_LIST_MODEL(models)));
}

void
lz_go_to_open(LzGoTo *self, LzDesk *desk)
{
  g_return_if_fail(LZ_IS_GO_TO(self));
  if (g_set_object(&self->desk, desk)) {
    GtkFilterListModel *filtered =
        gtk_filter_list_model_new(all_rows(desk), g_object_ref(self->filter));
    GtkSliceListModel *some = gtk_slice_list_model_new(G_LIST_MODEL(filtered), 0, SHOWN);
    self->selection = gtk_single_selection_new(G_LIST_MODEL(some));
    gtk_list_view_set_model(self->list, GTK_SELECTION_MODEL(self->selection));
    g_object_unref(self->selection); // the list keeps it
  }
  lz_go_to_type(self, "");
  gtk_widget_grab_focus(GTK_WIDGET(self->entry));
}

static void
on_setup(GtkListItemFactory *factory, GtkListItem *item)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 16);
  for (int i = 0; i < 2; i++) {
    GtkWidget *label = gtk_label_new(NULL);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
    gtk_widget_add_css_class(label, i ? "second" : "strong");
    gtk_widget_set_hexpand(label, i == 1);
    gtk_box_append(GTK_BOX(box), label);
  }
  gtk_list_item_set_child(item, box);
}

static void
on_bind(GtkListItemFactory *factory, GtkListItem *item)
{
  gpointer row = gtk_list_item_get_item(item);
  const char *detail = LZ_IS_ROW(row) ? lz_row_detail(row) : lz_text_row_cell(row, 1);
  GtkWidget *title = gtk_widget_get_first_child(gtk_list_item_get_child(item));
  gtk_label_set_label(GTK_LABEL(title), title_of(row));
  gtk_label_set_label(GTK_LABEL(gtk_widget_get_next_sibling(title)), detail);
  lz_access_row(gtk_list_item_get_child(item), title_of(row), detail);
}

static void
lz_go_to_dispose(GObject *object)
{
  LzGoTo *self = LZ_GO_TO(object);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  self->selection = NULL;
  g_clear_object(&self->filter);
  g_clear_object(&self->desk);
  g_clear_pointer(&self->typed, g_free);
  G_OBJECT_CLASS(lz_go_to_parent_class)->dispose(object);
}

static void
lz_go_to_class_init(LzGoToClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_go_to_dispose;
  signals[CHOSEN] = g_signal_new("chosen", LZ_TYPE_GO_TO, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_STRING);
  signals[CANCELLED] = g_signal_new("cancelled", LZ_TYPE_GO_TO, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_SEARCH);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_go_to.ui");
  gtk_widget_class_bind_template_child(widget, LzGoTo, box);
  gtk_widget_class_bind_template_child(widget, LzGoTo, entry);
  gtk_widget_class_bind_template_child(widget, LzGoTo, list);
  gtk_widget_class_bind_template_callback(widget, on_typed);
  gtk_widget_class_bind_template_callback(widget, on_stop);
  gtk_widget_class_bind_template_callback(widget, on_activate);
  gtk_widget_class_bind_template_callback(widget, lz_go_to_choose);
}

static void
lz_go_to_init(LzGoTo *self)
{
  self->filter = GTK_FILTER(gtk_custom_filter_new(matches, self, NULL));
  gtk_widget_init_template(GTK_WIDGET(self));
  g_autoptr(GtkListItemFactory) factory = gtk_signal_list_item_factory_new();
  g_signal_connect(factory, "setup", G_CALLBACK(on_setup), NULL);
  g_signal_connect(factory, "bind", G_CALLBACK(on_bind), NULL);
  gtk_list_view_set_factory(self->list, factory);
}
