// SPDX-License-Identifier: GPL-3.0-or-later
// The program without a window: `lazaretctl FILE VERB ...`. One file per verb. Text for people,
// CSV for machines. Exit status: 0 done, 1 refused with the reason, 2 usage, 3 could not.
#ifndef LZC_H
#define LZC_H

#include <lz_desk.h>
#include <lz_error.h>

enum { LZC_DONE = 0, LZC_REFUSED = 1, LZC_USAGE = 2, LZC_COULD_NOT = 3 };

// argv[0] is the verb. Returns the exit status; has said on stderr why it is not 0.
typedef int (*lzc_verb)(const char *path, int argc, char **argv);

int lzc_new(const char *path, int argc, char **argv);
int lzc_demo(const char *path, int argc, char **argv);
int lzc_import(const char *path, int argc, char **argv);
int lzc_export(const char *path, int argc, char **argv);
int lzc_record(const char *path, int argc, char **argv);
int lzc_plan(const char *path, int argc, char **argv);
int lzc_water(const char *path, int argc, char **argv);
int lzc_dose(const char *path, int argc, char **argv);
int lzc_reach(const char *path, int argc, char **argv);
int lzc_whatif(const char *path, int argc, char **argv);
int lzc_print(const char *path, int argc, char **argv);
int lzc_protocol(const char *path, int argc, char **argv);
int lzc_retention(const char *path, int argc, char **argv);
int lzc_verify(const char *path, int argc, char **argv);
int lzc_backup(const char *path, int argc, char **argv);
int lzc_restore(const char *path, int argc, char **argv);
int lzc_salvage(const char *path, int argc, char **argv);
int lzc_seal(const char *path, int argc, char **argv);
int lzc_unseal(const char *path, int argc, char **argv);

// The whole program: argv as main got it.
int lzc_run(int argc, char **argv);

// Parses a verb's options; what is left stays in argv from 1 on (NULL-terminated), *argc counts it.
// FALSE: has said why (or printed the help) and set *status.
gboolean lzc_options(const char *verb, const char *rest, const char *summary,
                     const GOptionEntry *entries, int *argc, char ***argv, int *status);

// "lazaretctl: MESSAGE" on stderr; the exit status that belongs to the error. Frees it.
int lzc_fail(GError *error);
// The same for a wrong call.
int lzc_wrong(const char *format, ...) G_GNUC_PRINTF(1, 2);

// Opens for writing, with the real clock. NULL: *status is set and the reason said.
LzDesk *lzc_open(const char *path, int *status);
// Opens the file alone, to copy it: nothing of its entries is read.
LzDesk *lzc_open_file(const char *path, int *status);
// Opens for reading at the local time `at` (NULL = now). The file is never written.
LzDesk *lzc_open_reading(const char *path, const char *at, int *status);

// A verb that only reads: --at, --format, and --lot and --system where it asks for them.
typedef enum { LZC_READS_ALL = 0, LZC_READS_LOT = 1 << 0, LZC_READS_SYSTEM = 1 << 1 } LzcReads;

typedef struct {
  char *at, *format, *lot, *system; // as typed, NULL = not
  gboolean csv;
  LzDesk *desk; // as it stood then
} LzcReading;

// Parses and opens. `rest` names the words that are left in argv, "" = there may be none. FALSE:
// said, *status set. Declare it with g_auto.
gboolean lzc_reading_begin(LzcReading *r, const char *path, const char *verb, const char *rest,
                           const char *summary, LzcReads reads, int *argc, char ***argv,
                           int *status);
void lzc_reading_clear(LzcReading *r);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(LzcReading, lzc_reading_clear)

// Says on a terminal's stderr how far `doing` is, and lets Ctrl-C stop it in good order; NULL where
// stderr is none. Give it `doing` as the hearer.
LzProgress lzc_progress(void);

// Where a verb writes its tables: one CSV record, cells until NULL is not a terminator: n cells.
void lzc_csv(const char *const *cells, gsize n);
// format is "text" or "csv" (NULL = text); FALSE: said, *status set.
gboolean lzc_format_is_csv(const char *format, gboolean *csv, int *status);

#endif
