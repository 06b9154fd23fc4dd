// SPDX-License-Identifier: GPL-3.0-or-later
// What entries about lots ask: the lot is here, the counts fit, a release was earned, and who may
// sign.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_check.h"
#include "lz_format.h"
#include "lz_gate_medicine.h"
#include "lz_place.h"
#include "lz_room.h"
#include "lz_words.h"

static const LzEntity *
lot_of(const LzDraft *d, const char *field)
{
  return lz_model_entity(d->model, lz_draft_ref(d, field));
}

static gboolean
check_receipt(LzDraft *d, GError **error)
{
  const char *code = lz_draft_text(d, "code");
  const LzEntity *other = lz_model_find(d->model, LZS_LOT, code);
  if (other && other->id != d->entry.entity && other->id != d->entry.corrects)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("code: “%s” is taken; accepted is a number that no other lot has"), code);
  uint32_t system = lz_draft_water(d);
  lz_gate_unlikely_heads(d);
  if (system == LZQ_NONE)
    return TRUE;
  const LzEntity *species = lz_model_entity(d->model, lz_draft_ref(d, "species"));
  lz_gate_receipt(d, system);
  lz_gate_enter(d, species ? species->now : NULL, code, system);
  return TRUE;
}

// The lot has been received by then, is still one of its own, and has not left.
static gboolean
check_here(LzDraft *d, const LzEntity *lot, GError **error)
{
  LzPlace place = lz_place_of(d->model, lot->index, d->entry.happened_min);
  g_autofree char *when = lz_format_full(d->model->zone, d->entry.happened_min);
  if (!place.received)
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED, _("lot: %s was not here yet at %s"), lot->label,
                     when);
  if (place.merged)
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                     _("lot: %s was no lot of its own any more at %s"), lot->label, when);
  if (place.released && d->spec->kind != LZS_NOTE && !d->entry.corrects)
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED, _("lot: %s had been released by %s"), lot->label,
                     when);
  return TRUE;
}

static gboolean
check_heads(LzDraft *d, const LzEntity *lot, GError **error)
{
  double heads = lz_draft_number(d, "heads");
  LzPlace place = lz_place_of(d->model, lot->index, d->entry.happened_min);
  int32_t most = place.heads;
  if (d->before)
    most += (int32_t)lz_entry_int(d->before, "heads");
  if (heads <= most)
    return TRUE;
  return lz_refuse(
      error, LZ_DESK_ERROR_REFUSED,
      ngettext("heads: %d is more than lot %s has; it has %d fish: count it first if that is wrong",
               "heads: %d is more than lot %s has; it has %d fish: count it first if that is wrong",
               (unsigned long)most),
      (int)heads, lot->label, most);
}

static gboolean
check_split(LzDraft *d, const LzEntity *lot, GError **error)
{
  const char *code = lz_draft_text(d, "code");
  const LzEntity *other = lz_model_find(d->model, LZS_LOT, code);
  if (other && other->id != d->entry.corrects)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("code: “%s” is taken; accepted is a number that no other lot has"), code);
  LzPlace place = lz_place_of(d->model, lot->index, d->entry.happened_min);
  uint32_t to = lz_draft_water(d);
  if (!check_heads(d, lot, error))
    return FALSE;
  if (to == LZQ_NONE || to == place.system)
    return TRUE;
  if (d->entry.corrects) {
    lz_gate_enter(d, lz_model_species(d->model, lot), code, to);
    return TRUE;
  }
  return lz_gate_move(d, lot, error); // the part is carried over as a whole lot would be
}

static gboolean
check_merge(LzDraft *d, const LzEntity *lot, GError **error)
{
  const LzEntity *into = lot_of(d, "into");
  if (into->id == lot->id)
    return lz_value_refuse(error, "into", into->label, _("another lot"));
  LzPlace a = lz_place_of(d->model, lot->index, d->entry.happened_min);
  LzPlace b = lz_place_of(d->model, into->index, d->entry.happened_min);
  if (a.protocol != b.protocol)
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                     _("into: %s and %s are under different protocols; move one over first"),
                     lot->label, into->label);
  if (!check_here(d, into, error))
    return FALSE;
  if (a.system != b.system)
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                     _("into: %s and %s are in different systems; move one over first"), lot->label,
                     into->label);
  if (lz_model_traits(lz_model_species(d->model, lot)) !=
      lz_model_traits(lz_model_species(d->model, into)))
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                     _("into: %s and %s do not bear the same medicines, and stay two lots"),
                     lot->label, into->label);
  return TRUE;
}

