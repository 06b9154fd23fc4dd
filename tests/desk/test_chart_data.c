// SPDX-License-Identifier: GPL-3.0-or-later
// What a chart of one water shows: readings, the estimate between them, steps at events, bands,
// events, credit, forecast and exit, each against arithmetic written beside it. Stations invented.
#include <lz_chart_data.h>
#include <lz_protocol_file.h>
#include <math.h>

#include "lab.h"

static Lab lab;

// The house rules of the trade's common practice (no source): ionic copper 0.18 to 0.21, aim 0.19.
static const char protocol[] =
    "[protocol]\nname=House\nversion=1\nsource=invented for a test\n"
    "[phase 1]\nname=Hold\nkind=hold\nplace=stay\nmin_credit_min=30240\nsighting_to=1\n"
    "[phase 1 band 1]\nanalyte=copper\nform=ionic\nside=at_or_above\nworks=0.18\ntarget=0.19\n"
    "plan=0.21\nharm=0.25\ngap_min=1440\n"
    "[phase 2]\nname=Watch\nkind=observe\nplace=stay\nmin_elapsed_min=20160\nsighting_to=1\n";

static void
read_protocol(void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) all = lz_protocol_parse(protocol, strlen(protocol), "House", &error);
  ck_assert_msg(all && lz_desk_submit(lab.desk, (LzCommand *const *)all->pdata, all->len, &error),
                "%s", error ? error->message : "");
}

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 06:00");
  lab_station(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "2400", "role", "treatment", NULL);
  lab_say(&lab, "system", NULL, "name", "Pearl-1", "volume_l", "600", "role", "finishing", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "1", NULL);
  lab_say(&lab, "tank", NULL, "system", "Pearl-1", "number", "1", NULL);
  lab_say(&lab, "bottle", NULL, "name", "C-07", "analyte", "copper", "form", "ionic", "strength",
          "1.00", "strength_as", "metal", NULL);
  lab_say(&lab, "instrument", NULL, "name", "P1", "method", "photometer", "sees", "all",
          "error_abs", "0.01", NULL);
  read_protocol();
}

static void
teardown(void)
{
  lab_close(&lab);
}

static void
read_copper(const char *at, const char *value)
{
  lab_go(&lab, at);
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "copper", "value", value,
          "instrument", "P1", NULL);
}

// Two days of a hold in Blue-1 with one change and the dose that replaces it.
static void
two_days(void)
{
  lab_go(&lab, "2027-03-04 08:00");
  lab_say(&lab, "lot", NULL, "code", "0412", "tank", "Blue-1/1", "heads", "30", NULL);
  lab_say(&lab, "course", NULL, "lot", "0412", "protocol", "House", NULL);
  read_copper("2027-03-04 08:00", "0.19");
  read_copper("2027-03-04 17:00", "0.19");
  lab_go(&lab, "2027-03-05 07:40");
  lab_say(&lab, "change", NULL, "system", "Blue-1", "litres", "360", NULL);
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle", "C-07", "amount_ml", "68.4", NULL);
  read_copper("2027-03-05 09:00", "0.19");
  lab_go(&lab, "2027-03-05 12:00");
}

static LzChartData *
chart(lzq_analyte analyte)
{
  return lz_chart_data_new(lab.desk, 0, analyte, lab_at("2027-03-01 00:00"),
                           lab_at("2027-03-20 00:00"));
}

#define POINT(array, i) (&g_array_index(array, LzChartPoint, i))

static void
check_order(const GArray *points)
{
  for (guint i = 0; i < points->len; i++) {
    const LzChartPoint *p = POINT(points, i);
    ck_assert(p->low <= p->level && p->level <= p->high);
    if (i > 0)
      ck_assert(POINT(points, i - 1)->at <= p->at);
  }
}

START_TEST(readings_carry_value_error_and_entry)
{
  two_days();
  g_autoptr(LzChartData) data = chart(LZQ_COPPER);
  ck_assert_uint_eq(data->readings->len, 3);
  const LzChartReading *first = &g_array_index(data->readings, LzChartReading, 0);
  ck_assert_int_eq(first->at, lab_at("2027-03-04 08:00"));
  ck_assert_double_eq(first->value, 0.19);
  ck_assert_double_eq(first->error, 0.01);
  ck_assert(!first->suspect && !first->wrong_form);
  g_autoptr(LzEntry) entry = lz_desk_entry(lab.desk, first->id, NULL);
  ck_assert_str_eq(lz_entry_kind(entry), "reading");
}
END_TEST

