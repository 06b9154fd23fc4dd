// SPDX-License-Identifier: GPL-3.0-or-later
// libFuzzer target: what people type or bring along, whatever it is, is read or refused with a
// sentence. The first byte chooses the parser: table, number, local time.
#include <glib.h>
#include <lz_error.h>
#include <lz_format.h>
#include <lz_tables.h>
#include <lz_zone.h>
#include <stdlib.h>
#include <string.h>

static void
must_say(gboolean read, GError *error)
{
  if (read == (error != NULL) || (error && !g_utf8_validate(error->message, -1, NULL)))
    abort();
  g_clear_error(&error);
}

static void
table(const char *text, size_t n)
{
  GError *error = NULL;
  GArray *lines = NULL;
  GPtrArray *rows = lz_csv_parse(text, n, &lines, &error);
  must_say(rows != NULL, error);
  if (!rows)
    return;
  // What is written again reads the same, but for a byte-order mark, which is taken off.
  if (rows->len && g_str_has_prefix(((char **)rows->pdata[0])[0], "\xef\xbb\xbf")) {
    g_ptr_array_unref(rows);
    g_array_unref(lines);
    return;
  }
  g_autoptr(GString) out = g_string_new(NULL);
  for (guint i = 0; i < rows->len; i++)
    lz_csv_append(out, rows->pdata[i], g_strv_length(rows->pdata[i]), FALSE);
  GPtrArray *again = lz_csv_parse(out->str, out->len, NULL, NULL);
  if (again) { // a first row may look as if another sign parted its cells
    for (guint i = 0; i < rows->len && again->len == rows->len; i++)
      if (!g_strv_equal(rows->pdata[i], again->pdata[i]))
        abort();
    g_ptr_array_unref(again);
  }
  g_ptr_array_unref(rows);
  g_array_unref(lines);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

int
LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
  static LzZone *zone;
  GError *error = NULL;
  double number;
  lzq_minute minute;
  if (size == 0)
    return 0;
  if (!zone)
    zone = lz_zone_new("Europe/Berlin", NULL);
  g_autofree char *text = g_strndup((const char *)bytes + 1, size - 1);
  switch (bytes[0] % 3) {
  case 0: table((const char *)bytes + 1, size - 1); break;
  case 1:
    must_say(g_utf8_validate(text, -1, NULL) ? lz_parse_number(text, &number, NULL, &error) : TRUE,
             error);
    break;
  default:
    if (g_utf8_validate(text, -1, NULL))
      must_say(lz_zone_parse(zone, text, 29557920, &minute, &error), error);
  }
  return 0;
}
