// SPDX-License-Identifier: GPL-3.0-or-later
// The models that screens show, brought up to date together after every change.
#include "lz_rows_private.h"

void
lz_rows_init(LzDesk *desk)
{
  const GType types[LZ_N_LISTS] = {
      [LZ_LIST_SYSTEMS] = LZ_TYPE_SYSTEM_ROW, [LZ_LIST_TANKS] = LZ_TYPE_TANK_ROW,
      [LZ_LIST_LOTS] = LZ_TYPE_LOT_ROW,       [LZ_LIST_TASKS] = LZ_TYPE_TASK_ROW,
      [LZ_LIST_DONE] = LZ_TYPE_DONE_ROW,      [LZ_LIST_LEDGER] = LZ_TYPE_ENTRY_ROW,
      [LZ_LIST_PEOPLE] = LZ_TYPE_PERSON_ROW,  [LZ_LIST_INSTRUMENTS] = LZ_TYPE_INSTRUMENT_ROW,
      [LZ_LIST_BOTTLES] = LZ_TYPE_BOTTLE_ROW, [LZ_LIST_PROTOCOLS] = LZ_TYPE_PROTOCOL_ROW};
  for (int i = 0; i < LZ_N_LISTS; i++)
    desk->lists[i] = lz_row_list_new(types[i]);
}

void
lz_rows_update(LzDesk *desk)
{
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
LIST(ledger, LZ_LIST_LEDGER)
LIST(people, LZ_LIST_PEOPLE)
LIST(instruments, LZ_LIST_INSTRUMENTS)
LIST(bottles, LZ_LIST_BOTTLES)
LIST(protocols, LZ_LIST_PROTOCOLS)
