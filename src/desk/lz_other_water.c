// SPDX-License-Identifier: GPL-3.0-or-later
// Limits, and what they rest on:
//   un-ionised ammonia 0.01 mg/L, nitrite 0.125 mg/L, oxygen 5.5 mg/L: a trade body's code of
//     conduct (OATA 2015), values from memory
//   un-ionised ammonia 0.061 mg/L as NH3: chronic value of a marine fish, Miller, Poucher, Cardin
//     & Hansen (1990), abstract
//   pH 7.8 to 8.5, 110 % oxygen: common practice, no source
//   raising a pH by at most 0.1 a day: a hobby guide to lowered salinity, web page
#include "lz_other_water.h"

#include <glib/gi18n-lib.h>
#include <lzq_ammonia.h>
#include <lzq_biofilter.h>
#include <lzq_oxygen.h>
#include <math.h>

#include "lz_biofilter.h"
#include "lz_carry.h"
#include "lz_chart_data.h"
#include "lz_desk_private.h"
#include "lz_format.h"

#define AMMONIA_CODE    0.01
#define AMMONIA_CHRONIC (0.061 / LZQ_NH3_PER_N)
#define NITRITE_CODE    0.125
#define OXYGEN_CODE     5.5
#define OXYGEN_TOO_MUCH 1.10
#define PH_LOW          7.8
#define PH_HIGH         8.5

// The last good reading of an analyte.
typedef struct {
  gboolean known;
  double value, error; // error NAN = nobody states one
  lzq_minute at;
  uint32_t record;
} Last;

typedef struct {
  LzDesk *desk;
  uint32_t system;
  lzq_minute at;
  Last of[LZQ_N_ANALYTES];
  double salinity; // carried
} Water;

static double
error_of(const LzModel *m, const lzq_record *r)
{
  if (!isnan(r->error))
    return r->error > 0 ? r->error : NAN;
  if (r->instrument >= m->instruments->len)
    return NAN;
  const lzq_instrument *i = &g_array_index(m->instruments, lzq_instrument, r->instrument);
  double error = i->error_abs + i->error_rel * fabs(r->value);
  return error > 0 ? error : NAN;
}

static const Last never_read = {.value = NAN, .error = NAN, .at = LZQ_LONG_AGO};

static Last
last_of(const Water *w, lzq_analyte analyte)
{
  g_autoptr(GArray) steps = lz_carry_now(w->desk->model, w->system, analyte, w->at);
  for (guint i = steps->len; i-- > 0;) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    if (step->kind != LZQ_REC_READING || !step->good)
      continue;
    const lzq_record *r = &g_array_index(w->desk->model->records, lzq_record, step->record);
    return (Last){TRUE, r->value, error_of(w->desk->model, r), r->at, step->record};
  }
  return never_read;
}

static Water
water_of(LzDesk *desk, uint32_t system, lzq_minute at)
{
  Water w = {.desk = desk, .system = system, .at = at};
  const uint32_t read = lz_chart_read_analytes(desk, system); // of the others no record is walked
  for (int a = LZQ_TEMPERATURE; a <= LZQ_OXYGEN; a++)
    w.of[a] = read & (1u << a) ? last_of(&w, (lzq_analyte)a) : never_read;
  g_autoptr(GArray) steps = lz_carry_now(desk->model, system, LZQ_SALINITY, at);
  w.salinity = lz_carry_level(steps);
  return w;
}

static void
free_item(gpointer data)
{
  LzOtherWater *item = data;
  g_free(item->meaning);
  g_free(item);
}

// --- ammonia

// A pH that was entered as read on the total scale; else the meter is taken as calibrated in NBS
// buffers, as shops' meters are.
static lzq_ph_scale
scale_of(const Water *w)
{
  const lzq_record *r = &g_array_index(w->desk->model->records, lzq_record, w->of[LZQ_PH].record);
  LzEntry *entry = lz_model_entry(w->desk->model, (int64_t)(r->id / LZ_RECORDS_PER_ENTRY));
  const char *unit = entry ? lz_entry_text(entry, "unit") : NULL;
  return unit && g_ascii_strcasecmp(unit, "total") == 0 ? LZQ_PH_TOTAL : LZQ_PH_NBS;
}

