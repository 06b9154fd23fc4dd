// SPDX-License-Identifier: GPL-3.0-or-later
// Mass balance: published exchange formulas, the printed brine tank, and salinity in steps.
#include "lzq_balance.h"
#include "published.h"

// Kraul et al. (1985), Prog. Fish-Cult. 47(1):69-70: F = 1 - e^(-TR/V) [R]; values [C]
START_TEST(continuous_exchange)
{
  const double turns[] = {0.1, 0.25, 0.5, 1, 2, 3};
  const double share[] = {0.0951626, 0.2211992, 0.3934693, 0.6321206, 0.8646647, 0.9502129};
  for (int i = 0; i < 6; i++) {
    NEAR(lzq_changed_share(turns[i] * 800.0, 800.0, true), share[i], 5e-8);
    NEAR(lzq_litres_for_share(share[i], 800.0, true), turns[i] * 800.0, 1e-3);
  }
  // 99 % of 10 L at 0.15 L/s takes 307.01 s [C]
  NEAR(lzq_litres_for_share(0.99, 10.0, true) / 0.15, 307.01, 0.005);
}
END_TEST

// Batch: 1 - (1-f)^n: 10 % x 5 = 0.40951, 5 % x 10 = 0.401263 [C]
START_TEST(batch_exchange)
{
  double level = 1.0;
  for (int i = 0; i < 5; i++)
    level = lzq_after_change(level, lzq_changed_share(10.0, 100.0, false), 0.0);
  NEAR(1.0 - level, 0.40951, 1e-12);
  level = 1.0;
  for (int i = 0; i < 10; i++)
    level = lzq_after_change(level, 0.05, 0.0);
  NEAR(1.0 - level, 0.401263, 5e-7);
  NEAR(lzq_changed_share(500.0, 100.0, false), 1.0, 0.0); // never more than the whole
}
END_TEST

// Advanced Engineering Mathematics, 3rd ed., ch. 2, reprinted solution [R] (author Zill [M]): 300
// gal with 50 lb of salt; 3 gal/min of 2 lb/gal in, 2 gal/min out: A(100) = 490.625 lb in 400 gal,
// printed.
START_TEST(brine_tank_filling)
{
  // the net gain is poured in as ever smaller top-ups between ever smaller changes at the volume of
  // the moment
  double amount = 50.0, volume = 300.0;
  const int n = 400000;
  const double dt = 100.0 / n;
  for (int i = 0; i < n; i++) {
    double level = amount / volume;
    level = lzq_after_change(level, lzq_changed_share(2.0 * dt, volume + 0.5 * dt, true), 2.0);
    amount = level * volume;
    const double poured[] = {volume, dt}, levels[] = {amount / volume, 2.0};
    volume += dt;
    amount = lzq_mixture(poured, levels, 2) * volume;
  }
  NEAR(amount, 490.625, 5e-4);
}
END_TEST

// The same tank, full at 400 gal and overflowing, 3 in and 3 out: A(150) = 587.37 lb, printed
START_TEST(brine_tank_overflowing)
{
  double share = lzq_changed_share(3.0 * 50.0, 400.0, true);
  NEAR(400.0 * lzq_after_change(490.625 / 400.0, share, 2.0), 587.37, 0.005);
  // 3 in, 3 out in 300 gal from the start: A = 600 - 550 e^(-t/100) [C]
  share = lzq_changed_share(3.0 * 60.0, 300.0, true);
  NEAR(300.0 * lzq_after_change(50.0 / 300.0, share, 2.0), 600.0 - 550.0 * exp(-0.6), 1e-9);
}
END_TEST

