// SPDX-License-Identifier: GPL-3.0-or-later
// The program: one process per login, one window per station file.
#ifndef LZ_APPLICATION_H
#define LZ_APPLICATION_H

#include <gtk/gtk.h>

#define LZ_TYPE_APPLICATION (lz_application_get_type())
G_DECLARE_FINAL_TYPE(LzApplication, lz_application, LZ, APPLICATION, GtkApplication)

GtkApplication *lz_application_new(void);

#endif
