// SPDX-License-Identifier: GPL-3.0-or-later
// From a command to an entry: who, when, which fields, what it corrects. See lz_check.h for the
// order.
#include "lz_check.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "lz_format.h"
#include "lz_photo_private.h"

#define AHEAD_MIN 5  // a clock may be a little off before a time counts as ahead of it
#define LIVE_MIN  30 // what is entered within this long after it was done is done now

gboolean
lz_refuse(GError **error, LzDeskError code, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  g_autofree char *text = g_strdup_vprintf(format, args);
  va_end(args);
  g_set_error_literal(error, LZ_DESK_ERROR, (int)code, text);
  return FALSE;
}

static int
field_of(const LzDraft *d, const char *field)
{
  int i = lzs_kind_field(d->spec, field);
  g_assert(i >= 0);
  return i;
}

const lzs_value *
lz_draft_value(const LzDraft *d, const char *field)
{
  return &d->entry.v[field_of(d, field)];
}

int64_t
lz_draft_ref(const LzDraft *d, const char *field)
{
  const lzs_value *v = lz_draft_value(d, field);
  return v->null ? 0 : v->i;
}

double
lz_draft_number(const LzDraft *d, const char *field)
{
  int i = field_of(d, field);
  const lzs_value *v = &d->entry.v[i];
  if (v->null)
    return NAN;
  return d->spec->fields[i].type == LZS_T_REAL ? v->r : (double)v->i;
}

const char *
lz_draft_text(const LzDraft *d, const char *field)
{
  const lzs_value *v = lz_draft_value(d, field);
  return v->null ? NULL : v->text;
}

int
lz_draft_word(const LzDraft *d, const char *field)
{
  const char *word = lz_draft_text(d, field);
  const char *const *words = lz_entry_words(d->spec, (gsize)field_of(d, field));
  for (int i = 0; word && words[i]; i++)
    if (g_str_equal(words[i], word))
      return i;
  return -1;
}

gboolean
lz_draft_yes(const LzDraft *d, const char *field)
{
  const lzs_value *v = lz_draft_value(d, field);
  return !v->null && v->i;
}

uint32_t
lz_draft_water(const LzDraft *d)
{
  const LzEntity *tank = lz_model_entity(d->model, lz_draft_ref(d, "tank"));
  return tank ? g_array_index(d->model->tanks, lzq_tank, tank->index).system : LZQ_NONE;
}

void
lz_draft_set_yes(LzDraft *d, const char *field)
{
  d->entry.v[field_of(d, field)] = (lzs_value){.i = 1};
}

void
lz_draft_set_real(LzDraft *d, const char *field, double value)
{
  d->entry.v[field_of(d, field)] = (lzs_value){.r = value};
}

void
lz_draft_set_int(LzDraft *d, const char *field, int64_t value)
{
  d->entry.v[field_of(d, field)] = (lzs_value){.i = value};
}

void
lz_draft_set_ref(LzDraft *d, const char *field, int64_t id)
{
  lz_draft_set_int(d, field, id);
}

void
lz_draft_set_text(LzDraft *d, const char *field, const char *text)
{
  int i = field_of(d, field);
  lz_value_clear(&d->values[i]);
  d->values[i].text = g_strdup(text);
  d->entry.v[i] = (lzs_value){.text = d->values[i].text};
}

static gboolean
is_person_extra(const LzDraft *d, const char *field)
{
  return d->spec->kind == LZS_PERSON &&
         (g_str_equal(field, "name") || g_str_equal(field, "initials") ||
          g_str_equal(field, "contact") || g_str_equal(field, "pin") ||
          g_str_equal(field, "erase"));
}

static gboolean
check_field_names(const LzDraft *d, GError **error)
{
  for (guint k = 0; k < d->command->fields->len; k++) {
    const char *field = g_array_index(d->command->fields, LzCommandField, k).name;
    if (lzs_kind_field(d->spec, field) >= 0 || is_person_extra(d, field))
      continue;
    GString *known = g_string_new(NULL);
    for (gsize i = 0; i < d->spec->n_fields; i++)
      g_string_append_printf(known, "%s%s", i ? ", " : "", d->spec->fields[i].name);
    lz_refuse(error, LZ_DESK_ERROR_USAGE, _("%s has no field “%s”; accepted are %s"), d->spec->name,
              field, known->str);
    g_string_free(known, TRUE);
    return FALSE;
  }
  return TRUE;
}

static gboolean
find_person(const LzDraft *d, const char *field, const char *text, int64_t *out, GError **error)
{
  const LzEntity *person = lz_model_find(d->model, LZS_PERSON, text);
  if (person) {
    *out = person->id;
    return TRUE;
  }
  GString *known = g_string_new(_("the initials of somebody who works here"));
  for (guint i = 0; i < MIN(d->model->by_kind[LZS_PERSON]->len, 8); i++) {
    const LzEntity *entity = d->model->by_kind[LZS_PERSON]->pdata[i];
    const LzPerson *named = lz_model_person(d->model, entity->id);
    if (named && *named->initials)
      g_string_append_printf(known, "%s%s", i ? ", " : ": ", named->initials);
  }
  lz_value_refuse(error, field, text, known->str);
  g_string_free(known, TRUE);
  return FALSE;
}

