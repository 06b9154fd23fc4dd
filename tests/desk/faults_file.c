// SPDX-License-Identifier: GPL-3.0-or-later
// Files that do not open, and one that was changed from outside.
#include "catalogue.h"
#include "faults.h"

#include <sqlite3.h>
#include <string.h>

LzCommand *
fault_note(void)
{
  LzCommand *note = lz_command_build("note", "words", "fed", NULL);
  lz_command_set_actor(note, "MK");
  return note;
}

guint
fault_notes(void)
{
  g_autoptr(GPtrArray) notes = lz_desk_entries(fault_lab.desk, "note", 0, 0, NULL);
  return notes->len;
}

void
fault_open_fails(const char *path, const char *what)
{
  g_autoptr(GError) error = NULL;
  LzDeskOptions options = {.clock = fault_lab.clock};
  ck_assert_ptr_null(lz_desk_open(path, &options, &error));
  ck_catalogue(what, error->message);
  ck_assert_ptr_nonnull(strstr(error->message, path));
}

void
fault_not_found(void)
{
  g_autofree char *path = g_build_filename(fault_lab.folder, "other.lazaret", NULL);
  fault_open_fails(path, "not found");
}

void
fault_exists(void)
{
  g_autoptr(GError) error = NULL;
  LzDeskOptions options = {.clock = fault_lab.clock};
  ck_assert_ptr_null(lz_desk_create(fault_lab.path, &options, &error));
  ck_catalogue("exists", error->message);
}

void
fault_not_a_station(void)
{
  g_autofree char *path = g_build_filename(fault_lab.folder, "other.lazaret", NULL);
  ck_assert(g_file_set_contents(path, "hello", -1, NULL));
  fault_open_fails(path, "not a station file");
}

// A sound copy with one byte changed, cut to a share of its length.
static char *
changed_copy(gsize at, char byte, double share)
{
  char *path = g_build_filename(fault_lab.folder, "other.lazaret", NULL);
  g_autofree char *bytes = NULL;
  gsize n;
  ck_assert(lz_desk_backup(fault_lab.desk, path, NULL));
  ck_assert(g_file_get_contents(path, &bytes, &n, NULL));
  bytes[at] = byte;
  ck_assert(g_file_set_contents(path, bytes, (gssize)((double)n * share), NULL));
  return path;
}

void
fault_too_new(void)
{
  g_autofree char *path = changed_copy(63, 99, 1); // user_version: SQLite file format 1.3, byte 60
  fault_open_fails(path, "too new");
}

void
fault_cut_short(void)
{
  g_autofree char *path = changed_copy(63, 1, 0.5);
  fault_open_fails(path, "corrupt");
}

// One word of a note is another one, behind the program's back.
void
fault_changed_from_outside(void)
{
  g_autoptr(GError) error = NULL;
  sqlite3 *db = NULL;
  LzVerify found;
  int64_t id = lab_say(&fault_lab, "note", NULL, "words", "fed", NULL);
  lz_desk_close(fault_lab.desk);
  ck_assert_int_eq(sqlite3_open(fault_lab.path, &db), SQLITE_OK);
  ck_assert_int_eq(sqlite3_exec(db,
                                "PRAGMA writable_schema = ON; DELETE FROM sqlite_schema WHERE "
                                "type = 'trigger' AND tbl_name = 'note'",
                                NULL, NULL, NULL),
                   SQLITE_OK);
  sqlite3_close(db);
  ck_assert_int_eq(sqlite3_open(fault_lab.path, &db), SQLITE_OK);
  ck_assert_int_eq(sqlite3_exec(db, "UPDATE note SET words = 'red'", NULL, NULL, NULL), SQLITE_OK);
  ck_assert_int_eq(sqlite3_changes(db), 1);
  sqlite3_close(db);
  lab_reopen(&fault_lab);
  ck_assert(!lz_desk_verify(fault_lab.desk, &found, &error));
  ck_catalogue("corrupt` at an entry", error->message);
  ck_assert_int_eq(found.bad, id);
}
