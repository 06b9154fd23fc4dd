// SPDX-License-Identifier: GPL-3.0-or-later
// From facts to the engine's records. A record is made from the entry as it was written;
// corrections are records of their own, so that the engine can judge what was known when.
#include <math.h>

#include "lz_gate_medicine.h"
#include "lz_model.h"

static uint32_t
ref(const LzModel *m, const LzEntry *e, const char *field, lzs_kind kind)
{
  return lz_model_index(m, kind, lz_entry_int(e, field));
}

static lzq_record
blank(const LzEntry *e, lzq_record_kind kind)
{
  return (lzq_record){.id = (uint64_t)e->id * LZ_RECORDS_PER_ENTRY,
                      .corrects = (uint64_t)e->corrects * LZ_RECORDS_PER_ENTRY,
                      .voided = e->voided,
                      .kind = (uint8_t)kind,
                      .at = e->at,
                      .system = LZQ_NONE,
                      .tank = LZQ_NONE,
                      .lot = LZQ_NONE,
                      .other = LZQ_NONE,
                      .instrument = LZQ_NONE,
                      .bottle = LZQ_NONE,
                      .protocol = LZQ_NONE,
                      .value = NAN,
                      .error = NAN,
                      .amount = NAN,
                      .new_copper = NAN,
                      .new_salinity = NAN};
}

static gboolean
touches_water(uint8_t kind)
{
  return kind == LZQ_REC_VOLUME || kind == LZQ_REC_READING || kind == LZQ_REC_CHANGE ||
         kind == LZQ_REC_TOPUP || kind == LZQ_REC_DOSE || kind == LZQ_REC_GEAR;
}

static gboolean
find_record(const LzModel *m, uint64_t id, guint *index)
{
  guint low = 0, high = m->records->len;
  while (low < high) {
    const guint middle = low + (high - low) / 2;
    if (g_array_index(m->records, lzq_record, middle).id < id)
      low = middle + 1;
    else
      high = middle;
  }
  *index = low;
  return low < m->records->len && g_array_index(m->records, lzq_record, low).id == id;
}

const lzq_record *
lz_model_record_of(const LzModel *m, int64_t entry)
{
  guint index;
  return find_record(m, (uint64_t)entry * LZ_RECORDS_PER_ENTRY, &index)
             ? &g_array_index(m->records, lzq_record, index)
             : NULL;
}

// A correction stands for the first entry and for every correction before it.
static void
replace(LzModel *m, const lzq_record *r, guint index)
{
  int64_t *first = g_new(int64_t, 1);
  guint before;
  *first = (int64_t)r->corrects;
  if (find_record(m, r->corrects, &before))
    m->replaced->data[before] = 1;
  before = GPOINTER_TO_UINT(g_hash_table_lookup(m->held, first));
  if (before)
    m->replaced->data[before - 1] = 1;
  g_hash_table_replace(m->held, first, GUINT_TO_POINTER(index + 1));
}

static gboolean
moves_lot(uint8_t kind)
{
  return kind == LZQ_REC_RECEIVE || kind == LZQ_REC_MOVE || kind == LZQ_REC_SPLIT ||
         kind == LZQ_REC_MERGE || kind == LZQ_REC_COUNT || kind == LZQ_REC_DEATH ||
         kind == LZQ_REC_STOP || kind == LZQ_REC_COURSE || kind == LZQ_REC_RELEASE;
}

// What is taken off again may leave a block with a later minute than its records have.
static void
note_latest(LzModel *m, uint32_t index, lzq_minute at)
{
  const guint block = index / LZ_LATEST_OF;
  if (block >= m->latest->len)
    g_array_append_val(m->latest, at);
  else if (at > g_array_index(m->latest, lzq_minute, block))
    g_array_index(m->latest, lzq_minute, block) = at;
}

