// SPDX-License-Identifier: GPL-3.0-or-later
// Protocols as files: a GKeyFile whose keys are the field names of the kinds protocol, phase and
// band.
//   [protocol]        name= version= source= caution=
//   [phase 1]         name= kind= place= ... (position is the number in the group's name)
//   [phase 1 band 1]  analyte= side= works= gap_min= ...
// A protocol becomes data of the station by being submitted; the file is only its template.
#ifndef LZ_PROTOCOL_FILE_H
#define LZ_PROTOCOL_FILE_H

#include "lz_desk.h"

// Commands (LzCommand elements, freed with the array) for one protocol, to be submitted together.
GPtrArray *lz_protocol_load(const char *path, GError **error);
GPtrArray *lz_protocol_parse(const char *text, gsize length, const char *name_for_messages,
                             GError **error);
// A running protocol back as such a file.
char *lz_protocol_dump(LzDesk *desk, int64_t protocol);

// Folder of shipped data: $LAZARET_DATA_DIR, or where the program was installed.
const char *lz_data_dir(void);
// Paths of all shipped protocols, sorted by file name (char *, freed with the array).
GPtrArray *lz_protocol_files(void);

#endif
