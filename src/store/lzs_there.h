// SPDX-License-Identifier: GPL-3.0-or-later
// Whether what is written still goes into the file whose name the person sees. An open file can be
// renamed, deleted, or replaced by another (a folder that is kept in step with other PCs does
// that): SQLite then goes on writing into a file that nobody will find again.
#ifndef LZS_THERE_H
#define LZS_THERE_H

#include "lzs_db.h"

// Before a commit. LZS_MOVED: the file of this name is not the one that is open; nothing may be
// said to be saved. Costs one stat().
lzs_status lzs_there_check(lzs_store *store, lzs_error *error);

// After a commit. Where somebody deleted the log beside the file, what is in it is folded into the
// file at once, so that it does not depend on this program's ending well.
void lzs_there_keep(lzs_store *store);

#endif