static double
unionised(const Water *w, double tan, double ph)
{
  double out;
  lzq_status status = lzq_ammonia_unionised(fmax(tan, 0), w->salinity, w->of[LZQ_TEMPERATURE].value,
                                            ph, scale_of(w), &out);
  return status == LZQ_OK ? out : NAN;
}

static const char *
what_is_missing(const Water *w)
{
  if (!w->of[LZQ_PH].known)
    return _("pH");
  if (!w->of[LZQ_TEMPERATURE].known)
    return _("temperature");
  return isnan(w->salinity) ? _("salinity") : NULL;
}

static char *
ammonia_words(const LzOtherWater *item, double tan)
{
  g_autofree char *share = lz_format_number(100 * item->value / tan, 1);
  if (item->concern == LZ_CONCERN_ACT)
    return g_strdup_printf(
        _("at or above 0.061 mg/L as NH3, the published chronic limit of a marine fish (Miller et "
          "al. 1990): stop feeding, change water now without raising the pH, and tell the "
          "veterinarian; %s %% of the total is un-ionised"),
        share);
  if (item->concern == LZ_CONCERN_WATCH)
    return g_strdup_printf(
        _("above the 0.01 mg/L of the trade's code of conduct (2015, value from memory): feed "
          "less, test again at the next round, have water ready; %s %% of the total is un-ionised"),
        share);
  return g_strdup(
      _("within the 0.01 mg/L of the trade's code of conduct (2015, value from memory)"));
}

static void
set_ammonia_limits(const Water *w, LzOtherWater *item)
{
  const Last *tan = &w->of[LZQ_AMMONIA], *ph = &w->of[LZQ_PH];
  if (isnan(tan->error) && isnan(ph->error))
    return;
  double by_tan = isnan(tan->error) ? 0 : tan->error, by_ph = isnan(ph->error) ? 0 : ph->error;
  item->low = unionised(w, tan->value - by_tan, ph->value - by_ph);
  item->high = unionised(w, tan->value + by_tan, ph->value + by_ph);
}

static void
add_ammonia(GPtrArray *out, const Water *w)
{
  const Last *tan = &w->of[LZQ_AMMONIA];
  if (!tan->known)
    return;
  LzOtherWater *item = g_new0(LzOtherWater, 1);
  *item = (LzOtherWater){.code = "ammonia_unionised",
                         .name = _("un-ionised ammonia"),
                         .value = NAN,
                         .low = NAN,
                         .high = NAN,
                         .unit = "mg/L N",
                         .decimals = 4,
                         .read_at = tan->at};
  g_ptr_array_add(out, item);
  const char *missing = what_is_missing(w);
  if (!missing) {
    item->value = unionised(w, tan->value, w->of[LZQ_PH].value);
    item->read_at = MIN(tan->at, w->of[LZQ_PH].at);
    set_ammonia_limits(w, item);
  }
  if (isnan(item->value)) {
    item->meaning =
        missing
            ? g_strdup_printf(_("how much of it is un-ionised cannot be said: no %s read"), missing)
            : g_strdup(_("pH, salinity or temperature lies outside what the formula was made for"));
    return;
  }
  item->concern = item->value >= AMMONIA_CHRONIC ? LZ_CONCERN_ACT
                  : item->value > AMMONIA_CODE   ? LZ_CONCERN_WATCH
                                                 : LZ_CONCERN_NONE;
  item->meaning = ammonia_words(item, tan->value);
}

// --- nitrite, pH, oxygen

static LzOtherWater *
add_plain(GPtrArray *out, const Last *last, const char *code, const char *name, const char *unit,
          int decimals)
{
  LzOtherWater *item = g_new0(LzOtherWater, 1);
  *item = (LzOtherWater){.code = code,
                         .name = name,
                         .value = last->value,
                         .low = fmax(last->value - last->error, 0),
                         .high = last->value + last->error,
                         .unit = unit,
                         .decimals = decimals,
                         .read_at = last->at,
                         .as_read = TRUE,
                         .concern = LZ_CONCERN_NONE};
  if (isnan(last->error))
    item->low = item->high = NAN;
  g_ptr_array_add(out, item);
  return item;
}

