// SPDX-License-Identifier: GPL-3.0-or-later
// Names of the store's statuses, and how an error is filled in.
#include "lzs_fail.h"

#include <stdio.h>
#include <string.h>

const char *
lzs_status_name(lzs_status status)
{
  switch (status) {
  case LZS_OK: return "ok";
  case LZS_NO_MEMORY: return "no memory";
  case LZS_BAD_INPUT: return "bad input";
  case LZS_NOT_FOUND: return "not found";
  case LZS_EXISTS: return "exists";
  case LZS_NOT_STATION: return "not a station file";
  case LZS_TOO_NEW: return "too new";
  case LZS_READ_ONLY: return "read only";
  case LZS_BUSY: return "busy";
  case LZS_FULL: return "disk full";
  case LZS_IO: return "input or output error";
  case LZS_CORRUPT: return "corrupt";
  case LZS_REFUSED: return "refused";
  case LZS_STOPPED: return "stopped";
  case LZS_MOVED: return "moved";
  case LZS_INTERNAL: return "internal";
  }
  return "unknown";
}

// Copies what fits and never leaves half a UTF-8 character at the end.
static void
copy_cut(char *to, size_t size, const char *from)
{
  size_t n = from != NULL ? strlen(from) : 0;
  if (n >= size) {
    n = size - 1;
    while (n > 0 && ((unsigned char)from[n] & 0xC0) == 0x80)
      n--;
  }
  if (n > 0)
    memcpy(to, from, n);
  to[n] = '\0';
}

lzs_status
lzs_fail(lzs_error *error, lzs_status status, const char *field, const char *value,
         const char *detail)
{
  if (error == NULL)
    return status;
  memset(error, 0, sizeof *error);
  error->status = status;
  copy_cut(error->field, sizeof error->field, field);
  copy_cut(error->value, sizeof error->value, value);
  copy_cut(error->detail, sizeof error->detail, detail);
  return status;
}

void
lzs_fail_value(lzs_error *error, const char *value)
{
  copy_cut(error->value, sizeof error->value, value);
}

lzs_status
lzs_fail_int(lzs_error *error, lzs_status status, const char *field, int64_t value,
             const char *detail)
{
  char text[32];
  snprintf(text, sizeof text, "%lld", (long long)value);
  return lzs_fail(error, status, field, text, detail);
}

lzs_status
lzs_fail_errno(lzs_error *error, int code, const char *path, const char *detail)
{
  static const struct {
    int code;
    lzs_status status;
  } map[] = {{ENOENT, LZS_NOT_FOUND}, {EEXIST, LZS_EXISTS},   {EACCES, LZS_READ_ONLY},
             {EPERM, LZS_READ_ONLY},  {EROFS, LZS_READ_ONLY}, {ENOSPC, LZS_FULL},
             {EDQUOT, LZS_FULL},      {ENOMEM, LZS_NO_MEMORY}};
  lzs_status status = LZS_IO;
  for (size_t i = 0; i < sizeof map / sizeof map[0]; i++)
    if (map[i].code == code)
      status = map[i].status;
  lzs_fail(error, status, "file", path, detail);
  if (error != NULL)
    error->sys_code = code;
  return status;
}