static const char *
role_of(const LzModel *m, int64_t person)
{
  const LzEntity *entity = lz_model_entity(m, person);
  return entity ? lz_entry_text(entity->now, "role") : NULL;
}

static gboolean
check_phase_number(LzDraft *d, const LzEntity *lot, GError **error)
{
  LzPlace place = lz_place_of(d->model, lot->index, d->entry.happened_min);
  double phase = lz_draft_number(d, "phase");
  if (place.protocol >= d->model->protocols->len)
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED, _("lot: %s is under no protocol"), lot->label);
  uint32_t n = g_array_index(d->model->protocols, lzq_protocol, place.protocol).n_phases;
  if (phase > n)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("phase: %d is not accepted; accepted is 1 to %d"), (int)phase, (int)n);
  return TRUE;
}

static gboolean
check_sign(LzDraft *d, const LzEntity *lot, GError **error)
{
  gboolean vet = lz_draft_yes(d, "vet");
  if (vet && g_strcmp0(role_of(d->model, d->entry.who), "vet") != 0)
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                     _("vet: only a person whose role is vet signs as the veterinarian"));
  return check_phase_number(d, lot, error);
}

static gboolean
check_accept(LzDraft *d, const LzEntity *lot, GError **error)
{
  double minutes = lz_draft_number(d, "minutes");
  if (!d->entry.reason)
    return lz_refuse(error, LZ_DESK_ERROR_NEEDS_REASON,
                     _("reason: who accepts missing credit says why"));
  if (d->entry.who == 0)
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                     _("who: missing credit is accepted by a named person"));
  if (minutes > (double)d->model->rules.accept_max_min)
    return lz_refuse(
        error, LZ_DESK_ERROR_REFUSED,
        _("minutes: %d is more than this station accepts; a person may accept at most %d"),
        (int)minutes, (int)d->model->rules.accept_max_min);
  return check_phase_number(d, lot, error);
}

// A release is let through only if the record, as entered now, proves it at that minute.
static gboolean
check_release(LzDraft *d, const LzEntity *lot, GError **error)
{
  lzq_arena arena;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  g_autoptr(GError) cannot = NULL;
  const lzq_plan *plan = lz_desk_make_plan(d->desk, d->entry.happened_min, &arena, &cannot);
  const lzq_lot_credit *credit = plan ? &plan->credit->lots[lot->index] : NULL;
  gboolean ok = credit && credit->releasable_at <= d->entry.happened_min;
  gboolean unproven = credit && !credit->has_course && !credit->served && d->entry.reason;
  if (unproven) // fish that were never under a protocol leave with a reason, on a lead's word
    ok = lz_check_may(d, TRUE, lz_words_kind("release"), error);
  else if (!ok) {
    g_autofree char *why = plan ? lz_words_because(d->desk, &plan->lots[lot->index].because)
                                : g_strdup(cannot->message);
    lz_refuse(error, LZ_DESK_ERROR_REFUSED, _("lot: %s may not be released: %s"), lot->label, why);
  }
  lzq_arena_free(&arena);
  return ok;
}

// A scrape and a sighting speak about a water: where they name none, the lot's own.
static gboolean
fill_place(LzDraft *d, const LzEntity *lot, GError **error)
{
  if (lz_draft_ref(d, "tank"))
    return TRUE;
  LzPlace place = lz_place_of(d->model, lot->index, d->entry.happened_min);
  const LzEntity *tank = lz_model_entity_at(d->model, LZS_TANK, place.tank);
  if (!tank)
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED, _("tank: lot %s stands in none; say where"),
                     lot->label);
  lz_draft_set_ref(d, "tank", tank->id);
  return TRUE;
}

