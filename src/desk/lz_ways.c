// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_ways.h.
#include "lz_ways.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_desk_private.h"

static void
way_free(gpointer data)
{
  LzWay *way = data;
  g_free(way->words);
  g_free(way->caution);
  g_free(way->refusal);
  g_ptr_array_unref(way->commands);
  lz_foresight_free(way->foresight);
  g_free(way);
}

static LzWay *
way_new(char *words)
{
  LzWay *way = g_new0(LzWay, 1);
  way->words = words;
  way->caution = g_strdup("");
  way->commands = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  way->release = LZQ_NEVER;
  way->days = way->fish_days = NAN;
  return way;
}

// Nobody acts, so nobody is asked who or why.
static LzCommand *
begin(LzDesk *desk, const char *kind, uint32_t lot)
{
  LzCommand *command = lz_command_build(kind, "lot", lz_desk_name(desk, "lot", lot), NULL);
  g_autoptr(GArray) people = lz_desk_entities(desk, "person");
  if (!lz_desk_actor(desk) && people->len) {
    g_autofree char *anybody =
        g_strdup_printf("#%" G_GINT64_FORMAT, g_array_index(people, int64_t, 0));
    lz_command_set_actor(command, anybody);
  }
  lz_command_set_reason(command, _("what if"));
  return command;
}

static lzq_minute
release_of(LzDesk *desk, const LzForesight *foresight, uint32_t lot)
{
  for (guint i = 0; i < foresight->lots->len; i++) {
    const LzShift *shift = foresight->lots->pdata[i];
    if (shift->index == lot)
      return shift->after;
  }
  return desk->plan && lot < desk->plan->credit->n_lots ? desk->plan->lots[lot].release_earliest
                                                        : LZQ_NEVER;
}

static void
price(LzDesk *desk, LzWay *way, const uint32_t *lots, guint n)
{
  g_autoptr(GError) error = NULL;
  way->foresight =
      lz_desk_foresee(desk, (LzCommand *const *)way->commands->pdata, way->commands->len, &error);
  if (!way->foresight)
    way->refusal = g_strdup(error->message);
  way->release = way->foresight && n ? LZQ_LONG_AGO : LZQ_NEVER;
  for (guint i = 0; i < n && way->foresight; i++)
    way->release = MAX(way->release, release_of(desk, way->foresight, lots[i]));
  if (way->foresight)
    way->fish_days = way->foresight->fish_days;
}

static int
soonest(gconstpointer a, gconstpointer b)
{
  const LzWay *x = *(const LzWay *const *)a, *y = *(const LzWay *const *)b;
  if (!x->foresight != !y->foresight)
    return x->foresight ? -1 : 1;
  return (x->release > y->release) - (x->release < y->release);
}

static int
cheapest(gconstpointer a, gconstpointer b)
{
  const LzWay *x = *(const LzWay *const *)a, *y = *(const LzWay *const *)b;
  double p = isnan(x->fish_days) ? INFINITY : x->fish_days;
  double q = isnan(y->fish_days) ? INFINITY : y->fish_days;
  return p != q ? (p > q ? 1 : -1) : soonest(a, b);
}

// Transfers from tank to clean tank: how many waters could take the fish.
static char *
clean_waters(LzDesk *desk, uint32_t protocol)
{
  const lzq_snapshot *s = lz_desk_snapshot(desk);
  const lzq_protocol *p = &s->protocols[protocol];
  gboolean transfers = FALSE;
  guint n = s->n_systems;
  for (uint32_t i = 0; i < p->n_phases; i++)
    transfers = transfers || s->phases[p->first_phase + i].kind == LZQ_PHASE_TRANSFER;
  guint clean = 0;
  for (uint32_t i = 0; desk->plan && i < n; i++)
    clean += !lz_plan_holds_fish(desk->plan, i);
  if (!transfers)
    return NULL;
  return g_strdup_printf(ngettext("needs two clean tank sets: %u water is without fish; "
                                  "not against velvet",
                                  "needs two clean tank sets: %u waters are without fish; "
                                  "not against velvet",
                                  clean),
                         clean);
}

