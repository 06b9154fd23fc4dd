// SPDX-License-Identifier: GPL-3.0-or-later
// Sentences for the engine's reasons. Each says what stands in the way or why a line is there, with
// its numbers.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_desk_private.h"
#include "lz_format.h"
#include "lz_words.h"

// Short-lived texts of one sentence.
typedef struct {
  LzDesk *desk;
  const lzq_because *b;
  GPtrArray *texts;
} Say;

static const char *
keep(Say *s, char *text)
{
  return lz_keep(s->texts, text);
}

static const char *
span(Say *s, int i)
{
  return keep(s, lz_format_duration((int64_t)s->b->n[i]));
}

static const char *
when(Say *s, int i)
{
  double minute = s->b->n[i];
  lzq_minute at = isfinite(minute) && fabs(minute) < 1e15 ? (lzq_minute)minute : LZQ_NEVER;
  return keep(s, lz_format_time(lz_desk_zone(s->desk), at));
}

static const char *
litres(Say *s, int i)
{
  return keep(s, lz_format_amount(s->b->n[i], LZQ_UNIT_L));
}

static const char *
level(Say *s, lzq_analyte analyte, int i)
{
  g_autofree char *number = lz_format_level(analyte, s->b->n[i]);
  const char *unit = lz_words_analyte_unit(analyte);
  return keep(s, *unit ? g_strconcat(number, " ", unit, NULL) : g_steal_pointer(&number));
}

static lzq_analyte
analyte(Say *s, int i)
{
  double n = s->b->n[i];
  return n >= 0 && n < LZQ_N_ANALYTES ? (lzq_analyte)n : LZQ_COPPER;
}

static const char *
analyte_word(Say *s, int i)
{
  return lz_words_analyte(analyte(s, i));
}

static uint32_t
index_at(Say *s, int i)
{
  double n = s->b->n[i];
  return n >= 0 && n < (double)LZQ_NONE ? (uint32_t)n : LZQ_NONE;
}

static const char *
name(Say *s, const char *kind, int i)
{
  return lz_desk_name(s->desk, kind, index_at(s, i));
}

static const char *
trait(int bit)
{
  switch (bit) {
  case LZQ_TRAIT_INVERTEBRATE: return _("an invertebrate");
  case LZQ_TRAIT_CARTILAGINOUS: return _("a shark or ray");
  case LZQ_TRAIT_LOW_SALT_SENSITIVE: return _("a species that does not stand low salinity");
  default: return _("a species that does not stand copper");
  }
}

// What is known of the interval of parasites is known at a temperature.
static char *
warmth(Say *s)
{
  g_autofree char *is = lz_format_short(s->b->n[0], 1), *from = lz_format_short(s->b->n[1], 1),
                  *to = lz_format_short(s->b->n[2], 1);
  g_autofree char *range = isnan(s->b->n[2]) ? g_strdup_printf(_("from %s °C"), from)
                           : isnan(s->b->n[1])
                               ? g_strdup_printf(_("up to %s °C"), to)
                               : g_strdup_printf(_("from %1$s to %2$s °C"), from, to);
  if (isnan(s->b->n[0]))
    return g_strdup_printf(_("its times hold %s, and nobody has read the temperature: read it, and "
                             "ask a veterinarian if it is outside"),
                           range);
  return g_strdup_printf(_("its times hold %1$s, and the water has %2$s: bring it there, or ask a "
                           "veterinarian which times hold here"),
                         range, is);
}

static char *
late(Say *s)
{
  if (s->b->n[1] == 2)
    return g_strdup_printf(_("merged on %s with fish whose next transfer or dose is due at another "
                             "time: none can be in time for all, so the course begins anew"),
                           when(s, 0));
  return g_strdup_printf(s->b->n[1] > 0 ? _("the dose was late on %s: back to the first one")
                                        : _("the transfer was late on %s: back to the first one"),
                         when(s, 0));
}