START_TEST(loss_and_evaporation)
{
  // end points of a day: ln(0.200/0.188)/24 = 0.00258 per hour [C]
  double k = lzq_loss_rate(0.200, 0.188, 24.0);
  NEAR(k, 0.00258, 5e-6);
  NEAR(lzq_after_loss(0.200, k, 24.0), 0.188, 1e-12);
  // evaporation keeps the salt: S2 V2 = S1 V1; fresh top-up restores it, salt water adds to it
  double thick = lzq_after_evaporation(35.0, 1000.0, 50.0);
  NEAR(thick, 35.0 * 1000.0 / 950.0, 1e-12);
  const double amount[] = {950.0, 50.0}, fresh[] = {thick, 0.0};
  NEAR(lzq_mixture(amount, fresh, 2), 35.0, 1e-12);
  NEAR(lzq_after_topup(35.0, 1000.0, 50.0, 0.0), 35.0, 0.0);
  NEAR(lzq_after_topup(35.0, 1000.0, 50.0, 35.0), 36.75, 1e-12);
  ck_assert(isnan(lzq_after_evaporation(35.0, 100.0, 100.0)));
  ck_assert(isnan(lzq_mixture(amount, fresh, 0)));
}
END_TEST

// Nothing appears and nothing vanishes: dosed = in the water + taken out + lost, to 1e-9 relative
START_TEST(balances_close)
{
  published_random random = published_seed("balances", 20270304);
  for (int run = 0; run < 300; run++) {
    double volume = published_uniform(&random, 50.0, 5000.0), level = 0.0, in = 0.0, out = 0.0,
           lost = 0.0;
    for (int i = 0; i < 200; i++) {
      double litres = published_uniform(&random, 0.0, volume);
      double fresh = published_uniform(&random, 0.0, 0.3),
             mg = published_uniform(&random, 0.0, 900.0);
      if (i % 5 == 4) {
        double k = fresh / 10.0, hours = mg / 50.0, after = lzq_after_loss(level, k, hours);
        lost += volume * level * -expm1(-k * hours); // the closed form of dc/dt = -k c
        level = after;
      } else if (i % 2) {
        level = lzq_after_dose(level, mg, volume);
        in += mg;
      } else {
        double share = lzq_changed_share(litres, volume, i % 4 == 0);
        double after = lzq_after_change(level, share, fresh);
        in += share * volume * fresh;
        out += share * volume * level;
        level = after;
      }
    }
    NEAR(level * volume + out + lost, in, 1e-9 * in);
  }
}
END_TEST

// 0.85 to 0.50 with clean water: f = 0.35/0.85; with at most a fifth a day three days
START_TEST(too_high_comes_down)
{
  lzq_steps steps;
  ck_assert_int_eq(lzq_bring_down(0.85, 0.50, 0.0, 1800.0, 0.0, &steps), LZQ_OK);
  ck_assert_uint_eq(steps.n, 1);
  NEAR(steps.steps[0].share, 0.35 / 0.85, 1e-12);
  NEAR(steps.steps[0].level_after, 0.50, 1e-12);
  ck_assert_int_eq(lzq_bring_down(0.85, 0.50, 0.0, 1800.0, 0.2, &steps), LZQ_OK);
  ck_assert_uint_eq(steps.n, 3);
  NEAR(steps.steps[0].litres, 360.0, 1e-9);
  NEAR(steps.steps[1].level_after, 0.85 * 0.64, 1e-12);
  NEAR(steps.steps[2].level_after, 0.50, 1e-12);
  ck_assert_int_eq(steps.steps[2].after_min, 2 * LZQ_DAY);
  ck_assert_int_eq(lzq_bring_down(0.85, 0.50, 0.6, 1800.0, 0.2, &steps), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_bring_down(0.85, 0.50, 0.5, 1800.0, 0.2, &steps), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_bring_down(0.40, 0.50, 0.0, 1800.0, 0.2, &steps), LZQ_OK);
  ck_assert_uint_eq(steps.n, 0);
  ck_assert_int_eq(lzq_bring_down(NAN, 0.50, 0.0, 1800.0, 0.2, &steps), LZQ_OUT_OF_RANGE);
}
END_TEST

static lzq_salinity_way
red_2(void)
{
  return (lzq_salinity_way){.from = 34.0,
                            .to = 16.0,
                            .volume_l = 1800.0,
                            .max_step = 6.0,
                            .max_day = 12.0,
                            .gap_min = 720,
                            .copper = NAN,
                            .copper_target = NAN};
}

