// SPDX-License-Identifier: GPL-3.0-or-later
// The program: one process per login, one window per station file.
#ifndef LZ_APPLICATION_H
#define LZ_APPLICATION_H

#include <gtk/gtk.h>
#include <lz_clock.h>

#define LZ_TYPE_APPLICATION (lz_application_get_type())
G_DECLARE_FINAL_TYPE(LzApplication, lz_application, LZ, APPLICATION, GtkApplication)

GtkApplication *lz_application_new(void);
// The clock that --clock handed in, for every file opened from now on; NULL = the real one. Not
// owned.
LzClock *lz_application_clock(GtkApplication *application);

#endif
