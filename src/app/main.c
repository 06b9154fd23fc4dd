// SPDX-License-Identifier: GPL-3.0-or-later
// The program with windows. Only what must happen before GTK starts is here.
#include <lz_words.h>

#include "lz_application.h"
#include "lz_settings.h"

int
main(int argc, char *argv[])
{
  // Without a GPU the software renderer draws its first frame in two thirds of the time.
  g_setenv("GSK_RENDERER", "cairo", FALSE);
  lz_settings_apply_language();
  lz_words_init();
  gtk_disable_setlocale(); // which would undo what lz_words_init() chose
  g_autoptr(GtkApplication) application = lz_application_new();
  return g_application_run(G_APPLICATION(application), argc, argv);
}
