// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: filling the models from snapshot, plan and ledger.
#ifndef LZ_ROWS_PRIVATE_H
#define LZ_ROWS_PRIVATE_H

#include "lz_desk_private.h"

void lz_rows_init(LzDesk *desk);   // empty lists
void lz_rows_update(LzDesk *desk); // all of them

// One file each.
void lz_rows_systems(LzDesk *desk);
void lz_rows_tanks(LzDesk *desk);
void lz_rows_lots(LzDesk *desk);
void lz_rows_round(LzDesk *desk); // tasks and what was done
void lz_rows_ledger(LzDesk *desk);
void lz_rows_set_up(LzDesk *desk); // people, instruments, bottles, protocols

#endif