static void
set_caution(LzDesk *desk, LzWay *way, int64_t id)
{
  LzEntry *entry = lz_desk_entity(desk, "protocol", id);
  const char *caution = entry ? lz_entry_text(entry, "caution") : NULL;
  g_autofree char *clean = clean_waters(desk, lz_desk_index(desk, "protocol", id));
  g_free(way->caution);
  way->caution = g_strdup_printf("%s%s%s", clean ? clean : "", clean && caution ? ". " : "",
                                 caution ? caution : "");
}

GPtrArray *
lz_ways_on(LzDesk *desk, const GArray *lots)
{
  GPtrArray *out = g_ptr_array_new_with_free_func(way_free);
  g_autoptr(GArray) all = lz_desk_entities(desk, "protocol");
  for (guint i = 0; i < all->len; i++) {
    int64_t id = g_array_index(all, int64_t, i);
    g_autofree char *name = g_strdup(lz_desk_name_of(desk, "protocol", id));
    g_autofree char *bare = g_strndup(name, (gsize)(strrchr(name, '/') - name));
    if (lz_desk_find(desk, "protocol", bare) != id)
      continue; // an older version
    LzWay *way = way_new(g_strdup(bare));
    for (guint k = 0; k < lots->len; k++) {
      LzCommand *command = begin(desk, "course", g_array_index(lots, uint32_t, k));
      lz_command_set(command, "protocol", name);
      g_ptr_array_add(way->commands, command);
    }
    set_caution(desk, way, id);
    price(desk, way, (const uint32_t *)(const void *)lots->data, lots->len);
    g_ptr_array_add(out, way);
  }
  g_ptr_array_sort(out, soonest);
  return out;
}

// A lot in a water that serves not all, and when it could go if it had that water alone.
typedef struct {
  uint32_t lot;
  int32_t heads;
  lzq_minute alone;
} Sharer;

static lzq_minute
release_alone(LzDesk *desk, const GArray *sharers, uint32_t lot)
{
  g_autoptr(GPtrArray) gone = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  for (guint i = 0; i < sharers->len; i++) {
    uint32_t other = g_array_index(sharers, Sharer, i).lot;
    if (other == lot)
      continue;
    LzCommand *command = begin(desk, "count", other);
    lz_command_set(command, "heads", "0");
    g_ptr_array_add(gone, command);
  }
  g_autoptr(LzForesight) f =
      lz_desk_foresee(desk, (LzCommand *const *)gone->pdata, gone->len, NULL);
  return f ? release_of(desk, f, lot) : LZQ_NEVER;
}

static GArray *
sharers_of(LzDesk *desk, uint32_t system)
{
  GArray *out = g_array_new(FALSE, FALSE, sizeof(Sharer));
  const lzq_credit *credit = desk->plan->credit;
  for (uint32_t i = 0; i < credit->n_lots; i++) {
    const lzq_lot_credit *lot = &credit->lots[i];
    if (lot->system == system && lot->heads > 0 && !lot->released && !lot->merged && !lot->dead) {
      Sharer sharer = {i, lot->heads, LZQ_NEVER};
      g_array_append_val(out, sharer);
    }
  }
  for (guint i = 0; i < out->len; i++) {
    Sharer *sharer = &g_array_index(out, Sharer, i);
    sharer->alone = release_alone(desk, out, sharer->lot);
  }
  return out;
}

static void
cost(LzDesk *desk, LzWay *way, const GArray *sharers)
{
  way->release = LZQ_LONG_AGO;
  way->days = way->fish_days = 0;
  for (guint i = 0; i < sharers->len; i++) {
    const Sharer *sharer = &g_array_index(sharers, Sharer, i);
    lzq_minute then = release_of(desk, way->foresight, sharer->lot);
    if (sharer->alone == LZQ_NEVER) // it would have no date in any case
      continue;
    double days = then == LZQ_NEVER ? NAN : (double)(then - sharer->alone) / LZQ_DAY;
    way->release = MAX(way->release, then);
    way->days = isnan(days) || isnan(way->days) ? NAN : MAX(way->days, days);
    way->fish_days += days * sharer->heads;
  }
  if (way->release == LZQ_LONG_AGO)
    way->release = LZQ_NEVER;
}

