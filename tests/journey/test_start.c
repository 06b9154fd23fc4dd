// SPDX-License-Identifier: GPL-3.0-or-later
// From nothing to a first reading by keyboard alone: three questions, an instrument, a reading.
#include <glib/gstdio.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

#include "journey.h"

static void
answer(Stage *s, const char *field, const char *text)
{
  stage_wait_focus(s, ATSPI_ROLE_TEXT, field);
  stage_keys(s, "ctrl+a");
  stage_type(s, text);
  stage_keys(s, "Tab");
}

static void
three_questions(Stage *s)
{
  stage_keys(s, "ctrl+n");
  stage_wait(s, "1. The station");
  answer(s, "Name", "Cellar");
  answer(s, "Time zone", "Europe/Berlin");
  answer(s, "Tests are made at", "07:30 17:00");
  answer(s, "Name", "Mira Kessel");
  answer(s, "Initials", "MK");
  answer(s, "System", "Blue-1");
  answer(s, "litres", "2400");
  stage_keys(s, "Return");
  stage_wait_gone(s, "1. The station");
}

static gboolean
two_windows(Stage *s, gpointer data)
{
  return stage_n_windows(s) == 2;
}

// Whether a table of the kernel's has a socket of that inode.
static gboolean
is_in_table(GPid pid, const char *table, const char *inode)
{
  g_autofree char *path = g_strdup_printf("/proc/%d/net/%s", (int)pid, table), *rows = NULL;
  if (!g_file_get_contents(path, &rows, NULL, NULL))
    return FALSE; // a machine without that protocol
  g_autofree char *cell = g_strdup_printf(" %s ", inode);
  return strstr(rows, cell) != NULL;
}

// Sockets of a process that could be reached over a network, whatever their state. The tables are
// those of proc(5), /proc/pid/net.
static guint
network_sockets(GPid pid)
{
  static const char *const tables[] = {"tcp", "tcp6", "udp", "udp6", "raw", "raw6"};
  g_autofree char *folder = g_strdup_printf("/proc/%d/fd", (int)pid);
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  guint n = 0;
  ck_assert_ptr_nonnull(dir);
  for (const char *name; (name = g_dir_read_name(dir));) {
    g_autofree char *path = g_build_filename(folder, name, NULL);
    g_autofree char *link = g_file_read_link(path, NULL);
    if (!link || !g_str_has_prefix(link, "socket:["))
      continue;
    link[strlen(link) - 1] = '\0';
    for (guint i = 0; i < G_N_ELEMENTS(tables); i++)
      n += is_in_table(pid, tables[i], link + strlen("socket:["));
  }
  return n;
}

// Nothing of the station can be reached from outside the PC.
static void
nothing_on_a_network(Stage *s)
{
  int own = socket(AF_INET, SOCK_STREAM, 0);
  if (own >= 0 && listen(own, 1) == 0) // one that does listen is seen
    ck_assert_uint_eq(network_sockets(getpid()), 1);
  close(own);
  ck_assert_uint_eq(network_sockets(stage_pid(s)), 0);
}

// The demo is looked at, then left for a station of one's own: nothing of it comes along, and the
// next start opens one's own.
START_TEST(test_demo_to_own_station)
{
  Ctl *c = ctl_new();
  Stage *s = stage_start(c, NULL, "");
  stage_keys(s, "1");
  stage_wait(s, "Practice: ");
  ck_assert_uint_eq(stage_n_windows(s), 1);
  three_questions(s);
  stage_until(s, "a window of one's own beside the demo's", two_windows, NULL);
  g_free(c->file);
  c->file = g_build_filename(g_get_user_data_dir(), "lazaret", "Cellar.lazaret", NULL);
  g_autoptr(Table) systems = stage_rows(s, "systems", 1);
  ck_assert_str_eq(table_cell(systems, 0, "name"), "Blue-1");
  g_autoptr(Table) lots = stage_rows(s, "lots", 0);
  stage_reopen(s, NULL);
  stage_keys(s, "F3");
  stage_wait(s, "Blue-1");
  ck_assert(!stage_shows(s, "Practice: "));
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_empty_to_first_reading)
{
  Ctl *c = ctl_new();
  Stage *s = stage_start(c, NULL, "");
  three_questions(s);
  g_free(c->file);
  c->file = g_build_filename(g_get_user_data_dir(), "lazaret", "Cellar.lazaret", NULL);
  stage_keys(s, "ctrl+r");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "Blue-1");
  stage_keys(s, "Tab");
  stage_type(s, "copper");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Value");
  stage_type(s, "0.02");
  stage_keys(s, "Return");
  g_autoptr(Table) readings = stage_rows(s, "readings", 1);
  ck_assert_double_eq(journey_number(readings, 0, "value"), 0.02);
  ck_assert_str_eq(table_cell(readings, 0, "system"), "Blue-1");
  ck_assert_str_eq(table_cell(readings, 0, "who"), "MK");
  nothing_on_a_network(s);
  g_autoptr(Table) systems = ctl_table(c, "export systems");
  ck_assert_double_eq(journey_number(systems, 0, "volume_l"), 2400);
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_empty_to_first_reading, test_demo_to_own_station, NULL};
  return journey_run("journey: set up", tests);
}
