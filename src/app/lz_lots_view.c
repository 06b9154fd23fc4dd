// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_lots_view.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <lz_rows.h>

#include "lz_access.h"
#include "lz_credit_area.h"
#include "lz_credit_model.h"
#include "lz_fresh.h"
#include "lz_lot_side.h"
#include "lz_place.h"
#include "lz_record.h"
#include "lz_ribbon_area.h"
#include "lz_sign.h"
#include "lz_task_form.h"
#include "lz_text_table.h"

struct _LzLotsView {
  GtkWidget parent;
  LzDesk *desk;
  GtkSingleSelection *selection;
  GtkStack *stack, *body;
  GtkListView *list;
  LzSign *pennant;
  GtkLabel *title, *subtitle, *credit_text, *why_title, *given_title;
  GtkWidget *credit_head;
  LzRibbonArea *ribbon;
  LzCreditArea *credit;
  LzTextTable *table;
  GtkBox *whys;
  GtkFlowBox *acts;
  GtkGrid *seen, *given;
};

static void place_iface(LzPlaceInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE(LzLotsView, lz_lots_view, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(LZ_TYPE_PLACE, place_iface))

static const LzLotInfo *
shown(LzLotsView *self)
{
  LzLotRow *row = gtk_single_selection_get_selected_item(self->selection);
  return row ? lz_lot_row_info(row) : NULL;
}

static void
show_head(LzLotsView *self, const LzLotInfo *lot)
{
  LzZone *zone = lz_desk_zone(self->desk);
  g_autofree char *received = lz_format_date(zone, lot->received_at);
  g_autofree char *counts =
      g_strdup_printf(ngettext("%d came on %s; %d here now", "%d came on %s; %d here now",
                               (gulong)lot->heads_received),
                      lot->heads_received, received, lot->heads);
  g_autofree char *subtitle = NULL;
  g_autofree char *protocol = lz_protocol_shown(lot->protocol);
  if (*lot->phase)
    subtitle = g_strdup_printf("%s. %s: %s", counts, protocol, lot->phase);
  else if (*lot->protocol)
    subtitle = g_strdup_printf("%s. %s", counts, protocol);
  else
    subtitle = g_strdup_printf("%s. %s", counts, _("No protocol yet: begin one at the right."));
  lz_sign_set_pennant(self->pennant, lot->code,
                      lot->living ? LZD_PENNANT_SOLID : LZD_PENNANT_OUTLINE, LZD_SIZE_NAME);
  gtk_label_set_label(self->title, *lot->species ? lot->species : lot->code);
  gtk_label_set_label(self->subtitle, subtitle);
}

static void
show_credit(LzLotsView *self, const LzLotInfo *lot)
{
  g_autoptr(LzCreditModel) model = lz_credit_model_new(self->desk, lot->index);
  gtk_widget_set_visible(self->credit_head, model != NULL);
  gtk_label_set_label(self->credit_text, model ? lz_credit_model_sentence(model) : "");
  gtk_widget_set_visible(GTK_WIDGET(self->credit),
                         lz_credit_area_set(self->credit, self->desk, lot->index));
}

static void
show_lot(gpointer data)
{
  LzLotsView *self = data;
  const LzLotInfo *lot = shown(self);
  gtk_stack_set_visible_child_name(self->stack, lot ? "lot" : "empty");
  if (!lot)
    return;
  LzRibbonModel *ribbon = lz_ribbon_model_new(self->desk, lot->index);
  show_head(self, lot);
  lz_text_table_set_rows(self->table, lz_ribbon_model_rows(ribbon));
  gtk_widget_set_visible(GTK_WIDGET(self->ribbon), lz_ribbon_model_n_ways(ribbon) > 0);
  lz_ribbon_area_set(self->ribbon, ribbon);
  show_credit(self, lot);
  lz_lot_side_whys(self->why_title, self->whys, self->desk, lot);
  lz_lot_side_seen(self->seen, self->desk, lot);
  gtk_widget_set_visible(GTK_WIDGET(self->given_title),
                         lz_lot_side_given(self->given, self->desk, lot));
  lz_lot_side_shut(self->acts, self->desk, lot);
}

static bool
is_table(LzLotsView *self)
{
  return g_strcmp0(gtk_stack_get_visible_child_name(self->body), "table") == 0;
}

static void
walk(LzLotsView *self, int by)
{
  guint n = g_list_model_get_n_items(G_LIST_MODEL(self->selection));
  guint at = gtk_single_selection_get_selected(self->selection);
  if (n == 0)
    return;
  at = (guint)CLAMP((int)at + by, 0, (int)n - 1);
  gtk_single_selection_set_selected(self->selection, at);
  gtk_widget_activate_action(GTK_WIDGET(self->list), "list.scroll-to-item", "u", at);
}

// A sighting of this lot, where it stands.
static void
see(LzLotsView *self, const LzLotInfo *lot)
{
  bool stands = lot && lot->system != LZQ_NONE && lot->tank != LZQ_NONE;
  lz_record_open(GTK_WIDGET(self), "sighting", "lot", lot ? lot->code : NULL, "system",
                 stands ? lz_desk_name(self->desk, "system", lot->system) : NULL, "tank",
                 stands ? lz_desk_name(self->desk, "tank", lot->tank) : NULL, NULL);
}

static bool
lz_lots_view_key(LzPlace *place, LzPadKey key)
{
  LzLotsView *self = LZ_LOTS_VIEW(place);
  const LzLotInfo *lot = shown(self);
  if (is_table(self))
    return false;
  switch (key.kind) {
  case LZ_PAD_UP: walk(self, -1); return true;
  case LZ_PAD_DOWN: walk(self, 1); return true;
  case LZ_PAD_STAR: see(self, lot); return true;
  case LZ_PAD_DIGIT:
    return lz_lot_side_act(key.digit) &&
           gtk_widget_activate_action(GTK_WIDGET(self), "lots.act", "s",
                                      lz_lot_side_act(key.digit));
  case LZ_PAD_ENTER:
    if (lot && !*lot->protocol)
      lz_record_open(GTK_WIDGET(self), "course", "lot", lot->code, NULL);
    return lot && !*lot->protocol;
  default: return lz_ribbon_area_key(self->ribbon, key);
  }
}

static bool
lz_lots_view_back(LzPlace *place)
{
  LzLotsView *self = LZ_LOTS_VIEW(place);
  bool table = is_table(self);
  gtk_stack_set_visible_child_name(self->body, "drawn");
  return table;
}

static void
lz_lots_view_as_table(LzPlace *place)
{
  LzLotsView *self = LZ_LOTS_VIEW(place);
  gtk_stack_set_visible_child_name(self->body, is_table(self) ? "drawn" : "table");
  if (is_table(self))
    gtk_widget_grab_focus(GTK_WIDGET(self->table));
  lz_place_hints_changed(place);
}

static void
lz_lots_view_show(LzPlace *place, const char *name)
{
  LzLotsView *self = LZ_LOTS_VIEW(place);
  guint n = g_list_model_get_n_items(G_LIST_MODEL(self->selection));
  for (guint i = 0; i < n; i++) {
    g_autoptr(LzLotRow) row = g_list_model_get_item(G_LIST_MODEL(self->selection), i);
    if (g_strcmp0(lz_lot_row_info(row)->code, name) == 0) {
      gtk_single_selection_set_selected(self->selection, i);
      gtk_widget_activate_action(GTK_WIDGET(self->list), "list.scroll-to-item", "u", i);
    }
  }
}

static void
lz_lots_view_enter(LzPlace *place)
{
  gtk_widget_grab_focus(GTK_WIDGET(LZ_LOTS_VIEW(place)->list));
}

static GPtrArray *
lz_lots_view_hints(LzPlace *place)
{
  LzLotsView *self = LZ_LOTS_VIEW(place);
  const LzLotInfo *lot = shown(self);
  GPtrArray *hints = lz_hints_new();
  if (lot) {
    lz_hints_add(hints, "↑↓", _("other lot"), "win.pad::down");
    lz_hints_add(hints, "←→", _("along the ribbon"), "win.pad::right");
    if (!*lot->protocol)
      lz_hints_add(hints, "Enter", _("begin a protocol"), "win.pad::enter");
    lz_hints_add(hints, "*", _("seen, dead or fed"), "win.see");
    lz_hints_add(hints, "F8", is_table(self) ? _("as drawn") : _("as a table"), "win.as-table");
  }
  lz_hints_add(hints, "/", _("go to"), "win.go-to");
  return hints;
}

static const char *
lz_lots_view_subject(LzPlace *place, const char *kind)
{
  LzLotsView *self = LZ_LOTS_VIEW(place);
  const LzLotInfo *lot = shown(self);
  if (!lot || g_str_equal(kind, "lot"))
    return lot ? lot->code : NULL;
  return g_str_equal(kind, "system") && lot->system != LZQ_NONE
             ? lz_desk_name(self->desk, "system", lot->system)
             : NULL;
}

// Of what stands beside it a focused one is meant, else the entry that the lot came with.
static gint64
lz_lots_view_entry(LzPlace *place)
{
  const LzLotInfo *lot = shown(LZ_LOTS_VIEW(place));
  return lot ? lot->id : 0;
}

static void
place_iface(LzPlaceInterface *iface)
{
  iface->key = lz_lots_view_key;
  iface->back = lz_lots_view_back;
  iface->as_table = lz_lots_view_as_table;
  iface->show = lz_lots_view_show;
  iface->enter = lz_lots_view_enter;
  iface->subject = lz_lots_view_subject;
  iface->entry = lz_lots_view_entry;
  iface->hints = lz_lots_view_hints;
}

// A button at the right: the form of that kind, with this lot filled in.
static void
act(GtkWidget *widget, const char *name, GVariant *parameter)
{
  LzLotsView *self = LZ_LOTS_VIEW(widget);
  const char *kind = g_variant_get_string(parameter, NULL);
  const LzLotInfo *lot = shown(self);
  if (g_strcmp0(kind, "sighting") == 0)
    see(self, lot);
  else if (lot && g_strcmp0(kind, "lot") != 0)
    lz_record_open(widget, kind, "lot", lot->code, NULL);
  else
    lz_record_open(widget, "lot", NULL);
}

static void
row_show(gpointer box)
{
  LzRow *row = g_object_get_data(box, "row");
  if (!row)
    return;
  const LzLotInfo *lot = lz_lot_row_info(LZ_LOT_ROW(row));
  GtkWidget *pennant = gtk_widget_get_first_child(box);
  lz_sign_set_pennant(LZ_SIGN(pennant), lot->code,
                      lot->living ? LZD_PENNANT_SOLID : LZD_PENNANT_OUTLINE, LZD_SIZE_BODY);
  gtk_label_set_label(GTK_LABEL(gtk_widget_get_next_sibling(pennant)),
                      *lot->species ? lot->species : lot->phase);
  gtk_widget_set_tooltip_text(box, lz_row_detail(row));
  gtk_accessible_update_property(GTK_ACCESSIBLE(box), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 lz_row_title(row), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                 lz_row_detail(row), -1);
  lz_access_row(box, lz_row_title(row), lz_row_detail(row));
}

static void
row_setup(GtkListItemFactory *factory, GtkListItem *item)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2), *pennant = lz_sign_new();
  gtk_widget_set_halign(pennant, GTK_ALIGN_START);
  gtk_box_append(GTK_BOX(box), pennant);
  GtkWidget *label = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class(label, "small");
  gtk_box_append(GTK_BOX(box), label);
  gtk_list_item_set_child(item, box);
  lz_fresh_keep(box, row_show);
}

