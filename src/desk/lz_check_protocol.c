// SPDX-License-Identifier: GPL-3.0-or-later
// A protocol as a whole, when a file brings it in and when a lot goes under it: what is impossible
// is refused with phase, field and reason; what is unusual or dangerous is a note.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_check.h"
#include "lz_format.h"
#include "lz_words.h"

static char *
number(double value)
{
  return lz_format_short(value, 4);
}

static const char *
analyte(double n)
{
  return lz_words_analyte((lzq_analyte)n);
}

// What is impossible. NULL = not one of these.
static char *
say_refused(const lzq_finding *f)
{
  g_autofree char *a = number(f->n[0]), *b = number(f->n[1]), *c = number(f->n[2]);
  switch (f->code) {
  case LZQ_FINDING_NO_PHASES: return g_strdup(_("it has no phases"));
  case LZQ_FINDING_NOT_A_NUMBER: return g_strdup(_("a number is needed"));
  case LZQ_FINDING_NEGATIVE: return g_strdup_printf(_("%s is below zero"), a);
  case LZQ_FINDING_UNKNOWN: return g_strdup_printf(_("there is no such thing as number %s"), a);
  case LZQ_FINDING_TOO_MANY: return g_strdup_printf(_("%1$s is more than %2$s"), a, b);
  case LZQ_FINDING_SIGHTING_FORWARD:
    return g_strdup(_("a sighting never sends fish to a later phase"));
  case LZQ_FINDING_TARGET_OUTSIDE:
    return g_strdup_printf(_("%1$s would earn no credit or pass the plan edge; works is %2$s"), a,
                           b);
  case LZQ_FINDING_RANGE_EMPTY:
    return g_strdup_printf(_("nothing lies between %1$s and %2$s"), a, b);
  case LZQ_FINDING_EDGES_CROSSED:
    return g_strdup_printf(_("works %1$s, plan %2$s and harm %3$s are not in this order"), a, b, c);
  case LZQ_FINDING_BANDS_EMPTY:
    return g_strdup_printf(_("two bands on %s leave nothing in common"), analyte(f->n[0]));
  case LZQ_FINDING_NO_GAP: return g_strdup(_("no reading could ever be young enough"));
  case LZQ_FINDING_ERROR_TOO_WIDE:
    return g_strdup_printf(_("an error of %1$s does not fit inside a width of %2$s"), a, b);
  case LZQ_FINDING_SHARE: return g_strdup_printf(_("%s is no share between 0 and 1"), a);
  case LZQ_FINDING_ENDS_AT_ONCE: return g_strdup(_("it would end as it begins"));
  case LZQ_FINDING_GEAR_BOTH:
    return g_strdup_printf(_("%s cannot be on and off at once"), lz_words_gear((lzq_gear)f->n[0]));
  case LZQ_FINDING_STEP_TOO_LARGE:
    return g_strdup_printf(_("its steps of %1$s break the limit of %2$s a day"), a, b);
  case LZQ_FINDING_WARMTH_CROSSED:
    return g_strdup_printf(_("no water is warmer than %1$s and cooler than %2$s °C"), a, b);
  default: return NULL;
  }
}

static char *
say_level(const lzq_finding *f)
{
  g_autofree char *a = number(f->n[0]), *b = number(f->n[1]);
  switch (f->code) {
  case LZQ_FINDING_LEVEL_HIGH:
    return g_strdup_printf(_("%1$s of %3$s is above the published or usual limit of %2$s"), a, b,
                           analyte(f->n[2]));
  case LZQ_FINDING_LEVEL_LOW:
    return g_strdup_printf(_("%1$s is below the published or usual limit of %2$s"), a, b);
  case LZQ_FINDING_COPPER_SPECIES: return g_strdup(_("these fish must not meet copper"));
  case LZQ_FINDING_COPPER_UNKNOWN:
    return g_strdup(_("no data on copper for these fish: that is not “safe”"));
  case LZQ_FINDING_LOW_SALT_SPECIES: return g_strdup(_("these fish do not stand low salinity"));
  case LZQ_FINDING_MEET:
    return g_strdup_printf(_("%1$s and %2$s should not meet in one water"), analyte(f->n[0]),
                           analyte(f->n[1]));
  case LZQ_FINDING_MEET_LOW_SALT:
    return g_strdup_printf(_("copper at %1$s and salinity %2$s together"), a, b);
  case LZQ_FINDING_NO_HARM_EDGE: return g_strdup(_("no level of it raises an alarm"));
  case LZQ_FINDING_FAST_RISE:
  case LZQ_FINDING_FAST_SALINITY:
    return g_strdup_printf(_("%1$s a day is faster than the usual %2$s"), a, b);
  case LZQ_FINDING_GEAR_FIGHTS:
    return g_strdup_printf(_("%s takes the medicine out and is not asked to be off"),
                           lz_words_gear((lzq_gear)f->n[0]));
  default: return NULL;
  }
}

