// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of the round: what is to be done, late and blocked first, then along the walk; and what was
// done in this shift.
//
// A task lives as long as the plan asks for the same thing of the same water or lot at the same
// slot. One that is due "as soon as it can be" has no slot: it is told apart by its turn.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "lz_format.h"
#include "lz_rows_private.h"
#include "lz_words.h"

#define SHIFT_MIN (12 * 60) // no shift is longer: common practice, no source

static int64_t
id_of(LzDesk *desk, lzs_kind kind, uint32_t index)
{
  const LzEntity *entity = index == LZQ_NONE ? NULL : lz_model_entity_at(desk->model, kind, index);
  return entity ? entity->id : 0;
}

static gboolean
is_slot(const LzModel *m, lzq_minute at)
{
  guint low = 0, high = m->slots->len;
  while (low < high) {
    guint middle = low + (high - low) / 2;
    lzq_minute slot = g_array_index(m->slots, lzq_slot, middle).at;
    if (slot == at)
      return TRUE;
    if (slot < at)
      low = middle + 1;
    else
      high = middle;
  }
  return FALSE;
}

// `turns` counts keys given so far.
static char *
key_of(LzDesk *desk, const lzq_task *t, GHashTable *turns)
{
  lzq_minute at = is_slot(desk->model, t->at) ? t->at : 0;
  g_autofree char *key = g_strdup_printf(
      "%d s%" G_GINT64_FORMAT " t%" G_GINT64_FORMAT " l%" G_GINT64_FORMAT " to%" G_GINT64_FORMAT
      " a%u g%u i%" G_GINT64_FORMAT " @%" G_GINT64_FORMAT,
      (int)t->kind, id_of(desk, LZS_SYSTEM, t->system), id_of(desk, LZS_TANK, t->tank),
      id_of(desk, LZS_LOT, t->lot), id_of(desk, LZS_SYSTEM, t->to_system), (unsigned)t->analyte,
      t->gear == LZQ_NONE ? 0 : t->gear + 1, id_of(desk, LZS_INSTRUMENT, t->instrument), at);
  guint turn = GPOINTER_TO_UINT(g_hash_table_lookup(turns, key));
  char *full = turn ? g_strdup_printf("%s #%u", key, turn) : g_strdup(key);
  g_hash_table_replace(turns, g_steal_pointer(&key), GUINT_TO_POINTER(turn + 1));
  return full;
}

// Kind of entry that does it.
static const char *
kind_of(lzq_task_kind kind)
{
  static const char *const kinds[LZQ_N_TASK_KINDS] = {
      [LZQ_TASK_TEST] = "reading", [LZQ_TASK_DOSE] = "dose",       [LZQ_TASK_CHANGE] = "change",
      [LZQ_TASK_SALT] = "dose",    [LZQ_TASK_TOPUP] = "topup",     [LZQ_TASK_MOVE] = "move",
      [LZQ_TASK_FEED] = "feed",    [LZQ_TASK_INSPECT] = "feed",    [LZQ_TASK_SCRAPE] = "scrape",
      [LZQ_TASK_GEAR] = "gear",    [LZQ_TASK_CALIBRATE] = "check", [LZQ_TASK_DISINFECT] = "state",
      [LZQ_TASK_FILL] = "state",   [LZQ_TASK_BATH] = "bath",       [LZQ_TASK_ACCEPT] = "accept",
      [LZQ_TASK_SIGN] = "sign",    [LZQ_TASK_RELEASE] = "release", [LZQ_TASK_DECIDE] = "course",
  };
  return kind < LZQ_N_TASK_KINDS && kinds[kind] ? kinds[kind] : "";
}

static char *
task_detail(const LzTaskInfo *info)
{
  GString *out = g_string_new(info->when);
  if (*info->amount)
    g_string_append_printf(out, ", %s", info->amount);
  if (info->task->state != LZQ_TASK_DUE)
    g_string_append_printf(out, ", %s", lz_words_task_state(info->task->state));
  if (*info->why)
    g_string_append_printf(out, ": %s", info->why);
  return lz_rows_sentence(g_string_free(out, FALSE));
}

