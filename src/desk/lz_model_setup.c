// SPDX-License-Identifier: GPL-3.0-or-later
// From descriptions to the engine's arrays: systems, tanks, instruments, bottles, lots, protocols,
// and the station's rules. Defaults stand here, each with where it comes from.
#include <lzq_bath.h>
#include <lzq_oxygen.h>
#include <lzq_units.h>
#include <math.h>
#include <string.h>

#include "lz_model.h"

#define DEFAULT_MIXING_MIN      60   // common practice, no source
#define DEFAULT_MAX_CHANGE_DAY  1.0  // the station says less
#define DEFAULT_SOURCE_SALINITY 35.0 // normal sea water (PSS-78)
#define DEFAULT_ACCEPT_MAX_MIN  0
#define DEFAULT_CONTACT_DAYS    14   // look-back of contacts
#define DEFAULT_UNSEEN_EXIT     0.10 // docs/engine/estimate.md: what it costs in tests and hours
#define DEFAULT_LAPSE_MIN       (-1)

static double
real_or(const LzEntry *e, const char *field, double fallback)
{
  return lz_entry_has(e, field) ? lz_entry_number(e, field) : fallback;
}

static int64_t
int_or(const LzEntry *e, const char *field, int64_t fallback)
{
  return lz_entry_has(e, field) ? lz_entry_int(e, field) : fallback;
}

static int
word_or(const LzEntry *e, const char *field, int fallback)
{
  int word = lz_entry_word(e, field);
  return word >= 0 ? word : fallback;
}

// Bits 1 << position of the blank-separated names in the list of words.
static uint32_t
bits_of(const char *text, const char *const *names, guint n)
{
  uint32_t bits = 0;
  if (!text)
    return 0;
  g_auto(GStrv) words = g_strsplit_set(text, " ,;|", -1);
  for (guint i = 0; words[i]; i++)
    for (guint k = 0; k < n; k++)
      if (g_ascii_strcasecmp(words[i], names[k]) == 0)
        bits |= 1u << k;
  return bits;
}

static const char *const gear_names[] = {"skimmer", "uv",  "carbon", "resin",
                                         "ozone",   "air", "heater", "pump"};
static const char *const form_names[] = {"none", "ionic", "amine", "chelated"};
G_STATIC_ASSERT(G_N_ELEMENTS(gear_names) == LZQ_N_GEAR);
G_STATIC_ASSERT(G_N_ELEMENTS(form_names) == LZQ_N_FORMS);

static void *
slot_of(GArray *array, uint32_t index)
{
  if (index >= array->len)
    g_array_set_size(array, index + 1);
  return array->data + (gsize)index * g_array_get_element_size(array);
}

// Systems that name one net set share a number; without a name the nets are its own.
static uint32_t
net_set_of(LzModel *m, const char *name)
{
  if (!name || !*name)
    return 0;
  char *folded = g_utf8_casefold(name, -1);
  guint number = GPOINTER_TO_UINT(g_hash_table_lookup(m->nets, folded));
  if (number) {
    g_free(folded);
    return number;
  }
  number = g_hash_table_size(m->nets) + 1;
  g_hash_table_insert(m->nets, folded, GUINT_TO_POINTER(number));
  return number;
}

static void
put_system(LzModel *m, const LzEntity *entity)
{
  const LzEntry *e = entity->now;
  lzq_system *s = slot_of(m->systems, entity->index);
  s->volume_l = lz_entry_number(entity->first, "volume_l"); // later ones are VOLUME records
  s->role = (lzq_role)word_or(e, "role", LZQ_ROLE_TREATMENT);
  s->walk = (int32_t)int_or(e, "walk", entity->index);
  s->mixing_min = (int32_t)int_or(e, "mixing_min", DEFAULT_MIXING_MIN);
  s->max_change_day = real_or(e, "max_change_day", DEFAULT_MAX_CHANGE_DAY);
  s->source_salinity = real_or(e, "source_salinity", DEFAULT_SOURCE_SALINITY);
  s->net_set = net_set_of(m, lz_entry_text(e, "nets"));
  while (m->of_water->len <= entity->index)
    g_ptr_array_add(m->of_water, g_array_new(FALSE, FALSE, sizeof(uint32_t)));
}

