// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_look.h"

#include "lz_settings.h"
#include "lz_theme.h"

lzd_look
lz_look_of(GtkWidget *widget)
{
  return (lzd_look){
      .palette = lz_theme_palette(),
      .text_scale = lz_theme_text_scale(),
      .unit_scale = 1,
      .mirrored = gtk_widget_get_direction(widget) == GTK_TEXT_DIR_RTL,
      .decimal = lz_settings_decimal(),
  };
}
