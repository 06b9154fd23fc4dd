// SPDX-License-Identifier: GPL-3.0-or-later
// What a person reads at a gate, whichever it is: what, instead, why and on whose word, who may
// lift it.
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

char *
lz_gate_words(LzGateCode code, const char *words)
{
  const LzGateRule *rule = lz_gate_rule(code);
  // Translators: sentence; what to do; why; source; who
  return g_strdup_printf(_("%1$s.\nInstead: %2$s.\nWhy: %3$s (%4$s).\nMay be lifted by: %5$s"),
                         words, _(rule->instead), _(rule->why), _(rule->source),
                         _(lz_gate_lift(rule->lift)));
}

gboolean
lz_gate_refuse(GError **error, LzGateCode code, const char *format, ...)
{
  const LzGateRule *rule = lz_gate_rule(code);
  va_list args;
  va_start(args, format);
  g_autofree char *words = g_strdup_vprintf(format, args);
  va_end(args);
  g_autofree char *all = lz_gate_words(code, words);
  return lz_refuse(error, code_of(rule->lift), "%s", all);
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

gboolean
lz_gate_stop(LzDraft *d, LzGateCode code, char *words, GError **error)
{
  g_autofree char *owned = words;
  const LzGateRule *rule = lz_gate_rule(code);
  gboolean lifted = (rule->lift == LZ_LIFT_SECOND_PERSON && d->entry.witness) ||
                    (rule->lift == LZ_LIFT_REASON && d->entry.reason);
  if (d->live && !lifted && rule->lift != LZ_LIFT_KEPT)
    return lz_gate_refuse(error, code, "%s", words);
  if (lifted && rule->lift == LZ_LIFT_SECOND_PERSON)
    add_lifted(d, rule->id);
  lz_command_note(d->command, g_steal_pointer(&owned));
  return TRUE;
}
