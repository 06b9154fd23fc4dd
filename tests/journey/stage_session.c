// SPDX-License-Identifier: GPL-3.0-or-later
// See stage_session.h.
#include "stage_session.h"

#include <check.h>
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

// Between fork and exec: the child ends when the test does.
static void
die_with_parent(gpointer data)
{
  prctl(PR_SET_PDEATHSIG, SIGKILL);
}

static GPid
spawn(char **environ_of_ours, const char *line, int *out)
{
  g_auto(GStrv) argv = NULL;
  g_autoptr(GError) error = NULL;
  GPid pid = 0;
  ck_assert_msg(g_shell_parse_argv(line, NULL, &argv, NULL), "cannot parse %s", line);
  g_spawn_async_with_pipes(NULL, argv, environ_of_ours,
                           G_SPAWN_SEARCH_PATH | G_SPAWN_DO_NOT_REAP_CHILD |
                               (out ? 0 : G_SPAWN_STDOUT_TO_DEV_NULL),
                           die_with_parent, NULL, &pid, NULL, out, NULL, &error);
  ck_assert_msg(error == NULL, "%s: %s", line, error ? error->message : "");
  return pid;
}

GPid
session_spawn(Session *session, const char *line, int *out)
{
  return spawn(session->environ_of_ours, line, out);
}

void
session_run(Session *session, const char *line)
{
  int status = 0;
  GPid pid = session_spawn(session, line, NULL);
  ck_assert_int_eq(waitpid(pid, &status, 0), pid);
  ck_assert_msg(WIFEXITED(status) && WEXITSTATUS(status) == 0, "%s: %d", line, status);
}

void
session_kill(GPid pid)
{
  if (pid <= 0)
    return;
  kill(pid, SIGTERM);
  waitpid(pid, NULL, 0);
}

// The first line that a child prints: a display's number, a bus's address.
static char *
first_line(int fd)
{
  GString *line = g_string_new(NULL);
  char c;
  while (read(fd, &c, 1) == 1 && c != '\n')
    g_string_append_c(line, c);
  close(fd);
  return g_string_free(line, FALSE);
}

static void
set(Session *session, const char *name, const char *value)
{
  if (!session->second)
    g_setenv(name, value, TRUE); // this process reads the accessibility bus of the session
  session->environ_of_ours = g_environ_setenv(session->environ_of_ours, name, value, TRUE);
}

static void
set_folder(Session *session, const char *name, const char *folder)
{
  g_autofree char *path = g_build_filename(session->folder, folder, NULL);
  ck_assert_int_eq(g_mkdir_with_parents(path, 0700), 0);
  set(session, name, path);
}

static void
set_folders(Session *session, const char *folder)
{
  session->folder = g_strdup(folder);
  session->environ_of_ours = g_get_environ();
  set_folder(session, "HOME", "home");
  set_folder(session, "XDG_CONFIG_HOME", "config");
  set_folder(session, "XDG_CACHE_HOME", "cache");
  set_folder(session, "XDG_RUNTIME_DIR", "run");
  set_folder(session, "XDG_DOCUMENTS_DIR", "home");
}

static void
start_bus(Session *session)
{
  int out = -1;
  session->bus =
      spawn(session->environ_of_ours, "dbus-daemon --session --nofork --print-address=1", &out);
  g_autofree char *address = first_line(out);
  ck_assert_msg(*address, "dbus-daemon did not start");
  set(session, "DBUS_SESSION_BUS_ADDRESS", address);
}

static char *
accessibility_bus(void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GDBusConnection) bus = g_bus_get_sync(G_BUS_TYPE_SESSION, NULL, &error);
  g_autoptr(GVariant) answer =
      bus ? g_dbus_connection_call_sync(bus, "org.a11y.Bus", "/org/a11y/bus", "org.a11y.Bus",
                                        "GetAddress", NULL, G_VARIANT_TYPE("(s)"),
                                        G_DBUS_CALL_FLAGS_NONE, -1, NULL, &error)
          : NULL;
  char *address = NULL;
  ck_assert_msg(answer != NULL, "%s", error ? error->message : "");
  g_variant_get(answer, "(s)", &address);
  return address;
}

Session *
session_login(Session *first, const char *folder)
{
  Session *session = g_new0(Session, 1);
  g_autofree char *address = accessibility_bus();
  session->second = TRUE;
  set_folders(session, folder);
  set_folder(session, "XDG_DATA_HOME", "data");
  set(session, "AT_SPI_BUS_ADDRESS", address);
  start_bus(session);
  return session;
}

Session *
session_start(const char *folder)
{
  Session *session = g_new0(Session, 1);
  int out = -1;
  set_folders(session, folder);
  set(session, "GTK_A11Y", "atspi");
  set(session, "GDK_BACKEND", "x11");
  set(session, "GSETTINGS_BACKEND", "keyfile");
  set(session, "NO_AT_BRIDGE", "0");
  set(session, "GTK_USE_PORTAL", "0");
  session->xvfb = spawn(session->environ_of_ours,
                        "Xvfb -displayfd 1 -screen 0 1366x768x24 -noreset -nolisten tcp", &out);
  g_autofree char *number = first_line(out);
  g_autofree char *display = g_strconcat(":", number, NULL);
  ck_assert_msg(*number, "Xvfb did not start");
  set(session, "DISPLAY", display);
  start_bus(session);
  // A window that is there before its manager is never given the focus.
  session->manager = session_spawn(session, "openbox --sm-disable --startup 'echo manages'", &out);
  g_autofree char *manages = first_line(out);
  ck_assert_msg(*manages, "openbox did not start");
  return session;
}

void
session_end(Session *session)
{
  session_kill(session->manager);
  session_kill(session->bus);
  session_kill(session->xvfb);
  g_strfreev(session->environ_of_ours);
  g_free(session->folder);
  g_free(session);
}
