// SPDX-License-Identifier: GPL-3.0-or-later
// Runs lazaretctl as a person would and reads what it printed.
#ifndef CTL_H
#define CTL_H

#include <glib.h>

typedef struct {
  char *folder; // temporary, holds the station and its outputs
  char *file;   // the station
} Ctl;

// A fresh folder with no station yet; user data goes there too.
Ctl *ctl_new(void);
void ctl_free(Ctl *ctl);

// Runs `lazaretctl FILE WORDS...` (shell quoting), expects the exit status, returns stdout (or, for
// a status other than 0, stderr). Newly allocated. Fails the test on another status.
char *ctl(Ctl *ctl, int expect, const char *format, ...) G_GNUC_PRINTF(3, 4);

// What a call that succeeds says beside its output.
char *ctl_notes(Ctl *ctl, const char *words);

// Writes CSV rows into a file and imports them as a table; expects success.
void ctl_import(Ctl *ctl, const char *table, const char *csv);

// The same as ctl, parsed as CSV. Cells by column name; ctl_cell returns "" for none.
typedef struct {
  GPtrArray *rows; // of GHashTable column -> text
} Table;
Table *ctl_table(Ctl *ctl, const char *format, ...) G_GNUC_PRINTF(2, 3);
void table_free(Table *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Table, table_free)
const char *table_cell(const Table *table, guint row, const char *column);
// First row in which each named column has that text: pairs, NULL at the end. -1 if there is none.
int table_find(const Table *table, ...) G_GNUC_NULL_TERMINATED;
guint table_count(const Table *table, ...) G_GNUC_NULL_TERMINATED;

// A station in Europe/Berlin with slots 07:30 17:00 and one lead MK.
void ctl_station(Ctl *ctl, const char *options);

#endif