static void
put_tank(LzModel *m, const LzEntity *entity)
{
  const LzEntry *e = entity->now;
  lzq_tank *t = slot_of(m->tanks, entity->index);
  t->system = lz_model_index(m, LZS_SYSTEM, lz_entry_int(e, "system"));
  t->volume_l = real_or(e, "volume_l", 0);
  t->number = (int32_t)lz_entry_int(e, "number");
}

static void
put_instrument(LzModel *m, const LzEntity *entity)
{
  const LzEntry *e = entity->now;
  const char *sees = lz_entry_text(e, "sees");
  lzq_instrument *i = slot_of(m->instruments, entity->index);
  gboolean all = !sees || !*sees || g_ascii_strcasecmp(sees, "all") == 0;
  i->sees_forms = all ? (1u << LZQ_N_FORMS) - 1 : bits_of(sees, form_names, LZQ_N_FORMS);
  i->error_abs = real_or(e, "error_abs", 0);
  i->error_rel = real_or(e, "error_rel", 0);
  i->resolution = real_or(e, "resolution", 0);
  i->check_days = int_or(e, "check_days", 0);
}

double
lz_model_strength(const LzEntry *bottle)
{
  gboolean salt = g_strcmp0(lz_entry_text(bottle, "strength_as"), "salt") == 0;
  double strength = lz_entry_number(bottle, "strength");
  // One from before the entry was checked: a bath is judged by what formalin weighs.
  if (lz_entry_word(bottle, "analyte") == LZQ_FORMALIN && !lzq_formalin_strength_ok(strength) &&
      !lzq_formalin_is_thin(strength))
    return LZQ_FORMALIN_DENSITY * 1000;
  return salt ? lzq_from_label(LZQ_AS_COPPER_SULFATE_5H2O, strength) : strength;
}

static void
put_bottle(LzModel *m, const LzEntity *entity)
{
  const LzEntry *e = entity->now;
  lzq_bottle *b = slot_of(m->bottles, entity->index);
  b->analyte = (lzq_analyte)word_or(e, "analyte", LZQ_COPPER);
  b->form = (lzq_form)word_or(e, "form", b->analyte == LZQ_COPPER ? LZQ_FORM_IONIC : LZQ_FORM_NONE);
  b->strength_mg_ml = lz_model_strength(e);
  lzq_minute end = lz_expiry_end(m->zone, lz_entry_text(e, "expiry"));
  b->expires_at = end == LZQ_NEVER ? 0 : end;
}

// A species without a class is "no data", which is not "safe"; a lot without a species says
// nothing.
uint32_t
lz_model_traits(const LzEntry *species)
{
  uint32_t traits = 0;
  if (!species)
    return 0;
  const char *copper = lz_entry_text(species, "copper");
  if (!copper || g_str_equal(copper, "unknown"))
    traits |= LZQ_TRAIT_COPPER_UNKNOWN;
  else if (g_str_equal(copper, "avoid"))
    traits |= LZQ_TRAIT_COPPER_SENSITIVE;
  if (g_strcmp0(lz_entry_text(species, "low_salinity"), "avoid") == 0)
    traits |= LZQ_TRAIT_LOW_SALT_SENSITIVE;
  if (lz_entry_int(species, "invertebrate"))
    traits |= LZQ_TRAIT_INVERTEBRATE;
  if (lz_entry_int(species, "cartilaginous"))
    traits |= LZQ_TRAIT_CARTILAGINOUS;
  return traits;
}

static void
put_lot(LzModel *m, const LzEntity *entity)
{
  lzq_lot *l = slot_of(m->lots, entity->index);
  const LzEntry *e = entity->now;
  while (m->of_lot->len <= entity->index)
    g_ptr_array_add(m->of_lot, g_array_new(FALSE, FALSE, sizeof(uint32_t)));
  if (e->kind == LZS_SPLIT) {
    uint32_t parent = lz_model_index(m, LZS_LOT, lz_entry_int(e, "lot"));
    *l = parent != LZQ_NONE ? g_array_index(m->lots, lzq_lot, parent)
                            : (lzq_lot){.mean_mass_g = NAN};
    return;
  }
  const LzEntity *species = lz_model_entity(m, lz_entry_int(e, "species"));
  l->traits = lz_model_traits(species ? species->now : NULL);
  l->mean_mass_g = real_or(e, "mean_mass_g", NAN);
}

