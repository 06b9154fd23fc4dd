// SPDX-License-Identifier: GPL-3.0-or-later
// The sections of Station as tables of finished text.
#ifndef LZ_STATION_ROWS_H
#define LZ_STATION_ROWS_H

#include <gio/gio.h>
#include <lz_desk.h>

typedef struct {
  const char *name;       // "systems"; what lz_place_show is told
  const char *kind;       // of entry, that "add" and "change" open; NULL = nothing to add
  const char *label;      // msgid
  const char *remark;     // msgid, NULL
  const char *titles[10]; // msgids, NULL-terminated
  guint numbers;          // a bit for each column of numbers
} LzStationSection;

const LzStationSection *lz_station_sections(guint *n);
// What it is called, translated.
const char *lz_station_label(const LzStationSection *section);
// LzTextRow elements; ids are ledger ids. (transfer full)
GListModel *lz_station_rows(LzDesk *desk, const LzStationSection *section);

#endif