static char *
say_credit(Say *s)
{
  switch (s->b->code) {
  case LZQ_BECAUSE_CREDIT_RUNS:
    return g_strdup_printf(
        _("credit runs: %1$s of %2$s served; it ends on time if every test is kept"), span(s, 0),
        span(s, 1));
  case LZQ_BECAUSE_CREDIT_WAITS: {
    lzq_band band = {.analyte = analyte(s, 3)};
    const char *why = keep(s, lz_words_why((lzq_why)(int)s->b->n[2], &band));
    if (!(s->b->n[1] > 0))
      return g_strdup_printf(_("not there yet: %s"), why);
    return g_strdup_printf(_("no credit now: %3$s; %1$s of %2$s served"), span(s, 0), span(s, 1),
                           why);
  }
  case LZQ_BECAUSE_ELAPSED:
    return g_strdup_printf(_("%1$s of at least %2$s have passed"), span(s, 0), span(s, 1));
  case LZQ_BECAUSE_QUIET:
    return g_strdup_printf(_("%1$s of %2$s without a sighting"), span(s, 0), span(s, 1));
  case LZQ_BECAUSE_EATING:
    return g_strdup_printf(ngettext("%1$d of %2$d day of eating", "%1$d of %2$d days of eating",
                                    (unsigned long)s->b->n[1]),
                           (int)s->b->n[0], (int)s->b->n[1]);
  case LZQ_BECAUSE_LOOK:
    return g_strdup(_("every fish, while it feeds: spots, breathing, clamped fins, rubbing"));
  case LZQ_BECAUSE_SIGN:
    return g_strdup(s->b->n[0] == 1 ? _("waits for the veterinarian's signature")
                                    : _("waits for a named person's signature"));
  case LZQ_BECAUSE_PLACE:
    if (s->b->n[0] == LZQ_ASKS_CLEAN)
      return g_strdup(_("not in its place yet: it needs the next clean tank"));
    return g_strdup_printf(_("not in its place yet: it needs a system for %s"),
                           lz_words_role((lzq_role)(int)s->b->n[0]));
  case LZQ_BECAUSE_LAPSED:
    return g_strdup_printf(_("lapsed on %s: too long without credit"), when(s, 0));
  case LZQ_BECAUSE_SHORT:
    if (s->b->n[0] == 0)
      return g_strdup_printf(_("left “%s” before its end was proven"), name(s, "phase", 1));
    return g_strdup_printf(_("left “%2$s” %1$s short"), span(s, 0), name(s, "phase", 1));
  case LZQ_BECAUSE_SIGHTING:
    return g_strdup_printf(_("seen in %2$s on %1$s: back to day one"), when(s, 0),
                           name(s, "system", 1));
  case LZQ_BECAUSE_TRANSFER_LATE: return late(s);
  case LZQ_BECAUSE_WARMTH: return warmth(s);
  case LZQ_BECAUSE_SERVED: return g_strdup_printf(_("served since %s"), when(s, 0));
  case LZQ_BECAUSE_RELEASED: return g_strdup_printf(_("released on %s"), when(s, 0));
  case LZQ_BECAUSE_HELD_BY:
    return g_strdup_printf(_("held by lot %s, which came in last"), name(s, "lot", 0));
  case LZQ_BECAUSE_HELD_NO_COURSE:
    return g_strdup_printf(_("held by lot %s, which is under no protocol"), name(s, "lot", 0));
  case LZQ_BECAUSE_NO_COURSE:
    return g_strdup(s->b->n[0] > 0 ? _("under no protocol any more: begin one")
                                   : _("no protocol yet"));
  default: return NULL;
  }
}

// A bath beside the system: how strong, and how much of the bottle 100 L of it take.
static char *
say_bath(Say *s)
{
  const char *strong = level(s, analyte(s, 0), 1);
  if (!isfinite(s->b->n[2]))
    return g_strdup(strong);
  const char *ml = keep(s, lz_format_amount(s->b->n[2], LZQ_UNIT_ML));
  if (analyte(s, 0) == LZQ_FORMALIN && !(s->b->n[3] <= 21))
    return g_strdup_printf(
        _("%1$s: %2$s in 100 L of bath; water warmer than 21 °C, or not read, takes no more"),
        strong, ml);
  return g_strdup_printf(_("%1$s: %2$s in 100 L of bath"), strong, ml);
}

