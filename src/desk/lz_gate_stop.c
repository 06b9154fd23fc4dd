// SPDX-License-Identifier: GPL-3.0-or-later
// What a person reads at the gates that an act meets, whichever they are: what, instead, why and on
// whose word, who may lift it.
#include <glib/gi18n-lib.h>
#include <stdarg.h>

#include "lz_check.h"

static LzDeskError
code_of(LzLift lift)
{
  switch (lift) {
  case LZ_LIFT_SECOND_PERSON: return LZ_DESK_ERROR_NEEDS_SECOND_PERSON;
  case LZ_LIFT_REASON: return LZ_DESK_ERROR_NEEDS_REASON;
  case LZ_LIFT_AGAIN: return LZ_DESK_ERROR_NEEDS_READBACK;
  default: return LZ_DESK_ERROR_REFUSED;
  }
}

static char *
rule_words(const LzGateRule *rule, const char *words)
{
  // Translators: sentence; what to do; why; source
  return g_strdup_printf(_("%1$s.\nInstead: %2$s.\nWhy: %3$s (%4$s)."), words, _(rule->instead),
                         _(rule->why), _(rule->source));
}

char *
lz_gate_words(LzGateCode code, const char *words)
{
  const LzGateRule *rule = lz_gate_rule(code);
  g_autofree char *all = rule_words(rule, words);
  g_autofree char *who = g_strdup_printf(_("May be lifted by: %s"), _(lz_gate_lift(rule->lift)));
  return g_strconcat(all, "\n", who, NULL);
}

static void
clear_stop(gpointer stop)
{
  g_free(((LzStop *)stop)->words);
}

// Takes the words.
static void
add_stop(LzDraft *d, LzGateCode code, char *words)
{
  if (!d->stops) {
    d->stops = g_array_new(FALSE, FALSE, sizeof(LzStop));
    g_array_set_clear_func(d->stops, clear_stop);
  }
  const LzStop stop = {code, words};
  g_array_append_val(d->stops, stop);
}

gboolean
lz_gate_refuse(LzDraft *d, LzGateCode code, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  add_stop(d, code, g_strdup_vprintf(format, args));
  va_end(args);
  return FALSE;
}

// Gates that a second person lifted are kept with the dose, for the weekly look at them.
static void
add_lifted(LzDraft *d, const char *id)
{
  if (lzs_kind_field(d->spec, "lifted") < 0)
    return;
  const char *before = lz_draft_text(d, "lifted");
  g_autofree char *all = before ? g_strconcat(before, " ", id, NULL) : g_strdup(id);
  lz_draft_set_text(d, "lifted", all);
}

void
lz_gate_stop(LzDraft *d, LzGateCode code, char *words)
{
  const LzGateRule *rule = lz_gate_rule(code);
  gboolean lifted = (rule->lift == LZ_LIFT_SECOND_PERSON && d->entry.witness) ||
                    (rule->lift == LZ_LIFT_REASON && d->entry.reason);
  if (d->live && !lifted && rule->lift != LZ_LIFT_KEPT) {
    add_stop(d, code, words);
    return;
  }
  if (lifted && rule->lift == LZ_LIFT_SECOND_PERSON)
    add_lifted(d, rule->id);
  lz_command_note(d->command, words);
}

// --- all of them as one error

static LzLift
lift_of(const LzDraft *d, guint i)
{
  return lz_gate_rule(g_array_index(d->stops, LzStop, i).code)->lift;
}

// Whether a stop of the same gate was said before it.
static gboolean
is_said(const LzDraft *d, guint i)
{
  for (guint k = 0; k < i; k++)
    if (g_array_index(d->stops, LzStop, k).code == g_array_index(d->stops, LzStop, i).code)
      return TRUE;
  return FALSE;
}

// Every sentence of one gate, and what its rule adds once; who may lift it is said of several at
// their end.
static void
say_gate(const LzDraft *d, LzGateCode code, gboolean last, GString *out)
{
  g_autoptr(GString) sentences = g_string_new(NULL);
  for (guint i = 0; i < d->stops->len; i++) {
    const LzStop *stop = &g_array_index(d->stops, LzStop, i);
    if (stop->code == code)
      g_string_append_printf(sentences, "%s%s", sentences->len ? ".\n" : "", stop->words);
  }
  g_autofree char *all =
      last ? lz_gate_words(code, sentences->str) : rule_words(lz_gate_rule(code), sentences->str);
  g_string_append_printf(out, "%s%s", out->len ? "\n\n" : "", all);
}

// Whether another gate that only the same may lift follows.
static gboolean
is_last(const LzDraft *d, guint i)
{
  for (guint k = i + 1; k < d->stops->len; k++)
    if (lift_of(d, k) == lift_of(d, i) && !is_said(d, k))
      return FALSE;
  return TRUE;
}

gboolean
lz_gate_settle(LzDraft *d, gboolean ok, GError **error)
{
  if (!d->stops)
    return ok;
  g_autoptr(GArray) stops = d->stops;
  if (!error || !*error) { // else a field could not be read, which comes first
    g_autoptr(GString) words = g_string_new(NULL);
    LzLift hardest = LZ_LIFT_KEPT;
    for (int lift = LZ_LIFT_NOBODY; lift <= LZ_LIFT_KEPT; lift++)
      for (guint i = 0; i < stops->len; i++)
        if ((int)lift_of(d, i) == lift && !is_said(d, i)) {
          hardest = MIN(hardest, (LzLift)lift);
          say_gate(d, g_array_index(stops, LzStop, i).code, is_last(d, i), words);
        }
    lz_refuse(error, code_of(hardest), "%s", words->str);
  }
  d->stops = NULL;
  return FALSE;
}
