// SPDX-License-Identifier: GPL-3.0-or-later
// Sentences for why a minute earned nothing or an act changed nothing, and for a snapshot that the
// engine does not plan.
#include <glib/gi18n-lib.h>

#include "lz_desk_private.h"
#include "lz_format.h"
#include "lz_words.h"

char *
lz_words_why(lzq_why why, const lzq_band *band)
{
  const char *what = lz_words_analyte(band ? band->analyte : LZQ_COPPER);
  switch (why) {
  case LZQ_WHY_PLACE: return g_strdup(_("the lot does not stand in the phase's place"));
  case LZQ_WHY_NO_READING:
    return g_strdup_printf(_("no reading of %s counts: it takes a method that sees it and an "
                             "instrument that is not in "
                             "doubt"),
                           what);
  case LZQ_WHY_LAST_BAD:
    return g_strdup_printf(_("the last reading of %s is out of its band"), what);
  case LZQ_WHY_LAST_OLD:
    if (band && band->gap_min > 0) {
      g_autofree char *gap = lz_format_duration(band->gap_min);
      return g_strdup_printf(_("the last reading of %1$s is older than %2$s"), what, gap);
    }
    return g_strdup_printf(_("the last reading of %s is too old"), what);
  case LZQ_WHY_CARRIED_BAD:
    return g_strdup_printf(
        _("what was changed and dosed since the last reading left %s out of its band"), what);
  case LZQ_WHY_CARRIED_UNKNOWN:
    return g_strdup_printf(_("%s is unknown since carbon or new water went in"), what);
  case LZQ_WHY_NEXT_BAD:
    return g_strdup_printf(_("the next reading showed that %s had been out of its band"), what);
  default: return g_strdup("");
  }
}

const char *
lz_words_ignored(lzq_ignored_why why)
{
  switch (why) {
  case LZQ_IGNORED_NOT_HERE: return _("it was not here then");
  case LZQ_IGNORED_OTHER_NOT_HERE: return _("the lot to merge into was not here then");
  case LZQ_IGNORED_OTHER_COURSE: return _("the two were under different protocols");
  default: return _("that number was a lot already");
  }
}

char *
lz_words_fault(LzDesk *desk, const lzq_fault *fault)
{
  static const struct {
    lzq_fault_what what;
    const char *kind;
  } kinds[] = {{LZQ_FAULT_SYSTEM, "system"},  {LZQ_FAULT_TANK, "tank"},
               {LZQ_FAULT_LOT, "lot"},        {LZQ_FAULT_INSTRUMENT, "instrument"},
               {LZQ_FAULT_BOTTLE, "bottle"},  {LZQ_FAULT_PROTOCOL, "protocol"},
               {LZQ_FAULT_PHASE, "protocol"}, {LZQ_FAULT_BAND, "protocol"}};
  g_autofree char *value = lz_format_short(fault->value, 3);
  for (guint i = 0; i < G_N_ELEMENTS(kinds); i++)
    if (kinds[i].what == fault->what)
      // Translators: kind, its name, field, value
      return g_strdup_printf(_("no plan: %1$s %2$s, %3$s: %4$s is not accepted"),
                             lz_words_kind(kinds[i].kind),
                             lz_desk_name(desk, kinds[i].kind, fault->index), fault->field, value);
  if (fault->what == LZQ_FAULT_RECORD && fault->index < desk->model->records->len) {
    const lzq_record *r = &g_array_index(desk->model->records, lzq_record, fault->index);
    return g_strdup_printf(_("no plan: entry %1$d, %2$s: %3$s is not accepted"),
                           (int)(r->id / LZ_RECORDS_PER_ENTRY), fault->field, value);
  }
  return g_strdup_printf(_("no plan: %1$s: %2$s is not accepted"),
                         fault->field ? fault->field : "?", value);
}