static void
add_nitrite(GPtrArray *out, const Water *w)
{
  const Last *last = &w->of[LZQ_NITRITE];
  if (!last->known)
    return;
  LzOtherWater *item = add_plain(out, last, "nitrite", _("nitrite"), "mg/L N", 3);
  if (last->value > NITRITE_CODE) {
    item->concern = LZ_CONCERN_WATCH;
    item->meaning = g_strdup(
        _("above the 0.125 mg/L of the trade's code of conduct (2015, value from memory): the "
          "second step of the biofilter does not keep up; feed less, change water, test daily"));
  } else {
    item->meaning = g_strdup(
        _("within the 0.125 mg/L of the trade's code of conduct (2015, value from memory)"));
  }
}

static void
add_ph(GPtrArray *out, const Water *w)
{
  const Last *last = &w->of[LZQ_PH];
  if (!last->known)
    return;
  LzOtherWater *item = add_plain(out, last, "ph", _("pH"), "", 2);
  item->concern =
      last->value < PH_LOW || last->value > PH_HIGH ? LZ_CONCERN_WATCH : LZ_CONCERN_NONE;
  const char *words = _("usual for sea water (7.8 to 8.5, common practice, no source)");
  if (last->value < PH_LOW)
    words = _("low for sea water (7.8 to 8.5, common practice, no source): aerate, look at the "
              "alkalinity, raise it by at most 0.1 a day (a hobby guide, web page); copper that "
              "was bound to lime comes back as the pH falls: test copper");
  else if (last->value > PH_HIGH)
    words = _("high for sea water (7.8 to 8.5, common practice, no source): more of the ammonia "
              "is un-ionised");
  item->meaning =
      g_strdup_printf("%s; %s", words,
                      scale_of(w) == LZQ_PH_TOTAL ? _("read on the total scale")
                                                  : _("taken as read with a meter calibrated in "
                                                      "NBS buffers"));
}

static void
add_oxygen(GPtrArray *out, const Water *w)
{
  const Last *last = &w->of[LZQ_OXYGEN];
  if (!last->known)
    return;
  LzOtherWater *item = add_plain(out, last, "oxygen", _("oxygen"), "mg/L", 2);
  double share = NAN;
  const char *words = _("not under the 5.5 mg/L of the trade's code of conduct (2015, value from "
                        "memory)");
  if (w->of[LZQ_TEMPERATURE].known && isfinite(w->salinity))
    lzq_oxygen_share(last->value, w->salinity, w->of[LZQ_TEMPERATURE].value,
                     w->desk->model->pressure_atm, &share);
  if (last->value < OXYGEN_CODE) {
    item->concern = LZ_CONCERN_ACT;
    words = _("under the 5.5 mg/L of the trade's code of conduct (2015, value from memory): more "
              "air now, no feed, and find out why");
  } else if (share > OXYGEN_TOO_MUCH) {
    item->concern = LZ_CONCERN_WATCH;
    words = _("more than the water holds by itself: look for air that a pump draws in (common "
              "practice, no source)");
  }
  g_autofree char *percent = lz_format_number(100 * share, 0);
  g_autofree char *hpa = lz_format_number(w->desk->model->pressure_atm * 10 * LZQ_KPA_PER_ATM, 0);
  item->meaning = isnan(share)
                      ? g_strdup(words)
                      : g_strdup_printf(_("%1$s %% of saturation at %2$s hPa (Benson & Krause "
                                          "1984); %3$s"),
                                        percent, hpa, words);
}

// --- the biofilter

static void
add_biofilter(GPtrArray *out, const Water *w)
{
  if (!w->of[LZQ_AMMONIA].known)
    return;
  LzProof proof = lz_biofilter_proof(w->desk, w->system, w->at);
  Last as_read = {TRUE, proof.mg_day > 0 ? proof.mg_day / 1000 : NAN, NAN, proof.at, 0};
  LzOtherWater *item = add_plain(out, &as_read, "biofilter", _("biofilter, proven"), "g/d N", 2);
  lzq_minute harmed = lz_biofilter_harmed(w->desk, w->system, proof.at, w->at);
  g_autofree char *when = lz_format_date(lz_desk_zone(w->desk), harmed);
  item->as_read = FALSE;
  if (!(proof.mg_day > 0)) {
    item->read_at = w->of[LZQ_AMMONIA].at;
    item->concern = LZ_CONCERN_UNKNOWN;
    item->meaning = g_strdup(_("nothing proven: two ammonia readings 4 to 72 hours apart, with "
                               "what was given between them, would tell"));
  } else if (harmed != LZQ_LONG_AGO) {
    item->concern = LZ_CONCERN_WATCH;
    item->meaning = g_strdup_printf(
        _("proven before the medicine of %s, which can harm the bacteria (Schwartz et al. 2000): "
          "test ammonia and nitrite daily for 7 days and feed less"),
        when);
  } else {
    g_autofree char *food =
        lz_format_amount(lzq_food_for_nitrogen_g(proof.mg_day, LZ_FOOD_PROTEIN), LZQ_UNIT_G);
    g_autofree char *date = lz_format_date(lz_desk_zone(w->desk), proof.at);
    item->meaning = g_strdup_printf(
        _("at least this much was gone in a day by %1$s: what %2$s of frozen food of 10 %% protein "
          "brings (textbook balance, value from memory); more fish than that is not proven"),
        date, food);
  }
}

