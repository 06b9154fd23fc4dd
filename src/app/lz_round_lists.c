// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_round_lists.h"

#include <glib/gi18n.h>
#include <lz_rows.h>

#include "lz_access.h"
#include "lz_chosen.h"
#include "lz_narrow.h"
#include "lz_sign.h"

typedef struct {
  LzDesk *desk;
  const LzRoundColumns *columns;
} RowMaker;

static void
row_setup(GtkListItemFactory *factory, GtkListItem *item, const RowMaker *maker)
{
  gtk_list_item_set_child(item, lz_round_row_new(maker->desk, maker->columns));
}

static void
row_bind(GtkListItemFactory *factory, GtkListItem *item)
{
  lz_round_row_set(LZ_ROUND_ROW(gtk_list_item_get_child(item)), gtk_list_item_get_item(item));
}

static void
row_unbind(GtkListItemFactory *factory, GtkListItem *item)
{
  lz_round_row_set(LZ_ROUND_ROW(gtk_list_item_get_child(item)), NULL);
}

static void
set_model(GtkListView *list, GtkListItemFactory *factory, GListModel *model)
{
  g_autoptr(GtkNoSelection) none = gtk_no_selection_new(g_object_ref(model));
  gtk_list_view_set_factory(list, factory);
  gtk_list_view_set_model(list, GTK_SELECTION_MODEL(none));
}

void
lz_round_list_fill(GtkListView *list, LzDesk *desk, const LzRoundColumns *columns,
                   GListModel *model)
{
  g_autoptr(GtkListItemFactory) factory = gtk_signal_list_item_factory_new();
  RowMaker *maker = g_new(RowMaker, 1);
  *maker = (RowMaker){desk, columns};
  g_signal_connect_data(factory, "setup", G_CALLBACK(row_setup), maker,
                        (GClosureNotify)(void (*)(void))g_free, 0);
  g_signal_connect(factory, "bind", G_CALLBACK(row_bind), NULL);
  g_signal_connect(factory, "unbind", G_CALLBACK(row_unbind), NULL);
  set_model(list, factory, model);
}

static GtkWidget *
head(GtkBox *box, const char *text, GtkSizeGroup *group, float xalign, int start, int end)
{
  GtkWidget *label = gtk_label_new(text);
  gtk_label_set_xalign(GTK_LABEL(label), xalign);
  gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
  gtk_widget_set_margin_start(label, start);
  gtk_widget_set_margin_end(label, end);
  if (group)
    gtk_size_group_add_widget(group, label);
  gtk_box_append(box, label);
  return label;
}

static void
hide_narrow(GtkWidget *widget, gboolean narrow)
{
  gtk_widget_set_visible(widget, !narrow);
}

void
lz_round_heads_fill(GtkBox *box, const LzRoundColumns *columns)
{
  // The cord and the mark of the rows, unseen: they grow with the text, and so must their room.
  GtkWidget *knot = lz_sign_new(), *mark = lz_sign_new();
  lz_sign_set_knot(LZ_SIGN(knot), LZD_KNOT_NONE);
  lz_sign_set_mark(LZ_SIGN(mark), LZD_MARK_NONE, LZD_PLAIN, 16, NULL);
  gtk_widget_set_opacity(knot, 0);
  gtk_widget_set_margin_end(knot, 6);
  gtk_widget_set_margin_end(mark, 12);
  gtk_box_append(box, knot);
  gtk_box_append(box, mark);
  head(box, "", columns->state, 0, 0, 0);
  head(box, _("where"), columns->where, 0, 12, 28);
  head(box, _("what"), columns->what, 0, 0, 0);
  head(box, _("how much"), columns->amount, 1, 0, 20);
  head(box, C_("deadline", "by"), columns->by, 0, 0, 24);
  lz_narrow_follow(head(box, _("why"), NULL, 0, 0, 0), hide_narrow); // it stands below there
}

