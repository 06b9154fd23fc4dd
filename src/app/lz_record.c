// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_record.h"

#include <stdarg.h>

void
lz_record_open(GtkWidget *from, const char *kind, ...)
{
  GVariantBuilder fields;
  va_list pairs;
  g_variant_builder_init(&fields, G_VARIANT_TYPE("a{ss}"));
  va_start(pairs, kind);
  for (const char *field = va_arg(pairs, const char *); field;
       field = va_arg(pairs, const char *)) {
    const char *text = va_arg(pairs, const char *);
    if (text)
      g_variant_builder_add(&fields, "{ss}", field, text);
  }
  va_end(pairs);
  gtk_widget_activate_action(from, "win.record", "(sxa{ss})", kind, (gint64)0, &fields);
}

void
lz_record_correct(GtkWidget *from, const char *kind, gint64 id)
{
  GVariantBuilder fields;
  g_variant_builder_init(&fields, G_VARIANT_TYPE("a{ss}"));
  gtk_widget_activate_action(from, "win.record", "(sxa{ss})", kind, id, &fields);
}
