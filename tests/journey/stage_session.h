// SPDX-License-Identifier: GPL-3.0-or-later
// A private session for one journey: display, window manager, message bus, folders. Whatever it
// starts dies with the test, also with one that failed.
#ifndef STAGE_SESSION_H
#define STAGE_SESSION_H

#include <glib.h>

typedef struct {
  char *folder;           // home and the XDG folders
  char **environ_of_ours; // for children
  GPid xvfb, bus, manager;
  gboolean second; // beside another: no display or manager of its own
} Session;

Session *session_start(const char *folder);
// Another login at the same display: a message bus and folders of its own. What it shows is on the
// first one's accessibility bus, which one test can read. Ends with session_end, before the first.
Session *session_login(Session *first, const char *folder);
void session_end(Session *session);
// Starts a child in the session; `line` in shell quoting. out: read end of its stdout, or NULL.
GPid session_spawn(Session *session, const char *line, int *out);
// Runs one to its end.
void session_run(Session *session, const char *line);
// Ends a child that we started and waits for it.
void session_kill(GPid pid);

#endif