static char *
say_medicate(Say *s)
{
  if (isnan(s->b->n[1]))
    return g_strdup_printf(_("the dose of this phase: %s, on top of what is left of the last one"),
                           level(s, analyte(s, 0), 3));
  return g_strdup_printf(_("the dose of this phase: %1$s to %2$s"), level(s, analyte(s, 0), 1),
                         level(s, analyte(s, 0), 2));
}

// The rate is the water's own only once its readings have shown it.
static char *
say_expected(Say *s)
{
  const double a_day = s->b->n[0] * -expm1(-24 * s->b->n[2]);
  const char *form =
      isnan(a_day) ? _("expected by then: %1$s; back to %2$s if the test agrees")
      : s->b->n[3] == 1
          ? _("it loses about %3$s mg/L a day; expected by then: %1$s; back to %2$s if the test "
              "agrees")
          : _("usually about %3$s mg/L a day is lost, too few readings show it here yet; expected "
              "by then: %1$s; back to %2$s if the test agrees");
  return g_strdup_printf(form, level(s, LZQ_COPPER, 0), level(s, LZQ_COPPER, 1),
                         keep(s, lz_format_short(a_day, 3)));
}

static char *
say_no_course_in_copper(Say *s)
{
  const char *is = isnan(s->b->n[0]) ? _("level not known, test first") : level(s, LZQ_COPPER, 0);
  const char *out = isnan(s->b->n[1])
                        ? _("by changes")
                        : keep(s, g_strdup_printf(_("by changes, %s in all"), litres(s, 1)));
  return g_strdup_printf(s->b->n[3] == 1 ? _("its course was stopped in copper (%1$s): begin a "
                                             "course, or take the copper out %2$s, "
                                             "or by carbon; a veterinarian decides")
                                         : _("in copper (%1$s) and under no protocol: begin a "
                                             "course, or take the copper out %2$s, "
                                             "or by carbon; a veterinarian decides"),
                         is, out);
}

