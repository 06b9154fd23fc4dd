// SPDX-License-Identifier: GPL-3.0-or-later
// How far it is: one line on a terminal, taken off at the end; Ctrl-C stops it in good order.
#include "lzc.h"

#include <signal.h>
#include <stdio.h>
#include <unistd.h>

static volatile sig_atomic_t interrupted;

static void
on_interrupt(int number)
{
  interrupted = 1;
}

static gboolean
show_share(gpointer doing, double share)
{
  fprintf(stderr, "\r%s %3.0f %%", (const char *)doing, 100 * share);
  if (share >= 1 || interrupted)
    fputs("\r\033[K", stderr);
  return !interrupted;
}

LzProgress
lzc_progress(void)
{
  const struct sigaction stop = {.sa_handler = on_interrupt, .sa_flags = (int)SA_RESETHAND};
  if (!isatty(STDERR_FILENO))
    return NULL;
  sigaction(SIGINT, &stop, NULL);
  return show_share;
}