// Lots of one water that ask the same of one visit: looked at, or fed and watched.
static gboolean
joins(const lzq_task *t)
{
  return t->system != LZQ_NONE && t->lot != LZQ_NONE && t->unit == LZQ_UNIT_NONE &&
         (t->kind == LZQ_TASK_INSPECT || t->kind == LZQ_TASK_FEED);
}

static char *
visit_of(const lzq_task *t)
{
  return g_strdup_printf("%d %u %" G_GINT64_FORMAT " %d %d %g %g", (int)t->kind, t->system, t->at,
                         (int)t->state, (int)t->because.code, t->because.n[0], t->because.n[1]);
}

// Visit -> GArray of its lots, in the order of the plan.
static GHashTable *
visits_of(const lzq_plan *plan)
{
  GHashTable *visits =
      g_hash_table_new_full(g_str_hash, g_str_equal, g_free, (GDestroyNotify)g_array_unref);
  for (uint32_t i = 0; plan && i < plan->n_tasks; i++) {
    if (!joins(&plan->tasks[i]))
      continue;
    char *visit = visit_of(&plan->tasks[i]);
    GArray *lots = g_hash_table_lookup(visits, visit);
    if (!lots)
      g_hash_table_insert(visits, visit, lots = g_array_new(FALSE, FALSE, sizeof(uint32_t)));
    else
      g_free(visit);
    g_array_append_val(lots, plan->tasks[i].lot);
  }
  return visits;
}

// The lots of its visit, given out once, by the first of them; NULL = told already.
static GArray *
take_lots(GHashTable *visits, const lzq_task *task)
{
  g_autofree char *visit = visit_of(task);
  GArray *lots = g_hash_table_lookup(visits, visit);
  if (lots)
    g_array_ref(lots);
  g_hash_table_remove(visits, visit);
  return lots;
}

static void
add_task(LzDesk *desk, const lzq_task *task, const lzq_task *before, GHashTable *turns,
         const GArray *lots)
{
  LzRowList *list = desk->lists[LZ_LIST_TASKS];
  GPtrArray *texts = lz_rows_texts();
  lzq_task *own = g_memdup2(task, sizeof *task);
  uint32_t *own_lots = NULL;
  g_ptr_array_add(texts, own);
  if (lots && lots->len > 1) {
    own->lot = own->tank = LZQ_NONE;
    own_lots = g_memdup2(lots->data, lots->len * sizeof *own_lots);
    g_ptr_array_add(texts, own_lots);
  }
  g_autofree char *key = key_of(desk, own, turns);
  LzTaskInfo info = {
      .task = own,
      .where = lz_keep(texts, lz_words_task_where(desk, own)),
      .what = lz_keep(texts, own_lots ? lz_words_task_lots(desk, own, own_lots, lots->len)
                                      : lz_words_task(desk, own)),
      .lots = own_lots,
      .n_lots = own_lots ? lots->len : 0,
      .amount = lz_keep(texts, lz_words_task_amount(desk, task)),
      .when = lz_keep(texts, lz_format_when(lz_desk_zone(desk), task->at, desk->now)),
      .why = lz_keep(texts, lz_words_because(desk, &task->because)),
      .kind = kind_of(task->kind),
      .same_water = before && task->system != LZQ_NONE && before->system == task->system};
  char *title =
      *info.where ? g_strdup_printf("%s: %s", info.where, info.what) : g_strdup(info.what);
  lz_row_set(lz_row_list_row(list, key), title, task_detail(&info), &info, sizeof info, texts);
}