static GtkWidget *
label(GtkWidget *box, int chars, gboolean expand, const char *style)
{
  GtkWidget *widget = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(widget), 0);
  gtk_label_set_ellipsize(GTK_LABEL(widget), PANGO_ELLIPSIZE_END);
  gtk_label_set_width_chars(GTK_LABEL(widget), chars);
  gtk_widget_set_hexpand(widget, expand);
  if (style)
    gtk_widget_add_css_class(widget, style);
  gtk_box_append(GTK_BOX(box), widget);
  return widget;
}

static void
done_setup(GtkListItemFactory *factory, GtkListItem *item)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 12), *tick = lz_sign_new();
  lz_sign_set_mark(LZ_SIGN(tick), LZD_TASK_DONE, LZD_PLAIN, 14, NULL);
  gtk_box_append(GTK_BOX(box), tick);
  label(box, 8, FALSE, NULL);
  label(box, 14, FALSE, NULL);
  label(box, 30, TRUE, NULL);
  label(box, 4, FALSE, "strong");
  gtk_widget_add_css_class(box, "line");
  gtk_list_item_set_child(item, box);
}

static void
done_bind(GtkListItemFactory *factory, GtkListItem *item)
{
  const LzDoneInfo *info = lz_done_row_info(gtk_list_item_get_item(item));
  const char *texts[] = {info->when, info->where, info->what, info->who};
  GtkWidget *box = gtk_list_item_get_child(item);
  GtkWidget *child = gtk_widget_get_first_child(box);
  for (size_t i = 0; i < G_N_ELEMENTS(texts); i++) {
    child = gtk_widget_get_next_sibling(child);
    gtk_label_set_label(GTK_LABEL(child), texts[i]);
  }
  g_autofree char *name =
      g_strdup_printf("%s, %s, %s, %s", info->when, info->where, info->what, info->who);
  gtk_accessible_update_property(GTK_ACCESSIBLE(box), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  lz_access_row(box, name, NULL);
  lz_chosen_mark(box, info->id);
}

#define SHOWN  3 // of what was done
#define NARROW 1 // of it where there is little room

static void
show_earlier(GtkLabel *label)
{
  GtkSliceListModel *slice = g_object_get_data(G_OBJECT(label), "slice");
  guint n = g_list_model_get_n_items(gtk_slice_list_model_get_model(slice));
  guint shown = gtk_slice_list_model_get_size(slice);
  g_autofree char *text =
      n > shown ? g_strdup_printf(ngettext("%u earlier", "%u earlier", n - shown), n - shown)
                : g_strdup("");
  gtk_label_set_label(label, text);
}

static void
follow_narrow(GtkWidget *label, gboolean narrow)
{
  GtkSliceListModel *slice = g_object_get_data(G_OBJECT(label), "slice");
  gtk_slice_list_model_set_size(slice, narrow ? NARROW : SHOWN);
  show_earlier(GTK_LABEL(label));
}

void
lz_done_list_fill(GtkListView *list, GListModel *done, GtkLabel *earlier)
{
  g_autoptr(GtkListItemFactory) factory = gtk_signal_list_item_factory_new();
  GtkSliceListModel *slice = gtk_slice_list_model_new(g_object_ref(done), 0, SHOWN);
  g_signal_connect(factory, "setup", G_CALLBACK(done_setup), NULL);
  g_signal_connect(factory, "bind", G_CALLBACK(done_bind), NULL);
  set_model(list, factory, G_LIST_MODEL(slice));
  g_object_set_data_full(G_OBJECT(earlier), "slice", slice, g_object_unref);
  g_signal_connect_object(done, "items-changed", G_CALLBACK(show_earlier), earlier,
                          G_CONNECT_SWAPPED);
  show_earlier(earlier);
  lz_narrow_follow(GTK_WIDGET(earlier), follow_narrow);
}

const char *
lz_round_title(LzDesk *desk)
{
  LzLocal local = lz_zone_local(lz_desk_zone(desk), lz_desk_now(desk));
  if (local.hour < 12)
    return _("Morning round");
  return local.hour < 17 ? _("Afternoon round") : _("Evening round");
}
