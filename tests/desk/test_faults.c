// SPDX-License-Identifier: GPL-3.0-or-later
// Every fault of file, disk and clock that docs/messages.md names is made to happen, and gives the
// sentence of its row; a row without a fault, and a fault without a row, fail. Nothing is lost:
// what was refused can be entered when the fault is gone.
#include "catalogue.h"
#include "faults.h"
#include "full_disk.h"

#include <lzs_store.h>
#include <string.h>

#include "lz_desk_private.h"

Lab fault_lab;

static void
setup(void)
{
  full_disk_begin();
  lab_open(&fault_lab, "2027-03-14 08:00");
  lab_station(&fault_lab);
}

static void
teardown(void)
{
  full_disk_set(0);
  lab_close(&fault_lab);
}

static gboolean
stop(gpointer data, double share)
{
  return FALSE;
}

static void
stopped(void)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *path = g_build_filename(fault_lab.folder, "copy.lazaret", NULL);
  lz_desk_set_progress(fault_lab.desk, stop, NULL);
  ck_assert(!lz_desk_backup(fault_lab.desk, path, &error));
  ck_catalogue("stopped", error->message);
  ck_assert(!g_file_test(path, G_FILE_TEST_EXISTS));
}

// The desk asks nothing that the ledger would refuse, and a process without memory ends: handed to
// the sentence (tests/store and tests/fault make the store itself answer so).
static void
only_said(void)
{
  static const lzs_status statuses[] = {LZS_REFUSED, LZS_BAD_INPUT, LZS_NO_MEMORY, LZS_INTERNAL};
  for (guint i = 0; i < G_N_ELEMENTS(statuses); i++) {
    lzs_error failure = {.status = statuses[i], .field = "volume_l", .value = "-1", .detail = "x"};
    g_autoptr(GError) error = NULL;
    lz_file_store_error(fault_lab.path, &failure, &error);
    ck_catalogue(lzs_status_name(statuses[i]), error->message);
  }
}

static const struct {
  const char *row;
  void (*happen)(void);
} faults[] = {
    {"not found", fault_not_found},
    {"exists", fault_exists},
    {"not a station file", fault_not_a_station},
    {"too new", fault_too_new},
    {"read only", fault_protected_file},
    {"busy", fault_busy},
    {"disk full", fault_disk_full},
    {"input or output error", fault_disk_fails},
    {"corrupt", fault_cut_short},
    {"corrupt at an entry", fault_changed_from_outside},
    {"refused", only_said},
    {"bad input", only_said},
    {"no memory", only_said},
    {"stopped", stopped},
    {"moved", fault_moved},
    {"internal", only_said},
    {"file or folder is protected", fault_protected_file},
    {"the clock was set back", fault_clock_set_back},
    {"the time zone of the PC changed", fault_zone_changed},
    {"the file lies on a network drive", fault_network_drive},
    {"another program wrote", fault_another_wrote},
    {"a back-up failed", fault_back_up_failed},
    {"a row or an entry lies ahead of the clock while nothing real was entered",
     fault_ahead_of_the_clock},
};

START_TEST(a_fault_gives_its_sentence)
{
  faults[_i].happen();
}
END_TEST

START_TEST(catalogue_and_faults_are_the_same)
{
  static const char *const headings[] = {"Files and disk", "States that are said and do not stop"};
  guint found = 0;
  for (guint h = 0; h < G_N_ELEMENTS(headings); h++) {
    g_auto(GStrv) rows = catalogue_rows(headings[h]);
    for (char **row = rows; *row; row++) {
      guint i = 0;
      while (i < G_N_ELEMENTS(faults) && !g_str_equal(faults[i].row, *row))
        i++;
      ck_assert_msg(i < G_N_ELEMENTS(faults), "no fault is made for: %s", *row);
      found++;
    }
  }
  ck_assert_uint_eq(found, G_N_ELEMENTS(faults));
}
END_TEST

int
main(void)
{
  Suite *s = suite_create("desk faults");
  TCase *t = tcase_create("faults");
  tcase_set_timeout(t, 100);
  tcase_add_checked_fixture(t, setup, teardown);
  tcase_add_loop_test(t, a_fault_gives_its_sentence, 0, G_N_ELEMENTS(faults));
  tcase_add_test(t, catalogue_and_faults_are_the_same);
  suite_add_tcase(s, t);
  return lab_run(s);
}
