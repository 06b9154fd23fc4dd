// SPDX-License-Identifier: GPL-3.0-or-later
// A bare GTK window, to compare the program's first frame and memory with: it maps, and stays.
#include <gtk/gtk.h>

static void
on_activate(GtkApplication *application)
{
  GtkWidget *window = gtk_application_window_new(application);
  gtk_window_set_title(GTK_WINDOW(window), "Lazaret bare");
  gtk_window_present(GTK_WINDOW(window));
}

int
main(int argc, char *argv[])
{
  g_autoptr(GtkApplication) application =
      gtk_application_new("net.lazaret.Bare", G_APPLICATION_NON_UNIQUE);
  g_signal_connect(application, "activate", G_CALLBACK(on_activate), NULL);
  return g_application_run(G_APPLICATION(application), argc, argv);
}
