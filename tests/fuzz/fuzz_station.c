// SPDX-License-Identifier: GPL-3.0-or-later
// libFuzzer target: a file of any bytes under a station's name is opened or refused with a
// sentence; so are its verification, a salvage of it, and a look at it as a back-up. The first byte
// says whether the rest is the whole file, or changes to a sound one: six bytes each, where (4),
// and what to do there (2).
#include <glib/gstdio.h>
#include <lz_rescue.h>
#include <stdlib.h>
#include <string.h>

#include "bytes.h"
#include "scratch.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

static char *path, *other, *sound;

static void
begin(void)
{
  path = scratch_path("any.lazaret");
  other = scratch_path("salvaged.lazaret");
  sound = scratch_path("sound.lazaret");
}

// Answers the new size.
static gsize
change(guint8 *file, gsize n, lzt_bytes bytes)
{
  gsize left = n;
  while (bytes.left >= 6) {
    gsize at = lzt_number(&bytes, 4) % n;
    uint8_t what = lzt_byte(&bytes), value = lzt_byte(&bytes);
    switch (what % 8) {
    case 0: left = at; break; // cut short
    case 1: memset(file + at, value, MIN(n - at, 64)); break;
    case 2: file[at] = value; break;
    case 3: memmove(file + at, file + at / 2, MIN(n - at, 512)); break;
    case 4: // a page takes the place of another
      memmove(file + at / 4096 * 4096, file + (at + value) % (n / 4096) * 4096, 4096);
      break;
    case 5: file[at % 4096] ^= value; break; // header and table of tables
    default: file[at] ^= value;
    }
  }
  return left;
}

static void
try_all(void)
{
  GError *error = NULL;
  LzSalvage kept;
  LzRestore restore;
  scratch_look(path);
  LzDeskOptions options = {.read_only = TRUE, .no_plan = TRUE};
  g_autoptr(LzDesk) desk = lz_desk_open(path, &options, NULL);
  LzVerify verified;
  if (desk)
    scratch_said(lz_desk_verify(desk, &verified, &error), &error);
  g_clear_object(&desk);
  scratch_said(lz_rescue_preview(path, sound, NULL, NULL, &restore, &error), &error);
  g_unlink(other);
  scratch_said(lz_rescue_salvage(path, other, NULL, &kept, &error), &error);
  if (g_file_test(other, G_FILE_TEST_EXISTS) && !scratch_look(other))
    abort(); // what was salvaged opens
}

int
LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
  static GBytes *station;
  if (!station) {
    station = scratch_station();
    begin();
    g_file_set_contents(sound, g_bytes_get_data(station, NULL), (gssize)g_bytes_get_size(station),
                        NULL);
  }
  if (size == 0)
    return 0;
  gsize n = bytes[0] % 8 == 0 ? size - 1 : g_bytes_get_size(station);
  g_autofree guint8 *file =
      bytes[0] % 8 == 0 ? g_memdup2(bytes + 1, n) : g_memdup2(g_bytes_get_data(station, NULL), n);
  if (bytes[0] % 8 != 0)
    n = change(file, n, (lzt_bytes){bytes + 1, size - 1});
  if (!g_file_set_contents(path, file ? (const char *)file : "", (gssize)n, NULL))
    abort();
  try_all();
  return 0;
}
