// SPDX-License-Identifier: GPL-3.0-or-later
// Instruments and bottles through the desk: a failed check takes back what rested on it, two
// standards tell zero from slope, reagents and bottles run out and run down, and a batch is
// followed to every lot that it reached.
#include <lz_medicine.h>
#include <lz_reach.h>
#include <lz_rows.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "../lib/prng.h"
#include "lab.h"

static Lab lab;

static void
setup(void)
{
  lab_open(&lab, "2027-03-08 12:00");
  lab_station(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "1000", "role", "treatment", NULL);
  lab_say(&lab, "system", NULL, "name", "Blue-2", "volume_l", "1000", "role", "treatment", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "1", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-2", "number", "1", NULL);
}

static void
teardown(void)
{
  lab_close(&lab);
}

#define has(text, part) ck_assert_msg(strstr(text, part) != NULL, "“%s” is not in: %s", part, text)

static const LzInstrumentInfo *
instrument(const char *name)
{
  GListModel *all = lz_desk_instruments(lab.desk);
  for (guint i = 0; i < g_list_model_get_n_items(all); i++) {
    g_autoptr(LzInstrumentRow) row = g_list_model_get_item(all, i);
    if (g_str_equal(lz_instrument_row_info(row)->name, name))
      return lz_instrument_row_info(row);
  }
  return NULL;
}

static const LzBottleInfo *
bottle(const char *name)
{
  GListModel *all = lz_desk_bottles(lab.desk);
  for (guint i = 0; i < g_list_model_get_n_items(all); i++) {
    g_autoptr(LzBottleRow) row = g_list_model_get_item(all, i);
    if (g_str_equal(lz_bottle_row_info(row)->name, name))
      return lz_bottle_row_info(row);
  }
  return NULL;
}

static int64_t
credit(void)
{
  return lab_credit(&lab, "0412")->visits[0].credit_min;
}

// Held at 0.20 from 4 March 08:00, read every morning: four days. The check of 6 March passed, that
// of 8 March did not: only what was earned up to the last good reading before doubt stays.
START_TEST(a_failed_check_takes_back)
{
  lab_say(&lab, "instrument", NULL, "name", "P1", "method", "photometer", "error_abs", "0.01",
          NULL);
  lab_say(&lab, "lot", "2027-03-01 09:00", "code", "0412", "tank", "Blue-1/1", "heads", "30", NULL);
  lab_say(&lab, "protocol", NULL, "name", "Ionic", "version", "1", NULL);
  lab_say(&lab, "phase", NULL, "protocol", "Ionic", "position", "1", "name", "hold", "kind", "hold",
          "min_credit_min", "30240", NULL);
  lab_say(&lab, "band", NULL, "phase", "Ionic/1/1", "analyte", "copper", "form", "ionic", "side",
          "at_or_above", "works", "0.18", "target", "0.2", "harm", "0.3", "gap_min", "1440", NULL);
  lab_say(&lab, "course", "2027-03-04 08:00", "lot", "0412", "protocol", "Ionic", NULL);
  const char *const days[] = {"2027-03-04 08:00", "2027-03-05 08:00", "2027-03-06 08:00",
                              "2027-03-07 08:00", "2027-03-08 08:00"};
  for (guint i = 0; i < G_N_ELEMENTS(days); i++)
    lab_say(&lab, "reading", days[i], "system", "Blue-1", "analyte", "copper", "value", "0.2",
            "instrument", "P1", NULL);
  lab_say(&lab, "check", "2027-03-06 09:00", "instrument", "P1", "expected", "0.2", "found",
          "0.205", NULL);
  ck_assert(instrument("P1")->ok); // within 0.01: passed without saying so
  int64_t before = credit();
  ck_assert_int_eq(before, 4 * LZQ_DAY + 4 * 60); // and the day's test still holds
  int64_t check = lab_say(&lab, "check", "2027-03-08 11:00", "instrument", "P1", "expected", "0.2",
                          "found", "0.15", NULL);
  ck_assert(!instrument("P1")->ok);
  has(lab_notes(&lab), "its 2 readings since Sat 6 Mar 09:00 are in doubt");
  // to 7 March 08:00, a day after the last good reading, its minute included
  ck_assert_int_eq(credit(), 3 * LZQ_DAY + 1);
  g_autofree char *first = g_strdup_printf("%d", (int)check);
  lab_say(&lab, "check", NULL, "@voids", first, "@reason", "wrong standard", NULL);
  ck_assert_int_eq(credit(), before); // and back, when the check itself was wrong
  has(lab_refused(&lab, LZ_DESK_ERROR_USAGE, "check", NULL, "instrument", "P1", "ok", "yes",
                  "expected", "0.2", "found", "0.15", NULL),
      "outside the accuracy");
  has(lab_refused(&lab, LZ_DESK_ERROR_USAGE, "check", NULL, "instrument", "P1", NULL),
      "yes or no, or expected and found");
}
END_TEST

// A refractometer set to 0 in pure water that reads 33 in a standard of 35 has a slope error of
// -5.7 %: taking 2 off every reading would be wrong at 21. One standard alone cannot tell.
// Arithmetic of a straight line, no published source.
START_TEST(zero_and_slope)
{
  lab_say(&lab, "instrument", NULL, "name", "R1", "method", "refractometer", "error_abs", "0.5",
          NULL);
  lab_say(&lab, "check", NULL, "instrument", "R1", "expected", "35", "found", "33", NULL);
  has(lab_notes(&lab), u8"off by \u22122 everywhere, or by \u22125.7 % of the reading");
  lab_say(&lab, "check", NULL, "instrument", "R1", "expected", "35", "found", "33", "expected_2",
          "0", "found_2", "0", NULL);
  has(lab_notes(&lab), u8"zero is off by 0, and slope by \u22125.7 %");
  lab_say(&lab, "check", NULL, "instrument", "R1", "expected", "35", "found", "33", "expected_2",
          "0", "found_2", "-2", NULL);
  has(lab_notes(&lab), u8"zero is off by \u22122, and slope by 0 %");
}
END_TEST

START_TEST(reagents_and_due_checks)
{
  lab_say(&lab, "instrument", "2027-03-01 09:00", "name", "D1", "method", "drop_test",
          "reagent_batch", "88", "reagent_expiry", "2027-02", "check_days", "7", NULL);
  ck_assert(instrument("D1")->overdue);
  ck_assert(instrument("D1")->reagents_expired);
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "copper", "value", "0.2",
          "instrument", "D1", NULL);
  has(lab_notes(&lab), "reagents of D1 expired on 2027-02");
  lab_say(&lab, "check", NULL, "instrument", "D1", "ok", "yes", NULL);
  ck_assert(!instrument("D1")->overdue);
  has(lab_refused(&lab, LZ_DESK_ERROR_USAGE, "instrument", NULL, "@entity", "D1", "reagent_expiry",
                  "next year", NULL),
      "next year");
}
END_TEST

