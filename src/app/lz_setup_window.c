// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_setup_window.h"

#include <glib/gi18n.h>
#include <lz_desk.h>
#include <lz_format.h>
#include <lz_setup.h>
#include <math.h>

#include "lz_access.h"
#include "lz_application.h"
#include "lz_digits.h"
#include "lz_files.h"

struct _LzSetupWindow {
  GtkWindow parent;
  GtkApplication *station_of; // the application that gets the new window
  GtkEntry *station, *zone, *slots, *person, *initials, *system, *volume, *tanks, *salinity;
  GtkLabel *message, *slots_help;
  GtkButton *make;
};

G_DEFINE_FINAL_TYPE(LzSetupWindow, lz_setup_window, GTK_TYPE_WINDOW)

static const char *
text(GtkEntry *entry)
{
  return gtk_editable_get_text(GTK_EDITABLE(entry));
}

static void
say(LzSetupWindow *self, const char *sentence)
{
  gtk_label_set_label(self->message, sentence);
  gtk_widget_set_visible(GTK_WIDGET(self->message), TRUE);
}

// A name that is free in the usual folder, made of the station's name.
static char *
path_for(const char *station)
{
  g_autofree char *usual = lz_desk_default_path();
  g_autofree char *folder = g_path_get_dirname(usual);
  g_autofree char *stem = g_str_to_ascii(station, NULL);
  g_strcanon(stem, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-", '-');
  g_mkdir_with_parents(folder, 0700);
  for (int i = 1;; i++) {
    g_autofree char *name = i == 1 ? g_strdup_printf("%s.lazaret", *stem ? stem : "station")
                                   : g_strdup_printf("%s-%d.lazaret", stem, i);
    g_autofree char *path = g_build_filename(folder, name, NULL);
    if (!g_file_test(path, G_FILE_TEST_EXISTS))
      return g_steal_pointer(&path);
  }
}

// A number of a field, or a sentence that names the field.
static gboolean
number(LzSetupWindow *self, GtkEntry *entry, const char *name, double *out)
{
  g_autoptr(GError) error = NULL;
  if (lz_parse_number(text(entry), out, NULL, &error))
    return TRUE;
  g_autofree char *sentence = g_strdup_printf("%s: %s", name, error->message);
  say(self, sentence);
  gtk_widget_grab_focus(GTK_WIDGET(entry));
  return FALSE;
}

static void
on_make(LzSetupWindow *self)
{
  double volume, tanks, salinity;
  g_autoptr(GError) error = NULL;
  if (!number(self, self->volume, _("Net litres"), &volume) ||
      !number(self, self->tanks, _("Tanks"), &tanks) ||
      !number(self, self->salinity, _("Salinity"), &salinity))
    return;
  LzSetupSystem system = {.name = text(self->system),
                          .volume_l = volume,
                          .tanks = (int)tanks,
                          .source_salinity = salinity};
  LzSetup setup = {.station = text(self->station),
                   .zone = text(self->zone),
                   .slots = text(self->slots),
                   .person = *text(self->person) ? text(self->person) : NULL,
                   .initials = *text(self->initials) ? text(self->initials) : NULL,
                   .systems = &system,
                   .n_systems = 1,
                   .protocols = TRUE};
  LzDeskOptions options = {.clock = lz_application_clock(self->station_of), .watch = TRUE};
  g_autofree char *path = path_for(setup.station);
  LzDesk *desk = lz_setup_new_station(path, &setup, &options, &error);
  if (!desk) {
    say(self, error->message);
    return;
  }
  lz_files_show(self->station_of, desk, NULL);
  gtk_window_close(GTK_WINDOW(self));
}

static void
lz_setup_window_class_init(LzSetupWindowClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_setup_window.ui");
#define CHILD(name) gtk_widget_class_bind_template_child(widget, LzSetupWindow, name)
  CHILD(station);
  CHILD(zone);
  CHILD(slots);
  CHILD(person);
  CHILD(initials);
  CHILD(system);
  CHILD(volume);
  CHILD(tanks);
  CHILD(salinity);
  CHILD(message);
  CHILD(slots_help);
  CHILD(make);
#undef CHILD
  gtk_widget_class_bind_template_callback(widget, on_make);
  gtk_widget_class_add_binding_action(widget, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
lz_setup_window_init(LzSetupWindow *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
  GtkEntry *const numbers[] = {self->volume, self->tanks, self->salinity};
  for (guint i = 0; i < G_N_ELEMENTS(numbers); i++)
    lz_digits_put_beside(numbers[i]);
  g_autofree char *zone = lz_setup_local_zone();
  gtk_editable_set_text(GTK_EDITABLE(self->zone), zone);
  gtk_label_set_label(self->slots_help, lz_setup_slots_help());
  lz_access_plain(GTK_WIDGET(self));
  gtk_window_set_default_widget(GTK_WINDOW(self), GTK_WIDGET(self->make));
}

GtkWidget *
lz_setup_window_new(GtkApplication *application, GtkWindow *parent)
{
  LzSetupWindow *self = g_object_new(LZ_TYPE_SETUP_WINDOW, NULL);
  self->station_of = application;
  if (parent)
    gtk_window_set_transient_for(GTK_WINDOW(self), parent);
  return GTK_WIDGET(self);
}
