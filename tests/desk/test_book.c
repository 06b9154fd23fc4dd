// SPDX-License-Identifier: GPL-3.0-or-later
// The desk's plan, made with the book that follows every entry, is the plan of a desk that reads
// the same file anew, to the bit: over a random week with late entries, corrections, what is only
// tried or foreseen, and set-up described anew. LZ_SEED chooses another.
#include <lz_desk_private.h>
#include <lz_foresee.h>
#include <lz_protocol_file.h>
#include <lz_rows.h>
#include <stdio.h>
#include <stdlib.h>

#include "../engine/plan_print.h"
#include "../lib/prng.h"
#include "lab.h"

static Lab lab;
static lzt_prng prng;
static int64_t bottle;
static GArray *said; // int64_t, ids of readings and of what else can be taken back

static const char *const systems[] = {"Blue-1", "Blue-2", "Blue-3"};

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 08:00");
  lab_station(&lab);
  g_autofree char *path =
      g_build_filename(lz_data_dir(), "protocols", "complexed-copper-low-salinity.protocol", NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) protocol = lz_protocol_load(path, &error);
  ck_assert_msg(protocol && lz_desk_submit(lab.desk, (LzCommand *const *)protocol->pdata,
                                           protocol->len, &error),
                "%s", error ? error->message : "?");
  said = g_array_new(FALSE, FALSE, sizeof(int64_t));
  for (int i = 0; i < 3; i++) {
    lab_say(&lab, "system", NULL, "name", systems[i], "volume_l", "1800", "role",
            i == 2 ? "finishing" : "treatment", NULL);
    lab_say(&lab, "tank", NULL, "system", systems[i], "number", "1", NULL);
  }
  bottle = lab_say(&lab, "bottle", NULL, "name", "C-14", "analyte", "copper", "form", "amine",
                   "strength", "5.00", NULL);
  lab_say(&lab, "instrument", NULL, "name", "P1", "method", "photometer", "sees", "all",
          "error_abs", "0.02", NULL);
  lab_say(&lab, "instrument", NULL, "name", "M1", "method", "conductivity", "error_abs", "0.2",
          NULL);
  lab_say(&lab, "lot", NULL, "code", "L0", "tank", "Blue-1/1", "heads", "30", NULL);
  lab_say(&lab, "course", NULL, "lot", "L0", "protocol", "Complexed copper with lowered salinity",
          NULL);
}

static void
teardown(void)
{
  g_array_unref(said);
  lab_close(&lab);
}

static const char *
some_system(void)
{
  return systems[lzt_prng_range(&prng, 0, 2)];
}

static LzCommand *
draw_water(void)
{
  const int64_t luck = lzt_prng_range(&prng, 0, 9);
  g_autofree char *copper = g_strdup_printf("%.3f", lzt_prng_real(&prng, 0.1, 0.6));
  g_autofree char *salt = g_strdup_printf("%.1f", lzt_prng_real(&prng, 15, 34));
  g_autofree char *litres = g_strdup_printf("%.0f", lzt_prng_real(&prng, 20, 700));
  const char *system = some_system();
  if (luck < 4)
    return lz_command_build("reading", "system", system, "analyte", "copper", "value", copper,
                            "instrument", "P1", NULL);
  if (luck < 6)
    return lz_command_build("reading", "system", system, "analyte", "salinity", "value", salt,
                            "instrument", "M1", NULL);
  if (luck < 8)
    return lz_command_build("change", "system", system, "litres", litres, "new_salinity", salt,
                            "new_copper", copper, NULL);
  if (luck < 9)
    return lz_command_build("topup", "system", system, "litres", "12", NULL);
  return lz_command_build("dose", "system", system, "bottle", "C-14", "amount_ml", litres, NULL);
}