void
lz_model_put_entity(LzModel *m, LzEntity *entity)
{
  switch (entity->kind) {
  case LZS_STATION:
    m->station = entity;
    lz_model_put_station(m);
    break;
  case LZS_SYSTEM: put_system(m, entity); break;
  case LZS_TANK: put_tank(m, entity); break;
  case LZS_INSTRUMENT: put_instrument(m, entity); break;
  case LZS_BOTTLE: put_bottle(m, entity); break;
  case LZS_LOT: put_lot(m, entity); break;
  default: break;
  }
}

void
lz_model_put_station(LzModel *m)
{
  const LzEntry *e = m->station ? m->station->now : NULL;
  m->rules = (lzq_station){.trust_unchecked = true,
                           .accept_max_min = DEFAULT_ACCEPT_MAX_MIN,
                           .contact_days = DEFAULT_CONTACT_DAYS,
                           .copper_limit = NAN,
                           .missed_share = m->rules.missed_share};
  LzZone *zone = lz_zone_new(e ? lz_entry_text(e, "zone") : "UTC", NULL);
  if (!zone) // a machine without that zone's rules
    zone = lz_zone_new("UTC", NULL);
  lz_zone_unref(m->zone);
  m->zone = zone;
  m->unseen_exit = e ? real_or(e, "unseen_exit", DEFAULT_UNSEEN_EXIT) : DEFAULT_UNSEEN_EXIT;
  m->pressure_atm = 1;
  if (!e)
    return;
  double pressure = lz_entry_number(e, "pressure_hpa");
  double height = real_or(e, "altitude_m", 0);
  m->pressure_atm =
      isnan(pressure) ? lzq_pressure_at_height_atm(height) : pressure / 10 / LZQ_KPA_PER_ATM;
  m->rules.last_in = lz_entry_int(e, "last_in") != 0;
  m->rules.trust_unchecked = int_or(e, "trust_unchecked", 1) != 0;
  m->rules.accept_max_min = int_or(e, "accept_max_min", DEFAULT_ACCEPT_MAX_MIN);
  m->rules.contact_days = int_or(e, "contact_days", DEFAULT_CONTACT_DAYS);
}

static void
put_band(lzq_phase *phase, const LzEntry *e)
{
  if (phase->n_bands == LZQ_MAX_BANDS)
    return; // refused on entry
  lzq_band *b = &phase->bands[phase->n_bands++];
  b->analyte = (lzq_analyte)word_or(e, "analyte", LZQ_COPPER);
  b->form = (lzq_form)word_or(e, "form", LZQ_FORM_NONE);
  b->side = (lzq_side)word_or(e, "side", LZQ_AT_OR_ABOVE);
  b->works = lz_entry_number(e, "works");
  b->works_high = real_or(e, "works_high", NAN);
  b->target = real_or(e, "target", b->works);
  b->plan = real_or(e, "plan", NAN);
  b->harm = real_or(e, "harm", NAN);
  b->gap_min = (int32_t)lz_entry_int(e, "gap_min");
  // default of the definition: inside for lowered salinity, not for copper
  b->error_inside =
      int_or(e, "error_inside", b->analyte == LZQ_SALINITY && b->side == LZQ_AT_OR_BELOW);
}

