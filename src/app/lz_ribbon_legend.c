// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_ribbon_legend.h"

#include <glib/gi18n.h>

#include "lz_sign.h"

#define SIZE 10 // px of a pennant's type: as high as a word of the line

static void
add(GtkBox *line, GtkWidget *sign, const char *words)
{
  GtkWidget *label = gtk_label_new(words);
  gtk_widget_set_valign(sign, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class(label, "axis");
  gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
  gtk_widget_set_margin_end(label, 16);
  gtk_box_append(line, sign);
  gtk_box_append(line, label);
}

static GtkWidget *
pennant(lzd_pennant kind)
{
  GtkWidget *sign = lz_sign_new();
  lz_sign_set_pennant(LZ_SIGN(sign), "", kind, SIZE);
  return sign;
}

static GtkWidget *
mark(lzd_mark mark)
{
  GtkWidget *sign = lz_sign_new();
  lz_sign_set_mark(LZ_SIGN(sign), mark, LZD_PLAIN, 14, NULL);
  return sign;
}

GtkWidget *
lz_ribbon_legend_new(void)
{
  GtkWidget *line = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_widget_set_margin_start(line, 8);
  gtk_accessible_update_property(GTK_ACCESSIBLE(line), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("What the ribbons mean"), -1);
  add(GTK_BOX(line), pennant(LZD_PENNANT_SOLID), C_("legend of the plan", "past"));
  add(GTK_BOX(line), pennant(LZD_PENNANT_OUTLINE),
      C_("legend of the plan", "planned; free between shoulder and point"));
  add(GTK_BOX(line), pennant(LZD_PENNANT_WHAT_IF), C_("legend of the plan", "what if"));
  add(GTK_BOX(line), mark(LZD_TASK_CONFLICT), C_("legend of the plan", "no water serves both"));
  return line;
}
