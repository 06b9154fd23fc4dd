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

struct LzLedgerSearch {
  LzDesk *desk;
  char *kind; // NULL = all
  int64_t person;
  lzq_minute from, until;
  int64_t only;              // this entry and its corrections, 0 = all
  int64_t system, tank, lot; // ledger ids that `about` names, 0 = none
  char **words;              // folded; NULL = any
  guint most;
  guint all, left; // entries at the beginning, and those that were not yet looked at
  guint fitting;
  GPtrArray *lines;
  LzModelWalk walk;
};

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
set_about(LzLedgerSearch *search, const char *about, GError **error)
{
  LzDesk *desk = search->desk;
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
is_about(const LzLedgerSearch *search, const LzEntry *entry)
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
                      ? lz_desk_entity(search->desk, "tank", lz_entry_int(entry, "tank"))
                      : NULL;
  return tank && names(tank, "system", search->system);
}

static gboolean
values_fit(const LzLedgerSearch *f, const LzEntry *entry)
{
  if (f->only && entry->id != f->only && entry->corrects != f->only)
    return FALSE;
  if (f->kind && strcmp(f->kind, entry->spec->name) != 0)
    return FALSE;
  if (f->person && entry->who != f->person && lz_entry_witness(entry) != f->person)
    return FALSE;
  if (entry->at < f->from && f->from)
    return FALSE;
  if (f->until && entry->at >= f->until)
    return FALSE;
  return is_about(f, entry);
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
words_fit(const LzLedgerSearch *search, const LzLedgerLine *line)
{
  if (!search->words)
    return TRUE;
  g_autofree char *all = g_strjoin(" ", line->when, line->where, line->what, line->who,
                                   line->witness, line->reason, NULL);
  g_autofree char *folded = g_utf8_casefold(all, -1);
  for (guint i = 0; search->words[i]; i++)
    if (*search->words[i] && !strstr(folded, search->words[i]))
      return FALSE;
  return TRUE;
}

static gboolean
asks_nothing(const LzLedgerSearch *s)
{
  return !s->kind && !s->person && !s->from && !s->until && !s->only && !s->system && !s->tank &&
         !s->lot && !s->words;
}

LzLedgerSearch *
lz_ledger_search_new(LzDesk *desk, const LzLedgerFilter *filter, guint most, GError **error)
{
  LzLedgerSearch *s = g_new0(LzLedgerSearch, 1);
  g_autofree char *folded = g_utf8_casefold(filter->words ? filter->words : "", -1);
  s->desk = g_object_ref(desk);
  s->kind = filter->kind && *filter->kind ? g_strdup(filter->kind) : NULL;
  s->person = filter->person;
  s->from = filter->from;
  s->until = filter->until;
  s->most = most;
  s->all = s->left = desk->model->entries->len;
  s->lines = g_ptr_array_new_with_free_func((GDestroyNotify)lz_ledger_line_free);
  if (*folded == '#')
    s->only = g_ascii_strtoll(folded + 1, NULL, 10);
  else if (*folded)
    s->words = g_strsplit(folded, " ", -1);
  if (set_about(s, filter->about, error))
    return s;
  lz_ledger_search_free(s);
  return NULL;
}

void
lz_ledger_search_free(LzLedgerSearch *search)
{
  lz_model_walk_clear(&search->walk);
  g_ptr_array_unref(search->lines);
  g_strfreev(search->words);
  g_free(search->kind);
  g_object_unref(search->desk);
  g_free(search);
}

// One entry alone is looked at where it stands; its corrections are never left in the file.
static LzEntry *
entry_at(LzLedgerSearch *s, guint place)
{
  const LzModel *m = s->desk->model;
  return s->only && lz_model_id_at(m, place) != s->only ? lz_model_kept(m, place)
                                                        : lz_model_walk(&s->walk, m, place);
}

static void
take(LzLedgerSearch *s, LzEntry *entry)
{
  if (!entry || !values_fit(s, entry))
    return;
  if (s->lines->len >= s->most && !s->words) {
    s->fitting++; // counted without being put into words
    return;
  }
  LzLedgerLine *line = line_of(s->desk, entry);
  gboolean fits = words_fit(s, line);
  s->fitting += (guint)fits;
  if (fits && s->lines->len < s->most)
    g_ptr_array_add(s->lines, line);
  else
    lz_ledger_line_free(line);
}

gboolean
lz_ledger_search_go(LzLedgerSearch *s, gint64 until_us)
{
  const guint now = s->desk->model->entries->len;
  s->left = MIN(s->left, now);
  for (guint turns = 1; s->left > 0; turns++) {
    if (s->lines->len >= s->most && asks_nothing(s)) {
      s->fitting += s->left; // all of them
      s->left = 0;
      break;
    }
    take(s, entry_at(s, --s->left));
    if (until_us && turns % 64 == 0 && g_get_monotonic_time() >= until_us)
      break;
  }
  return s->left > 0;
}

const GPtrArray *
lz_ledger_search_lines(const LzLedgerSearch *search)
{
  return search->lines;
}

guint
lz_ledger_search_fitting(const LzLedgerSearch *search)
{
  return search->fitting;
}

double
lz_ledger_search_share(const LzLedgerSearch *search)
{
  return search->all ? 1 - (double)search->left / search->all : 1;
}
