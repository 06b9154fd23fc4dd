// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: fills an error and hands its status on, so that a failure is one return statement.
#ifndef LZS_FAIL_H
#define LZS_FAIL_H

#include "lzs_status.h"

#include <errno.h>
#include <stddef.h>

// error may be NULL; so may field, value and detail. Text is cut at a character.
lzs_status lzs_fail(lzs_error *error, lzs_status status, const char *field, const char *value,
                    const char *detail);
lzs_status lzs_fail_int(lzs_error *error, lzs_status status, const char *field, int64_t value,
                        const char *detail);
// Puts a value into an error that is filled in already.
void lzs_fail_value(lzs_error *error, const char *value);
// The status that an errno means, with the path as the value.
lzs_status lzs_fail_errno(lzs_error *error, int code, const char *path, const char *detail);

#endif
