// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_retention.h. One pass over the ledger as it was written, corrections and all.
#include "lz_retention.h"

#include "lz_entry_private.h"
#include "lz_rows.h"
#include "lz_rows_private.h"

#define YEARS 5

int
lz_retention_years(LzDesk *desk)
{
  g_autoptr(GArray) ids = lz_desk_entities(desk, "station");
  LzEntry *station =
      ids->len ? lz_desk_entity(desk, "station", g_array_index(ids, int64_t, 0)) : NULL;
  return station && lz_entry_has(station, "retention_years")
             ? (int)lz_entry_int(station, "retention_years")
             : YEARS;
}

lzq_minute
lz_retention_limit(LzDesk *desk)
{
  LzZone *zone = lz_desk_zone(desk);
  LzLocal now = lz_zone_local(zone, desk->now);
  int year = now.year - lz_retention_years(desk), month = now.month, day = now.day;
  if (!g_date_valid_dmy((GDateDay)day, (GDateMonth)month, (GDateYear)year)) {
    day = 1;
    month = 3;
  }
  GDate date, epoch;
  g_date_clear(&date, 1);
  g_date_clear(&epoch, 1);
  g_date_set_dmy(&date, (GDateDay)day, (GDateMonth)month, (GDateYear)year);
  g_date_set_dmy(&epoch, 1, G_DATE_JANUARY, 1970);
  return lz_zone_day_start(zone, g_date_days_between(&epoch, &date));
}

typedef struct {
  lzq_minute last;
  guint entries;
} Sum;

// id 0: the entry does not name one.
static void
count(GHashTable *sums, int64_t id, lzq_minute at)
{
  if (!id)
    return;
  Sum *sum = g_hash_table_lookup(sums, &id);
  if (!sum) {
    sum = g_new0(Sum, 1);
    sum->last = at;
    g_hash_table_insert(sums, g_memdup2(&id, sizeof id), sum);
  }
  sum->last = MAX(sum->last, at);
  sum->entries++;
}

static int64_t
named(const LzEntry *entry, const char *field)
{
  return lz_entry_has(entry, field) ? lz_entry_int(entry, field) : 0;
}

static void
count_entry(GHashTable *lots, GHashTable *people, const LzEntry *entry, lzq_minute at)
{
  int64_t itself = entry->entity ? entry->entity : entry->corrects ? entry->corrects : entry->id;
  if (entry->kind == LZS_LOT || entry->kind == LZS_SPLIT)
    count(lots, itself, at);
  count(lots, named(entry, "lot"), at);
  count(lots, named(entry, "into"), at);
  count(people, entry->who, at);
  if (lz_entry_witness(entry) != entry->who)
    count(people, lz_entry_witness(entry), at);
}

static void
add_lots(LzDesk *desk, GHashTable *sums, lzq_minute limit, GArray *out)
{
  for (uint32_t lot = 0; lot < desk->model->lots->len; lot++) {
    const LzStanding *standing = lz_rows_standing(desk, lot);
    int64_t id = lz_desk_id(desk, "lot", lot);
    const Sum *sum = g_hash_table_lookup(sums, &id);
    if (!sum || sum->last >= limit || (standing->living && !standing->released))
      continue;
    LzPast past = {LZ_PAST_LOT, id, lz_desk_name(desk, "lot", lot), sum->last, sum->entries};
    g_array_append_val(out, past);
  }
}

static void
add_people(LzDesk *desk, GHashTable *sums, lzq_minute limit, GArray *out)
{
  GListModel *people = lz_desk_people(desk);
  for (guint i = 0; i < g_list_model_get_n_items(people); i++) {
    g_autoptr(LzPersonRow) row = g_list_model_get_item(people, i);
    const LzPersonInfo *info = lz_person_row_info(row);
    const Sum *sum = g_hash_table_lookup(sums, &info->id);
    LzEntry *person = lz_desk_entity(desk, "person", info->id);
    lzq_minute last = sum ? sum->last : person ? person->at : LZQ_NEVER;
    if (info->active || !*info->name || last >= limit)
      continue;
    LzPast past = {LZ_PAST_PERSON, info->id, lz_desk_person_initials(desk, info->id), last,
                   sum ? sum->entries : 0};
    g_array_append_val(out, past);
  }
}

static int
by_age(gconstpointer a, gconstpointer b)
{
  const LzPast *one = a, *other = b;
  if (one->kind != other->kind)
    return one->kind < other->kind ? -1 : 1;
  return one->last < other->last ? -1 : one->last > other->last;
}

struct LzRetention {
  LzDesk *desk;
  lzq_minute limit;
  GHashTable *lots, *people; // Sum of each id
  guint next, entries;       // entries: how many are from before the limit
  LzModelWalk walk;
};

LzRetention *
lz_retention_new(LzDesk *desk)
{
  LzRetention *work = g_new0(LzRetention, 1);
  work->desk = g_object_ref(desk);
  work->limit = lz_retention_limit(desk);
  work->lots = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, g_free);
  work->people = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, g_free);
  return work;
}

void
lz_retention_free(LzRetention *work)
{
  lz_model_walk_clear(&work->walk);
  g_hash_table_unref(work->lots);
  g_hash_table_unref(work->people);
  g_object_unref(work->desk);
  g_free(work);
}

gboolean
lz_retention_go(LzRetention *work, gint64 until_us)
{
  const LzModel *m = work->desk->model;
  for (guint turns = 1; work->next < m->entries->len; turns++) {
    const LzEntry *entry = lz_model_walk(&work->walk, m, work->next++);
    lzq_minute at = entry ? MAX(entry->at, entry->recorded_ms / 60000) : 0;
    if (entry) {
      work->entries += at < work->limit;
      count_entry(work->lots, work->people, entry, at);
    }
    if (until_us && turns % 64 == 0 && g_get_monotonic_time() >= until_us)
      break;
  }
  return work->next < m->entries->len;
}

double
lz_retention_share(const LzRetention *work)
{
  const guint all = work->desk->model->entries->len;
  return all ? (double)work->next / all : 1;
}

GArray *
lz_retention_end(LzRetention *work, guint *entries)
{
  GArray *out = g_array_new(FALSE, FALSE, sizeof(LzPast));
  add_lots(work->desk, work->lots, work->limit, out);
  add_people(work->desk, work->people, work->limit, out);
  g_array_sort(out, by_age);
  *entries = work->entries;
  return out;
}

GArray *
lz_retention_past(LzDesk *desk, guint *entries)
{
  g_autoptr(LzRetention) work = lz_retention_new(desk);
  lz_retention_go(work, 0);
  return lz_retention_end(work, entries);
}