// Read on an SG scale and by conductivity: kept as typed, with what it was read on.
START_TEST(kept_as_read)
{
  lab_say(&lab, "instrument", NULL, "name", "H1", "method", "hydrometer", "scale", "60/60f", NULL);
  int64_t id = lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "salinity", "value",
                       "1.016", "unit", "SG", "instrument", "H1", NULL);
  g_autoptr(LzEntry) kept = lz_desk_entry(lab.desk, id, NULL);
  ck_assert_str_eq(lz_entry_text(kept, "typed"), "1.016");
  has(lz_entry_text(kept, "unit"), "60/60");
  // 1.016 on a 60/60 F scale is 20.9 (EOS-80 density)
  ck_assert_double_eq_tol(lz_entry_number(kept, "value"), 20.9, 0.05);
}
END_TEST

START_TEST(in_out_and_left)
{
  lab_say(&lab, "supplier", NULL, "name", "Chemist", NULL);
  lab_say(&lab, "person", NULL, "role", "vet", "name", "Pia Lund", "initials", "PL", "contact",
          "+49 0", NULL);
  lab_say(&lab, "bottle", NULL, "name", "F-1", "analyte", "formalin", "strength", "1080",
          "volume_ml", "1000", "batch", "B7", "expiry", "2027-04", "prescription", "RX 1",
          "prescriber", "PL", "supplier", "Chemist", "receipt", "R-9", "reorder_ml", "900", NULL);
  lab_say(&lab, "lot", "2027-03-01 09:00", "code", "A", "tank", "Blue-1/1", "heads", "12", NULL);
  lab_say(&lab, "lot", "2027-03-01 09:00", "code", "B", "tank", "Blue-2/1", "heads", "7", NULL);
  lab_say(&lab, "dose", "2027-03-08 09:00", "system", "Blue-1", "bottle", "F-1", "amount_ml", "20",
          NULL);
  lab_say(&lab, "bath", "2027-03-08 10:00", "lot", "B", "bath", "formalin", "bottle", "F-1",
          "litres", "100", "amount_ml", "13", "minutes", "45", "temperature", "25", "air", "yes",
          NULL);
  lab_say(&lab, "stock", NULL, "bottle", "F-1", "change_ml", "-100", "why", "disposed", NULL);
  const LzBottleInfo *info = bottle("F-1");
  ck_assert_double_eq_tol(info->left_ml, 1000 - 20 - 13 - 100, 1e-9);
  ck_assert(info->low && !info->expired);
  ck_assert_str_eq(lz_desk_person_contact(lab.desk, info->prescriber), "+49 0");
  g_autoptr(GArray) reached = lz_desk_reached(lab.desk, "B7");
  ck_assert_uint_eq(reached->len, 2);
  const LzReach *a = &g_array_index(reached, LzReach, 0), *b = &g_array_index(reached, LzReach, 1);
  ck_assert_str_eq(lz_desk_name(lab.desk, "lot", a->lot), "A");
  ck_assert_double_eq_tol(a->mg, 21600, 1e-6);
  ck_assert_int_eq(b->heads, 7);
  ck_assert_double_eq_tol(b->mg, 14040, 1e-6);
  g_autoptr(GArray) none = lz_desk_reached(lab.desk, "B8");
  ck_assert_uint_eq(none->len, 0);
  lab_go(&lab, "2027-05-01 00:00");
  ck_assert(bottle("F-1")->expired);
}
END_TEST

