// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_record.h"

#include <lz_rows.h>
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

gboolean
lz_record_repeat(GtkWidget *from, LzDesk *desk)
{
  GListModel *done = lz_desk_done(desk);
  for (guint i = 0; i < g_list_model_get_n_items(done); i++) {
    g_autoptr(LzDoneRow) row = g_list_model_get_item(done, i);
    g_autoptr(LzEntry) entry = lz_desk_entry(desk, lz_done_row_info(row)->id, NULL);
    if (!entry || g_strcmp0(lz_entry_kind(entry), "reading") != 0)
      continue;
    int64_t instrument = lz_entry_int(entry, "instrument");
    const char *with = instrument ? lz_desk_name_of(desk, "instrument", instrument) : NULL;
    lz_record_open(from, "reading", "system",
                   lz_desk_name_of(desk, "system", lz_entry_int(entry, "system")), "analyte",
                   lz_entry_text(entry, "analyte"), "instrument", with, (char *)NULL);
    return TRUE;
  }
  return FALSE;
}

void
lz_record_correct(GtkWidget *from, const char *kind, gint64 id)
{
  GVariantBuilder fields;
  g_variant_builder_init(&fields, G_VARIANT_TYPE("a{ss}"));
  gtk_widget_activate_action(from, "win.record", "(sxa{ss})", kind, id, &fields);
}