static void
put_phase(lzq_phase *p, const LzEntry *e, uint32_t own)
{
  *p = (lzq_phase){.kind = (lzq_phase_kind)word_or(e, "kind", LZQ_PHASE_HOLD),
                   .place = (lzq_place)word_or(e, "place", LZQ_PLACE_STAY),
                   .role = (lzq_role)word_or(e, "role", LZQ_ROLE_TREATMENT),
                   .reach = lz_entry_int(e, "reach") != 0,
                   .min_elapsed_min = lz_entry_int(e, "min_elapsed_min"),
                   .min_credit_min = lz_entry_int(e, "min_credit_min"),
                   .quiet_min = lz_entry_int(e, "quiet_min"),
                   .eating_days = (int32_t)lz_entry_int(e, "eating_days"),
                   .eaten_share = real_or(e, "eaten_share", 0),
                   .sign = (lzq_sign)word_or(e, "sign", LZQ_SIGN_NOBODY),
                   .lapse_min = (int32_t)int_or(e, "lapse_min", DEFAULT_LAPSE_MIN),
                   .lapse = (lzq_lapse)word_or(e, "lapse", LZQ_LAPSE_PAUSE),
                   .sighting_to = (uint32_t)(int_or(e, "sighting_to", own + 1) - 1),
                   .rise_per_day = real_or(e, "rise_per_day", NAN),
                   .rise_steps = (int32_t)lz_entry_int(e, "rise_steps"),
                   .step_gap_min = (int32_t)lz_entry_int(e, "step_gap_min"),
                   .salinity_fall_day = real_or(e, "salinity_fall_day", NAN),
                   .salinity_rise_day = real_or(e, "salinity_rise_day", NAN),
                   .salinity_step = real_or(e, "salinity_step", NAN),
                   .late_tolerance_min = (int32_t)lz_entry_int(e, "late_tolerance_min"),
                   .early = lz_entry_int(e, "early") != 0,
                   .warm_from = real_or(e, "warm_from", NAN),
                   .warm_to = real_or(e, "warm_to", NAN),
                   .tol_copper = real_or(e, "tol_copper", NAN),
                   .tol_salinity = real_or(e, "tol_salinity", NAN),
                   .tol_temperature = real_or(e, "tol_temperature", NAN),
                   .tol_ph = real_or(e, "tol_ph", NAN),
                   .copper_free = lz_entry_int(e, "copper_free") != 0,
                   .tol_copper_free = LZQ_NONE_LEFT,
                   .medicine = (lzq_analyte)word_or(e, "medicine", LZQ_COPPER),
                   .dose_level = real_or(e, "dose_level", NAN),
                   .bath_min = (int32_t)lz_entry_int(e, "bath_min"),
                   .gear_on = bits_of(lz_entry_text(e, "gear_on"), gear_names, LZQ_N_GEAR),
                   .gear_off = bits_of(lz_entry_text(e, "gear_off"), gear_names, LZQ_N_GEAR)};
}

// Of one position, which no entry gives twice to a protocol, in the order of entry.
static int
by_position(gconstpointer a, gconstpointer b)
{
  const LzEntity *x = *(LzEntity *const *)a, *y = *(LzEntity *const *)b;
  const int64_t p = lz_entry_int(x->now, "position"), q = lz_entry_int(y->now, "position");
  return p != q ? (p > q) - (p < q) : (x->id > y->id) - (x->id < y->id);
}

// Phases of one protocol in order of position, appended to the array.
static uint32_t
put_phases(LzModel *m, int64_t protocol)
{
  g_autoptr(GPtrArray) own = g_ptr_array_new();
  for (guint i = 0; i < m->by_kind[LZS_PHASE]->len; i++) {
    LzEntity *entity = m->by_kind[LZS_PHASE]->pdata[i];
    if (lz_entry_int(entity->now, "protocol") == protocol)
      g_ptr_array_add(own, entity);
  }
  g_ptr_array_sort(own, by_position);
  for (guint i = 0; i < own->len; i++) {
    LzEntity *entity = own->pdata[i];
    entity->index = m->phases->len;
    put_phase(slot_of(m->phases, entity->index), entity->now, i);
  }
  return own->len;
}

static uint32_t
family_of(const LzModel *m, uint32_t protocol)
{
  const LzEntity *own = m->by_kind[LZS_PROTOCOL]->pdata[protocol];
  for (uint32_t i = 0; i < protocol; i++) {
    const LzEntity *other = m->by_kind[LZS_PROTOCOL]->pdata[i];
    if (g_strcmp0(lz_entry_text(other->now, "name"), lz_entry_text(own->now, "name")) == 0)
      return i;
  }
  return protocol;
}

void
lz_model_put_protocols(LzModel *m)
{
  g_array_set_size(m->phases, 0);
  for (uint32_t i = 0; i < m->by_kind[LZS_PROTOCOL]->len; i++) {
    const LzEntity *entity = m->by_kind[LZS_PROTOCOL]->pdata[i];
    lzq_protocol *p = slot_of(m->protocols, i);
    p->first_phase = m->phases->len;
    p->n_phases = put_phases(m, entity->id);
    p->family = family_of(m, i);
    p->version = (uint32_t)lz_entry_int(entity->now, "version");
  }
  for (guint i = 0; i < m->by_kind[LZS_BAND]->len; i++) {
    const LzEntity *band = m->by_kind[LZS_BAND]->pdata[i];
    uint32_t phase = lz_model_index(m, LZS_PHASE, lz_entry_int(band->now, "phase"));
    if (phase < m->phases->len)
      put_band(&g_array_index(m->phases, lzq_phase, phase), band->now);
  }
}