static gboolean
picked(const char *name)
{
  return lz_desk_advise_dose(lab.desk, 0, LZQ_COPPER, 0).bottle == bottle(name)->index;
}

// Nobody can dose from an empty bottle: common practice, no source. Of those that hold something
// the newest is picked, and an empty one where the record knows of no other.
START_TEST(an_empty_bottle_is_passed_over)
{
  lab_say(&lab, "bottle", NULL, "name", "C-1", "analyte", "copper", "form", "ionic", "strength",
          "1", "strength_as", "metal", "volume_ml", "500", NULL);
  lab_say(&lab, "bottle", NULL, "name", "C-2", "analyte", "copper", "form", "ionic", "strength",
          "1", "strength_as", "metal", "volume_ml", "50", NULL);
  ck_assert(picked("C-2"));
  lab_say(&lab, "stock", NULL, "bottle", "C-2", "change_ml", "-49", "why", "spilled", NULL);
  ck_assert(picked("C-2"));
  lab_say(&lab, "stock", NULL, "bottle", "C-2", "change_ml", "-1", "why", "spilled", NULL);
  ck_assert(picked("C-1"));
  lab_say(&lab, "stock", NULL, "bottle", "C-1", "change_ml", "-500", "why", "disposed", NULL);
  ck_assert(picked("C-2"));
  lab_say(&lab, "stock", NULL, "bottle", "C-2", "change_ml", "1000", "why", "delivered", NULL);
  lab_say(&lab, "bottle", NULL, "name", "C-3", "analyte", "copper", "form", "ionic", "strength",
          "1", "strength_as", "metal", NULL); // nobody says how much it holds
  ck_assert(picked("C-3"));
}
END_TEST

// --- what is left goes on from entry to entry, and is what a count of all of them gives

#define STEPS 150

typedef struct {
  int64_t id;
  int of; // bottle
  double ml;
} Moved;

static const char *const shelf[] = {"S-1", "S-2"};

static LzCommand *
stock(int of, double ml, const Moved *corrected, gboolean voids)
{
  g_autofree char *text = g_strdup_printf("%.1f", ml);
  LzCommand *c =
      lz_command_build("stock", "bottle", shelf[of], "change_ml", text, "why", "other", NULL);
  if (corrected)
    lz_command_set_corrects(c, corrected->id, voids);
  lz_command_set_reason(c, "a random shelf");
  return c;
}

static void
shelf_holds(const Moved *moved, int n, int step)
{
  for (int of = 0; of < 2; of++) {
    const lzq_minute until = lz_desk_now(lab.desk) + 1;
    const int64_t id = lz_desk_find(lab.desk, "bottle", shelf[of]);
    const double left = bottle(shelf[of])->left_ml;
    double sum = 1000;
    for (int i = 0; i < n; i++)
      sum += moved[i].of == of ? moved[i].ml : 0;
    ck_assert_msg(fabs(left - sum) < 1e-6, "step %d: %s holds %f, not %f", step, shelf[of], left,
                  sum);
    ck_assert_double_eq(left, lz_desk_medicine_use(lab.desk, id, 0, until).left_ml);
  }
}

