// SPDX-License-Identifier: GPL-3.0-or-later
// Finding entries: cheap tests on values first, words only for what is left.
#include "lz_ledger.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "lz_entry_private.h"
#include "lz_error.h"
#include "lz_format.h"
#include "lz_rows_private.h"
#include "lz_words.h"

typedef struct {
  const LzLedgerFilter *filter;
  int64_t only;              // this entry and its corrections, 0 = all
  int64_t system, tank, lot; // ledger ids that `about` names, 0 = none
  char **words;              // folded
} Search;

void
lz_ledger_line_free(LzLedgerLine *line)
{
  char *const texts[] = {line->when,    line->where,    line->what,  line->who,
                         line->witness, line->recorded, line->reason};
  for (guint i = 0; i < G_N_ELEMENTS(texts); i++)
    g_free(texts[i]);
  g_free(line);
}

static gboolean
set_about(LzDesk *desk, Search *search, GError **error)
{
  const char *about = search->filter->about;
  if (!about || !*about)
    return TRUE;
  search->system = lz_desk_find(desk, "system", about);
  search->tank = lz_desk_find(desk, "tank", about);
  search->lot = lz_desk_find(desk, "lot", about);
  if (search->system || search->tank || search->lot)
    return TRUE;
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
              _("The station has no system, tank or lot “%s”."), about);
  return FALSE;
}

static gboolean
names(const LzEntry *entry, const char *field, int64_t id)
{
  return id && lz_entry_has(entry, field) && lz_entry_int(entry, field) == id;
}

// A tank belongs to its system, and a lot's receipt is about the lot.
static gboolean
is_about(LzDesk *desk, const Search *search, const LzEntry *entry)
{
  int64_t itself = entry->entity              ? entry->entity
                   : lz_entry_corrects(entry) ? entry->corrects
                                              : entry->id;
  if (!search->system && !search->tank && !search->lot)
    return TRUE;
  if (itself == search->system || itself == search->tank || itself == search->lot)
    return TRUE;
  if (names(entry, "system", search->system) || names(entry, "tank", search->tank) ||
      names(entry, "lot", search->lot) || names(entry, "into", search->lot))
    return TRUE;
  LzEntry *tank = lz_entry_has(entry, "tank")
                      ? lz_desk_entity(desk, "tank", lz_entry_int(entry, "tank"))
                      : NULL;
  return tank && names(tank, "system", search->system);
}

static gboolean
values_fit(LzDesk *desk, const Search *search, const LzEntry *entry)
{
  const LzLedgerFilter *f = search->filter;
  if (search->only && entry->id != search->only && entry->corrects != search->only)
    return FALSE;
  if (f->kind && *f->kind && strcmp(f->kind, entry->spec->name) != 0)
    return FALSE;
  if (f->person && entry->who != f->person && lz_entry_witness(entry) != f->person)
    return FALSE;
  if (entry->at < f->from && f->from)
    return FALSE;
  if (f->until && entry->at >= f->until)
    return FALSE;
  return is_about(desk, search, entry);
}

static LzLedgerLine *
line_of(LzDesk *desk, LzEntry *entry)
{
  LzZone *zone = lz_desk_zone(desk);
  LzLedgerLine *line = g_new0(LzLedgerLine, 1);
  lzq_minute recorded = entry->recorded_ms / 60000;
  *line =
      (LzLedgerLine){.id = entry->id,
                     .first = entry->corrects ? entry->corrects : entry->id,
                     .at = entry->at,
                     .when = lz_format_stamp(zone, entry->at),
                     .where = lz_words_entry_where(desk, entry),
                     .what = lz_ledger_what(desk, entry),
                     .who = g_strdup(lz_desk_person_initials(desk, entry->who)),
                     .witness = g_strdup(lz_desk_person_initials(desk, lz_entry_witness(entry))),
                     .recorded = lz_format_stamp(zone, recorded),
                     .reason = g_strdup(lz_entry_reason(entry) ? lz_entry_reason(entry) : ""),
                     .late_min = MAX(0, recorded - entry->at)};
  lz_ledger_judge(desk->model, entry, &line->corrected, &line->voided);
  return line;
}

static gboolean
words_fit(const Search *search, const LzLedgerLine *line)
{
  if (!search->words || !search->words[0])
    return TRUE;
  g_autofree char *all = g_strjoin(" ", line->when, line->where, line->what, line->who,
                                   line->witness, line->reason, NULL);
  g_autofree char *folded = g_utf8_casefold(all, -1);
  for (guint i = 0; search->words[i]; i++)
    if (*search->words[i] && !strstr(folded, search->words[i]))
      return FALSE;
  return TRUE;
}

GPtrArray *
lz_ledger_find(LzDesk *desk, const LzLedgerFilter *filter, guint most, guint *n, GError **error)
{
  Search search = {.filter = filter};
  g_autoptr(GPtrArray) lines = g_ptr_array_new_with_free_func((GDestroyNotify)lz_ledger_line_free);
  g_autofree char *folded = g_utf8_casefold(filter->words ? filter->words : "", -1);
  g_auto(GStrv) words = g_strsplit(folded, " ", -1);
  const GPtrArray *entries = desk->model->entries;
  guint fitting = 0;
  if (*folded == '#')
    search.only = g_ascii_strtoll(folded + 1, NULL, 10);
  else if (*folded)
    search.words = words;
  if (!set_about(desk, &search, error))
    return NULL;
  for (guint i = entries->len; i-- > 0;) {
    LzEntry *entry = lz_model_at(desk->model, i);
    if (!entry || !values_fit(desk, &search, entry))
      continue;
    if (lines->len >= most && !search.words) {
      fitting++; // counted without being put into words
      continue;
    }
    LzLedgerLine *line = line_of(desk, entry);
    gboolean fits = words_fit(&search, line);
    fitting += (guint)fits;
    if (fits && lines->len < most)
      g_ptr_array_add(lines, line);
    else
      lz_ledger_line_free(line);
  }
  if (!lz_desk_readable(desk, error))
    return NULL;
  if (n)
    *n = fitting;
  return g_steal_pointer(&lines);
}
