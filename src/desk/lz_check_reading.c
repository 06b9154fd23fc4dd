// SPDX-License-Identifier: GPL-3.0-or-later
// Readings: read in their unit, kept as typed beside the canonical number; and what corrections may
// not do.
#include <glib/gi18n-lib.h>
#include <lzq_balance.h>
#include <math.h>
#include <string.h>

#include "lz_carry.h"
#include "lz_check.h"
#include "lz_format.h"
#include "lz_words.h"

// A reading by a method that says nothing about the form in that water is kept, and said so; no
// repeat of it would say more. TRUE = it is one.
static gboolean
note_wrong_form(LzDraft *d)
{
  const LzEntity *instrument = lz_model_entity(d->model, lz_draft_ref(d, "instrument"));
  const LzEntity *system = lz_model_entity(d->model, lz_draft_ref(d, "system"));
  if (!instrument || !system || g_strcmp0(lz_draft_text(d, "analyte"), "copper") != 0)
    return FALSE;
  g_autoptr(GArray) steps = lz_carry(d->model, system->index, LZQ_COPPER, d->entry.happened_min);
  lzq_form form = lz_carry_form(d->model, system->index, steps);
  uint32_t sees =
      g_array_index(d->model->instruments, lzq_instrument, instrument->index).sees_forms;
  if (form == LZQ_FORM_NONE || (sees & (1u << form)))
    return FALSE;
  g_autofree char *words =
      g_strdup_printf(_("kept, not used: %s does not see the form of copper in %s, so it says "
                        "nothing about it, high or low"),
                      instrument->label, system->label);
  lz_command_note(d->command, lz_gate_words(LZ_GATED_METHOD, words));
  return TRUE;
}

// "conductivity" of copper: the wrong instrument or the wrong analyte was named.
static void
note_unfit(LzDraft *d)
{
  static const struct {
    const char *method, *reads; // which of salinity and temperature
    gboolean other;             // whether all else
  } fits[] = {{"thermometer", "temperature", FALSE},
              {"conductivity", "salinity temperature", FALSE},
              {"refractometer", "salinity", FALSE},
              {"hydrometer", "salinity temperature", FALSE},
              {"photometer", "", TRUE},
              {"strip", "", TRUE}};
  const LzEntity *instrument = lz_model_entity(d->model, lz_draft_ref(d, "instrument"));
  const char *method = instrument ? lz_entry_text(instrument->now, "method") : NULL;
  const char *analyte = lz_draft_text(d, "analyte");
  const gboolean other = !g_str_equal(analyte, "salinity") && !g_str_equal(analyte, "temperature");
  for (guint i = 0; method && i < G_N_ELEMENTS(fits); i++) {
    if (!g_str_equal(method, fits[i].method) ||
        (other ? fits[i].other : strstr(fits[i].reads, analyte) != NULL))
      continue;
    g_autofree char *what = lz_words_code(method);
    lz_command_note(d->command,
                    g_strdup_printf(_("instrument: %1$s (%2$s) does not measure %3$s: is the "
                                      "instrument right?"),
                                    instrument->label, what,
                                    lz_words_analyte((lzq_analyte)lz_draft_word(d, "analyte"))));
  }
}

// A kit past the date of its reagents is read all the same, and said so.
static void
note_reagents(LzDraft *d)
{
  const LzEntity *instrument = lz_model_entity(d->model, lz_draft_ref(d, "instrument"));
  const char *expiry = instrument ? lz_entry_text(instrument->now, "reagent_expiry") : NULL;
  if (expiry && d->entry.happened_min >= lz_expiry_end(d->model->zone, expiry))
    lz_command_note(d->command,
                    g_strdup_printf(_("the reagents of %1$s expired on %2$s: open fresh "
                                      "ones and check it against a standard"),
                                    instrument->label, expiry));
}

static gboolean
check_tank(LzDraft *d, GError **error)
{
  const LzEntity *tank = lz_model_entity(d->model, lz_draft_ref(d, "tank"));
  int64_t system = lz_draft_ref(d, "system");
  if (!tank)
    return TRUE;
  if (!system)
    lz_draft_set_ref(d, "system", lz_entry_int(tank->now, "system"));
  else if (lz_entry_int(tank->now, "system") != system)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE, _("tank: %s hangs on another system"),
                     tank->label);
  return TRUE;
}