static gboolean
check_people(LzDraft *d, GError **error)
{
  const LzCommand *c = d->command;
  if (c->actor) {
    if (!find_person(d, "who", c->actor, &d->entry.who, error))
      return FALSE;
  } else {
    d->entry.who = d->desk->actor;
  }
  gboolean bootstrap = d->spec->kind == LZS_PRACTICE || d->model->by_kind[LZS_PERSON]->len == 0;
  if (d->entry.who == 0 && !bootstrap)
    return find_person(d, "who", _("nobody"), &d->entry.who, error);
  if (c->witness && !find_person(d, "witness", c->witness, &d->entry.witness, error))
    return FALSE;
  if (d->entry.witness && d->entry.witness == d->entry.who)
    return lz_value_refuse(error, "witness", c->witness, _("somebody other than who did it"));
  return TRUE;
}

static gboolean
check_time(LzDraft *d, GError **error)
{
  const LzCommand *c = d->command;
  LzZone *zone = d->model->zone;
  lzq_minute at = d->clock_now;
  if (c->has_at)
    at = c->at;
  else if (c->at_text && *c->at_text) {
    if (!lz_zone_parse(zone, c->at_text, d->clock_now, &at, error))
      return FALSE;
  } else if (d->before && c->corrects)
    at = d->before->at;
  d->live = at >= d->clock_now - LIVE_MIN; // a case played ahead of the clock is acted now, too
  if (at > d->clock_now + AHEAD_MIN && !c->ahead && !d->model->practice) {
    g_autofree char *typed = lz_format_full(zone, at), *now = lz_format_full(zone, d->clock_now);
    return lz_refuse(
        error, LZ_DESK_ERROR_REFUSED,
        _("time: %s is ahead of the clock, which says %s; accepted is what has happened"), typed,
        now);
  }
  const LzEntry *station = d->model->station ? d->model->station->now : NULL;
  int64_t days = station ? lz_entry_int(station, "late_entry_days") : 0;
  if (days > 0 && at < d->clock_now - days * LZQ_DAY && !d->spec->setup) {
    g_autofree char *typed = lz_format_full(zone, at);
    return lz_refuse(
        error, LZ_DESK_ERROR_REFUSED,
        ngettext("time: %s is too long ago; this station accepts what happened in the last %d day",
                 "time: %s is too long ago; this station accepts what happened in the last %d days",
                 (unsigned long)days),
        typed, (int)days);
  }
  d->entry.happened_min = at;
  d->entry.offset_min = lz_zone_offset(zone, at);
  return TRUE;
}

// What it corrects, or the entity that it describes anew.
static gboolean
find_before(LzDraft *d, GError **error)
{
  const LzCommand *c = d->command;
  if (c->corrects) {
    LzEntry *first = lz_model_entry(d->model, c->corrects);
    if (first && first->corrects) // a correction names the first entry, never another correction
      first = lz_model_entry(d->model, first->corrects);
    if (!first || first->kind != d->spec->kind)
      return lz_refuse(error, LZ_DESK_ERROR_USAGE, _("corrects: %d is no entry of the kind %s"),
                       (int)c->corrects, d->spec->name);
    d->entry.corrects = first->id;
    d->entry.entity = first->entity;
    d->before = lz_model_in_force(d->model, first);
    if (!d->before)
      return lz_refuse(error, LZ_DESK_ERROR_REFUSED, _("corrects: entry %d was taken away before"),
                       (int)first->id);
    if (!c->reason)
      return lz_refuse(error, LZ_DESK_ERROR_NEEDS_REASON, _("reason: a correction says why"));
    return TRUE;
  }
  LzEntity *entity = c->entity ? lz_model_find(d->model, d->spec->kind, c->entity) : NULL;
  if (c->entity && !entity)
    return lz_value_refuse(error, d->spec->name, c->entity, _("the name of one that there is"));
  if (!entity && d->spec->kind == LZS_STATION)
    entity = d->model->station; // there is one station in a file
  if (entity) {
    d->entry.entity = entity->id;
    d->before = entity->now;
  }
  return TRUE;
}

