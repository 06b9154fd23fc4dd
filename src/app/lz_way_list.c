// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_way_list.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <math.h>

#define MOST_DIGITS 9

struct _LzWayList {
  GtkWidget parent;
  LzDesk *desk;
  GPtrArray *ways; // LzWay
  guint first;
  GtkBox *box;
};

G_DEFINE_FINAL_TYPE(LzWayList, lz_way_list, GTK_TYPE_WIDGET)

static void
choose(LzWayList *self, const LzWay *way)
{
  static const char *const fields[] = {"lot", "protocol", "tank"};
  GVariantBuilder builder;
  g_autoptr(GString) also = g_string_new(NULL);
  const LzCommand *command = g_ptr_array_index(way->commands, 0);
  g_variant_builder_init(&builder, G_VARIANT_TYPE("a{ss}"));
  for (guint i = 0; i < G_N_ELEMENTS(fields); i++)
    if (lz_command_get(command, fields[i]))
      g_variant_builder_add(&builder, "{ss}", fields[i], lz_command_get(command, fields[i]));
  for (guint i = 1; i < way->commands->len; i++)
    g_string_append_printf(also, "%s%s", also->len ? "\n" : "",
                           lz_command_get(g_ptr_array_index(way->commands, i), "lot"));
  if (also->len)
    g_variant_builder_add(&builder, "{ss}", "@also", also->str);
  gtk_widget_activate_action(GTK_WIDGET(self), "win.record", "(sxa{ss})", lz_command_kind(command),
                             (gint64)0, &builder);
}

static void
on_clicked(GtkButton *button, LzWayList *self)
{
  choose(self, g_object_get_data(G_OBJECT(button), "way"));
}

static GtkWidget *
label_new(const char *text, const char *style, gboolean wraps)
{
  GtkWidget *label = gtk_label_new(text);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_wrap(GTK_LABEL(label), wraps);
  gtk_label_set_wrap_mode(GTK_LABEL(label), PANGO_WRAP_WORD_CHAR);
  if (style)
    gtk_widget_add_css_class(label, style);
  return label;
}

// "Wed 28 Jul, 24 fish-days later", the price beside the date.
static char *
price_of(LzWayList *self, const LzWay *way)
{
  if (!way->foresight)
    return g_strdup(_("not possible"));
  g_autofree char *date = way->release == LZQ_NEVER
                              ? g_strdup(_("no date can be said"))
                              : lz_format_date(lz_desk_zone(self->desk), way->release);
  g_autofree char *days = lz_format_number(fabs(way->fish_days), 0);
  if (isnan(way->fish_days) || fabs(way->fish_days) < 0.5)
    return g_steal_pointer(&date);
  // Translators: date of the release; fish-days
  return g_strdup_printf(way->fish_days > 0 ? _("%1$s, %2$s fish-days later")
                                            : _("%1$s, %2$s fish-days sooner"),
                         date, days);
}

static void
add_way(LzWayList *self, guint i)
{
  const LzWay *way = g_ptr_array_index(self->ways, i);
  GtkWidget *button = gtk_button_new(), *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *lines = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2);
  g_autofree char *digit = g_strdup_printf("%u", self->first + i);
  g_autofree char *price = price_of(self, way);
  const char *more = way->refusal ? way->refusal : way->caution;
  g_autofree char *said = g_strdup_printf("%s: %s. %s", way->words, price, more);
  // below each other: a price with date and fish-days leaves the words no room beside it
  gtk_box_append(GTK_BOX(lines), label_new(way->words, "strong", TRUE));
  gtk_box_append(GTK_BOX(lines), label_new(price, NULL, TRUE));
  if (*more)
    gtk_box_append(GTK_BOX(lines), label_new(more, "second", TRUE));
  gtk_widget_set_hexpand(lines, TRUE);
  GtkWidget *cap = label_new(self->first + i <= MOST_DIGITS ? digit : "", "key-cap", FALSE);
  gtk_widget_set_valign(cap, GTK_ALIGN_START);
  gtk_box_append(GTK_BOX(row), cap);
  gtk_box_append(GTK_BOX(row), lines);
  gtk_button_set_child(GTK_BUTTON(button), row);
  gtk_widget_add_css_class(button, "way");
  gtk_widget_set_sensitive(button, way->foresight != NULL);
  gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL, said,
                                 GTK_ACCESSIBLE_PROPERTY_KEY_SHORTCUTS, digit, -1);
  g_object_set_data(G_OBJECT(button), "way", (gpointer)way);
  g_signal_connect(button, "clicked", G_CALLBACK(on_clicked), self);
  gtk_box_append(self->box, button);
}

void
lz_way_list_set(LzWayList *self, LzDesk *desk, GPtrArray *ways, guint first)
{
  GtkWidget *child;
  g_return_if_fail(LZ_IS_WAY_LIST(self));
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(self->box))))
    gtk_box_remove(self->box, child);
  g_clear_pointer(&self->ways, g_ptr_array_unref);
  g_set_object(&self->desk, desk);
  self->ways = ways;
  self->first = first;
  for (guint i = 0; i < ways->len; i++)
    add_way(self, i);
}

bool
lz_way_list_key(LzWayList *self, LzPadKey key)
{
  int at = key.digit - (int)self->first;
  if (!self->ways || key.kind != LZ_PAD_DIGIT || at < 0 || at >= (int)self->ways->len)
    return false;
  const LzWay *way = g_ptr_array_index(self->ways, (guint)at);
  if (way->foresight)
    choose(self, way);
  return true;
}

static void
lz_way_list_dispose(GObject *object)
{
  LzWayList *self = LZ_WAY_LIST(object);
  if (self->box)
    gtk_widget_unparent(GTK_WIDGET(self->box));
  self->box = NULL;
  g_clear_pointer(&self->ways, g_ptr_array_unref);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_way_list_parent_class)->dispose(object);
}

static void
lz_way_list_class_init(LzWayListClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_way_list_dispose;
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
lz_way_list_init(LzWayList *self)
{
  self->box = GTK_BOX(gtk_box_new(GTK_ORIENTATION_VERTICAL, 6));
  gtk_widget_set_parent(GTK_WIDGET(self->box), GTK_WIDGET(self));
}

GtkWidget *
lz_way_list_new(void)
{
  return g_object_new(LZ_TYPE_WAY_LIST, NULL);
}