static char *
say_time(const lzq_finding *f)
{
  g_autofree char *a = lz_format_duration((int64_t)f->n[0]);
  g_autofree char *b = lz_format_duration((int64_t)f->n[1]);
  switch (f->code) {
  case LZQ_FINDING_GAP_SHORT:
    return g_strdup_printf(_("%1$s is shorter than the %2$s between test rounds: credit is lost"),
                           a, b);
  case LZQ_FINDING_GAP_NO_SLACK:
    return g_strdup_printf(_("%1$s leaves no slack over the %2$s between test rounds"), a, b);
  case LZQ_FINDING_SIGHTING_BACK:
    return g_strdup(_("an earlier phase goes back less far than this one"));
  case LZQ_FINDING_SHORT_HOLD:
    return g_strdup_printf(_("%1$s is shorter than the usual %2$s"), a, b);
  case LZQ_FINDING_BATH_LONG: return g_strdup_printf(_("%1$s is longer than %2$s"), a, b);
  default: return g_strdup("");
  }
}

// "Ionic copper/1: phase 2, band 1, target: ..."
char *
lz_words_finding(const char *protocol, const lzq_finding *f)
{
  g_autofree char *what = say_refused(f);
  GString *out = g_string_new(protocol);
  if (!what)
    what = say_level(f);
  if (!what)
    what = say_time(f);
  if (f->phase != LZQ_NONE)
    g_string_append_printf(out, _(", phase %d"), (int)f->phase + 1);
  if (f->band != LZQ_NONE)
    g_string_append_printf(out, _(", band %d"), (int)f->band + 1);
  if (f->field)
    g_string_append_printf(out, ", %s", f->field);
  g_string_append_printf(out, ": %s", what);
  return g_string_free(out, FALSE);
}

gboolean
lz_check_protocol(LzDesk *desk, uint32_t protocol, uint32_t traits, LzCommand *command,
                  GError **error)
{
  const lzq_snapshot *s = lz_model_view(desk->model);
  const lzq_protocol *p = &s->protocols[protocol];
  const char *name = lz_desk_name(desk, "protocol", protocol);
  lzq_protocol_context context = {.slots = s->slots,
                                  .n_slots = s->n_slots,
                                  .traits = traits,
                                  .copper_limit = s->station.copper_limit,
                                  .salinity_error = NAN};
  const lzq_finding *found = NULL;
  uint32_t n = 0;
  lzq_arena arena;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  gboolean ok = lzq_protocol_check(s->phases + p->first_phase, p->n_phases, &context, &arena,
                                   &found, &n) == LZQ_OK;
  if (!ok)
    lz_refuse(error, LZ_DESK_ERROR_IO, _("there is not enough memory for the protocol"));
  const gboolean is_course = g_strcmp0(lz_command_kind(command), "course") == 0;
  for (uint32_t i = 0; i < n && ok; i++) {
    if (is_course && found[i].code == LZQ_FINDING_SIGHTING_BACK)
      continue; // for who writes a protocol, not for each lot that is put under it
    g_autofree char *words = lz_words_finding(name, &found[i]);
    if (found[i].severity == LZQ_FINDING_REFUSE)
      ok = lz_refuse(error, LZ_DESK_ERROR_REFUSED, "%s", words);
    else
      lz_command_note(command, g_steal_pointer(&words));
  }
  lzq_arena_free(&arena);
  return ok;
}