static LzCommand *
draw_lot(int step)
{
  g_autofree char *tank = g_strdup_printf("%s/1", some_system());
  g_autofree char *code = g_strdup_printf("L%d", step);
  switch (lzt_prng_range(&prng, 0, 6)) {
  case 0: return lz_command_build("lot", "code", code, "tank", tank, "heads", "9", NULL);
  case 1:
    return lz_command_build("course", "lot", "L0", "protocol",
                            "Complexed copper with lowered salinity", NULL);
  case 2: return lz_command_build("move", "lot", "L0", "tank", tank, NULL);
  case 3: return lz_command_build("death", "lot", "L0", "heads", "1", NULL);
  case 4: return lz_command_build("sighting", "system", some_system(), "heads", "1", NULL);
  case 5:
    return lz_command_build("check", "instrument", lzt_prng_chance(&prng, 0.5) ? "P1" : "M1", "ok",
                            lzt_prng_chance(&prng, 0.8) ? "yes" : "no", NULL);
  default: return lz_command_build("feed", "lot", "L0", "eaten_share", "0.9", NULL);
  }
}

// A bottle that holds another strength than was thought changes what every dose of it was.
static LzCommand *
bottle_anew(void)
{
  g_autofree char *strength = g_strdup_printf("%.2f", lzt_prng_real(&prng, 3, 7));
  LzCommand *c = lz_command_build("bottle", "name", "C-14", "analyte", "copper", "form", "amine",
                                  "strength", strength, NULL);
  lz_command_set_corrects(c, bottle, FALSE);
  lz_command_set_reason(c, "misread");
  return c;
}

// Another thing said now, late, or in the place of what was said before.
static LzCommand *
draw(int step, gboolean back)
{
  LzCommand *c = NULL;
  if (back)
    c = lz_command_build("reading", "system", some_system(), "analyte", "copper", "value", "0.21",
                         "instrument", "P1", NULL);
  else if (lzt_prng_chance(&prng, 0.03))
    c = bottle_anew();
  else if (lzt_prng_chance(&prng, 0.03))
    c = lz_command_build("volume", "system", some_system(), "volume_l", "1700", NULL);
  else
    c = lzt_prng_chance(&prng, 0.75) ? draw_water() : draw_lot(step);
  if (back) {
    const guint i = (guint)lzt_prng_range(&prng, 0, said->len - 1);
    lz_command_set_corrects(c, g_array_index(said, int64_t, i), lzt_prng_chance(&prng, 0.3));
  }
  lz_command_set_reason(c, "a random week");
  if (lzt_prng_chance(&prng, 0.25))
    lz_command_set_at(c, lz_clock_now(lab.clock) - lzt_prng_range(&prng, 1, 3000));
  return c;
}

static char *
text_of(LzDesk *desk)
{
  desk->missed_known = FALSE; // counted once a day, and these two began on different days
  lz_desk_replan(desk);
  const lzq_plan *plan = lz_desk_plan(desk);
  ck_assert_msg(plan != NULL, "%s", lz_desk_plan_error(desk));
  return lzt_print_plan(plan, lz_desk_snapshot(desk)->n_systems);
}

// Rows that stayed as they were, since nothing that they say had changed, are those made anew.
static void
same_rows(LzDesk *anew, int step)
{
  GListModel *(*const lists[])(LzDesk *) = {lz_desk_lots, lz_desk_systems, lz_desk_tanks,
                                            lz_desk_bottles, lz_desk_instruments};
  for (gsize k = 0; k < G_N_ELEMENTS(lists); k++) {
    GListModel *a = lists[k](lab.desk), *b = lists[k](anew);
    ck_assert_uint_eq(g_list_model_get_n_items(a), g_list_model_get_n_items(b));
    for (guint i = 0; i < g_list_model_get_n_items(a); i++) {
      g_autoptr(LzRow) one = g_list_model_get_item(a, i);
      g_autoptr(LzRow) other = g_list_model_get_item(b, i);
      ck_assert_str_eq(lz_row_key(one), lz_row_key(other));
      ck_assert_msg(g_str_equal(lz_row_title(one), lz_row_title(other)) &&
                        g_str_equal(lz_row_detail(one), lz_row_detail(other)),
                    "step %d: “%s, %s” and “%s, %s”", step, lz_row_title(one), lz_row_detail(one),
                    lz_row_title(other), lz_row_detail(other));
    }
  }
}