// The last record in every list in which it is looked up.
static void
list_record(LzModel *m, const lzq_record *r)
{
  const uint32_t index = m->records->len - 1;
  note_latest(m, index, r->at);
  if (touches_water(r->kind) && r->system < m->of_water->len)
    g_array_append_val(m->of_water->pdata[r->system], index);
  if (moves_lot(r->kind) && r->lot < m->of_lot->len)
    g_array_append_val(m->of_lot->pdata[r->lot], index);
  if (moves_lot(r->kind) && r->other != r->lot && r->other < m->of_lot->len)
    g_array_append_val(m->of_lot->pdata[r->other], index);
  if (r->kind == LZQ_REC_CHECK)
    g_array_append_val(m->checks, index);
  if (r->kind == LZQ_REC_SIGHTING)
    g_array_append_val(m->sightings, index);
  if (r->kind == LZQ_REC_VOLUME)
    g_array_append_val(m->volumes, index);
  if (r->kind == LZQ_REC_STATE)
    g_array_append_val(m->states, index);
  if (r->kind == LZQ_REC_RECEIVE || r->kind == LZQ_REC_MOVE || r->kind == LZQ_REC_SPLIT ||
      r->kind == LZQ_REC_COURSE)
    g_array_append_val(m->stands, index);
  const guint8 holds = 0;
  if (index >= m->replaced->len)
    g_byte_array_append(m->replaced, &holds, 1);
  if (r->corrects)
    replace(m, r, index);
}

void
lz_model_put_record(LzModel *m, const lzq_record *r)
{
  lz_record_array_append(m->records, r);
  list_record(m, r);
}

static uint8_t
word(const LzEntry *e, const char *field)
{
  int w = lz_entry_word(e, field);
  return (uint8_t)(w < 0 ? 0 : w);
}

static void
fill_reading(const LzModel *m, const LzEntry *e, lzq_record *r)
{
  r->analyte = word(e, "analyte");
  r->instrument = ref(m, e, "instrument", LZS_INSTRUMENT);
  r->value = lz_entry_number(e, "value");
  r->error = lz_entry_number(e, "error");
  if (r->instrument == LZQ_NONE && isnan(r->error))
    r->error = 0;
  r->suspect = lz_entry_int(e, "suspect") != 0;
  r->confirms = (uint64_t)lz_entry_int(e, "confirms") * LZ_RECORDS_PER_ENTRY;
}

static void
fill_dose(const LzModel *m, const LzEntry *e, lzq_record *r)
{
  const LzEntity *bottle = lz_model_entity(m, lz_entry_int(e, "bottle"));
  r->bottle = ref(m, e, "bottle", LZS_BOTTLE);
  r->analyte = word(e, "analyte");
  r->form = word(e, "form");
  r->drip = lz_entry_int(e, "in_new_water") != 0;
  if (bottle && r->bottle < m->bottles->len) {
    const lzq_bottle *b = &g_array_index(m->bottles, lzq_bottle, r->bottle);
    r->analyte = (uint8_t)b->analyte;
    r->form = (uint8_t)b->form;
  }
  if (lz_entry_has(e, "salt_kg")) {
    r->analyte = LZQ_SALINITY;
    r->form = LZQ_FORM_NONE;
    r->amount = lz_entry_number(e, "salt_kg") * 1000; // g
  } else if (lz_entry_has(e, "amount_mg")) {
    r->amount = lz_entry_number(e, "amount_mg");
  } else {
    r->amount = lz_entry_number(e, "amount_ml") * (bottle ? lz_model_strength(bottle->now) : 0);
  }
  if (r->analyte == LZQ_COPPER && r->form == LZQ_FORM_NONE)
    r->form = LZQ_FORM_IONIC;
}

static void
fill_change(const LzEntry *e, lzq_record *r)
{
  r->amount = lz_entry_number(e, "litres");
  r->drip = lz_entry_int(e, "drip") != 0;
  r->new_copper = lz_entry_number(e, "new_copper");
  r->new_salinity = lz_entry_number(e, "new_salinity");
  if (e->kind == LZS_TOPUP && isnan(r->new_salinity))
    r->new_salinity = 0; // a top-up is fresh water unless it says otherwise
}

// What was seen that sends a course back: signs of a parasite, or nothing said. Behaviour alone
// asks for a scrape; a scrape that finds a parasite says the same as seeing it.
static gboolean
sends_back(const LzEntry *e)
{
  const char *sign = lz_entry_text(e, e->kind == LZS_SCRAPE ? "finding" : "sign");
  static const char *const parasites[] = {"white_spot",   "velvet",       "fluke",   "cryptocaryon",
                                          "amyloodinium", "brooklynella", "uronema", NULL};
  return !sign || g_strv_contains(parasites, sign);
}

