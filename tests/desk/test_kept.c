// SPDX-License-Identifier: GPL-3.0-or-later
// What the desk keeps from one entry to the next, against the same made anew: where lots stood, and
// the level that an estimator's noise is a share of. Random acts on lots, some entered late, ahead
// or corrected. Stations invented.
#include <string.h>

#include <lz_banks.h>
#include <lz_desk_private.h>
#include <lz_protocol_file.h>
#include <lz_stays.h>

#include "../lib/prng.h"
#include "house.h"

#define ACTS 160

static const char chelated[] =
    "[protocol]\nname=Other\nversion=1\nsource=invented for a test\n"
    "[phase 1]\nname=Hold\nkind=hold\nplace=stay\nmin_credit_min=30240\nsighting_to=1\n"
    "[phase 1 band 1]\nanalyte=copper\nform=chelated\nside=at_or_above\nworks=0.4\ntarget=0.5\n"
    "plan=0.6\nharm=0.8\ngap_min=1440\n";

static Lab lab;
static guint n_lots;

static void
setup(void)
{
  house_open(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-3", "volume_l", "900", "role", "treatment", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-3", "number", "1", NULL);
  lab_say(&lab, "bottle", NULL, "name", "C-09", "analyte", "copper", "form", "ionic", "strength",
          "5", NULL);
  g_autoptr(GPtrArray) other = lz_protocol_parse(chelated, strlen(chelated), "Other", NULL);
  ck_assert(lz_desk_submit(lab.desk, (LzCommand *const *)other->pdata, other->len, NULL));
  LzDeskOptions bulk = {.clock = lab.clock, .pc_folder = lab.folder, .no_plan = TRUE};
  int64_t actor = lz_desk_actor(lab.desk);
  g_clear_object(&lab.desk);
  lab.desk = lz_desk_open(lab.path, &bulk, NULL);
  lz_desk_set_actor(lab.desk, actor);
  n_lots = 0;
}

static void
teardown(void)
{
  lab_close(&lab);
}

static const char *
some(lzt_prng *r, const char *kind)
{
  g_autoptr(GArray) ids = lz_desk_entities(lab.desk, kind);
  if (ids->len == 0)
    return "-";
  const int64_t id =
      g_array_index(ids, int64_t, (guint)lzt_prng_range(r, 0, (int64_t)ids->len - 1));
  return lz_desk_name_of(lab.desk, kind, id);
}

static LzCommand *
random_act(lzt_prng *r)
{
  g_autofree char *code = g_strdup_printf("L%u", n_lots);
  g_autofree char *heads = g_strdup_printf("%d", (int)lzt_prng_range(r, 1, 6));
  const char *lot = some(r, "lot"), *tank = some(r, "tank");
  switch (n_lots < 2 ? 0 : lzt_prng_range(r, 0, 11)) {
  case 0:
    n_lots++;
    return lz_command_build("lot", "code", code, "tank", tank, "heads", heads, NULL);
  case 1:
  case 2: return lz_command_build("move", "lot", lot, "tank", tank, NULL);
  case 3: return lz_command_build("death", "lot", lot, "heads", "1", NULL);
  case 4: return lz_command_build("count", "lot", lot, "heads", heads, NULL);
  case 5: return lz_command_build("course", "lot", lot, "protocol", some(r, "protocol"), NULL);
  case 6:
    return lz_command_build("split", "lot", lot, "tank", tank, "heads", "1", "code", code, NULL);
  case 7:
    return lz_command_build("feed", "lot", lot, "food", "mysis", "grams", "2", "eaten_share", "1",
                            NULL);
  case 8:
    return lz_command_build("dose", "system", "Blue-1", "bottle", some(r, "bottle"), "amount_ml",
                            "4", "given_in_error", "yes", NULL);
  default:
    return lz_command_build("reading", "system", "Blue-1", "analyte", "copper", "value", "0.19",
                            NULL);
  }
}

static void
maybe_correct(lzt_prng *r, LzCommand **c)
{
  if (!lzt_prng_chance(r, 0.15))
    return;
  g_autoptr(GPtrArray) all = lz_desk_entries(lab.desk, NULL, 0, 0, NULL);
  LzEntry *entry = all->pdata[lzt_prng_range(r, 0, (int64_t)all->len - 1)];
  lz_command_free(*c);
  *c = lz_command_new(lz_entry_kind(entry));
  lz_command_set_corrects(*c, lz_entry_id(entry), lzt_prng_chance(r, 0.5));
}

// TRUE = nothing had to be walked.
static gboolean
compare_stays(lzq_minute until)
{
  LzModel *m = lab.desk->model;
  const GArray *before = m->stays;
  g_autoptr(GArray) kept = lz_stays(m, until);
  const gboolean stayed = kept == before;
  g_clear_pointer(&m->stays, g_array_unref);
  g_autoptr(GArray) anew = lz_stays(m, until);
  ck_assert_uint_eq(kept->len, anew->len);
  ck_assert(kept->len == 0 || memcmp(kept->data, anew->data, kept->len * sizeof(LzStay)) == 0);
  return stayed;
}

static void
compare_banks(lzq_minute now)
{
  static const lzq_analyte analytes[] = {LZQ_COPPER, LZQ_PRAZIQUANTEL};
  for (gsize a = 0; a < G_N_ELEMENTS(analytes); a++) {
    lzq_water_bank kept, anew;
    LzBanks *fresh = lz_banks_new();
    const gboolean one = lz_banks_at(lab.desk->banks, lab.desk->model, 0, analytes[a], now, &kept);
    const gboolean other = lz_banks_at(fresh, lab.desk->model, 0, analytes[a], now, &anew);
    ck_assert_int_eq(one, other);
    ck_assert(!one || (kept.form == anew.form && kept.c_ref == anew.c_ref));
    lz_banks_free(fresh);
  }
}

START_TEST(kept_is_as_made_anew)
{
  lzt_prng r;
  lzt_prng_seed(&r, 20270501 + (uint64_t)_i);
  guint accepted = 0, stayed = 0;
  for (int i = 0; i < ACTS; i++) {
    const lzq_minute now = lab_at("2027-03-02 08:00") + (lzq_minute)i * 61;
    LzCommand *c = random_act(&r);
    lz_clock_set(lab.clock, now);
    lz_command_set_at(c, now - (lzt_prng_chance(&r, 0.3) ? lzt_prng_range(&r, 0, 900) : 0));
    lz_command_set_reason(c, "as it was");
    maybe_correct(&r, &c);
    lz_command_set_reason(c, "slip");
    accepted += lz_desk_submit_one(lab.desk, c, NULL);
    lz_command_free(c);
    stayed += compare_stays(now + lzt_prng_range(&r, 0, 20));
    stayed += compare_stays(now - (lzt_prng_chance(&r, 0.2) ? lzt_prng_range(&r, 0, 2000) : 0));
    compare_banks(now);
  }
  ck_assert_msg(accepted > ACTS / 3 && stayed > 20, "seed %d: %u accepted, %u stayed", _i, accepted,
                stayed);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk: kept");
  TCase *tc = tcase_create("property");
  tcase_set_timeout(tc, 120);
  tcase_add_checked_fixture(tc, setup, teardown);
  tcase_add_loop_test(tc, kept_is_as_made_anew, 0, 8);
  suite_add_tcase(suite, tc);
  return lab_run(suite);
}
