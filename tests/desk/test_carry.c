// SPDX-License-Identifier: GPL-3.0-or-later
// Levels carried from the last reading that settles what was before it against levels carried
// through the whole record: every question has the same answer, to the last bit, whatever was
// entered late, corrected, doubted, dosed a minute before, or taken out by carbon. Stations
// invented.
#include <string.h>

#include <lz_carry.h>
#include <lz_desk_private.h>

#include "../lib/prng.h"
#include "house.h"

#define ACTS 220

static Lab lab;

static void
setup(void)
{
  house_open(&lab);
  lab_say(&lab, "bottle", NULL, "name", "C-09", "analyte", "copper", "form", "ionic", "strength",
          "5", NULL);
  lab_say(&lab, "bottle", NULL, "name", "C-10", "analyte", "copper", "form", "chelated", "strength",
          "5", NULL);
  lab_say(&lab, "bottle", NULL, "name", "F-09", "analyte", "praziquantel", "strength", "5", NULL);
  lab_say(&lab, "instrument", NULL, "name", "K1", "method", "drop_test", "sees", "ionic",
          "error_abs", "0.02", NULL);
  LzDeskOptions bulk = {.clock = lab.clock, .pc_folder = lab.folder, .no_plan = TRUE};
  int64_t actor = lz_desk_actor(lab.desk);
  g_clear_object(&lab.desk);
  lab.desk = lz_desk_open(lab.path, &bulk, NULL);
  lz_desk_set_actor(lab.desk, actor);
}

static void
teardown(void)
{
  lab_close(&lab);
}

static LzCommand *
reading(lzt_prng *r, gboolean forms)
{
  static const char *const analytes[] = {"copper", "copper", "salinity", "temperature",
                                         "praziquantel"};
  static const char *const methods[] = {"P1", NULL, "P1", "K1"};
  const char *analyte = analytes[lzt_prng_range(r, 0, 4)];
  const char *method = methods[lzt_prng_range(r, 0, forms ? 3 : 2)];
  g_autofree char *value = g_strdup_printf("%.2f", lzt_prng_real(r, 0.1, 0.3));
  LzCommand *c =
      lz_command_build("reading", "system", "Blue-1", "analyte", analyte, "value", value, NULL);
  if (method)
    lz_command_set(c, "instrument", method);
  if (lzt_prng_chance(r, 0.1))
    lz_command_set(c, "suspect", "yes");
  return c;
}

static LzCommand *
random_act(lzt_prng *r, gboolean forms)
{
  g_autofree char *volume = g_strdup_printf("%d", (int)lzt_prng_range(r, 2000, 2600));
  const gboolean fluke = lzt_prng_chance(r, 0.3);
  const char *copper = lzt_prng_chance(r, 0.4) ? "C-10" : "C-09";
  switch (lzt_prng_range(r, 0, 13)) {
  case 0:
  case 1:
    return lz_command_build("dose", "system", "Blue-1", "bottle", fluke ? "F-09" : copper,
                            "amount_ml", "4", "given_in_error", "yes", "in_new_water",
                            lzt_prng_chance(r, 0.3) ? "yes" : "no", NULL);
  case 2:
  case 3: return lz_command_build("change", "system", "Blue-1", "litres", "90", NULL);
  case 4: return lz_command_build("topup", "system", "Blue-1", "litres", "15", NULL);
  case 5:
    return lz_command_build("check", "instrument", "P1", "ok",
                            lzt_prng_chance(r, 0.8) ? "yes" : "no", NULL);
  case 6:
    return lzt_prng_chance(r, 0.3)
               ? lz_command_build("volume", "system", "Blue-1", "volume_l", volume, NULL)
               : lz_command_build("gear", "system", "Blue-1", "gear", "carbon", "on",
                                  fluke ? "yes" : "no", NULL);
  default: return reading(r, forms);
  }
}

static void
maybe_correct(lzt_prng *r, LzCommand **c)
{
  if (!lzt_prng_chance(r, 0.1))
    return;
  g_autoptr(GPtrArray) all = lz_desk_entries(lab.desk, NULL, 0, 0, NULL);
  LzEntry *entry = all->pdata[lzt_prng_range(r, 0, (int64_t)all->len - 1)];
  lz_command_free(*c);
  *c = lz_command_new(lz_entry_kind(entry));
  lz_command_set_corrects(*c, lz_entry_id(entry), lzt_prng_chance(r, 0.5));
}

static void
same_number(double a, double b, const char *what)
{
  ck_assert_msg(memcmp(&a, &b, sizeof a) == 0 || (isnan(a) && isnan(b)), "%s: %.17g and %.17g",
                what, a, b);
}

static lzq_minute
last_good(const GArray *steps)
{
  for (guint i = steps->len; i-- > 0;) {
    const LzCarryStep *s = &g_array_index(steps, LzCarryStep, i);
    if (s->kind == LZQ_REC_READING && s->good)
      return s->at;
  }
  return LZQ_LONG_AGO;
}