static void
fill_sighting(const LzModel *m, const LzEntry *e, lzq_record *r)
{
  r->system = ref(m, e, "system", LZS_SYSTEM);
  r->tank = ref(m, e, "tank", LZS_TANK);
  r->lot = ref(m, e, "lot", LZS_LOT);
  r->heads = (int32_t)lz_entry_int(e, "heads");
  if (r->system == LZQ_NONE && r->tank < m->tanks->len)
    r->system = g_array_index(m->tanks, lzq_tank, r->tank).system;
}

static void
fill_split(const LzModel *m, const LzEntry *e, lzq_record *r)
{
  int64_t child = e->corrects ? e->corrects : e->id;
  r->lot = ref(m, e, "lot", LZS_LOT);
  r->other = lz_model_index(m, LZS_LOT, child);
  r->heads = (int32_t)lz_entry_int(e, "heads");
}

static void
fill_bath(const LzModel *m, const LzEntry *e, lzq_record *r)
{
  const int bath = (int)word(e, "bath");
  r->analyte = lz_bath_medicine(bath);
  r->value = lz_entry_number(e, "minutes");
  r->amount = lz_bath_level(bath, lz_model_entity(m, lz_entry_int(e, "bottle")),
                            lz_entry_number(e, "litres"), lz_entry_number(e, "amount_ml"),
                            lz_entry_number(e, "amount_mg"));
  r->error = lz_entry_number(e, "temperature");
  r->ok = lz_entry_int(e, "stopped") == 0;
}

static void
fill_course(const LzModel *m, const LzEntry *e, lzq_record *r)
{
  r->protocol = ref(m, e, "protocol", LZS_PROTOCOL);
  r->phase = lz_entry_has(e, "phase") ? (uint32_t)(lz_entry_int(e, "phase") - 1) : 0;
  r->keep = lz_entry_int(e, "keep") != 0;
}

// Which record a kind makes; LZQ_N_RECORD_KINDS = none.
static lzq_record_kind
record_kind(const LzEntry *e)
{
  switch (e->kind) {
  case LZS_LOT: return e->entity ? LZQ_N_RECORD_KINDS : LZQ_REC_RECEIVE;
  case LZS_SYSTEM: return e->entity ? LZQ_REC_VOLUME : LZQ_N_RECORD_KINDS;
  case LZS_VOLUME: return LZQ_REC_VOLUME;
  case LZS_STATE: return LZQ_REC_STATE;
  case LZS_CHECK: return LZQ_REC_CHECK;
  case LZS_READING: return LZQ_REC_READING;
  case LZS_CHANGE: return LZQ_REC_CHANGE;
  case LZS_TOPUP: return LZQ_REC_TOPUP;
  case LZS_DOSE: return LZQ_REC_DOSE;
  case LZS_GEAR: return LZQ_REC_GEAR;
  case LZS_SIGHTING:
  case LZS_SCRAPE: return e->voided || sends_back(e) ? LZQ_REC_SIGHTING : LZQ_N_RECORD_KINDS;
  case LZS_COUNT: return LZQ_REC_COUNT;
  case LZS_DEATH: return LZQ_REC_DEATH;
  case LZS_FEED: return LZQ_REC_FEED;
  case LZS_SIGN: return LZQ_REC_SIGN;
  case LZS_ACCEPT: return LZQ_REC_ACCEPT;
  case LZS_ACCEPT_OPEN: return LZQ_REC_ACCEPT_OPEN;
  case LZS_SPLIT: return LZQ_REC_SPLIT;
  case LZS_MOVE: return LZQ_REC_MOVE;
  case LZS_MERGE: return LZQ_REC_MERGE;
  case LZS_STOP: return LZQ_REC_STOP;
  case LZS_COURSE: return LZQ_REC_COURSE;
  case LZS_RELEASE: return LZQ_REC_RELEASE;
  case LZS_BATH: return LZQ_REC_BATH;
  default: return LZQ_N_RECORD_KINDS;
  }
}