// 0.19 x (1 - 360/2,400) = 0.1615, and 68.4 mg / 2,400 L puts 0.0285 back: exact mass balance.
START_TEST(carried_steps_at_change_and_dose)
{
  two_days();
  g_autoptr(LzChartData) data = chart(LZQ_COPPER);
  lzq_minute at = lab_at("2027-03-05 07:40");
  double low = INFINITY, last = NAN;
  for (guint i = 0; i < data->carried->len; i++)
    if (POINT(data->carried, i)->at == at) {
      low = fmin(low, POINT(data->carried, i)->level);
      last = POINT(data->carried, i)->level;
    }
  ck_assert_double_eq_tol(low, 0.1615, 1e-12);
  ck_assert_double_eq_tol(last, 0.19, 1e-12);
}
END_TEST

// The estimate falls by 15 % of itself at the change and rises by 0.0285 at the dose.
START_TEST(estimate_steps_at_events_and_states_its_limits)
{
  two_days();
  g_autoptr(LzChartData) data = chart(LZQ_COPPER);
  lzq_minute at = lab_at("2027-03-05 07:40");
  double level[8];
  guint n = 0;
  check_order(data->estimate);
  for (guint i = 0; i < data->estimate->len && n < G_N_ELEMENTS(level); i++)
    if (POINT(data->estimate, i)->at == at)
      level[n++] = POINT(data->estimate, i)->level;
  ck_assert_uint_eq(n, 4); // before and after each of two records
  ck_assert_double_eq_tol(level[1], 0.85 * level[0], 1e-9);
  ck_assert_double_eq_tol(level[3] - level[2], 0.0285, 5e-4); // by the learnt gain of a dose
  const LzChartPoint *now = POINT(data->estimate, data->estimate->len - 1);
  ck_assert_int_eq(now->at, data->now);
  ck_assert(now->low < now->level && now->level < now->high);
  ck_assert_double_eq_tol(now->level, 0.19, 0.01);
}
END_TEST

START_TEST(forecast_begins_where_the_estimate_ends)
{
  two_days();
  g_autoptr(LzChartData) data = chart(LZQ_COPPER);
  check_order(data->forecast);
  const LzChartPoint *start = POINT(data->forecast, 0);
  const LzChartPoint *end = POINT(data->estimate, data->estimate->len - 1);
  const LzChartPoint *last = POINT(data->forecast, data->forecast->len - 1);
  ck_assert_int_eq(start->at, data->now);
  ck_assert_double_eq_tol(start->level, end->level, 1e-12);
  ck_assert_double_eq_tol(start->low, end->low, 1e-12);
  ck_assert(last->at <= data->now + 14 * LZQ_DAY && last->level < start->level);
  ck_assert(last->high - last->low > start->high - start->low);
  ck_assert_double_eq(data->exit_edge, 0.18);
  ck_assert(data->exit_low <= data->exit_likely && data->exit_likely <= data->exit_high);
  ck_assert(data->exit_likely > data->now && !data->exit_above);
}
END_TEST

START_TEST(bands_run_from_the_course_into_the_plan)
{
  two_days();
  g_autoptr(LzChartData) data = chart(LZQ_COPPER);
  ck_assert_uint_eq(data->bands->len, 1);
  const LzChartBand *band = &g_array_index(data->bands, LzChartBand, 0);
  ck_assert_int_eq(band->from, lab_at("2027-03-04 08:00"));
  ck_assert_int_eq(band->to, data->to); // 21 days of credit end later
  ck_assert_double_eq(band->band.works, 0.18);
}
END_TEST

START_TEST(events_of_record_and_plan)
{
  two_days();
  g_autoptr(LzChartData) data = chart(LZQ_COPPER);
  guint seen[LZ_CHART_GEAR + 1] = {0}, planned = 0;
  for (guint i = 0; i < data->events->len; i++) {
    const LzChartEvent *event = data->events->pdata[i];
    if (event->planned) {
      planned++;
      ck_assert(event->at >= data->now && event->id == 0);
      continue;
    }
    seen[event->kind]++;
    if (event->kind == LZ_CHART_DOSE) {
      ck_assert_double_eq_tol(event->amount, 68.4, 1e-9);
      ck_assert_str_eq(event->words, "68.4 mL C-07");
    } else if (event->kind == LZ_CHART_CHANGE) {
      ck_assert_str_eq(event->words, "360 L");
    }
  }
  ck_assert_uint_eq(seen[LZ_CHART_DOSE], 1);
  ck_assert_uint_eq(seen[LZ_CHART_CHANGE], 1);
  ck_assert_uint_eq(seen[LZ_CHART_MOVE_IN], 1);
  ck_assert_uint_eq(seen[LZ_CHART_MOVE_OUT], 0);
}
END_TEST