static char *
say_water(Say *s)
{
  switch (s->b->code) {
  case LZQ_BECAUSE_RISE_STEP:
    return g_strdup_printf(_("step %1$d of %2$d of the rise: %3$s to %4$s"), (int)s->b->n[0],
                           (int)s->b->n[1], level(s, LZQ_COPPER, 2), level(s, LZQ_COPPER, 3));
  case LZQ_BECAUSE_MEDICATE: return say_medicate(s);
  case LZQ_BECAUSE_BATH: return say_bath(s);
  case LZQ_BECAUSE_LOWER_STEP:
    return g_strdup_printf(_("step %1$d of %2$d down: salinity %3$s to %4$s"), (int)s->b->n[0],
                           (int)s->b->n[1], level(s, LZQ_SALINITY, 2), level(s, LZQ_SALINITY, 3));
  case LZQ_BECAUSE_RAISE_STEP:
    return g_strdup_printf(_("step %1$d of %2$d up: salinity %3$s to %4$s"), (int)s->b->n[0],
                           (int)s->b->n[1], level(s, LZQ_SALINITY, 2), level(s, LZQ_SALINITY, 3));
  case LZQ_BECAUSE_REPLACE:
    return g_strdup_printf(
        _("replaces what changing %1$s took out: %2$s would fall to %3$s, back to %4$s"),
        litres(s, 0), level(s, LZQ_COPPER, 1), level(s, LZQ_COPPER, 2), level(s, LZQ_COPPER, 3));
  case LZQ_BECAUSE_TOP_UP_LEVEL:
    return g_strdup_printf(_("back to the target: %1$s to %2$s"), level(s, LZQ_COPPER, 0),
                           level(s, LZQ_COPPER, 1));
  case LZQ_BECAUSE_EXPECTED: return say_expected(s);
  case LZQ_BECAUSE_NO_COURSE_IN_COPPER: return say_no_course_in_copper(s);
  case LZQ_BECAUSE_TOO_HIGH:
    return g_strdup_printf(_("too high: changing %3$s brings %1$s to %2$s"),
                           level(s, LZQ_COPPER, 0), level(s, LZQ_COPPER, 1), litres(s, 2));
  case LZQ_BECAUSE_HARM:
    return g_strdup_printf(_("change water now: %1$s, and %2$s harms"), level(s, LZQ_COPPER, 0),
                           level(s, LZQ_COPPER, 1));
  case LZQ_BECAUSE_OPEN_DOSE: {
    const char *mg = keep(s, lz_format_short(s->b->n[1], 1));
    return g_strdup_printf(
        _("dosed at %1$s (%2$s mg) and not read since; a reading from %3$s on unlocks it"),
        when(s, 0), mg, when(s, 2));
  }
  case LZQ_BECAUSE_GEAR:
    return g_strdup_printf(s->b->n[1] == 1 ? _("first switch on: %s")
                                           : _("first switch off or take out: %s"),
                           lz_words_gear((lzq_gear)(int)s->b->n[0]));
  case LZQ_BECAUSE_NO_COMMON_BAND:
    return g_strdup_printf(_("no water serves both this lot and lot %1$s: their %2$s differs"),
                           name(s, "lot", 0), analyte_word(s, 1));
  case LZQ_BECAUSE_NO_BOTTLE:
    if (analyte(s, 0) != LZQ_COPPER)
      return g_strdup_printf(_("no bottle in date on the shelf holds %s"), analyte_word(s, 0));
    return g_strdup_printf(_("no bottle in date on the shelf holds %1$s (%2$s)"),
                           analyte_word(s, 0), lz_words_form((lzq_form)(int)s->b->n[1]));
  case LZQ_BECAUSE_CANNOT_HOLD:
    return g_strdup_printf(_("%s cannot be held with these test times"), analyte_word(s, 0));
  default: return NULL;
  }
}

static char *
say_test(Say *s)
{
  switch (s->b->code) {
  case LZQ_BECAUSE_TEST_RHYTHM:
    return g_strdup_printf(_("%2$s: after %1$s without a reading the count stops"), when(s, 0),
                           analyte_word(s, 1));
  case LZQ_BECAUSE_TEST_FIRST:
    return g_strdup_printf(_("%s was never read here: nothing counts before"), analyte_word(s, 0));
  case LZQ_BECAUSE_TEST_CONFIRMS:
    return g_strdup_printf(_("confirms the last dose or change: %s"), analyte_word(s, 0));
  case LZQ_BECAUSE_TEST_ENDS_PHASE:
    return g_strdup_printf(_("makes the end of the phase firm: %s"), analyte_word(s, 0));
  case LZQ_BECAUSE_TEST_BEFORE_CHANGE:
    return g_strdup_printf(_("before changing %s, so that the time before it is proven"),
                           litres(s, 0));
  case LZQ_BECAUSE_TEST_REPEAT:
    if (s->b->n[2] > 0 && isfinite(s->b->n[3]))
      return g_strdup_printf(_("test again at once, before any round: the last reading of %1$s, "
                               "%2$s, is in doubt, and %3$s harms. If it is confirmed, change "
                               "%4$s now, with water without it"),
                             analyte_word(s, 0), level(s, analyte(s, 0), 1),
                             level(s, analyte(s, 0), 2), litres(s, 3));
    return g_strdup_printf(_("test again: the last reading of %1$s, %2$s, is in doubt"),
                           analyte_word(s, 0), level(s, analyte(s, 0), 1));
  case LZQ_BECAUSE_SLOT_GAP:
    return g_strdup_printf(_("nobody tests between %1$s and %2$s: %3$s of it earn nothing"),
                           when(s, 0), when(s, 1), span(s, 2));
  case LZQ_BECAUSE_WILL_LAPSE:
    return g_strdup_printf(
        _("nobody tests in time: nothing is earned from %1$s to %2$s (%3$s), and "
          "the count begins again"),
        when(s, 0), when(s, 1), span(s, 2));
  case LZQ_BECAUSE_CHECK_DUE:
    if (s->b->n[2] == 1)
      return g_strdup(_("it failed its last check: what it reads is in doubt"));
    if (!((lzq_minute)s->b->n[0] > LZQ_LONG_AGO))
      return g_strdup(_("never checked: what it reads is in doubt"));
    return g_strdup_printf(ngettext("last checked on %1$s, good for %2$d day",
                                    "last checked on %1$s, good for %2$d days",
                                    (unsigned long)s->b->n[1]),
                           when(s, 0), (int)s->b->n[1]);
  case LZQ_BECAUSE_LEVEL_UNKNOWN:
    return g_strdup_printf(_("%s is unknown since carbon or resin was in: test first"),
                           analyte_word(s, 0));
  default: return NULL;
  }
}

