// SPDX-License-Identifier: GPL-3.0-or-later
// What set-up entries ask beyond their fields' rules: names are unique, zones exist, bands make
// sense.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "lz_check.h"
#include "lz_nets.h"
#include "lz_place.h"

#define ROUNDS_WITHIN (30 * LZQ_DAY) // a house without any round for longer keeps no fish

static gboolean
check_station(const LzDraft *d, GError **error)
{
  g_autoptr(LzZone) zone = lz_zone_new(lz_draft_text(d, "zone"), error);
  if (!zone)
    return FALSE;
  g_autoptr(GArray) slots = lz_zone_slots(zone, lz_draft_text(d, "slots"), d->clock_now,
                                          d->clock_now + ROUNDS_WITHIN, error);
  if (!slots)
    return FALSE;
  return slots->len > 0 ||
         lz_refuse(error, LZ_DESK_ERROR_USAGE,
                   _("slots: no round is left in the next 30 days; leave one at least"));
}

static gboolean
check_words(const LzDraft *d, const char *field, const char *accepted, GError **error)
{
  const char *text = lz_draft_text(d, field);
  if (!text)
    return TRUE;
  g_auto(GStrv) known = g_strsplit(accepted, " ", -1);
  g_auto(GStrv) words = g_strsplit_set(text, " ,;|", -1);
  for (guint i = 0; words[i]; i++) {
    g_autofree char *down = g_ascii_strdown(words[i], -1);
    if (*down && !g_strv_contains((const char *const *)known, down))
      return lz_value_refuse(error, field, words[i], accepted);
  }
  return TRUE;
}

static gboolean
check_reagents(const LzDraft *d, GError **error)
{
  const char *expiry = lz_draft_text(d, "reagent_expiry");
  if (!expiry || lz_expiry_end(d->model->zone, expiry) != LZQ_NEVER)
    return TRUE;
  return lz_value_refuse(error, "reagent_expiry", expiry,
                         _("year-month-day or year-month, as 2027-03-14"));
}

static gboolean
is_copper_bottle(const LzDraft *d)
{
  return g_strcmp0(lz_draft_text(d, "analyte"), "copper") == 0;
}

static gboolean
check_bottle(LzDraft *d, GError **error)
{
  lz_gate_strength(d);
  gboolean salt = g_strcmp0(lz_draft_text(d, "strength_as"), "salt") == 0;
  const char *expiry = lz_draft_text(d, "expiry");
  if (expiry && lz_expiry_end(d->model->zone, expiry) == LZQ_NEVER)
    return lz_value_refuse(error, "expiry", expiry,
                           _("year-month-day or year-month, as 2027-03-14"));
  if (salt && !is_copper_bottle(d))
    return lz_value_refuse(error, "strength_as", "salt", _("metal, since it holds no copper"));
  const char *typed = lz_command_get(d->command, "strength");
  const gboolean said = !typed || d->command->as_written || strstr(typed, "ormal") != NULL;
  return g_strcmp0(lz_draft_text(d, "analyte"), "formalin") != 0 ||
         lz_check_formalin(lz_draft_number(d, "strength"), said, error);
}

static gboolean
in_use(const LzDraft *d, int64_t protocol)
{
  const GPtrArray *courses = d->model->of_kind[LZS_COURSE];
  for (guint i = 0; i < courses->len; i++)
    if (lz_entry_int(courses->pdata[i], "protocol") == protocol)
      return TRUE;
  return FALSE;
}

// A running course keeps the version that it started with.
static gboolean
refuse_in_use(const LzDraft *d, int64_t protocol, GError **error)
{
  const LzEntity *entity = lz_model_entity(d->model, protocol);
  if (!entity || !in_use(d, protocol))
    return TRUE;
  return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                   _("protocol: %s has courses under it and stays as it is; make its next version"),
                   entity->label);
}

