// SPDX-License-Identifier: GPL-3.0-or-later
#define _GNU_SOURCE // F_OFD_SETLK
#include "lzs_locks.h"

#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <sqlite3.h>
#include <stdarg.h>
#include <stddef.h>

static int
ofd_command(int command)
{
  switch (command) {
  case F_SETLK: return F_OFD_SETLK;
  case F_SETLKW: return F_OFD_SETLKW;
  case F_GETLK: return F_OFD_GETLK;
  default: return command;
  }
}

// SQLite's fcntl: always one pointer or one int follows the command.
static int
locking_fcntl(int fd, int command, ...)
{
  va_list rest;
  va_start(rest, command);
  int ofd = ofd_command(command), answer;
  if (ofd == command) {
    answer = fcntl(fd, command, va_arg(rest, int));
  } else {
    struct flock *lock = va_arg(rest, struct flock *);
    lock->l_pid = 0; // fcntl(2): must be zero for locks of the open file description
    answer = fcntl(fd, ofd, lock);
    if (answer != 0 && errno == EINVAL)
      answer = fcntl(fd, command, lock);
  }
  va_end(rest);
  return answer;
}

static void
hold(void)
{
  sqlite3_vfs *vfs = sqlite3_initialize() == SQLITE_OK ? sqlite3_vfs_find("unix") : NULL;
  if (vfs != NULL && vfs->iVersion >= 3 && vfs->xSetSystemCall != NULL)
    vfs->xSetSystemCall(vfs, "fcntl", (sqlite3_syscall_ptr)locking_fcntl);
}

void
lzs_locks_hold(void)
{
  static pthread_once_t once = PTHREAD_ONCE_INIT;
  pthread_once(&once, hold);
}
