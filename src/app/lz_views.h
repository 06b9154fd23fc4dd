// SPDX-License-Identifier: GPL-3.0-or-later
// Makes the five places, and the start page, by name.
#ifndef LZ_VIEWS_H
#define LZ_VIEWS_H

#include <gtk/gtk.h>
#include <lz_desk.h>

// name: "start" (desk NULL), "round", "water", "lots", "plan" or "station". (transfer floating)
GtkWidget *lz_view_new(const char *name, LzDesk *desk);

#endif
