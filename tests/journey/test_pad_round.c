// SPDX-License-Identifier: GPL-3.0-or-later
// Readings for twelve systems by the number pad alone: no other key, no pointer.
#include <stdio.h>
#include <string.h>

#include "journey.h"

#define SYSTEMS 12

static Ctl *
station(void)
{
  Ctl *c = case_ionic("pause", "metal");
  g_autoptr(GString) csv = g_string_new("happened,system,analyte,value,instrument\r\n");
  g_string_append(csv, "2027-03-04 08:00,Blue-1,copper,0.19,P1\r\n");
  for (int i = 2; i <= SYSTEMS; i++) {
    g_free(
        ctl(c, 0, "record system name=Blue-%d volume_l=%d role=treatment walk=%d", i, 1000 + i, i));
    g_free(ctl(c, 0, "record tank system=Blue-%d number=1", i));
    g_free(ctl(c, 0, "record lot --happened '2027-03-04 08:00' code=L%d tank=Blue-%d/1 heads=10", i,
               i));
    g_free(ctl(c, 0, "record course --happened '2027-03-04 08:00' lot=L%d protocol='House copper'",
               i));
    g_string_append_printf(csv, "2027-03-04 08:00,Blue-%d,copper,0.19,P1\r\n", i);
  }
  ctl_import(c, "readings", csv->str);
  return c;
}

START_TEST(test_twelve_systems)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-04T17:00+01:00", NULL);
  gint64 began = g_get_monotonic_time();
  guint keys = stage_n_keys(s);
  for (int i = 1; i <= SYSTEMS; i++) {
    stage_wait_focus(s, ATSPI_ROLE_TEXT, "Read, mg/L");
    g_autofree char *value = g_strdup_printf("0.19%d", i % 10);
    stage_pad(s, value);
    stage_wait(s, "zero point one");
    stage_keys(s, "KP_Enter");
    stage_wait_gone(s, "zero point one");
  }
  g_autoptr(Table) readings = stage_rows(s, "readings", 2 * SYSTEMS);
  for (int i = 1; i <= SYSTEMS; i++) {
    g_autofree char *name = g_strdup_printf("Blue-%d", i);
    ck_assert_uint_eq(table_count(readings, "system", name, NULL), 2); // each of them once more
  }
  printf("twelve systems: %u keys, %.1f s\n", stage_n_keys(s) - keys,
         (double)(g_get_monotonic_time() - began) / G_USEC_PER_SEC);
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_twelve_systems, NULL};
  return journey_run("journey: number pad", tests);
}