// A row stays in the list while what it says changes.
static void
row_bind(GtkListItemFactory *factory, GtkListItem *item)
{
  GtkWidget *box = gtk_list_item_get_child(item);
  g_object_set_data(G_OBJECT(box), "row", gtk_list_item_get_item(item)); // which the item keeps
  g_signal_connect_object(gtk_list_item_get_item(item), "changed", G_CALLBACK(lz_fresh_old), box,
                          G_CONNECT_SWAPPED);
  lz_fresh_old(box);
}

static void
row_unbind(GtkListItemFactory *factory, GtkListItem *item)
{
  GtkWidget *box = gtk_list_item_get_child(item);
  g_signal_handlers_disconnect_by_func(gtk_list_item_get_item(item), lz_fresh_old, box);
  g_object_set_data(G_OBJECT(box), "row", NULL);
}

GtkWidget *
lz_lots_view_new(LzDesk *desk)
{
  LzLotsView *self = g_object_new(LZ_TYPE_LOTS_VIEW, NULL);
  const char *titles[] = {_("lot"),   _("from"),     _("to"),  _("system"),
                          _("phase"), _("how sure"), _("why"), NULL};
  self->desk = g_object_ref(desk);
  self->selection = gtk_single_selection_new(g_object_ref(lz_desk_lots(desk)));
  g_autoptr(GtkListItemFactory) factory = gtk_signal_list_item_factory_new();
  g_signal_connect(factory, "setup", G_CALLBACK(row_setup), NULL);
  g_signal_connect(factory, "bind", G_CALLBACK(row_bind), NULL);
  g_signal_connect(factory, "unbind", G_CALLBACK(row_unbind), NULL);
  gtk_list_view_set_factory(self->list, factory);
  gtk_list_view_set_model(self->list, GTK_SELECTION_MODEL(self->selection));
  lz_text_table_set_columns(self->table, _("Stays"), titles, 0);
  g_signal_connect_object(self->selection, "notify::selected-item", G_CALLBACK(lz_fresh_old), self,
                          G_CONNECT_SWAPPED);
  g_signal_connect_object(desk, "changed", G_CALLBACK(lz_fresh_old), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(desk, "notify::actor", G_CALLBACK(lz_fresh_old), self, G_CONNECT_SWAPPED);
  lz_fresh_keep(self, show_lot);
  return GTK_WIDGET(self);
}

static void
lz_lots_view_dispose(GObject *object)
{
  LzLotsView *self = LZ_LOTS_VIEW(object);
  if (self->stack)
    gtk_widget_unparent(GTK_WIDGET(self->stack));
  self->stack = NULL;
  g_clear_object(&self->selection);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_lots_view_parent_class)->dispose(object);
}

static void
lz_lots_view_class_init(LzLotsViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_lots_view_dispose;
  g_type_ensure(LZ_TYPE_SIGN);
  g_type_ensure(LZ_TYPE_RIBBON_AREA);
  g_type_ensure(LZ_TYPE_CREDIT_AREA);
  g_type_ensure(LZ_TYPE_TEXT_TABLE);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_REGION);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_lots_view.ui");
  gtk_widget_class_install_action(widget, "lots.act", "s", act);
#define CHILD(name) gtk_widget_class_bind_template_child(widget, LzLotsView, name)
  CHILD(stack);
  CHILD(body);
  CHILD(list);
  CHILD(pennant);
  CHILD(title);
  CHILD(subtitle);
  CHILD(credit_text);
  CHILD(credit_head);
  CHILD(why_title);
  CHILD(given_title);
  CHILD(ribbon);
  CHILD(credit);
  CHILD(table);
  CHILD(whys);
  CHILD(acts);
  CHILD(seen);
  CHILD(given);
#undef CHILD
}

static void
lz_lots_view_init(LzLotsView *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
  lz_lot_side_number(self->acts);
}