// --- readings in doubt

static LzOtherWater *
item_of(const GPtrArray *items, const char *code)
{
  for (guint i = 0; i < items->len; i++)
    if (g_str_equal(((LzOtherWater *)items->pdata[i])->code, code))
      return items->pdata[i];
  return NULL;
}

// The one that is in doubt since the last good one, as if it were good; FALSE = none is.
static gboolean
doubted_of(const Water *w, lzq_analyte analyte, Last *out)
{
  g_autoptr(GArray) steps = lz_carry_now(w->desk->model, w->system, analyte, w->at);
  const LzCarryStep *last = steps->len ? &g_array_index(steps, LzCarryStep, steps->len - 1) : NULL;
  if (!last || isnan(last->doubt))
    return FALSE;
  for (guint i = steps->len; i-- > 0 && last->kind != LZQ_REC_READING;)
    last = &g_array_index(steps, LzCarryStep, i);
  const lzq_record *r = &g_array_index(w->desk->model->records, lzq_record, last->record);
  *out = (Last){TRUE, r->value, error_of(w->desk->model, r), r->at, last->record};
  return TRUE;
}

// If it is right and the fish are harmed, it is said with what to do, and what harms nobody until
// the repeat is done at once.
static void
add_doubt(GPtrArray *out, const Water *w, lzq_analyte analyte, const char *code,
          void (*add)(GPtrArray *out, const Water *w))
{
  Water as_read = *w;
  if (!doubted_of(w, analyte, &as_read.of[analyte]))
    return;
  g_autoptr(GPtrArray) then = g_ptr_array_new_with_free_func(free_item);
  add(then, &as_read);
  const LzOtherWater *right = item_of(then, code);
  LzOtherWater *item = item_of(out, code);
  if (!right || right->concern != LZ_CONCERN_ACT || (item && item->concern == LZ_CONCERN_ACT))
    return;
  g_autofree char *value = lz_format_number(right->value, right->decimals);
  g_autofree char *words =
      // Translators: value; unit; what to do
      g_strdup_printf(
          _("a reading in doubt would make it %1$s %2$s: test again at once, before any "
            "round; until then more air and no feed, since waiting harms the fish if "
            "it is right. If it is confirmed: %3$s"),
          value, right->unit, right->meaning);
  if (!item) {
    item = g_new0(LzOtherWater, 1);
    *item = *right;
    item->value = item->low = item->high = NAN;
    item->meaning = NULL;
    g_ptr_array_add(out, item);
  }
  item->concern = LZ_CONCERN_ACT;
  g_free(item->meaning);
  item->meaning = g_steal_pointer(&words);
}

GPtrArray *
lz_desk_other_water(LzDesk *desk, uint32_t system, lzq_minute at)
{
  GPtrArray *out = g_ptr_array_new_with_free_func(free_item);
  if (system >= desk->model->systems->len)
    return out;
  Water w = water_of(desk, system, at);
  add_ammonia(out, &w);
  add_nitrite(out, &w);
  add_ph(out, &w);
  add_oxygen(out, &w);
  add_doubt(out, &w, LZQ_AMMONIA, "ammonia_unionised", add_ammonia);
  add_doubt(out, &w, LZQ_PH, "ammonia_unionised", add_ammonia);
  add_doubt(out, &w, LZQ_OXYGEN, "oxygen", add_oxygen);
  add_biofilter(out, &w);
  return out;
}
