// SPDX-License-Identifier: GPL-3.0-or-later
// The order of the steps: common practice, no source. Electricity near water comes first.
#include "lz_power_view.h"

#include <glib/gi18n.h>
#include <lz_command.h>
#include <lz_format.h>
#include <lz_rows.h>

#include "lz_place.h"

struct _LzPowerView {
  GtkWidget parent;
  LzDesk *desk;
  GtkWidget *box, *off;
  GtkBox *steps;
  GtkLabel *message;
};

static void place_iface(LzPlaceInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE(LzPowerView, lz_power_view, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(LZ_TYPE_PLACE, place_iface))

static int
more_fish_per_litre(gconstpointer a, gconstpointer b)
{
  const LzSystemInfo *left = lz_system_row_info(*(LzSystemRow **)a);
  const LzSystemInfo *right = lz_system_row_info(*(LzSystemRow **)b);
  double difference = right->heads / right->volume_l - left->heads / left->volume_l;
  return difference > 0 ? 1 : difference < 0 ? -1 : 0;
}

// Rows of the systems that hold fish, the most crowded first.
static GPtrArray *
with_fish(LzDesk *desk)
{
  GPtrArray *rows = g_ptr_array_new_with_free_func(g_object_unref);
  GListModel *systems = lz_desk_systems(desk);
  for (guint i = 0; i < g_list_model_get_n_items(systems); i++) {
    LzSystemRow *row = g_list_model_get_item(systems, i);
    if (lz_system_row_info(row)->heads > 0)
      g_ptr_array_add(rows, row);
    else
      g_object_unref(row);
  }
  g_ptr_array_sort(rows, more_fish_per_litre);
  return rows;
}

static char *
air_first(LzDesk *desk)
{
  g_autoptr(GPtrArray) rows = with_fish(desk);
  GString *all = g_string_new(_("Air from batteries, the most crowded water first: "));
  for (guint i = 0; i < rows->len; i++) {
    const LzSystemInfo *info = lz_system_row_info(g_ptr_array_index(rows, i));
    g_autofree char *litres = lz_format_amount(info->volume_l, LZQ_UNIT_L);
    // Translators: system; fish; litres
    g_string_append_printf(all,
                           ngettext("%1$s (%2$d fish in %3$s)", "%1$s (%2$d fish in %3$s)",
                                    (unsigned long)info->heads),
                           info->name, info->heads, litres);
    g_string_append(all, i + 1 < rows->len ? ", " : ".");
  }
  return g_string_free(all, FALSE);
}

static void
add_step(LzPowerView *self, const char *text)
{
  GtkWidget *label = gtk_label_new(text);
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_selectable(GTK_LABEL(label), FALSE);
  gtk_widget_add_css_class(label, "row-name");
  gtk_box_append(self->steps, label);
}

static void
fill(LzPowerView *self)
{
  static const char *const steps[] = {
      N_("Dry hands. Switch off at the fuse what is wet or in the water before you reach in; if "
         "that is not safe, leave it and call an electrician."),
      NULL, // air
      N_("No food anywhere until the pumps have run for an hour."),
      N_("No dose and no water change until a reading after the restart."),
      N_("Close filters that stand still; after an hour their water goes to waste, not back."),
      N_("Pull the plugs of heaters and UV lamps that may fall dry."),
      N_("When it is back: air, then pumps, then heaters. Test ammonia in every water with fish, "
         "and copper where there is a course."),
      N_("Fish at the surface or breathing fast: * I see something. A veterinarian decides on "
         "anything else.")};
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(self->steps))))
    gtk_box_remove(self->steps, child);
  for (size_t i = 0; i < G_N_ELEMENTS(steps); i++) {
    g_autofree char *words = steps[i] ? g_strdup(_(steps[i])) : air_first(self->desk);
    g_autofree char *line = g_strdup_printf("%d.  %s", (int)i + 1, words);
    add_step(self, line);
  }
}

