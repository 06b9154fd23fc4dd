// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_acts.h"

#include <glib/gi18n.h>

#include "lz_form_shown.h"
#include "lz_record.h"
#include "lz_text_table.h"

// A kind of entry, whose form has a title of its own, or an action with the words for it.
static const struct {
  const char *kind, *action, *words;
} acts[] = {
    {"reading", NULL, NULL},
    {"dose", NULL, NULL},
    {"change", NULL, NULL},
    {"topup", NULL, NULL},
    {"gear", NULL, NULL},
    {"check", NULL, NULL},
    {"sighting", NULL, NULL},
    {"scrape", NULL, NULL},
    {"death", NULL, NULL},
    {"count", NULL, NULL},
    {"feed", NULL, NULL},
    {"bath", NULL, NULL},
    {"move", NULL, NULL},
    {"split", NULL, NULL},
    {"merge", NULL, NULL},
    {"course", NULL, NULL},
    {"stop", NULL, NULL},
    {"release", NULL, NULL},
    {"stock", NULL, NULL},
    {"visit", NULL, NULL},
    {"note", NULL, NULL},
    {NULL, "win.how-much", N_("How much to give")},
    {NULL, "win.receive", N_("Receive a shipment")},
    {NULL, "win.hand-over", N_("Hand the shift over")},
    {NULL, "win.power", N_("Power or pump failure")},
    {NULL, "app.preferences", N_("Preferences")},
};

GListModel *
lz_acts(void)
{
  GListStore *store = g_list_store_new(LZ_TYPE_TEXT_ROW);
  for (guint i = 0; i < G_N_ELEMENTS(acts); i++) {
    const char *cells[] = {acts[i].kind ? lz_form_title(acts[i].kind) : _(acts[i].words),
                           acts[i].kind ? _("write it down") : _("open it")};
    g_autoptr(LzTextRow) row = lz_text_row_new(i, cells, G_N_ELEMENTS(cells));
    g_list_store_append(store, row);
  }
  return G_LIST_MODEL(store);
}

void
lz_acts_open(GtkWidget *from, gint64 id)
{
  g_return_if_fail(id >= 0 && id < (gint64)G_N_ELEMENTS(acts));
  if (acts[id].kind)
    lz_record_open(from, acts[id].kind, NULL);
  else
    gtk_widget_activate_action(from, acts[id].action, NULL);
}
