// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_photo_show.h"

#include <glib/gi18n.h>
#include <lz_photo.h>
#include <lz_words.h>

#define SHARP 2 // pixels kept for one that is shown, for screens of twice the density

static GtkWidget *
picture_of(GdkPixbuf *photo, int height, const char *words)
{
  g_autoptr(GdkTexture) texture = gdk_texture_new_for_pixbuf(photo);
  GtkWidget *picture = gtk_picture_new_for_paintable(GDK_PAINTABLE(texture));
  // Translators: what was seen
  g_autofree char *alternative = g_strdup_printf(_("Photograph: %s"), words);
  gtk_picture_set_alternative_text(GTK_PICTURE(picture), alternative);
  gtk_picture_set_can_shrink(GTK_PICTURE(picture), TRUE);
  gtk_widget_set_size_request(
      picture, height * gdk_pixbuf_get_width(photo) / MAX(1, gdk_pixbuf_get_height(photo)), height);
  gtk_widget_set_halign(picture, GTK_ALIGN_START);
  gtk_widget_set_vexpand(picture, FALSE);
  return picture;
}

static GtkWidget *
sentence_of(const char *message)
{
  GtkWidget *label = gtk_label_new(message);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  gtk_widget_add_css_class(label, "alarm");
  return label;
}

void
lz_photo_show(GtkBox *box, LzDesk *desk, LzEntry *entry, int height)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(box))))
    gtk_box_remove(box, child);
  gboolean any = entry && lz_entry_has(entry, "photo");
  gtk_widget_set_visible(GTK_WIDGET(box), any);
  if (!any)
    return;
  g_autoptr(GError) error = NULL;
  g_autoptr(GdkPixbuf) photo = lz_photo_of(desk, entry, SHARP * height, &error);
  g_autofree char *words = lz_words_entry(desk, entry);
  gtk_box_append(box, photo ? picture_of(photo, height, words)
                            : sentence_of(error ? error->message : _("No photograph.")));
}

gboolean
lz_photo_is_named(const char *path)
{
  static const char *const ends[] = {".jpg", ".jpeg", ".png"};
  g_autofree char *down = g_utf8_strdown(path, -1);
  for (guint i = 0; i < G_N_ELEMENTS(ends); i++)
    if (g_str_has_suffix(down, ends[i]))
      return TRUE;
  return FALSE;
}
