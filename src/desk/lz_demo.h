// SPDX-License-Identifier: GPL-3.0-or-later
// The demo station: one invented story, made afresh from the clock, through the same commands as
// people's.
#ifndef LZ_DEMO_H
#define LZ_DEMO_H

#include "lz_desk.h"

// Makes the file at path (which must not exist) with 60 days of history up to now and opens it. The
// same minute and seed give the same story. The file is marked as practice.
LzDesk *lz_demo_make(const char *path, guint seed, const LzDeskOptions *options, GError **error);

#endif
