// SPDX-License-Identifier: GPL-3.0-or-later
// Errors of the desk. Every message is a finished, translated sentence that names the field, the
// value found and what would be accepted: show it as it is. Codes decide the exit status of the
// command line and which gate the window opens.
#ifndef LZ_ERROR_H
#define LZ_ERROR_H

#include <glib.h>

#define LZ_DESK_ERROR (lz_desk_error_quark())
GQuark lz_desk_error_quark(void);

typedef enum {
  LZ_DESK_ERROR_REFUSED,             // the rules say no, whoever asks
  LZ_DESK_ERROR_USAGE,               // a field, name, number or time that cannot be read
  LZ_DESK_ERROR_NEEDS_READBACK,      // type the amount again: lz_command_set_readback
  LZ_DESK_ERROR_NEEDS_SECOND_PERSON, // lz_command_set_witness
  LZ_DESK_ERROR_NEEDS_REASON,        // lz_command_set_reason
  LZ_DESK_ERROR_AMBIGUOUS_TIME,      // the local time occurs twice: give the offset too
  LZ_DESK_ERROR_BUSY,                // another program holds the file
  LZ_DESK_ERROR_IO,                  // disk, permissions, no room
  LZ_DESK_ERROR_NOT_FOUND,           // no such file or entry
  LZ_DESK_ERROR_EXISTS,              // a file is there already
  LZ_DESK_ERROR_READ_ONLY,
  LZ_DESK_ERROR_TOO_NEW, // written by a newer program
  LZ_DESK_ERROR_DAMAGED, // bytes were changed: lz_rescue_salvage, or restore a back-up
  LZ_DESK_ERROR_STOPPED, // by lz_desk_set_progress
} LzDeskError;

// What a program ends with: 0 done, 1 refused with the reason, 2 usage, 3 could not (disk, lock,
// I/O).
int lz_error_exit_status(const GError *error);

// Several refusals of one act as one error, a line for each: twenty in words, then how many more
// there are. *n counts what was added; `one` is taken over. lz_error_join_end before it is shown.
void lz_error_join(GError **all, GError *one, guint *n);
void lz_error_join_end(GError **all, guint n);

#endif