// The pumps of every water with fish, in one transaction.
static void
record(LzPowerView *self, gboolean on)
{
  g_autoptr(GPtrArray) rows = with_fish(self->desk);
  g_autoptr(GPtrArray) commands = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  g_autoptr(GError) error = NULL;
  for (guint i = 0; i < rows->len; i++) {
    const LzSystemInfo *info = lz_system_row_info(g_ptr_array_index(rows, i));
    LzCommand *command = lz_command_build("gear", "system", info->name, "gear", "pump", "on",
                                          on ? "yes" : "no", NULL);
    lz_command_set_reason(command, on ? _("power is back") : _("power or pump failure"));
    g_ptr_array_add(commands, command);
  }
  gboolean done =
      lz_desk_submit(self->desk, (LzCommand *const *)commands->pdata, commands->len, &error);
  g_autofree char *said =
      done ? g_strdup_printf(ngettext("Written down for %u system.", "Written down for %u systems.",
                                      commands->len),
                             commands->len)
           : g_strdup(error->message);
  gtk_label_set_label(self->message, said);
}

static void
act_off(GtkWidget *widget, const char *name, GVariant *parameter)
{
  record(LZ_POWER_VIEW(widget), FALSE);
}

static void
act_on(GtkWidget *widget, const char *name, GVariant *parameter)
{
  record(LZ_POWER_VIEW(widget), TRUE);
}

static bool
lz_power_view_key(LzPlace *place, LzPadKey key)
{
  if (key.kind != LZ_PAD_DIGIT || key.digit < 1 || key.digit > 2)
    return false;
  record(LZ_POWER_VIEW(place), key.digit == 2);
  return true;
}

static bool
lz_power_view_back(LzPlace *place)
{
  return gtk_widget_activate_action(GTK_WIDGET(place), "win.place", "s", "round");
}

static void
lz_power_view_enter(LzPlace *place)
{
  LzPowerView *self = LZ_POWER_VIEW(place);
  gtk_label_set_label(self->message, "");
  fill(self);
  gtk_widget_grab_focus(self->off);
}

static GPtrArray *
lz_power_view_hints(LzPlace *place)
{
  GPtrArray *hints = lz_hints_new();
  lz_hints_add(hints, "1", _("it is off: write it down"), "power.off");
  lz_hints_add(hints, "2", _("it is back: write it down"), "power.on");
  lz_hints_add(hints, "*", _("I see something"), "win.see");
  lz_hints_add(hints, "Esc", _("one step back"), "win.place::round");
  return hints;
}

static void
place_iface(LzPlaceInterface *iface)
{
  iface->key = lz_power_view_key;
  iface->back = lz_power_view_back;
  iface->enter = lz_power_view_enter;
  iface->hints = lz_power_view_hints;
}

static void
lz_power_view_dispose(GObject *object)
{
  LzPowerView *self = LZ_POWER_VIEW(object);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_power_view_parent_class)->dispose(object);
}

static void
lz_power_view_class_init(LzPowerViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_power_view_dispose;
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_REGION);
  gtk_widget_class_install_action(widget, "power.off", NULL, act_off);
  gtk_widget_class_install_action(widget, "power.on", NULL, act_on);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_power_view.ui");
  gtk_widget_class_bind_template_child(widget, LzPowerView, box);
  gtk_widget_class_bind_template_child(widget, LzPowerView, off);
  gtk_widget_class_bind_template_child(widget, LzPowerView, steps);
  gtk_widget_class_bind_template_child(widget, LzPowerView, message);
}

static void
lz_power_view_init(LzPowerView *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
}

GtkWidget *
lz_power_view_new(LzDesk *desk)
{
  LzPowerView *self = g_object_new(LZ_TYPE_POWER_VIEW, NULL);
  self->desk = g_object_ref(desk);
  return GTK_WIDGET(self);
}