static gboolean
is_lost(const GArray *steps, lzq_analyte a)
{
  gboolean lost = FALSE;
  for (guint i = 0; i < steps->len; i++)
    lost = lz_banks_lost(a, &g_array_index(steps, LzCarryStep, i), lost);
  return lost;
}

// TRUE = the short way was gone.
static gboolean
compare(lzq_analyte a, lzq_minute until)
{
  LzModel *m = lab.desk->model;
  g_autoptr(GArray) all = lz_carry(m, 0, a, until);
  g_autoptr(GArray) some = lz_carry_now(m, 0, a, until);
  same_number(lz_carry_level(all), lz_carry_level(some), "level");
  same_number(lz_carry_most(all), lz_carry_most(some), "most");
  same_number(lz_carry_doubtful(all), lz_carry_doubtful(some), "doubtful");
  same_number(lz_carry_before_changes(all), lz_carry_before_changes(some), "before changes");
  const LzCarryStep *p = lz_carry_open_dose(m, 0, all), *q = lz_carry_open_dose(m, 0, some);
  ck_assert((p == NULL) == (q == NULL));
  ck_assert(!p || (p->record == q->record && p->at == q->at));
  ck_assert_int_eq(last_good(all), last_good(some));
  ck_assert_int_eq(is_lost(all, a), is_lost(some, a));
  ck_assert((all->len == 0) == (some->len == 0));
  if (all->len)
    same_number(g_array_index(all, LzCarryStep, all->len - 1).volume_l,
                g_array_index(some, LzCarryStep, some->len - 1).volume_l, "volume");
  for (guint i = 0; i < some->len; i++) { // the last of all
    const LzCarryStep *s = &g_array_index(some, LzCarryStep, i);
    const LzCarryStep *t = &g_array_index(all, LzCarryStep, all->len - some->len + i);
    ck_assert(s->record == t->record && s->good == t->good);
    same_number(s->after, t->after, "after");
  }
  return some->len < all->len;
}

// From an earlier minute on: every step after it, as the walk over all has it.
static void
compare_since(lzq_analyte a, lzq_minute since, lzq_minute until)
{
  LzModel *m = lab.desk->model;
  g_autoptr(GArray) all = lz_carry(m, 0, a, until);
  g_autoptr(GArray) some = lz_carry_since(m, 0, a, since, until);
  ck_assert_uint_le(some->len, all->len);
  for (guint i = 0; i < all->len; i++) {
    const LzCarryStep *t = &g_array_index(all, LzCarryStep, i);
    const guint left_out = all->len - some->len;
    ck_assert(i >= left_out || t->at <= since);
    if (i < left_out)
      continue;
    const LzCarryStep *s = &g_array_index(some, LzCarryStep, i - left_out);
    ck_assert(s->record == t->record && s->at == t->at && s->kind == t->kind);
    ck_assert(s->good == t->good && s->waits == t->waits);
    same_number(s->after, t->after, "after");
    same_number(s->most, t->most, "most");
    same_number(s->doubt, t->doubt, "doubt");
    same_number(s->volume_l, t->volume_l, "volume");
    same_number(s->mg, t->mg, "mg");
    if (i > left_out)
      same_number(s->before, t->before, "before");
  }
}

START_TEST(from_the_last_settled_reading_is_the_same)
{
  static const lzq_analyte analytes[] = {LZQ_COPPER, LZQ_SALINITY, LZQ_TEMPERATURE,
                                         LZQ_PRAZIQUANTEL};
  lzt_prng r;
  lzt_prng_seed(&r, 20270401 + (uint64_t)_i);
  guint accepted = 0, short_ways = 0;
  for (int i = 0; i < ACTS; i++) {
    const lzq_minute now = lab_at("2027-03-02 08:00") + (lzq_minute)i * 37;
    LzCommand *c = random_act(&r, _i % 2 != 0);
    lz_clock_set(lab.clock, now);
    lz_command_set_at(c, now - (lzt_prng_chance(&r, 0.2) ? lzt_prng_range(&r, 0, 900) : 0));
    lz_command_set_reason(c, "as it was");
    maybe_correct(&r, &c);
    lz_command_set_reason(c, "slip");
    accepted += lz_desk_submit_one(lab.desk, c, NULL);
    lz_command_free(c);
    for (gsize a = 0; i > 80 && a < G_N_ELEMENTS(analytes); a++) {
      short_ways += compare(analytes[a], now);
      short_ways += compare(analytes[a], now - lzt_prng_range(&r, 0, 3000));
      compare_since(analytes[a], now - lzt_prng_range(&r, 0, 4000), now);
    }
  }
  ck_assert_msg(accepted > ACTS / 2 && short_ways > 50, "seed %d: %u accepted, %u short ways", _i,
                accepted, short_ways);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk: levels carried");
  TCase *tc = tcase_create("property");
  tcase_set_timeout(tc, 120);
  tcase_add_checked_fixture(tc, setup, teardown);
  tcase_add_loop_test(tc, from_the_last_settled_reading_is_the_same, 0, 12);
  suite_add_tcase(suite, tc);
  return lab_run(suite);
}
