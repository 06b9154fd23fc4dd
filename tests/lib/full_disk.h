// SPDX-License-Identifier: GPL-3.0-or-later
// A disk that is full, or fails, from one moment on and recovers at another: every write of SQLite
// is answered with a code while one is set.
#ifndef FULL_DISK_H
#define FULL_DISK_H

// Before the first file is opened; harmless when called again.
void full_disk_begin(void);
// SQLITE_FULL, SQLITE_IOERR_WRITE ...; 0 = there is room.
void full_disk_set(int code);

#endif