// The fields as typed; what is not typed stays as it was before.
static gboolean
read_fields(LzDraft *d, GError **error)
{
  lzs_entry before = {0};
  if (d->before)
    lz_entry_to_store(d->before, &before);
  for (guint i = 0; i < d->spec->n_fields; i++) {
    const lzs_field *f = &d->spec->fields[i];
    const char *text = lz_command_get(d->command, f->name);
    // a reading's value is read with its unit, when the rest is known
    gboolean later = d->spec->kind == LZS_READING && g_str_equal(f->name, "value");
    if (text && !later && !lz_value_parse(d->model, d->spec, i, text, &d->values[i], error))
      return FALSE;
    if (d->values[i].text && g_str_equal(f->name, "photo") &&
        !lz_photo_take(d->desk, d->command, &d->values[i], error))
      return FALSE;
    d->entry.v[i] = text ? d->values[i].v : (lzs_value){.null = true};
    if (!text && d->before && d->before->kind == d->spec->kind)
      d->entry.v[i] = before.v[i];
  }
  return TRUE;
}

static gboolean
check_complete(const LzDraft *d, GError **error)
{
  for (guint i = 0; i < d->spec->n_fields; i++) {
    const lzs_field *f = &d->spec->fields[i];
    if (f->needed && d->entry.v[i].null)
      return lz_refuse(error, LZ_DESK_ERROR_USAGE, _("%s: nothing was given; accepted is %s"),
                       f->name, _(f->help));
  }
  return TRUE;
}

static gboolean
check_kind(LzDraft *d, GError **error)
{
  if (d->spec->setup && d->spec->kind != LZS_LOT)
    return lz_check_setup(d, error);
  switch (d->spec->kind) {
  case LZS_READING: lz_gate_unlikely_reading(d); return TRUE;
  case LZS_CHECK: return lz_check_instrument(d, error);
  case LZS_DOSE: return lz_gate_dose(d, error);
  case LZS_STATE: lz_gate_state(d); return TRUE;
  case LZS_CHANGE: lz_gate_change(d); return TRUE;
  case LZS_TOPUP: lz_gate_topup(d); return TRUE;
  case LZS_VOLUME: lz_gate_volume(d); return TRUE;
  default: return lz_check_lot(d, error);
  }
}

// The gates of what is done to a lot, once it is sure that the lot is there.
static gboolean
check_gates(LzDraft *d, GError **error)
{
  if (!check_kind(d, error))
    return FALSE;
  switch (d->spec->kind) {
  case LZS_BATH: lz_gate_bath(d); return TRUE;
  case LZS_FEED: lz_gate_feed(d); return TRUE;
  case LZS_COURSE: return lz_gate_course(d, error);
  default: return TRUE;
  }
}

static gboolean
check_all(LzDraft *d, GError **error)
{
  if (!check_field_names(d, error) || !find_before(d, error) || !check_people(d, error) ||
      !check_time(d, error) || !read_fields(d, error))
    return FALSE;
  d->entry.voided = d->command->voided && d->entry.corrects;
  if (!lz_check_role(d, error))
    return FALSE;
  if (d->spec->kind == LZS_READING && !d->entry.voided && !lz_check_reading(d, error))
    return FALSE;
  if (!check_complete(d, error))
    return FALSE;
  if (d->entry.corrects && !lz_check_correction(d, error))
    return FALSE;
  return d->entry.voided || lz_gate_settle(d, check_gates(d, error), error);
}

LzEntry *
lz_check_command(LzDesk *desk, LzCommand *command, int64_t id, GError **error)
{
  const lzs_kind_spec *spec = lzs_kind_find(command->kind);
  if (!spec) {
    lz_value_refuse(error, _("kind"), command->kind,
                    _("a kind of entry such as reading, dose or change"));
    return NULL;
  }
  lz_command_forget_notes(command);
  LzDraft draft = {.desk = desk,
                   .model = desk->model,
                   .command = command,
                   .spec = spec,
                   .entry = {.id = id, .kind = spec->kind},
                   .clock_now = lz_clock_now(desk->clock)};
  g_autofree char *reason =
      command->reason ? g_utf8_normalize(command->reason, -1, G_NORMALIZE_NFC) : NULL;
  draft.entry.reason = reason;
  LzEntry *entry = check_all(&draft, error) ? lz_entry_new(&draft.entry) : NULL;
  for (gsize i = 0; i < LZS_MAX_FIELDS; i++)
    lz_value_clear(&draft.values[i]);
  return entry;
}

gboolean
lz_check_gates(LzDesk *desk, LzCommand *command, GError **error)
{
  static char agreed[] = "-";
  LzDraft draft = {.desk = desk,
                   .model = desk->model,
                   .command = command,
                   .spec = lzs_kind_find(command->kind),
                   .entry = {.reason = agreed, .witness = -1, .happened_min = desk->now},
                   .clock_now = desk->now,
                   .live = TRUE};
  draft.entry.kind = draft.spec->kind;
  lz_command_forget_notes(command);
  gboolean passes =
      read_fields(&draft, error) && lz_gate_settle(&draft, check_gates(&draft, error), error);
  for (gsize i = 0; i < LZS_MAX_FIELDS; i++)
    lz_value_clear(&draft.values[i]);
  return passes;
}
