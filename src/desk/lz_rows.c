// SPDX-License-Identifier: GPL-3.0-or-later
// The models that screens show, brought up to date together after every change. Rows of the ledger
// are made when they are first asked for: most programs never do.
#include "lz_rows_private.h"

#include "lz_place.h"

void
lz_rows_init(LzDesk *desk)
{
  const GType types[LZ_N_LISTS] = {
      [LZ_LIST_SYSTEMS] = LZ_TYPE_SYSTEM_ROW, [LZ_LIST_TANKS] = LZ_TYPE_TANK_ROW,
      [LZ_LIST_LOTS] = LZ_TYPE_LOT_ROW,       [LZ_LIST_TASKS] = LZ_TYPE_TASK_ROW,
      [LZ_LIST_DONE] = LZ_TYPE_DONE_ROW,      [LZ_LIST_LEDGER] = LZ_TYPE_ENTRY_ROW,
      [LZ_LIST_PEOPLE] = LZ_TYPE_PERSON_ROW,  [LZ_LIST_INSTRUMENTS] = LZ_TYPE_INSTRUMENT_ROW,
      [LZ_LIST_BOTTLES] = LZ_TYPE_BOTTLE_ROW, [LZ_LIST_PROTOCOLS] = LZ_TYPE_PROTOCOL_ROW,
      [LZ_LIST_MATTERS] = LZ_TYPE_MATTER_ROW, [LZ_LIST_CONTACTS] = LZ_TYPE_CONTACT_ROW};
  for (int i = 0; i < LZ_N_LISTS; i++)
    desk->lists[i] = lz_row_list_new(types[i]);
  desk->standing = g_array_new(FALSE, TRUE, sizeof(LzStanding));
}

void
lz_rows_free(LzDesk *desk)
{
  for (int i = 0; i < LZ_N_LISTS; i++)
    g_clear_object(&desk->lists[i]);
  g_clear_pointer(&desk->standing, g_array_unref);
  g_clear_pointer(&desk->lots_made, g_array_unref);
}

GPtrArray *
lz_rows_texts(void)
{
  return g_ptr_array_new_with_free_func(g_free);
}

const char *
lz_rows_text(GPtrArray *texts, const char *text)
{
  return lz_keep(texts, g_strdup(text ? text : ""));
}

char *
lz_rows_sentence(char *text)
{
  if (!*text)
    return text;
  char first[8] = "";
  g_unichar_to_utf8(g_unichar_toupper(g_utf8_get_char(text)), first);
  char *out = g_strconcat(first, g_utf8_next_char(text), NULL);
  g_free(text);
  return out;
}

static LzStanding
by_plan(const lzq_lot_credit *credit, lzq_minute now)
{
  LzStanding s = {.system = credit->system,
                  .tank = credit->tank,
                  .heads = credit->heads,
                  .released = credit->released,
                  .protocol = credit->has_course ? credit->protocol : LZQ_NONE,
                  .received_at = credit->received_at};
  s.living = credit->received_at <= now && !credit->released && !credit->merged && !credit->dead;
  return s;
}

static LzStanding
by_record(LzModel *model, uint32_t lot, lzq_minute now)
{
  LzPlace place = lz_place_of(model, lot, now);
  LzStanding s = {.system = place.system,
                  .tank = place.tank,
                  .heads = place.heads,
                  .released = place.released,
                  .protocol = place.protocol,
                  .received_at = place.received_at};
  s.living = place.received_at <= now && !place.released && !place.merged && place.heads > 0;
  return s;
}

// What is gone stands nowhere.
static void
find_standing(LzDesk *desk)
{
  uint32_t n = desk->model->lots->len;
  g_array_set_size(desk->standing, n);
  for (uint32_t i = 0; i < n; i++) {
    LzStanding *s = &g_array_index(desk->standing, LzStanding, i);
    *s = desk->plan ? by_plan(&desk->plan->credit->lots[i], desk->now)
                    : by_record(desk->model, i, desk->now);
    if (!s->living)
      s->system = s->tank = LZQ_NONE;
  }
}

void
lz_rows_update(LzDesk *desk)
{
  find_standing(desk);
  lz_rows_set_up(desk);
  lz_rows_systems(desk);
  lz_rows_tanks(desk);
  lz_rows_lots(desk);
  lz_rows_round(desk);
  lz_rows_matters(desk);
  lz_rows_contacts(desk);
  if (desk->ledger_wanted)
    lz_rows_ledger(desk);
}

GListModel *
lz_desk_ledger(LzDesk *desk)
{
  if (!desk->ledger_wanted) {
    desk->ledger_wanted = TRUE;
    lz_rows_ledger(desk);
  }
  return G_LIST_MODEL(desk->lists[LZ_LIST_LEDGER]);
}

#define LIST(name, which)                                                                          \
  GListModel *lz_desk_##name(LzDesk *desk)                                                         \
  {                                                                                                \
    return G_LIST_MODEL(desk->lists[which]);                                                       \
  }
LIST(systems, LZ_LIST_SYSTEMS)
LIST(tanks, LZ_LIST_TANKS)
LIST(lots, LZ_LIST_LOTS)
LIST(tasks, LZ_LIST_TASKS)
LIST(done, LZ_LIST_DONE)
LIST(people, LZ_LIST_PEOPLE)
LIST(instruments, LZ_LIST_INSTRUMENTS)
LIST(bottles, LZ_LIST_BOTTLES)
LIST(protocols, LZ_LIST_PROTOCOLS)
LIST(matters, LZ_LIST_MATTERS)
LIST(contacts, LZ_LIST_CONTACTS)

const LzSystemInfo *
lz_desk_system_info(LzDesk *desk, uint32_t system)
{
  GListModel *rows = lz_desk_systems(desk);
  for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzSystemRow) row = g_list_model_get_item(rows, i); // the model keeps it alive
    if (lz_system_row_info(row)->index == system)
      return lz_system_row_info(row);
  }
  return NULL;
}

const LzLotInfo *
lz_desk_lot_info(LzDesk *desk, uint32_t lot)
{
  GListModel *rows = lz_desk_lots(desk);
  for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzLotRow) row = g_list_model_get_item(rows, i);
    if (lz_lot_row_info(row)->index == lot)
      return lz_lot_row_info(row);
  }
  return NULL;
}
