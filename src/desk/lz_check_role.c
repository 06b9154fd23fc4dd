// SPDX-License-Identifier: GPL-3.0-or-later
// Who may enter what. What a shift does to water and fish is for everybody who works here; what
// sets the rules by which fish are let go is for a lead, or for the veterinarian where it is
// medicine. docs/roles.md is this table in words; the test `command-roles` makes each of its cells
// happen.
//
// A station without a lead asks nobody for one, or nobody could ever name the first; so the last
// lead stays one.
#include <glib/gi18n-lib.h>

#include "lz_check.h"
#include "lz_words.h"

typedef enum { FOR_ALL, FOR_LEAD, FOR_LEAD_OR_VET } Right;

static const Right rights[LZS_N_KINDS] = {
    [LZS_STATION] = FOR_LEAD,
    [LZS_PERSON] = FOR_LEAD,
    [LZS_SYSTEM] = FOR_LEAD,
    [LZS_TANK] = FOR_LEAD,
    [LZS_PRACTICE] = FOR_LEAD,
    [LZS_PROTOCOL] = FOR_LEAD_OR_VET,
    [LZS_PHASE] = FOR_LEAD_OR_VET,
    [LZS_BAND] = FOR_LEAD_OR_VET,
    [LZS_SPECIES] = FOR_LEAD_OR_VET,
    [LZS_ACCEPT] = FOR_LEAD_OR_VET,
    [LZS_ACCEPT_OPEN] = FOR_LEAD_OR_VET,
};

static gboolean
works_here(const LzEntry *person)
{
  return !lz_entry_has(person, "active") || lz_entry_int(person, "active") != 0;
}

static gboolean
is_role(const LzEntity *person, const char *role)
{
  return person && works_here(person->now) &&
         g_strcmp0(lz_entry_text(person->now, "role"), role) == 0;
}

// Whether somebody other than `but` is a lead.
static gboolean
has_lead(const LzDraft *d, int64_t but)
{
  const GPtrArray *people = d->model->by_kind[LZS_PERSON];
  for (guint i = 0; i < people->len; i++) {
    const LzEntity *person = people->pdata[i];
    if (person->id != but && is_role(person, "lead"))
      return TRUE;
  }
  return FALSE;
}

static gboolean
changes(const LzDraft *d, const char *field)
{
  const lzs_value *v = lz_draft_value(d, field);
  int i = lzs_kind_field(d->spec, field);
  lzs_entry before = {0};
  if (d->before)
    lz_entry_to_store(d->before, &before);
  const lzs_value *old = d->before ? &before.v[i] : NULL;
  if (!old || old->null || v->null)
    return !(v->null && (!old || old->null));
  switch (d->spec->fields[i].type) {
  case LZS_T_REAL: return v->r != old->r;
  case LZS_T_TEXT:
  case LZS_T_WORD: return g_strcmp0(v->text, old->text) != 0;
  default: return v->i != old->i;
  }
}

// What a kind asks, less or more by what is in it.
static Right
right_of(const LzDraft *d)
{
  int64_t about = d->entry.entity ? d->entry.entity : d->entry.corrects;
  switch (d->spec->kind) {
  case LZS_PERSON: // one's own PIN, initials and telephone number
    return about && about == d->entry.who && !d->entry.voided && !changes(d, "role") &&
                   !changes(d, "active")
               ? FOR_ALL
               : FOR_LEAD;
  case LZS_BOTTLE: // the level that the station never goes beyond
    return changes(d, "limit_level") ? FOR_LEAD_OR_VET : FOR_ALL;
  case LZS_PRACTICE: // made by the desk itself for a clock that was handed in
    return !lz_clock_is_real(d->desk->clock) || lz_desk_may_look_ahead(d->desk) ? FOR_ALL
                                                                                : FOR_LEAD;
  default: return rights[d->spec->kind];
  }
}

gboolean
lz_check_may(const LzDraft *d, gboolean vet_too, const char *what, GError **error)
{
  const LzEntity *who = lz_model_entity(d->model, d->entry.who);
  if (is_role(who, "lead") || (vet_too && is_role(who, "vet")) || !has_lead(d, 0))
    return TRUE;
  const LzPerson *named = lz_model_person(d->model, d->entry.who);
  const char *initials = named && *named->initials ? named->initials : _("nobody");
  return vet_too ? lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                             _("who: %1$s is not accepted for “%2$s”; accepted is a lead or a "
                               "veterinarian"),
                             initials, what)
                 : lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                             _("who: %1$s is not accepted for “%2$s”; accepted is a lead"),
                             initials, what);
}

static gboolean
check_last_lead(const LzDraft *d, GError **error)
{
  int64_t about = d->entry.entity ? d->entry.entity : d->entry.corrects;
  const LzEntity *person = lz_model_entity(d->model, about);
  if (d->spec->kind != LZS_PERSON || !is_role(person, "lead") || has_lead(d, about))
    return TRUE;
  const lzs_value *active = lz_draft_value(d, "active");
  gboolean stays = !d->entry.voided && g_strcmp0(lz_draft_text(d, "role"), "lead") == 0 &&
                   (active->null || active->i) && !lz_command_get(d->command, "erase");
  return stays || lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                            _("role: this is the only lead; accepted is to make somebody else a "
                              "lead first"));
}

gboolean
lz_check_role(const LzDraft *d, GError **error)
{
  const LzEntity *who = lz_model_entity(d->model, d->entry.who);
  if (who && d->live && !works_here(who->now)) {
    const LzPerson *named = lz_model_person(d->model, who->id);
    return lz_value_refuse(error, "who", named ? named->initials : "",
                           _("somebody who works here now"));
  }
  Right right = right_of(d);
  return (right == FOR_ALL ||
          lz_check_may(d, right == FOR_LEAD_OR_VET, lz_words_kind(d->spec->name), error)) &&
         check_last_lead(d, error);
}