START_TEST(what_is_left_goes_on)
{
  const char *given = g_getenv("LZ_SEED");
  const guint64 seed = given ? g_ascii_strtoull(given, NULL, 10) : 815;
  lzt_prng prng;
  Moved moved[STEPS];
  int n = 0, corrected = 0;
  lzt_prng_seed(&prng, seed);
  for (int of = 0; of < 2; of++)
    lab_say(&lab, "bottle", NULL, "name", shelf[of], "analyte", "copper", "form", "ionic",
            "strength", "1", "volume_ml", "1000", NULL);
  for (int step = 0; step < STEPS; step++) {
    Moved *old = n && lzt_prng_chance(&prng, 0.2) ? &moved[lzt_prng_range(&prng, 0, n - 1)] : NULL;
    const int of = (int)lzt_prng_range(&prng, 0, 1);
    const gboolean voids = old && lzt_prng_chance(&prng, 0.3);
    const double ml = (double)lzt_prng_range(&prng, -300, 300) / 10 + 0.05;
    g_autoptr(LzCommand) c = stock(of, ml, old, voids);
    const double kept = g_ascii_strtod(lz_command_get(c, "change_ml"), NULL);
    if (lzt_prng_chance(&prng, 0.2)) {
      lz_desk_check(lab.desk, &c, 1, NULL); // tried only
    } else if (lz_desk_submit_one(lab.desk, c, NULL)) {
      corrected += old != NULL;
      Moved *place = old ? old : &moved[n++];
      *place = (Moved){old ? old->id : lz_command_id(c), of, voids ? 0 : kept};
    }
    shelf_holds(moved, n, step);
  }
  lab_reopen(&lab);
  shelf_holds(moved, n, STEPS);
  printf("instruments: seed %" G_GUINT64_FORMAT ", %d entries of stock, %d corrections\n", seed, n,
         corrected);
  ck_assert_int_gt(corrected, 10);
}
END_TEST

// A name goes for good, by somebody else, with a reason; the record stays whole and its chain fits.
START_TEST(a_person_is_erased)
{
  lab_say(&lab, "person", NULL, "@entity", "TA", "contact", "ta@example.org", NULL);
  lab_say(&lab, "note", NULL, "words", "all well", "@who", "TA", NULL);
  int64_t person = lz_desk_find(lab.desk, "person", "TA");
  has(lab_refused(&lab, LZ_DESK_ERROR_NEEDS_REASON, "person", NULL, "@entity", "TA", "erase", "yes",
                  NULL),
      "say why");
  has(lab_refused(&lab, LZ_DESK_ERROR_USAGE, "person", NULL, "@entity", "TA", "erase", "yes",
                  "@who", "TA", "@reason", "asked", NULL),
      "another person");
  lab_say(&lab, "person", NULL, "@entity", "TA", "erase", "yes", "@reason", "asked for it", NULL);
  lab_reopen(&lab);
  ck_assert_str_eq(lz_desk_person_name(lab.desk, person), "");
  ck_assert_str_eq(lz_desk_person_contact(lab.desk, person), "");
  ck_assert_int_eq(lz_desk_find(lab.desk, "person", "TA"), 0);
  g_autofree char *bytes = NULL;
  gsize size;
  ck_assert(g_file_get_contents(lab.path, &bytes, &size, NULL));
  for (gsize i = 0; i + 14 <= size; i++) // nor anywhere in the file
    ck_assert_int_ne(memcmp(bytes + i, "ta@example.org", 14), 0);
  LzVerify verified;
  ck_assert(lz_desk_verify(lab.desk, &verified, NULL));
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk-instruments");
  TCase *all = tcase_create("all");
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, a_failed_check_takes_back);
  tcase_add_test(all, zero_and_slope);
  tcase_add_test(all, reagents_and_due_checks);
  tcase_add_test(all, kept_as_read);
  tcase_add_test(all, in_out_and_left);
  tcase_add_test(all, an_empty_bottle_is_passed_over);
  tcase_add_test(all, what_is_left_goes_on);
  tcase_add_test(all, a_person_is_erased);
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
