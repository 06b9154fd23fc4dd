// SPDX-License-Identifier: GPL-3.0-or-later
// What the files of a stage share.
#ifndef STAGE_PRIVATE_H
#define STAGE_PRIVATE_H

#include "stage.h"
#include "stage_session.h"

struct _Stage {
  Ctl *ctl;
  Session *session;
  GPid app;
  char *arguments;
  guint n_keys;
  AtspiAccessible *root; // the application
};

void stage_drain(void); // the accessibility bus's messages
// The command line that opens the file; clock NULL = the real one. Newly allocated.
char *stage_call(Stage *stage, const char *clock);
void stage_launch(Stage *stage, const char *clock); // returns when it takes keys

#endif
