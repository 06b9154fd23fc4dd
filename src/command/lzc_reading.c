// SPDX-License-Identifier: GPL-3.0-or-later
// What the verbs that only read have in common.
#include "lzc.h"

#include <glib/gi18n.h>

gboolean
lzc_reading_begin(LzcReading *r, const char *path, const char *verb, const char *rest,
                  const char *summary, LzcReads reads, int *argc, char ***argv, int *status)
{
  GOptionEntry entries[5] = {
      {"at", 0, 0, G_OPTION_ARG_STRING, &r->at, N_("as of this local time (default: now)"),
       N_("TIME")},
      {"format", 0, 0, G_OPTION_ARG_STRING, &r->format, N_("text or csv"), N_("FORMAT")}};
  guint n = 2;
  if (reads & LZC_READS_LOT)
    entries[n++] =
        (GOptionEntry){"lot", 0, 0, G_OPTION_ARG_STRING, &r->lot, N_("this lot only"), N_("LOT")};
  if (reads & LZC_READS_SYSTEM)
    entries[n++] = (GOptionEntry){
        "system", 0, 0, G_OPTION_ARG_STRING, &r->system, N_("this system only"), N_("SYSTEM")};
  if (!lzc_options(verb, rest, summary, entries, argc, argv, status) ||
      !lzc_format_is_csv(r->format, &r->csv, status))
    return FALSE;
  if (!*rest && *argc > 1) {
    *status = lzc_wrong(_("“%s” is not understood. Accepted: options only."), (*argv)[1]);
    return FALSE;
  }
  r->desk = lzc_open_reading(path, r->at, status);
  return r->desk != NULL;
}

void
lzc_reading_clear(LzcReading *r)
{
  g_clear_pointer(&r->at, g_free);
  g_clear_pointer(&r->format, g_free);
  g_clear_pointer(&r->lot, g_free);
  g_clear_pointer(&r->system, g_free);
  g_clear_object(&r->desk);
}
