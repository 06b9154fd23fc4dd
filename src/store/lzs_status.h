// SPDX-License-Identifier: GPL-3.0-or-later
// What a store call answers: a status, and on failure where and why.
#ifndef LZS_STATUS_H
#define LZS_STATUS_H

#include <stdint.h>

typedef enum {
  LZS_OK = 0,
  LZS_NO_MEMORY,
  LZS_BAD_INPUT,   // an entry breaks its kind's rules: error.field names the field
  LZS_NOT_FOUND,   // no such file, entry or name
  LZS_EXISTS,      // lzs_create: the file is there already
  LZS_NOT_STATION, // the file is not a station file (application_id)
  LZS_TOO_NEW,     // written by a newer program; opened neither for reading nor for writing
  LZS_READ_ONLY,   // file or folder cannot be written
  LZS_BUSY,        // another program holds the file longer than the busy time
  LZS_FULL,        // no room on the disk
  LZS_IO,          // the disk said no
  LZS_CORRUPT,     // SQLite or the chain says that bytes were changed
  LZS_REFUSED,     // the ledger's own rules (append only, rests on later acts) forbid it
  LZS_STOPPED,     // the caller wished it so (lzs_set_progress)
  LZS_MOVED,       // the file was moved, deleted or replaced while it was open
  LZS_INTERNAL,    // a defect of ours; error.detail says what
} lzs_status;

// Filled on every failure. No pointers: copy it freely.
typedef struct {
  lzs_status status;
  char field[40];   // the kind's field, column or file part, "" if none
  char value[120];  // the value found, UTF-8, cut at a character, "" if none
  char detail[200]; // for the log and the technical line, English, not for translation
  int64_t entry;    // entry id concerned, 0 if none
  int sys_code;     // SQLite's extended code or errno, 0 if none
} lzs_error;

// A short static ASCII name, never NULL.
const char *lzs_status_name(lzs_status status);

#endif