// 1,800 L from 34 to 16, at most 6 a step and 12 a day: arithmetic (16/34)^(1/4) = 0.8282
START_TEST(salinity_down_in_equal_ratios)
{
  lzq_salinity_way way = red_2();
  lzq_steps steps;
  ck_assert_int_eq(lzq_salinity_down(&way, &steps), LZQ_OK);
  ck_assert_uint_eq(steps.n, 4);
  NEAR(steps.ratio, 0.8282, 5e-5);
  const double after[] = {28.2, 23.3, 19.3, 16.0};
  for (uint32_t i = 0; i < 4; i++) {
    NEAR(steps.steps[i].share, 0.172, 5e-4);
    NEAR(steps.steps[i].litres, 309.0, 0.5);
    NEAR(steps.steps[i].level_after, after[i], 0.05);
    ck_assert_int_eq(steps.steps[i].after_min, 720 * (int64_t)i);
  }
  NEAR(steps.litres, 1237.0, 0.5);
  // in one change: 953 L, and refused
  way.steps = 1;
  ck_assert_int_eq(lzq_salinity_down(&way, &steps), LZQ_OUT_OF_RANGE);
  ck_assert_uint_eq(steps.n, 1);
  NEAR(steps.litres, 953.0, 0.5);
  way.max_day = 0.0; // the limit of one step is enough to refuse it
  ck_assert_int_eq(lzq_salinity_down(&way, &steps), LZQ_OUT_OF_RANGE);
  way.max_step = 0.0; // and without limits one change does it
  way.steps = 0;
  ck_assert_int_eq(lzq_salinity_down(&way, &steps), LZQ_OK);
  ck_assert_uint_eq(steps.n, 1);
  way = red_2();
  way.new_salinity = 17.0; // cannot bring it to 16
  ck_assert_int_eq(lzq_salinity_down(&way, &steps), LZQ_OUT_OF_RANGE);
}
END_TEST

// 34 to 13.3, at most 6 a step: (13.3/34)^(1/5) = 0.8289 twice; from 23.36 two steps of
// (13.3/23.36)^(1/2) = 0.7546 keep 6 as well (5.73): four in all. Begun anew after each step the
// way is the same. Arithmetic.
START_TEST(salinity_down_says_the_same_after_every_step)
{
  lzq_salinity_way way = red_2();
  way.to = 13.3;
  lzq_steps all;
  ck_assert_int_eq(lzq_salinity_down(&way, &all), LZQ_OK);
  ck_assert_uint_eq(all.n, 4);
  ck_assert(isnan(all.ratio));
  const double after[] = {28.181, 23.358, 17.6254, 13.3}, litres[] = {308.1, 308.1, 441.7, 441.7};
  for (uint32_t i = 0; i < 4; i++) {
    NEAR(all.steps[i].level_after, after[i], 5e-4);
    NEAR(all.steps[i].litres, litres[i], 0.05);
    lzq_steps rest;
    way.from = all.steps[i].level_before;
    ck_assert_int_eq(lzq_salinity_down(&way, &rest), LZQ_OK);
    ck_assert_uint_eq(rest.n, 4 - i);
    NEAR(rest.steps[0].litres, all.steps[i].litres, 1e-9);
  }
  way.from = 34.0;
  way.steps = 5; // asked for: one ratio
  ck_assert_int_eq(lzq_salinity_down(&way, &all), LZQ_OK);
  NEAR(all.ratio, 0.82885, 5e-6);
}
END_TEST

START_TEST(salinity_keeps_the_day)
{
  lzq_salinity_way way = red_2();
  way.max_day = 7.0; // two steps of 5.84 and 4.84 no longer fit in a day
  lzq_steps steps;
  ck_assert_int_eq(lzq_salinity_down(&way, &steps), LZQ_OK);
  ck_assert_int_eq(steps.steps[1].after_min, LZQ_DAY);
  for (uint32_t i = 0; i < steps.n; i++) { // every half-open window of a day
    double fall = 0.0;
    for (uint32_t j = i;
         j < steps.n && steps.steps[j].after_min < steps.steps[i].after_min + LZQ_DAY; j++)
      fall += steps.steps[j].level_before - steps.steps[j].level_after;
    ck_assert(fall <= 7.0 + 1e-9);
  }
  way.max_day = 3.0; // smaller than a step may be: more and smaller steps
  ck_assert_int_eq(lzq_salinity_down(&way, &steps), LZQ_OK);
  ck_assert_uint_gt(steps.n, 4);
  ck_assert(steps.steps[0].level_before - steps.steps[0].level_after <= 3.0 + 1e-9);
}
END_TEST