// What it was read on stays with it, whatever its instrument is said to be later: the mark of the
// scale, or the 25 °C to which a conductivity meter corrects.
static void
keep_reference(LzDraft *d, const char *unit)
{
  const LzEntity *instrument = lz_model_entity(d->model, lz_draft_ref(d, "instrument"));
  const char *scale = instrument ? lz_entry_text(instrument->now, "scale") : NULL;
  if (unit && scale && g_ascii_strcasecmp(unit, "SG") == 0) {
    g_autofree char *mark = g_ascii_strup(scale, -1), *whole = g_strconcat("SG ", mark, NULL);
    lz_draft_set_text(d, "unit", whole);
  } else if (unit && g_ascii_strcasecmp(unit, "mS/cm") == 0 &&
             lz_draft_value(d, "read_temperature")->null) {
    lz_draft_set_real(d, "read_temperature", 25);
  }
}

gboolean
lz_check_reading(LzDraft *d, GError **error)
{
  const char *typed = lz_command_get(d->command, "value");
  const char *word = lz_draft_text(d, "analyte");
  if (!word)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("analyte: nothing was given; accepted is copper, salinity, "
                       "temperature, ph …"));
  if (!check_tank(d, error))
    return FALSE;
  if (typed) {
    double value;
    g_autofree char *unit = NULL;
    if (!lz_value_reading(d->model, (lzq_analyte)lz_draft_word(d, "analyte"), typed,
                          lz_draft_text(d, "unit"), lz_draft_ref(d, "instrument"),
                          lz_draft_number(d, "read_temperature"), &value, &unit, error))
      return FALSE;
    lz_draft_set_real(d, "value", value);
    if (!lz_command_get(d->command, "typed"))
      lz_draft_set_text(d, "typed", typed);
    if (unit && *unit)
      lz_draft_set_text(d, "unit", unit);
    keep_reference(d, unit);
  }
  gboolean unseen = note_wrong_form(d);
  note_unfit(d);
  note_reagents(d);
  if (!unseen)
    lz_check_odd_reading(d);
  return TRUE;
}

// --- corrections

static gboolean
names_lot(const LzEntry *e, int64_t lot)
{
  return lz_entry_int(e, "lot") == lot || lz_entry_int(e, "into") == lot;
}

static gboolean
is_act(lzs_kind kind)
{
  return kind == LZS_MOVE || kind == LZS_SPLIT || kind == LZS_MERGE || kind == LZS_RELEASE ||
         kind == LZS_DEATH || kind == LZS_COURSE;
}

// Acts on the lot after an entry, that rest on it: "move 412, release 415".
static char *
acts_after(const LzDraft *d, const LzEntry *first)
{
  GString *out = g_string_new(NULL);
  int64_t lot = lz_entry_int(d->before, "lot"), child = first->kind == LZS_SPLIT ? first->id : 0;
  for (guint i = lz_model_place(d->model, first->id); i < d->model->entries->len; i++) {
    LzEntry *e = lz_model_kept(d->model, i); // acts are never left in the file
    if (!e || e->id <= first->id || e->corrects || !is_act(e->kind) ||
        !lz_model_in_force(d->model, e))
      continue;
    gboolean rests = child ? names_lot(e, child) : names_lot(e, lot) && e->kind != LZS_DEATH;
    if (rests && (e->at >= first->at))
      g_string_append_printf(out, "%s%s %d", out->len ? ", " : "", e->spec->name, (int)e->id);
  }
  return g_string_free(out, FALSE);
}

static gboolean
is_referred_to(const LzDraft *d, int64_t id)
{
  // a person may sign what comes in before him in the same submission
  for (guint i = 0; i < d->model->entries->len; i++) {
    const LzEntry *e = lz_model_at(d->model, i);
    if (!e)
      continue;
    if (e->who == id || lz_entry_witness(e) == id || (e->entity == id && e->corrects == 0))
      return TRUE;
    for (gsize f = 0; f < e->spec->n_fields; f++)
      if (e->spec->fields[f].type == LZS_T_REF && lz_entry_is_set(e, f) &&
          lz_entry_value(e, f)->i == id)
        return TRUE;
  }
  return FALSE;
}

gboolean
lz_check_correction(LzDraft *d, GError **error)
{
  const LzEntry *first = lz_model_entry(d->model, d->entry.corrects);
  gboolean act = first->kind == LZS_MOVE || first->kind == LZS_SPLIT ||
                 first->kind == LZS_RELEASE || first->kind == LZS_MERGE;
  if (d->entry.voided && act) {
    g_autofree char *later = acts_after(d, first);
    if (*later)
      return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                       _("corrects: %s %d cannot be taken away, since later acts rest on it: %s"),
                       first->spec->name, (int)first->id, later);
  }
  if (d->entry.voided && (first->spec->setup || first->kind == LZS_SPLIT) &&
      is_referred_to(d, first->id))
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                     _("corrects: %s %d cannot be taken away, since other entries name it"),
                     first->spec->name, (int)first->id);
  return TRUE;
}