static gboolean
check_stop(LzDraft *d, const LzEntity *lot, GError **error)
{
  LzPlace place = lz_place_of(d->model, lot->index, d->entry.happened_min);
  if (place.protocol == LZQ_NONE)
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED, _("lot: %s has no course that could be stopped"),
                     lot->label);
  if (!d->entry.reason && !lz_draft_text(d, "why"))
    return lz_refuse(error, LZ_DESK_ERROR_NEEDS_REASON,
                     _("reason: a course is stopped for a reason"));
  return TRUE;
}

// Chlorine and fish never meet: such a protocol is for a system without any.
static gboolean
check_no_disinfection(LzDraft *d, const LzEntity *lot, GError **error)
{
  const LzEntity *protocol = lz_model_entity(d->model, lz_draft_ref(d, "protocol"));
  if (!protocol)
    return TRUE;
  lzq_protocol phases = g_array_index(d->model->protocols, lzq_protocol, protocol->index);
  for (uint32_t i = 0; i < phases.n_phases; i++)
    if (g_array_index(d->model->phases, lzq_phase, phases.first_phase + i).kind ==
        LZQ_PHASE_DISINFECT)
      return lz_refuse(
          error, LZ_DESK_ERROR_REFUSED,
          _("protocol: %1$s disinfects, and lot %2$s is alive; it is for a system that "
            "holds no fish"),
          protocol->label, lot->label);
  return TRUE;
}

static gboolean
check_by_kind(LzDraft *d, const LzEntity *lot, GError **error)
{
  switch (d->spec->kind) {
  case LZS_DEATH: return check_heads(d, lot, error);
  case LZS_SPLIT: return check_split(d, lot, error);
  case LZS_MERGE: return check_merge(d, lot, error);
  case LZS_SIGN: return check_sign(d, lot, error);
  case LZS_ACCEPT: return check_accept(d, lot, error);
  case LZS_STOP: return check_stop(d, lot, error);
  case LZS_COURSE: return check_no_disinfection(d, lot, error);
  case LZS_SCRAPE: return fill_place(d, lot, error);
  case LZS_MOVE: return lz_gate_move(d, lot, error);
  case LZS_RELEASE: return check_release(d, lot, error);
  case LZS_ACCEPT_OPEN:
    if (d->entry.reason && d->entry.who)
      return TRUE;
    return lz_refuse(error, LZ_DESK_ERROR_NEEDS_REASON,
                     _("reason: a named person accepts open credit, and says why"));
  default: return TRUE;
  }
}

// The fish are here, whatever the limit says: it is told, and nobody is sent away.
static void
note_room(LzDraft *d, const LzEntity *lot)
{
  uint32_t to = lz_draft_water(d);
  LzPlace place = {.system = LZQ_NONE};
  double heads = d->spec->kind == LZS_MOVE ? NAN : lz_draft_number(d, "heads");
  double mass = lot ? NAN : lz_draft_number(d, "mean_mass_g");
  gboolean over;
  if (lot) {
    place = lz_place_of(d->model, lot->index, d->entry.happened_min);
    mass = g_array_index(d->model->lots, lzq_lot, lot->index).mean_mass_g;
    heads = isnan(heads) ? place.heads : heads;
  }
  if (d->entry.corrects || to == LZQ_NONE || to == place.system || !(heads > 0))
    return;
  LzCrowd coming = {.heads = (int)heads};
  if (mass > 0) {
    coming.weighed = coming.heads;
    coming.grams = coming.heads * mass;
  }
  g_autofree char *words = lz_room_words(d->desk, to, &coming, &over);
  if (over)
    lz_command_note(d->command, g_strdup_printf("%s: %s", lz_desk_name(d->desk, "system", to),
                                                g_strdelimit(words, "\n", ' ')));
}

gboolean
lz_check_lot(LzDraft *d, GError **error)
{
  const LzEntity *lot = NULL;
  if (d->spec->kind == LZS_LOT) {
    if (!check_receipt(d, error))
      return FALSE;
  } else {
    lot = lzs_kind_field(d->spec, "lot") < 0 ? NULL : lot_of(d, "lot");
    if (lot && (!check_here(d, lot, error) || !check_by_kind(d, lot, error)))
      return FALSE;
  }
  if (d->spec->kind == LZS_LOT || d->spec->kind == LZS_MOVE || d->spec->kind == LZS_SPLIT)
    note_room(d, lot);
  return TRUE;
}