static char *
say_move(Say *s)
{
  switch (s->b->code) {
  case LZQ_BECAUSE_MERGED:
    return g_strdup_printf(_("goes on in lot %s, into which it was merged"), name(s, "lot", 0));
  case LZQ_BECAUSE_NO_FISH: return g_strdup(_("none of its fish is left"));
  case LZQ_BECAUSE_MOVE_READY:
    return g_strdup_printf(_("%s is ready for it"), name(s, "system", 0));
  case LZQ_BECAUSE_MOVE_NOT_MATCHED: {
    lzq_analyte a = analyte(s, 0);
    return g_strdup_printf(_("%1$s does not match: %2$s here, %3$s there, may differ by %4$s"),
                           lz_words_analyte(a), level(s, a, 1), level(s, a, 2), level(s, a, 3));
  }
  case LZQ_BECAUSE_MOVE_NO_ROOM:
    if (s->b->n[0] == LZQ_ASKS_CLEAN)
      return g_strdup(_("no clean tank is free, or can be by then"));
    return g_strdup_printf(_("no system for %s can take it"),
                           lz_words_role((lzq_role)(int)s->b->n[0]));
  case LZQ_BECAUSE_PHASE_ENDS: return g_strdup_printf(_("the phase before ends on %s"), when(s, 0));
  case LZQ_BECAUSE_TURN_ROUND:
    return g_strdup_printf(
        _("empty, clean, disinfect and dry it before lot %1$s comes on %2$s: %3$s"),
        name(s, "lot", 3), when(s, 1), span(s, 2));
  case LZQ_BECAUSE_TURN_DONE:
    return g_strdup_printf(_("disinfection begun on %1$s, dry from %2$s on"), when(s, 0),
                           when(s, 1));
  case LZQ_BECAUSE_MOVE_NOT_FIRM:
    return g_strdup(_("waits for the test that confirms the end of the phase"));
  case LZQ_BECAUSE_MOVE_APART:
    return g_strdup_printf(_("in isolation: back to %s when it is fit; until then its water is "
                             "kept as its course asks, but the time does not count"),
                           name(s, "system", 0));
  case LZQ_BECAUSE_SPECIES:
    return g_strdup_printf(_("%s must not meet this treatment"), trait((int)s->b->n[0]));
  case LZQ_BECAUSE_SPECIES_NO_DATA:
    return g_strdup(
        _("no data for this species and this treatment: that is not “safe”; ask the veterinarian"));
  default: return NULL;
  }
}

char *
lz_words_because(LzDesk *desk, const lzq_because *because)
{
  g_autoptr(GPtrArray) texts = g_ptr_array_new_with_free_func(g_free);
  Say say = {.desk = desk, .b = because, .texts = texts};
  char *words = say_credit(&say);
  if (!words)
    words = say_water(&say);
  if (!words)
    words = say_test(&say);
  if (!words)
    words = say_move(&say);
  return words ? words : g_strdup("");
}