static void
fill_water(const LzModel *m, const LzEntry *e, lzq_record *r)
{
  r->system = ref(m, e, "system", LZS_SYSTEM);
  switch ((lzq_record_kind)r->kind) {
  case LZQ_REC_VOLUME:
    r->amount = lz_entry_number(e, "volume_l");
    if (e->kind == LZS_SYSTEM)
      r->system = lz_model_index(m, LZS_SYSTEM, e->entity);
    break;
  case LZQ_REC_STATE: r->state = word(e, "state"); break;
  case LZQ_REC_READING: fill_reading(m, e, r); break;
  case LZQ_REC_CHANGE:
  case LZQ_REC_TOPUP: fill_change(e, r); break;
  case LZQ_REC_DOSE: fill_dose(m, e, r); break;
  case LZQ_REC_GEAR:
    r->gear = word(e, "gear");
    r->ok = lz_entry_int(e, "on") != 0;
    break;
  default: break;
  }
}

static void
fill_lot(const LzModel *m, const LzEntry *e, lzq_record *r)
{
  r->lot = e->kind == LZS_LOT ? lz_model_index(m, LZS_LOT, e->corrects ? e->corrects : e->id)
                              : ref(m, e, "lot", LZS_LOT);
  r->tank = ref(m, e, "tank", LZS_TANK);
  r->heads = (int32_t)lz_entry_int(e, "heads");
  switch ((lzq_record_kind)r->kind) {
  case LZQ_REC_FEED:
    r->amount = lz_entry_number(e, "eaten_share");
    r->day = lz_zone_day(m->zone, e->at);
    break;
  case LZQ_REC_SIGN:
  case LZQ_REC_ACCEPT:
    r->phase = (uint32_t)(lz_entry_int(e, "phase") - 1);
    r->ok = lz_entry_int(e, "vet") != 0;
    r->amount = lz_entry_number(e, "minutes");
    break;
  case LZQ_REC_BATH: fill_bath(m, e, r); break;
  case LZQ_REC_SPLIT: fill_split(m, e, r); break;
  case LZQ_REC_MERGE: r->other = ref(m, e, "into", LZS_LOT); break;
  case LZQ_REC_COURSE: fill_course(m, e, r); break;
  default: break;
  }
}

// A receipt, split or description that was taken away: nothing else names what it made, so it
// leaves no record.
static gboolean
made_nothing(const LzModel *m, LzEntry *e)
{
  if (!e->spec->setup && e->kind != LZS_SPLIT)
    return FALSE;
  LzEntry *first = e->corrects ? lz_model_entry(m, e->corrects) : e;
  return first && !lz_model_in_force(m, first);
}

static void
put_first(LzModel *m, const LzEntry *e)
{
  lzq_record_kind kind = record_kind(e);
  if (kind == LZQ_N_RECORD_KINDS) {
    // a sighting corrected into something that sends nobody back is taken away
    if ((e->kind != LZS_SIGHTING && e->kind != LZS_SCRAPE) || !e->corrects)
      return;
    kind = LZQ_REC_SIGHTING;
  }
  lzq_record r = blank(e, kind);
  if (kind == LZQ_REC_SIGHTING) {
    fill_sighting(m, e, &r);
    r.voided = e->voided || !sends_back(e);
  } else if (kind == LZQ_REC_CHECK) {
    r.instrument = ref(m, e, "instrument", LZS_INSTRUMENT);
    r.ok = lz_entry_int(e, "ok") != 0;
  } else if (kind <= LZQ_REC_GEAR && kind != LZQ_REC_RECEIVE) {
    fill_water(m, e, &r);
  } else {
    fill_lot(m, e, &r);
  }
  lz_model_put_record(m, &r);
}

// What else an entry says, as its second record.
static lzq_record
second(const LzEntry *e, lzq_record_kind kind)
{
  lzq_record r = blank(e, kind);
  r.id++;
  r.corrects += r.corrects ? 1 : 0;
  return r;
}

void
lz_model_put_records(LzModel *m, LzEntry *e)
{
  if (made_nothing(m, e))
    return;
  put_first(m, e);
  if (e->kind == LZS_SPLIT && lz_entry_has(e, "tank")) {
    lzq_record move = second(e, LZQ_REC_MOVE);
    move.lot = lz_model_index(m, LZS_LOT, e->corrects ? e->corrects : e->id);
    move.tank = ref(m, e, "tank", LZS_TANK);
    lz_model_put_record(m, &move);
  } else if (e->kind == LZS_SCRAPE) {
    lzq_record scrape = second(e, LZQ_REC_SCRAPE);
    scrape.lot = ref(m, e, "lot", LZS_LOT);
    lz_model_put_record(m, &scrape);
  }
}
