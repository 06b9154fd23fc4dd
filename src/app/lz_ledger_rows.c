// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_ledger_rows.h"

#include <glib/gi18n.h>
#include <lz_format.h>

#include "lz_text_table.h"

#define LATE_MIN 60 // entered later than that: said beside the entry

static char *
recorded_words(const LzLedgerLine *line)
{
  return line->late_min > LATE_MIN ? g_strdup_printf(_("%s, late"), line->recorded)
                                   : g_strdup(line->recorded);
}

void
lz_ledger_append(GListStore *store, const LzLedgerLine *line)
{
  const char *state = line->voided ? _("taken away: ") : line->corrected ? _("corrected: ") : "";
  g_autofree char *what = g_strconcat(state, line->what, NULL);
  g_autofree char *recorded = recorded_words(line);
  const char *cells[] = {line->when,    line->where, what,        line->who,
                         line->witness, recorded,    line->reason};
  g_autoptr(LzTextRow) row = lz_text_row_new(line->first, cells, G_N_ELEMENTS(cells));
  g_list_store_append(store, row);
}

static void
append_past(LzDesk *desk, GListStore *store, const LzPast *past)
{
  gboolean lot = past->kind == LZ_PAST_LOT;
  g_autofree char *when = lz_format_stamp(lz_desk_zone(desk), past->last);
  g_autofree char *what = g_strdup_printf(
      lot ? ngettext("lot %1$s: %2$u entry, and none since",
                     "lot %1$s: %2$u entries, and none since", past->entries)
          : ngettext(
                "%1$s no longer works here: %2$u entry, and none since; the name can be erased",
                "%1$s no longer works here: %2$u entries, and none since; the name can be erased",
                past->entries),
      past->name, past->entries);
  const char *cells[] = {when, "", what, lot ? "" : past->name};
  g_autoptr(LzTextRow) row = lz_text_row_new(past->id, cells, G_N_ELEMENTS(cells));
  g_list_store_append(store, row);
}

char *
lz_ledger_append_past(GListStore *store, LzDesk *desk, LzRetention *counted)
{
  guint old;
  g_autoptr(GArray) past = lz_retention_end(counted, &old);
  g_autofree char *limit = lz_format_stamp(lz_desk_zone(desk), lz_retention_limit(desk));
  g_autofree char *how_old = g_strdup_printf(
      ngettext("%1$u entry is from before %2$.10s. Nothing is deleted by itself.",
               "%1$u entries are from before %2$.10s. Nothing is deleted by itself.", old),
      old, limit);
  for (guint i = 0; i < past->len; i++)
    append_past(desk, store, &g_array_index(past, LzPast, i));
  return past->len ? g_steal_pointer(&how_old)
                   : g_strdup_printf("%s %s", _("No lot and no name is past that."), how_old);
}