START_TEST(a_move_leaves_one_water_and_comes_into_another)
{
  two_days();
  lab_go(&lab, "2027-03-05 13:00");
  lab_say(&lab, "death", NULL, "lot", "0412", "heads", "2", NULL);
  lab_say(&lab, "stop", NULL, "lot", "0412", "@reason", "test", NULL);
  lab_say(&lab, "move", NULL, "lot", "0412", "tank", "Pearl-1/1", NULL);
  g_autoptr(LzChartData) here = chart(LZQ_COPPER);
  g_autoptr(LzChartData) there = lz_chart_data_new(lab.desk, 1, LZQ_COPPER, here->from, here->to);
  const LzChartEvent *last = here->events->pdata[here->events->len - 1];
  const LzChartEvent *first = there->events->pdata[0];
  ck_assert_int_eq(last->kind, LZ_CHART_MOVE_OUT);
  ck_assert_int_eq(first->kind, LZ_CHART_MOVE_IN);
  ck_assert_double_eq(first->amount, 28);
  ck_assert_int_eq(first->id, last->id);
  ck_assert_uint_eq(there->estimate->len, 0); // nothing has been said about that water
  g_autoptr(GArray) way = lz_lot_segments(lab.desk, 0);
  const lzq_segment *stay = &g_array_index(way, lzq_segment, way->len - 1);
  ck_assert_uint_eq(g_array_index(way, lzq_segment, 0).system, 0);
  for (guint i = 1; i < way->len; i++)
    ck_assert(g_array_index(way, lzq_segment, i - 1).end <=
              g_array_index(way, lzq_segment, i).start);
  ck_assert(stay->past || stay->system == 1);
}
END_TEST

// A lot that goes to the tank beside: nothing happens to the water, something does to the tanks.
START_TEST(a_tank_shows_its_own_lots)
{
  two_days();
  lzq_minute day_one = lz_lot_course_start(lab.desk, 0);
  ck_assert_int_eq(day_one, lab_at("2027-03-04 08:00"));
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "2", NULL);
  lab_go(&lab, "2027-03-05 13:00");
  lab_say(&lab, "death", NULL, "lot", "0412", "heads", "2", NULL);
  lab_go(&lab, "2027-03-05 14:00");
  lab_say(&lab, "move", NULL, "lot", "0412", "tank", "Blue-1/2", NULL);
  g_autoptr(LzChartData) whole = chart(LZQ_COPPER);
  int outs = 0, ins[2] = {0}, dead[2] = {0};
  for (guint i = 0; i < whole->events->len; i++)
    outs += ((LzChartEvent *)whole->events->pdata[i])->kind == LZ_CHART_MOVE_OUT;
  ck_assert_int_eq(outs, 0);
  for (uint32_t tank = 0; tank < 2; tank++) {
    uint32_t index = lz_desk_index(lab.desk, "tank",
                                   lz_desk_find(lab.desk, "tank", tank ? "Blue-1/2" : "Blue-1/1"));
    g_autoptr(LzChartData) data =
        lz_chart_data_of_tank(lab.desk, 0, index, LZQ_COPPER, whole->from, whole->to);
    ck_assert_uint_eq(data->readings->len, whole->readings->len); // the same water
    ck_assert_uint_gt(data->credit->len, 0);
    for (guint i = 0; i < data->events->len; i++) {
      const LzChartEvent *event = data->events->pdata[i];
      outs += event->kind == LZ_CHART_MOVE_OUT && tank == 0 && !event->planned;
      ins[tank] += event->kind == LZ_CHART_MOVE_IN && !event->planned;
      dead[tank] += event->kind == LZ_CHART_DEATH;
    }
  }
  ck_assert_int_eq(outs, 1);
  ck_assert_int_eq(ins[0], 1);
  ck_assert_int_eq(ins[1], 1);
  ck_assert_int_eq(dead[0], 1);
  ck_assert_int_eq(dead[1], 0);
  ck_assert_int_eq(lz_lot_course_start(lab.desk, 0), day_one);
  ck_assert(lz_lot_course_start(lab.desk, 99) == LZQ_NEVER);
}
END_TEST

