// SPDX-License-Identifier: GPL-3.0-or-later
// Locks that a look at the file cannot take away.
//
// SQLite locks with POSIX record locks, which belong to the process: they are all given up as soon
// as anything in the process closes any descriptor of the same file (IEEE Std 1003.1-2017, fcntl;
// SQLite, "How To Corrupt An SQLite Database File", 2.2). A file chooser that opens each file of a
// folder to tell its kind is enough. The next program then takes itself for the only one, folds the
// log in and deletes it under us: what we acknowledge after that is lost, or the process dies of a
// mapped index cut short. Locks of the open file description (Linux 3.15, fcntl(2), F_OFD_SETLK)
// stay with SQLite's own descriptor, and hold against POSIX locks of other programs in both
// directions.
#ifndef LZS_LOCKS_H
#define LZS_LOCKS_H

// Makes SQLite in this process lock that way, from the next file it opens. Only the first call
// acts; any thread may call. Where a file system has no such locks, SQLite's own are taken.
void lzs_locks_hold(void);

#endif