static void
fill_tasks(LzDesk *desk)
{
  g_autoptr(GHashTable) turns = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr(GHashTable) visits = visits_of(desk->plan);
  const lzq_task *before = NULL;
  lz_row_list_begin(desk->lists[LZ_LIST_TASKS]);
  for (int pass = 0; pass < 2; pass++)
    for (uint32_t i = 0; desk->plan && i < desk->plan->n_tasks; i++) {
      const lzq_task *task = &desk->plan->tasks[i];
      gboolean first = task->state == LZQ_TASK_LATE || task->state == LZQ_TASK_BLOCKED;
      if (first != (pass == 0))
        continue;
      g_autoptr(GArray) lots = joins(task) ? take_lots(visits, task) : NULL;
      if (joins(task) && !lots)
        continue;
      add_task(desk, task, before, turns, lots);
      before = task;
    }
  lz_row_list_end(desk->lists[LZ_LIST_TASKS]);
}

// --- done

static void
take_later(gpointer handed, LzEntry *e)
{
  *(lzq_minute *)handed = MAX(*(lzq_minute *)handed, e->at);
}

lzq_minute
lz_rows_shift_start(LzDesk *desk)
{
  LzModel *m = desk->model;
  lzq_minute start = desk->now - SHIFT_MIN, handed = LZQ_LONG_AGO;
  lz_model_facts(m, LZS_HANDOVER, start, desk->now + 1, take_later, &handed);
  if (handed >= start)
    return handed;
  for (guint i = 0; i < m->slots->len; i++) {
    lzq_minute slot = g_array_index(m->slots, lzq_slot, i).at;
    if (slot <= desk->now)
      start = MAX(start, slot);
  }
  return start;
}

// Work, not set-up; a lot's first entry is its receipt.
static gboolean
is_work(const LzEntry *e)
{
  if (e->kind == LZS_LOT)
    return e->entity == 0;
  return !e->spec->setup && e->kind != LZS_PRACTICE && e->kind != LZS_HANDOVER;
}

static void
add_done(LzDesk *desk, LzEntry *e)
{
  GPtrArray *texts = lz_rows_texts();
  int64_t id = e->corrects ? e->corrects : e->id;
  g_autofree char *words = lz_words_entry(desk, e);
  const char *kind = lz_words_kind(e->spec->name);
  // a reading and a check say for themselves what they are
  gboolean whole = e->kind == LZS_READING || e->kind == LZS_CHECK;
  char *what =
      whole || !*words ? g_strdup(*words ? words : kind) : g_strdup_printf("%s: %s", kind, words);
  LzDoneInfo info = {.id = id,
                     .at = e->at,
                     .where = lz_keep(texts, lz_words_entry_where(desk, e)),
                     .what = lz_keep(texts, what),
                     .who = lz_rows_text(texts, lz_desk_person_initials(desk, e->who)),
                     .when = lz_keep(texts, lz_format_clock(lz_desk_zone(desk), e->at))};
  char key[24];
  g_snprintf(key, sizeof key, "%" G_GINT64_FORMAT, id);
  char *title = *info.where ? g_strdup_printf("%s: %s", info.where, what) : g_strdup(what);
  char *detail = *info.who ? g_strdup_printf(_("At %1$s, by %2$s"), info.when, info.who)
                           : g_strdup_printf(_("At %s"), info.when);
  lz_row_set(lz_row_list_row(desk->lists[LZ_LIST_DONE], key), title, detail, &info, sizeof info,
             texts);
}

static void
fill_done(LzDesk *desk)
{
  g_autoptr(GPtrArray) facts = lz_desk_facts(desk, NULL, lz_rows_shift_start(desk), desk->now + 1);
  lz_row_list_begin(desk->lists[LZ_LIST_DONE]);
  for (guint i = facts->len; i-- > 0;)
    if (is_work(facts->pdata[i]))
      add_done(desk, facts->pdata[i]);
  lz_row_list_end(desk->lists[LZ_LIST_DONE]);
}

void
lz_rows_round(LzDesk *desk)
{
  fill_tasks(desk);
  fill_done(desk);
}