// Kept if a level serves that water afterwards.
static void
take_if_out(LzDesk *desk, GPtrArray *out, LzWay *way, LzCommand *command, const GArray *sharers,
            uint32_t system)
{
  gboolean solved = FALSE;
  g_ptr_array_add(way->commands, command);
  price(desk, way, NULL, 0);
  if (way->foresight)
    cost(desk, way, sharers);
  const char *water = lz_desk_name(desk, "system", system);
  if (way->foresight) {
    solved = TRUE;
    for (guint i = 0; i < way->foresight->unserved->len; i++)
      solved = solved && g_strcmp0(way->foresight->unserved->pdata[i], water) != 0;
  }
  if (solved)
    g_ptr_array_add(out, way);
  else
    way_free(way);
}

static void
moves(LzDesk *desk, GPtrArray *out, const GArray *sharers, uint32_t lot, uint32_t system)
{
  uint32_t last = LZQ_NONE;
  for (uint32_t i = 0; i < lz_desk_snapshot(desk)->n_tanks; i++) {
    const lzq_snapshot *s = lz_desk_snapshot(desk); // another one after each look ahead
    uint32_t to = s->tanks[i].system;
    if (to == system || to == last || s->systems[to].role != s->systems[system].role ||
        lz_plan_holds_fish(desk->plan, to))
      continue;
    last = to; // its first tank
    LzCommand *command = begin(desk, "move", lot);
    lz_command_set(command, "tank", lz_desk_name(desk, "tank", i));
    LzWay *way =
        way_new(g_strdup_printf(_("Lot %1$s moves to %2$s"), lz_desk_name(desk, "lot", lot),
                                lz_desk_name(desk, "system", to)));
    take_if_out(desk, out, way, command, sharers, system);
  }
}

static void
changes(LzDesk *desk, GPtrArray *out, const GArray *sharers, uint32_t lot, uint32_t other,
        uint32_t system)
{
  const lzq_lot_credit *lots = desk->plan->credit->lots;
  if (lots[other].has_course && lots[other].protocol != lots[lot].protocol) {
    const char *protocol = lz_desk_name(desk, "protocol", lots[other].protocol);
    LzCommand *command = begin(desk, "course", lot);
    lz_command_set(command, "protocol", protocol);
    g_autofree char *bare = g_strndup(protocol, (gsize)(strrchr(protocol, '/') - protocol));
    take_if_out(
        desk, out,
        way_new(g_strdup_printf(_("Lot %1$s begins %2$s"), lz_desk_name(desk, "lot", lot), bare)),
        command, sharers, system);
  }
  if (lots[lot].has_course)
    take_if_out(
        desk, out,
        way_new(g_strdup_printf(_("Lot %s stops its protocol"), lz_desk_name(desk, "lot", lot))),
        begin(desk, "stop", lot), sharers, system);
}

GPtrArray *
lz_ways_out(LzDesk *desk, uint32_t system)
{
  GPtrArray *out = g_ptr_array_new_with_free_func(way_free);
  if (!desk->plan || system >= lz_desk_snapshot(desk)->n_systems)
    return out;
  uint32_t a = desk->plan->waters[system].conflict_a, b = desk->plan->waters[system].conflict_b;
  if (a == LZQ_NONE || b == LZQ_NONE)
    return out;
  g_autoptr(GArray) sharers = sharers_of(desk, system);
  moves(desk, out, sharers, a, system);
  moves(desk, out, sharers, b, system);
  changes(desk, out, sharers, a, b, system);
  changes(desk, out, sharers, b, a, system);
  g_ptr_array_sort(out, cheapest);
  return out;
}