START_TEST(credit_of_every_lot)
{
  two_days();
  g_autoptr(LzChartData) data = chart(LZQ_COPPER);
  int64_t earned = 0, ahead = 0;
  for (guint i = 0; i < data->credit->len; i++) {
    const LzChartCredit *piece = &g_array_index(data->credit, LzChartCredit, i);
    if (piece->kind == LZ_CREDIT_SERVED || piece->kind == LZ_CREDIT_OPEN)
      earned += piece->to - piece->from;
    if (piece->kind == LZ_CREDIT_AHEAD)
      ahead += piece->to - piece->from;
  }
  ck_assert_int_eq(earned, 28 * 60); // 4 March 08:00 to 5 March 12:00
  ck_assert_int_eq(ahead, data->to - data->now);
}
END_TEST

// Carbon takes out an unknown share: nothing is drawn from then until the next reading.
START_TEST(carbon_breaks_the_estimate)
{
  two_days();
  lab_say(&lab, "gear", NULL, "system", "Blue-1", "gear", "carbon", "on", "yes", NULL);
  lab_go(&lab, "2027-03-05 18:00");
  g_autoptr(LzChartData) data = chart(LZQ_COPPER);
  const LzChartPoint *last = POINT(data->estimate, data->estimate->len - 1);
  ck_assert_int_eq(last->at, lab_at("2027-03-05 12:00"));
  ck_assert(isnan(last->level) && data->forecast->len == 0 && data->exit_likely == LZQ_NEVER);
  read_copper("2027-03-05 19:00", "0.12");
  g_autoptr(LzChartData) again = chart(LZQ_COPPER);
  ck_assert_double_eq_tol(POINT(again->estimate, again->estimate->len - 1)->level, 0.12, 0.01);
  ck_assert_uint_gt(again->forecast->len, 10);
}
END_TEST

START_TEST(salinity_temperature_and_what_nothing_models)
{
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "salinity", "value", "34", NULL);
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "temperature", "value", "25", NULL);
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "ph", "value", "8.1", NULL);
  lab_go(&lab, "2027-03-02 06:00");
  g_autoptr(LzChartData) salt = chart(LZQ_SALINITY);
  g_autoptr(LzChartData) warmth = chart(LZQ_TEMPERATURE);
  g_autoptr(LzChartData) ph = chart(LZQ_PH);
  check_order(salt->estimate);
  check_order(warmth->forecast);
  ck_assert_double_eq_tol(POINT(salt->estimate, salt->estimate->len - 1)->level, 34, 0.5);
  ck_assert(warmth->forecast->len > 10);
  ck_assert_uint_eq(ph->readings->len, 1);
  ck_assert_uint_eq(ph->estimate->len + ph->forecast->len, 0);
}
END_TEST

START_TEST(span_and_empty_water)
{
  lzq_minute from, to;
  lz_chart_data_span(lab.desk, 0, &from, &to);
  ck_assert_int_eq(lz_desk_now(lab.desk) - from, 7 * LZQ_DAY);
  two_days();
  lz_chart_data_span(lab.desk, 0, &from, &to);
  ck_assert_int_eq(to - lz_desk_now(lab.desk), 21 * LZQ_DAY); // the hold alone is longer
  g_autoptr(LzChartData) none = lz_chart_data_new(lab.desk, 99, LZQ_COPPER, from, to);
  ck_assert_uint_eq(none->readings->len + none->events->len, 0);
  g_autoptr(GArray) way = lz_lot_segments(lab.desk, 99);
  ck_assert_uint_eq(way->len, 0);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk: chart data");
  TCase *tc = tcase_create("chart");
  tcase_set_timeout(tc, 60);
  tcase_add_checked_fixture(tc, setup, teardown);
  tcase_add_test(tc, readings_carry_value_error_and_entry);
  tcase_add_test(tc, carried_steps_at_change_and_dose);
  tcase_add_test(tc, estimate_steps_at_events_and_states_its_limits);
  tcase_add_test(tc, forecast_begins_where_the_estimate_ends);
  tcase_add_test(tc, bands_run_from_the_course_into_the_plan);
  tcase_add_test(tc, events_of_record_and_plan);
  tcase_add_test(tc, a_move_leaves_one_water_and_comes_into_another);
  tcase_add_test(tc, a_tank_shows_its_own_lots);
  tcase_add_test(tc, credit_of_every_lot);
  tcase_add_test(tc, carbon_breaks_the_estimate);
  tcase_add_test(tc, salinity_temperature_and_what_nothing_models);
  tcase_add_test(tc, span_and_empty_water);
  suite_add_tcase(suite, tc);
  return lab_run(suite);
}
