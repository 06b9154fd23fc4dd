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
#include "lz_roles.h"
#include "lz_words.h"

typedef enum { FOR_ALL, FOR_LEAD, FOR_LEAD_OR_VET, FOR_VET } Right;

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

// Fields that ask for more than the rest of their kind.
static const struct {
  lzs_kind kind;
  const char *field;
  Right right;
} fields[] = {
    {LZS_PERSON, "role", FOR_LEAD},
    {LZS_PERSON, "active", FOR_LEAD},
    {LZS_BOTTLE, "limit_level", FOR_LEAD_OR_VET}, // the level that the station never goes beyond
    {LZS_PROTOCOL, "signed_off", FOR_VET},
    {LZS_SIGN, "vet", FOR_VET},
};

static Right
right_of_field(lzs_kind kind, const char *field)
{
  for (gsize i = 0; i < G_N_ELEMENTS(fields); i++)
    if (fields[i].kind == kind && g_strcmp0(fields[i].field, field) == 0)
      return fields[i].right;
  return FOR_ALL;
}

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
has_lead(const LzModel *model, int64_t but)
{
  const GPtrArray *people = model->by_kind[LZS_PERSON];
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

// Made by the desk itself for a clock that was handed in.
static Right
right_of_practice(LzDesk *desk)
{
  return !lz_clock_is_real(desk->clock) || lz_desk_may_look_ahead(desk) ? FOR_ALL
                                                                        : rights[LZS_PRACTICE];
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
  case LZS_BOTTLE:
    return changes(d, "limit_level") ? right_of_field(LZS_BOTTLE, "limit_level") : FOR_ALL;
  case LZS_PRACTICE: return right_of_practice(d->desk);
  default: return rights[d->spec->kind];
  }
}

gboolean
lz_check_may(const LzDraft *d, gboolean vet_too, const char *what, GError **error)
{
  const LzEntity *who = lz_model_entity(d->model, d->entry.who);
  if (is_role(who, "lead") || (vet_too && is_role(who, "vet")) || !has_lead(d->model, 0))
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
  if (d->spec->kind != LZS_PERSON || !is_role(person, "lead") || has_lead(d->model, about))
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

// Fish that were never under a protocol leave on a lead's word; of the others the record decides.
static Right
right_of_release(LzDesk *desk, int64_t lot)
{
  uint32_t index = lz_desk_index(desk, "lot", lot);
  const lzq_plan *plan = lz_desk_plan(desk);
  if (!plan || index == LZQ_NONE)
    return FOR_ALL;
  const lzq_lot_credit *credit = &plan->credit->lots[index];
  return credit->has_course || credit->served ? FOR_ALL : FOR_LEAD_OR_VET;
}

static Right
right_asked(LzDesk *desk, lzs_kind kind, int64_t about, const char *field)
{
  Right of_field = field ? right_of_field(kind, field) : FOR_ALL;
  if (of_field != FOR_ALL)
    return of_field;
  switch (kind) {
  case LZS_PERSON: return about && about == lz_desk_actor(desk) ? FOR_ALL : rights[LZS_PERSON];
  case LZS_RELEASE: return right_of_release(desk, about);
  case LZS_PRACTICE: return right_of_practice(desk);
  default: return rights[kind];
  }
}

char *
lz_desk_why_not(LzDesk *desk, const char *kind, int64_t about, const char *field)
{
  g_return_val_if_fail(LZ_IS_DESK(desk), NULL);
  const lzs_kind_spec *spec = lzs_kind_find(kind);
  Right right = spec ? right_asked(desk, spec->kind, about, field) : FOR_ALL;
  const LzEntity *who = lz_model_entity(desk->model, lz_desk_actor(desk));
  gboolean vet = is_role(who, "vet"), lead = is_role(who, "lead") || !has_lead(desk->model, 0);
  switch (right) {
  case FOR_LEAD: return lead ? NULL : g_strdup(_("For a lead."));
  case FOR_LEAD_OR_VET: return lead || vet ? NULL : g_strdup(_("For a lead or a veterinarian."));
  case FOR_VET: return vet ? NULL : g_strdup(_("For a veterinarian."));
  default: return NULL;
  }
}
