// SPDX-License-Identifier: GPL-3.0-or-later
// Lines of the round: where, what, how much.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_format.h"
#include "lz_words.h"

static char *
task_dose(LzDesk *desk, const lzq_task *t)
{
  const char *what = t->bottle != LZQ_NONE ? lz_desk_name(desk, "bottle", t->bottle)
                                           : lz_words_analyte(t->analyte);
  if (!(t->with_change_l > 0))
    return g_strdup_printf(_("Dose %s"), what);
  g_autofree char *litres = lz_format_amount(t->with_change_l, LZQ_UNIT_L);
  // Translators: bottle, litres
  return g_strdup_printf(_("Dose %1$s into the %2$s of new water"), what, litres);
}

// New water that is to be as the water there is said by the salinity that was read there.
static char *
task_change(LzDesk *desk, const lzq_task *t)
{
  const double there = lz_desk_plan(desk)->waters[t->system].level[1];
  const double wanted = isnan(t->new_salinity) ? there : t->new_salinity;
  if (isnan(wanted))
    return g_strdup(_("Change with water of the salinity there"));
  if (wanted == 0)
    return g_strdup(_("Change with fresh water"));
  g_autofree char *salinity = lz_format_level(LZQ_SALINITY, wanted);
  return g_strdup_printf(_("Change with water of salinity %s"), salinity);
}

char *
lz_words_task(LzDesk *desk, const lzq_task *t)
{
  switch (t->kind) {
  case LZQ_TASK_TEST: return g_strdup_printf(_("Test %s"), lz_words_analyte(t->analyte));
  case LZQ_TASK_DOSE: return task_dose(desk, t);
  case LZQ_TASK_CHANGE: return task_change(desk, t);
  case LZQ_TASK_SALT: return g_strdup(_("Add salt"));
  case LZQ_TASK_TOPUP: return g_strdup(_("Top up with fresh water"));
  case LZQ_TASK_MOVE:
    if (t->to_system == LZQ_NONE)
      return g_strdup_printf(_("Move lot %s on"), lz_desk_name(desk, "lot", t->lot));
    return g_strdup_printf(_("Move lot %1$s to %2$s"), lz_desk_name(desk, "lot", t->lot),
                           lz_desk_name(desk, "system", t->to_system));
  case LZQ_TASK_BATH: return g_strdup_printf(_("Bath with %s"), lz_words_analyte(t->analyte));
  case LZQ_TASK_FEED: return g_strdup_printf(_("Feed lot %s"), lz_desk_name(desk, "lot", t->lot));
  case LZQ_TASK_INSPECT:
    return g_strdup_printf(_("Look at lot %s"), lz_desk_name(desk, "lot", t->lot));
  case LZQ_TASK_SCRAPE:
    return g_strdup_printf(_("Scrape a fish of lot %s"), lz_desk_name(desk, "lot", t->lot));
  case LZQ_TASK_GEAR:
    return g_strdup_printf(t->because.n[1] == 1 ? _("Switch on: %s")
                                                : _("Switch off or take out: %s"),
                           lz_words_gear((lzq_gear)t->gear));
  case LZQ_TASK_CALIBRATE: return g_strdup(_("Check against its standard"));
  case LZQ_TASK_DISINFECT: return g_strdup(_("Disinfect"));
  case LZQ_TASK_FILL: return g_strdup(_("Fill"));
  case LZQ_TASK_ACCEPT:
    return g_strdup_printf(_("Accept or repeat: lot %s left short"),
                           lz_desk_name(desk, "lot", t->lot));
  case LZQ_TASK_SIGN:
    return g_strdup_printf(_("Sign for lot %s"), lz_desk_name(desk, "lot", t->lot));
  case LZQ_TASK_RELEASE:
    return g_strdup_printf(_("Release lot %s"), lz_desk_name(desk, "lot", t->lot));
  case LZQ_TASK_DECIDE:
    return g_strdup_printf(_("Choose how lot %s goes on"), lz_desk_name(desk, "lot", t->lot));
  default: return g_strdup("");
  }
}

char *
lz_words_task_lots(LzDesk *desk, const lzq_task *t, const uint32_t *lots, guint n)
{
  g_autoptr(GString) names = g_string_new(NULL);
  for (guint i = 0; i < n; i++)
    g_string_append_printf(names, "%s%s", i ? ", " : "", lz_desk_name(desk, "lot", lots[i]));
  // Translators: two or more lots' numbers
  return t->kind == LZQ_TASK_FEED ? g_strdup_printf(_("Feed lots %s"), names->str)
                                  : g_strdup_printf(_("Look at lots %s"), names->str);
}

char *
lz_words_task_amount(LzDesk *desk, const lzq_task *t)
{
  if (t->unit == LZQ_UNIT_NONE || !isfinite(t->amount))
    return g_strdup("");
  if (t->unit == LZQ_UNIT_HEADS)
    return g_strdup_printf(ngettext("%d fish", "%d fish", (unsigned long)t->amount),
                           (int)t->amount);
  return lz_format_amount(t->amount, t->unit);
}

char *
lz_words_task_where(LzDesk *desk, const lzq_task *t)
{
  const char *place = t->instrument != LZQ_NONE ? lz_desk_name(desk, "instrument", t->instrument)
                      : t->tank != LZQ_NONE     ? lz_desk_name(desk, "tank", t->tank)
                      : t->system != LZQ_NONE   ? lz_desk_name(desk, "system", t->system)
                                                : "";
  if (t->lot == LZQ_NONE)
    return g_strdup(place);
  const char *lot = lz_desk_name(desk, "lot", t->lot);
  return *place ? g_strdup_printf("%s \xc2\xb7 %s", place, lot) : g_strdup(lot);
}