static gboolean
check_phase(const LzDraft *d, GError **error)
{
  const char *gear = "skimmer uv carbon resin ozone air heater pump";
  double position = lz_draft_number(d, "position"), back = lz_draft_number(d, "sighting_to");
  if (back > position)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("sighting_to: a sighting in phase %d goes back to phase 1 to %d, not to %d"),
                     (int)position, (int)position, (int)back);
  if (g_strcmp0(lz_draft_text(d, "place"), "role") == 0 && !lz_draft_text(d, "role"))
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("role: a phase whose place is a role names the role"));
  return check_words(d, "gear_on", gear, error) && check_words(d, "gear_off", gear, error) &&
         refuse_in_use(d, lz_draft_ref(d, "protocol"), error);
}

static guint
bands_of(const LzDraft *d, int64_t phase)
{
  guint n = 0;
  for (guint i = 0; i < d->model->by_kind[LZS_BAND]->len; i++) {
    const LzEntity *band = d->model->by_kind[LZS_BAND]->pdata[i];
    n += lz_entry_int(band->now, "phase") == phase;
  }
  return n;
}

// Edges lie in order from the side that works: works, target, plan, harm.
static gboolean
check_edges(const LzDraft *d, GError **error)
{
  const char *side = lz_draft_text(d, "side");
  double sign = g_str_equal(side, "at_or_below") ? -1 : 1;
  static const char *const names[] = {"works", "target", "plan", "harm"};
  double last = -INFINITY;
  const char *last_name = NULL;
  for (guint i = 0; i < G_N_ELEMENTS(names); i++) {
    double edge = lz_draft_number(d, names[i]);
    if (isnan(edge))
      continue;
    if (sign * edge < last - LZQ_EDGE)
      return lz_refuse(error, LZ_DESK_ERROR_USAGE, _("%s: %g lies on the wrong side of %s, %g"),
                       names[i], edge, last_name, sign * last);
    last = sign * edge;
    last_name = names[i];
  }
  double high = lz_draft_number(d, "works_high");
  if (g_str_equal(side, "between") && !(high >= lz_draft_number(d, "works")))
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("works_high: a band between two edges needs an upper edge above works"));
  if (g_str_equal(side, "between") && lz_draft_number(d, "plan") < high)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE, _("plan: %g lies below works_high, %g"),
                     lz_draft_number(d, "plan"), high);
  return TRUE;
}

static gboolean
check_band(const LzDraft *d, GError **error)
{
  int64_t phase = lz_draft_ref(d, "phase");
  const LzEntity *entity = lz_model_entity(d->model, phase);
  if (!d->before && bands_of(d, phase) >= LZQ_MAX_BANDS)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE, _("band: a phase has at most %d bands"),
                     LZQ_MAX_BANDS);
  return check_edges(d, error) && refuse_in_use(d, lz_entry_int(entity->now, "protocol"), error);
}

// Erasing takes the name for good, so it is said by yes and why, about somebody who works here no
// more, by somebody else.
static gboolean
check_erase(LzDraft *d, GError **error)
{
  const char *erase = lz_command_get(d->command, "erase");
  if (!erase)
    return TRUE;
  if (!g_str_equal(erase, "yes") && !g_str_equal(erase, _("yes")))
    return lz_value_refuse(error, "erase", erase, _("yes, or nothing"));
  if (!d->entry.entity || lz_command_get(d->command, "name") ||
      lz_command_get(d->command, "initials") || lz_command_get(d->command, "contact"))
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("erase: it is said of a person on record, with no new name"));
  if (d->entry.who == d->entry.entity)
    return lz_value_refuse(error, "erase", erase, _("another person, who erases this one"));
  if (!d->entry.reason)
    return lz_refuse(error, LZ_DESK_ERROR_NEEDS_REASON,
                     _("erase: the name goes for good and the record stays; say why"));
  lzs_value *active = &d->entry.v[lzs_kind_field(d->spec, "active")];
  *active = (lzs_value){.i = 0};
  return TRUE;
}

