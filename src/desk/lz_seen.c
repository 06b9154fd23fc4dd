// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_seen.h.
#include "lz_seen.h"

#include "lz_desk_private.h"

void
lz_seen_free(LzSeen *seen)
{
  if (!seen)
    return;
  g_array_unref(seen->lots);
  g_array_unref(seen->undecided);
  g_free(seen);
}

// The newest one that holds, within the station's look-back.
static const lzq_record *
newest(LzDesk *desk, uint32_t system, lzq_minute at)
{
  const LzModel *m = desk->model;
  const lzq_record *found = NULL;
  lzq_minute since = lzq_contact_since(&m->rules, at);
  for (guint k = m->sightings->len; k-- > 0;) {
    const uint32_t i = g_array_index(m->sightings, uint32_t, k);
    const lzq_record *r = &g_array_index(m->records, lzq_record, i);
    if (r->system == system && r->at >= since && r->at <= at && (!found || r->at > found->at) &&
        lz_model_record_holds(m, i))
      found = r;
  }
  return found;
}

static gboolean
has(const GArray *lots, uint32_t lot)
{
  for (guint i = 0; i < lots->len; i++)
    if (g_array_index(lots, uint32_t, i) == lot)
      return TRUE;
  return FALSE;
}

static void
drop(GArray *lots, uint32_t lot)
{
  for (guint i = lots->len; i-- > 0;)
    if (g_array_index(lots, uint32_t, i) == lot)
      g_array_remove_index(lots, i);
}

// What was entered since, holds and was done by then, from the newest entry back.
static void
read_answers(LzDesk *desk, LzSeen *seen, lzq_minute at)
{
  const LzModel *m = desk->model;
  for (guint i = m->entries->len; i-- > 0;) {
    LzEntry *first = lz_model_kept(m, i);
    if (lz_model_id_at(m, i) <= seen->entry)
      break;
    if (!first)
      continue;
    gboolean scrape = first->kind == LZS_SCRAPE;
    if (first->corrects || (!scrape && first->kind != LZS_COURSE && first->kind != LZS_STOP))
      continue;
    const LzEntry *e = lz_model_in_force(m, first);
    uint32_t lot = e ? lz_model_index(m, LZS_LOT, lz_entry_int(e, "lot")) : LZQ_NONE;
    if (!e || e->at < seen->at || e->at > at)
      continue;
    seen->scraped = seen->scraped || (scrape && has(seen->lots, lot));
    if (!scrape || g_strcmp0(lz_entry_text(e, "finding"), "nothing") == 0)
      drop(seen->undecided, lot);
  }
}

gboolean
lz_seen_any(LzDesk *desk, uint32_t system, lzq_minute at)
{
  return newest(desk, system, at) != NULL;
}

LzSeen *
lz_seen_open(LzDesk *desk, uint32_t system)
{
  return lz_seen_open_at(desk, system, desk->now, desk->plan ? desk->plan->credit : NULL);
}

LzSeen *
lz_seen_open_at(LzDesk *desk, uint32_t system, lzq_minute at, const lzq_credit *credit)
{
  const lzq_record *sighting = newest(desk, system, at);
  if (!sighting || !credit)
    return NULL;
  g_autoptr(LzSeen) seen = g_new0(LzSeen, 1);
  seen->entry = (int64_t)(sighting->id / LZ_RECORDS_PER_ENTRY);
  seen->system = system;
  seen->at = sighting->at;
  seen->lots = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  seen->undecided = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  for (uint32_t i = 0; i < credit->n_lots; i++) {
    const lzq_lot_credit *lot = &credit->lots[i];
    gboolean lives = lot->heads > 0 && !lot->released && !lot->merged && !lot->dead;
    gboolean here = lives && lot->system == system;
    if (lot->last_sighting == seen->at || here)
      g_array_append_val(seen->lots, i);
    if (here)
      g_array_append_val(seen->undecided, i);
  }
  read_answers(desk, seen, at);
  return seen->undecided->len ? g_steal_pointer(&seen) : NULL;
}
