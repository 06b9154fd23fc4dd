// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of the ledger: the newest LZ_LEDGER_ROWS entries as written, newest first. An entry never
// changes, so its row is filled once; only what a later entry says of it, or of a name that it
// uses, fills it again.
#include <glib/gi18n-lib.h>

#include "lz_format.h"
#include "lz_rows_private.h"
#include "lz_words.h"

// What later entries made of this one.
void
lz_ledger_judge(const LzModel *m, const LzEntry *e, gboolean *corrected, gboolean *voided)
{
  int64_t first = e->corrects ? e->corrects : e->id;
  const LzEntry *last = g_hash_table_lookup(m->corrected, &first);
  gboolean later = last && last->id > e->id;
  *voided = later && last->voided;
  *corrected = later && !last->voided;
}

char *
lz_ledger_what(LzDesk *desk, LzEntry *e)
{
  const char *kind = lz_words_kind(e->spec->name);
  if (e->voided)
    return g_strdup_printf(_("%1$s: entry %2$d taken away"), kind, (int)e->corrects);
  g_autofree char *words = lz_words_entry(desk, e);
  if (e->corrects)
    return g_strdup_printf(_("%1$s: %2$s (corrects entry %3$d)"), kind, words, (int)e->corrects);
  return *words ? g_strdup_printf("%s: %s", kind, words) : g_strdup(kind);
}

static char *
detail_of(const LzEntryInfo *info)
{
  GString *out = g_string_new(info->when);
  if (*info->who)
    g_string_append_printf(out, _(", by %s"), info->who);
  if (*info->witness)
    g_string_append_printf(out, _(", seen by %s"), info->witness);
  if (*info->reason)
    g_string_append_printf(out, ": %s", info->reason);
  if (info->voided)
    g_string_append_printf(out, " (%s)", _("taken away later"));
  else if (info->corrected)
    g_string_append_printf(out, " (%s)", _("corrected later"));
  return g_string_free(out, FALSE);
}

static void
set_entry(LzDesk *desk, LzRow *row, LzEntry *e, gboolean corrected, gboolean voided)
{
  LzZone *zone = lz_desk_zone(desk);
  GPtrArray *texts = lz_rows_texts();
  LzEntryInfo info = {.id = e->id,
                      .kind = e->spec->name,
                      .at = e->at,
                      .when = lz_keep(texts, lz_format_full(zone, e->at)),
                      .recorded = lz_keep(texts, lz_format_full(zone, e->recorded_ms / 60000)),
                      .where = lz_keep(texts, lz_words_entry_where(desk, e)),
                      .what = lz_keep(texts, lz_ledger_what(desk, e)),
                      .who = lz_rows_text(texts, lz_desk_person_initials(desk, e->who)),
                      .witness =
                          lz_rows_text(texts, lz_desk_person_initials(desk, lz_entry_witness(e))),
                      .reason = lz_rows_text(texts, lz_entry_reason(e)),
                      .corrected = corrected,
                      .voided = voided,
                      .corrects = e->corrects};
  char *title =
      *info.where ? g_strdup_printf("%s: %s", info.where, info.what) : g_strdup(info.what);
  lz_row_set(row, title, detail_of(&info), &info, sizeof info, texts);
}

// Whether anything came since the last time that the words of older entries depend on.
static gboolean
names_changed(LzDesk *desk)
{
  const GPtrArray *entries = desk->model->entries;
  gboolean changed = desk->ledger_decimal != lz_format_decimal();
  for (guint i = entries->len; i-- > 0 && !changed;) {
    const LzEntry *e = lz_model_kept(desk->model, i);
    if (lz_model_id_at(desk->model, i) <= desk->ledger_to)
      break;
    changed = e && e->spec->setup && (e->entity || e->corrects || e->kind == LZS_STATION);
  }
  desk->ledger_decimal = lz_format_decimal();
  desk->ledger_to = lz_model_last_id(desk->model);
  return changed;
}

static gboolean
still_says(LzDesk *desk, const LzEntryInfo *info, const LzEntry *e, gboolean corrected,
           gboolean voided)
{
  return info && info->corrected == corrected && info->voided == voided &&
         g_str_equal(info->who, lz_desk_person_initials(desk, e->who)) &&
         g_str_equal(info->witness, lz_desk_person_initials(desk, lz_entry_witness(e)));
}

void
lz_rows_ledger(LzDesk *desk)
{
  LzRowList *list = desk->lists[LZ_LIST_LEDGER];
  const GPtrArray *entries = desk->model->entries;
  gboolean all = names_changed(desk);
  lz_row_list_begin(list);
  for (guint i = 0; i < MIN(entries->len, LZ_LEDGER_ROWS); i++) {
    LzEntry *e = lz_model_at(desk->model, entries->len - 1 - i);
    if (!e)
      continue;
    gboolean corrected = FALSE, voided = FALSE;
    char key[24];
    g_snprintf(key, sizeof key, "%" G_GINT64_FORMAT, e->id);
    LzEntryRow *row = lz_row_list_row(list, key);
    lz_ledger_judge(desk->model, e, &corrected, &voided);
    if (all || !still_says(desk, lz_entry_row_info(row), e, corrected, voided))
      set_entry(desk, LZ_ROW(row), e, corrected, voided);
  }
  lz_row_list_end(list);
}