static void
same_as_from_file(int step)
{
  g_autoptr(GError) error = NULL;
  const LzDeskOptions how = {.clock = lab.clock, .pc_folder = lab.folder};
  g_autoptr(LzDesk) anew = lz_desk_open(lab.path, &how, &error);
  ck_assert_msg(anew != NULL, "%s", error ? error->message : "?");
  char *a = text_of(lab.desk), *b = text_of(anew);
  const char *difference = lzt_print_difference(a, b);
  ck_assert_msg(!difference, "step %d: %s", step, difference);
  same_rows(anew, step);
  free(a);
  free(b);
}

START_TEST(as_read_from_the_file)
{
  const char *seed = g_getenv("LZ_SEED");
  int accepted = 0, corrected = 0, foreseen = 0;
  lzt_prng_seed(&prng, seed ? g_ascii_strtoull(seed, NULL, 10) : 4711);
  for (int step = 0; step < 250; step++) {
    g_autoptr(GError) error = NULL;
    const gboolean correction = said->len && lzt_prng_chance(&prng, 0.15);
    g_autoptr(LzCommand) c = draw(step, correction);
    const gboolean reading = g_str_equal(lz_command_kind(c), "reading");
    lz_clock_set(lab.clock, lz_clock_now(lab.clock) + lzt_prng_range(&prng, 0, 120));
    if (lzt_prng_chance(&prng, 0.15)) {
      lz_desk_check(lab.desk, &c, 1, NULL);
    } else if (lzt_prng_chance(&prng, 0.1)) {
      LzForesight *foresight = lz_desk_foresee(lab.desk, &c, 1, NULL);
      foreseen += foresight != NULL;
      g_clear_pointer(&foresight, lz_foresight_free);
    } else if (lz_desk_submit_one(lab.desk, c, &error)) {
      const int64_t id = lz_command_id(c);
      accepted++;
      corrected += correction;
      if (reading && !correction)
        g_array_append_val(said, id);
    }
    same_as_from_file(step);
  }
  printf("desk book: %d entries, %d corrections, %d foreseen\n", accepted, corrected, foreseen);
  ck_assert_int_gt(accepted, 80);
  ck_assert_int_gt(corrected, 5);
  ck_assert_int_gt(foreseen, 5);
}
END_TEST

// What was dosed long ago, more records back than the book looks at by itself, becomes another
// dose.
START_TEST(an_old_dose_described_anew)
{
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "copper", "value", "0",
          "instrument", "P1", NULL);
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle", "C-14", "amount_ml", "60", "@reason",
          "a test", NULL);
  for (int i = 0; i < 2 * LZQ_BOOK_TAIL; i++)
    lab_say(&lab, "reading", NULL, "system", "Blue-3", "analyte", "salinity", "value", "34",
            "instrument", "M1", NULL);
  const double level = lz_desk_plan(lab.desk)->waters[0].level[LZQ_COPPER];
  g_autoptr(LzCommand) anew = bottle_anew();
  ck_assert(lz_desk_submit_one(lab.desk, anew, NULL));
  ck_assert_double_ne(lz_desk_plan(lab.desk)->waters[0].level[LZQ_COPPER], level);
  same_as_from_file(0);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk book");
  TCase *tcase = tcase_create("random week");
  tcase_add_checked_fixture(tcase, setup, teardown);
  tcase_set_timeout(tcase, 0);
  tcase_add_test(tcase, as_read_from_the_file);
  tcase_add_test(tcase, an_old_dose_described_anew);
  suite_add_tcase(suite, tcase);
  return lab_run(suite);
}