static gboolean
check_person(LzDraft *d, GError **error)
{
  if (!check_erase(d, error))
    return FALSE;
  const char *initials = lz_command_get(d->command, "initials");
  const LzEntity *other = initials ? lz_model_person_by_initials(d->model, initials) : NULL;
  if (!d->before && !initials)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("initials: nothing was given; accepted are two letters"));
  if (initials &&
      (g_utf8_strlen(initials, -1) > 4 || strchr(initials, '#') || strchr(initials, ' ')))
    return lz_value_refuse(error, "initials", initials, _("two letters"));
  if (other && other->id != d->entry.entity && other->id != d->entry.corrects)
    return lz_value_refuse(error, "initials", initials, _("letters that nobody else here has"));
  return TRUE;
}

// A set that has been in copper is given to a water that holds invertebrates.
static void
warn_of_nets(const LzDraft *d)
{
  const char *nets = lz_draft_text(d, "nets");
  lzq_minute since = nets && *nets ? lz_nets_set_in_copper(d->model, nets) : LZQ_NEVER;
  if (since == LZQ_NEVER || !d->before)
    return;
  for (uint32_t lot = 0; lot < d->model->lots->len; lot++) {
    const LzEntity *entity = lz_model_entity_at(d->model, LZS_LOT, lot);
    LzPlace place = lz_place_of(d->model, lot, d->entry.happened_min);
    if (!entity || !lz_place_lives(&place) ||
        place.system != lz_model_index(d->model, LZS_SYSTEM, d->entry.entity) ||
        !(lz_model_traits(lz_model_species(d->model, entity)) & LZQ_TRAIT_INVERTEBRATE))
      continue;
    lz_command_note(d->command,
                    g_strdup_printf(_("nets: “%1$s” has been in copper, and lot %2$s are "
                                      "invertebrates, which traces of it kill: use another set"),
                                    nets, entity->label));
    return;
  }
}

static gboolean
check_system(LzDraft *d, GError **error)
{
  lz_gate_system(d);
  lz_gate_unlikely_volume(d);
  warn_of_nets(d);
  g_autofree char *unknown = lz_nets_unknown_near(d->model, lz_draft_text(d, "near"));
  return !unknown || lz_value_refuse(error, "near", unknown,
                                     _("names of systems that the station has, with commas"));
}

// A protocol is signed off by the veterinarian who answers for it, not by whoever edits it.
static gboolean
check_protocol(const LzDraft *d, GError **error)
{
  const lzs_value *off = lz_draft_value(d, "signed_off");
  const LzEntity *who = lz_model_entity(d->model, d->entry.who);
  const char *role = who ? lz_entry_text(who->now, "role") : NULL;
  if (off->null || !off->i || g_strcmp0(role, "vet") == 0)
    return TRUE;
  return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                   _("signed_off: only a person whose role is vet signs a protocol off"));
}

// Two things of one kind may not have one name: every later entry would be about either.
static gboolean
check_unique(const LzDraft *d, GError **error)
{
  g_autoptr(LzEntry) made = lz_entry_new(&d->entry);
  g_autofree char *label = lz_model_label(d->model, made);
  if (!*label)
    return TRUE;
  if (label[0] == '#')
    return lz_value_refuse(error, d->spec->label, label, _("a name that does not begin with #"));
  g_autofree char *folded = g_utf8_casefold(label, -1);
  g_autofree char *key = g_strdup_printf("%d:%s", d->spec->kind, folded);
  const LzEntity *other = g_hash_table_lookup(d->model->names, key);
  if (other && other->id != d->entry.entity && other->id != d->entry.corrects)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("%s: “%s” is taken; accepted is a name that no other %s has"),
                     d->spec->label, label, d->spec->name);
  return TRUE;
}

gboolean
lz_check_setup(LzDraft *d, GError **error)
{
  if (!check_unique(d, error))
    return FALSE;
  switch (d->spec->kind) {
  case LZS_STATION: return check_station(d, error);
  case LZS_PERSON: return check_person(d, error);
  case LZS_SYSTEM: return check_system(d, error);
  case LZS_INSTRUMENT:
    return check_words(d, "sees", "ionic amine chelated all", error) && check_reagents(d, error);
  case LZS_BOTTLE: return check_bottle(d, error);
  case LZS_PROTOCOL: return check_protocol(d, error);
  case LZS_PHASE: return check_phase(d, error);
  case LZS_BAND: return check_band(d, error);
  default: return TRUE;
  }
}