START_TEST(copper_is_put_back_in_each_step)
{
  lzq_salinity_way way = red_2();
  way.copper = 0.19;
  lzq_steps steps;
  ck_assert_int_eq(lzq_salinity_down(&way, &steps), LZQ_OK);
  for (uint32_t i = 0; i < steps.n; i++) {
    const lzq_step *step = &steps.steps[i];
    NEAR(step->copper_after, 0.19 * steps.ratio, 1e-12);
    NEAR(step->copper_out_mg, step->litres * 0.19, 1e-9);
    NEAR(step->copper_dose_mg, step->copper_out_mg, 1e-9);
  }
  // 257 L fresh of 1,800 L three times: 34 to 29.15, 24.98, 21.42 (arithmetic)
  double s = 34.0;
  const double printed[] = {29.15, 24.98, 21.42};
  for (int i = 0; i < 3; i++) {
    s = lzq_after_change(s, lzq_changed_share(257.0, 1800.0, false), 0.0);
    NEAR(s, printed[i], 0.005);
  }
}
END_TEST

// kg = dS V / 1000 x mix factor; five daily steps of at most 3 from 21.42 to 34
START_TEST(salinity_up)
{
  lzq_salinity_way way = {.from = 21.42,
                          .to = 34.0,
                          .new_salinity = 40.0,
                          .volume_l = 1800.0,
                          .max_day = 3.0,
                          .copper = NAN,
                          .copper_target = NAN,
                          .mix_factor = 1.1};
  lzq_steps steps;
  ck_assert_int_eq(lzq_salinity_up_by_salt(&way, &steps), LZQ_OK);
  ck_assert_uint_eq(steps.n, 5);
  NEAR(steps.salt_kg, (34.0 - 21.42) * 1.8 * 1.1, 1e-9);
  NEAR(steps.litres, 0.0, 0.0);
  ck_assert_int_eq(steps.steps[4].after_min, 4 * LZQ_DAY);
  ck_assert_int_eq(lzq_salinity_up_by_change(&way, &steps), LZQ_OK);
  ck_assert_uint_eq(steps.n, 5);
  double s = way.from;
  for (uint32_t i = 0; i < steps.n; i++)
    s = lzq_after_change(s, steps.steps[i].litres / 1800.0, 40.0);
  NEAR(s, 34.0, 1e-9);
  way.new_salinity = 33.0;
  ck_assert_int_eq(lzq_salinity_up_by_change(&way, &steps), LZQ_OUT_OF_RANGE);
  way.to = 20.0; // that is down
  ck_assert_int_eq(lzq_salinity_up_by_salt(&way, &steps), LZQ_OUT_OF_RANGE);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("balance");
  TCase *tcase = tcase_create("balance");
  tcase_add_test(tcase, continuous_exchange);
  tcase_add_test(tcase, batch_exchange);
  tcase_add_test(tcase, brine_tank_filling);
  tcase_add_test(tcase, brine_tank_overflowing);
  tcase_add_test(tcase, loss_and_evaporation);
  tcase_add_test(tcase, balances_close);
  tcase_add_test(tcase, too_high_comes_down);
  tcase_add_test(tcase, salinity_down_in_equal_ratios);
  tcase_add_test(tcase, salinity_down_says_the_same_after_every_step);
  tcase_add_test(tcase, salinity_keeps_the_day);
  tcase_add_test(tcase, copper_is_put_back_in_each_step);
  tcase_add_test(tcase, salinity_up);
  suite_add_tcase(suite, tcase);
  return published_run(suite);
}
