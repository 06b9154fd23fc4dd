// SPDX-License-Identifier: GPL-3.0-or-later
// What cannot be written: a full or failing disk, a lock, a protected file, a network drive, a
// copy.
#include "catalogue.h"
#include "faults.h"
#include "full_disk.h"

#include <glib/gstdio.h>
#include <lz_backups.h>
#include <sqlite3.h>
#include <stdio.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

// What fails keeps what was typed, in the command and in its draft; then it goes in as it is.
static void
fails_and_goes_in(int code, const char *what)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(LzCommand) note = fault_note();
  LzVerify sound;
  ck_assert(lz_desk_set_draft(fault_lab.desk, "note", "fed", NULL));
  full_disk_set(code);
  ck_assert(!lz_desk_submit_one(fault_lab.desk, note, &error));
  ck_catalogue(what, error->message);
  ck_assert_str_eq(lz_command_get(note, "words"), "fed");
  ck_assert_uint_eq(fault_notes(), 0);
  full_disk_set(0);
  g_autofree char *typed = lz_desk_draft(fault_lab.desk, "note", NULL);
  ck_assert_str_eq(typed, "fed");
  ck_assert(lz_desk_submit_one(fault_lab.desk, note, NULL));
  lab_reopen(&fault_lab);
  ck_assert_uint_eq(fault_notes(), 1);
  ck_assert(lz_desk_verify(fault_lab.desk, &sound, NULL));
}

void
fault_disk_full(void)
{
  fails_and_goes_in(SQLITE_FULL, "disk full");
}

void
fault_disk_fails(void)
{
  fails_and_goes_in(SQLITE_IOERR_WRITE, "input or output error");
}

void
fault_busy(void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(LzCommand) note = fault_note();
  sqlite3 *other = NULL;
  ck_assert_int_eq(sqlite3_open(fault_lab.path, &other), SQLITE_OK);
  ck_assert_int_eq(sqlite3_exec(other, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK);
  ck_assert(!lz_desk_submit_one(fault_lab.desk, note, &error)); // after waiting for five seconds
  ck_catalogue("busy", error->message);
  ck_assert_int_eq(sqlite3_exec(other, "ROLLBACK", NULL, NULL, NULL), SQLITE_OK);
  sqlite3_close(other);
  ck_assert(lz_desk_submit_one(fault_lab.desk, note, NULL));
}

// Renamed, and then with another file in its place: what would be written there is in no file that
// anybody opens again.
void
fault_moved(void)
{
  g_autofree char *aside = g_strconcat(fault_lab.path, ".aside", NULL);
  for (int replaced = 0; replaced < 2; replaced++) {
    g_autoptr(GError) error = NULL;
    g_autoptr(LzCommand) note = fault_note();
    guint before = fault_notes();
    ck_assert_int_eq(g_rename(fault_lab.path, aside), 0);
    if (replaced)
      ck_assert(g_file_set_contents(fault_lab.path, "another", -1, NULL));
    ck_assert(!lz_desk_submit_one(fault_lab.desk, note, &error));
    ck_catalogue("moved", error->message);
    ck_assert_uint_eq(fault_notes(), before);
    ck_assert_int_eq(g_rename(aside, fault_lab.path), 0);
    ck_assert(lz_desk_submit_one(fault_lab.desk, note, NULL));
    ck_assert_uint_eq(fault_notes(), before + 1);
  }
}

// Root may write anything, so the reader is somebody else.
static void
as_nobody(void (*act)(void))
{
  lz_desk_close(fault_lab.desk);
  chmod(fault_lab.folder, 0777);
  chmod(fault_lab.path, 0444);
  fflush(NULL);
  pid_t pid = fork();
  if (pid == 0) {
    if (getuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0))
      _exit(99);
    act();
    _exit(0);
  }
  int status = 0;
  ck_assert_int_eq(waitpid(pid, &status, 0), pid);
  ck_assert_msg(WIFEXITED(status) && WEXITSTATUS(status) == 0, "status %x", status);
  chmod(fault_lab.path, 0600);
  lab_reopen(&fault_lab);
}

#define must(what)                                                                                 \
  do {                                                                                             \
    if (!(what)) {                                                                                 \
      fprintf(stderr, "%s\n", #what);                                                              \
      _exit(1);                                                                                    \
    }                                                                                              \
  } while (0)

static void
look_without_right(void)
{
  g_autoptr(GError) error = NULL, draft = NULL;
  LzDeskOptions options = {.clock = fault_lab.clock, .pc_folder = fault_lab.folder};
  g_autoptr(LzDesk) desk = lz_desk_open(fault_lab.path, &options, &error);
  g_autoptr(LzCommand) note = fault_note();
  must(desk != NULL);
  g_autofree char *why = lz_desk_why_read_only(desk);
  must(why && catalogue_fits("file or folder is protected", why));
  must(!lz_desk_submit_one(desk, note, &error));
  must(g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_READ_ONLY));
  must(!lz_desk_set_draft(desk, "note", "fed", &draft));
  must(catalogue_fits("read only", draft->message));
  must(lz_desk_find(desk, "person", "MK") != 0); // and it is all there to read
}

void
fault_protected_file(void)
{
  as_nobody(look_without_right);
}

// On a network drive the file is one program's: no log beside it, and a second one is told.
void
fault_network_drive(void)
{
  g_autofree char *log = g_strconcat(fault_lab.path, "-wal", NULL);
  fault_on_network = TRUE;
  lab_reopen(&fault_lab);
  lab_say(&fault_lab, "note", NULL, "words", "fed", "@who", "MK", NULL);
  ck_assert(!g_file_test(log, G_FILE_TEST_EXISTS));
  fault_open_fails(fault_lab.path, "busy");
  fault_on_network = FALSE;
}

void
fault_back_up_failed(void)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *folder = g_build_filename(fault_lab.folder, "copies", NULL);
  full_disk_set(SQLITE_FULL);
  ck_assert(!lz_backups_make(fault_lab.path, folder, lab_at("2027-03-14 08:00"), NULL, &error));
  ck_catalogue("disk full", error->message);
  full_disk_set(0);
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  ck_assert_ptr_null(g_dir_read_name(dir)); // no half copy stays
  ck_assert(lz_backups_make(fault_lab.path, folder, lab_at("2027-03-14 09:00"), NULL, NULL));
  g_autoptr(GDir) made = g_dir_open(folder, 0, NULL);
  g_autofree char *copy = g_build_filename(folder, g_dir_read_name(made), NULL);
  g_unlink(copy);
  g_rmdir(folder);
}

static void
heard(LzDesk *desk, guint n, gpointer total)
{
  *(guint *)total += n;
}

void
fault_another_wrote(void)
{
  LzDeskOptions options = {.clock = fault_lab.clock, .pc_folder = fault_lab.folder};
  g_autoptr(LzDesk) other = lz_desk_open(fault_lab.path, &options, NULL);
  g_autoptr(LzCommand) theirs = fault_note();
  guint n = 0;
  g_signal_connect(fault_lab.desk, "foreign", G_CALLBACK(heard), &n);
  ck_assert(lz_desk_submit_one(other, theirs, NULL));
  lab_say(&fault_lab, "note", NULL, "words", "ours", NULL);
  ck_assert_uint_eq(n, 1);
  ck_assert_uint_eq(fault_notes(), 2);
}
