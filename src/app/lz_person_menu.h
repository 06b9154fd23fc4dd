// SPDX-License-Identifier: GPL-3.0-or-later
// Who is at this PC: two letters, then a PIN where the station asks for one.
#ifndef LZ_PERSON_MENU_H
#define LZ_PERSON_MENU_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#define LZ_TYPE_PERSON_MENU (lz_person_menu_get_type())
G_DECLARE_FINAL_TYPE(LzPersonMenu, lz_person_menu, LZ, PERSON_MENU, GtkPopover)

GtkWidget *lz_person_menu_new(void);
void lz_person_menu_set_desk(LzPersonMenu *self, LzDesk *desk);
// As if the initials had been typed and Enter pressed. FALSE: nobody of that name, or a PIN wanted.
gboolean lz_person_menu_choose(LzPersonMenu *self, const char *initials, const char *pin);

#endif
