// SPDX-License-Identifier: GPL-3.0-or-later
// See cases.h. Invented station; every figure follows from the inputs by the arithmetic shown in
// the tests.
#include "cases.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

static const char protocol[] =
    "[protocol]\nname=House copper\nversion=1\nsource=invented for a test\n"
    "[phase "
    "1]\nname=Hold\nkind=hold\nplace=stay\nmin_credit_min=30240\nlapse_min=720\nlapse=%s\nsighting_"
    "to=1\n"
    "rise_per_day=0.06\nrise_steps=4\ntol_copper=0.02\ntol_salinity=1\ntol_temperature=1\ntol_ph=0."
    "2\n"
    "[phase 1 band "
    "1]\nanalyte=copper\nform=ionic\nside=at_or_above\nworks=0.18\ntarget=0.19\nplan=0.21\nharm=0."
    "25\n"
    "gap_min=1440\n"
    "[phase "
    "2]\nname=Watch\nkind=observe\nplace=stay\nmin_elapsed_min=20160\nquiet_min=20160\nsighting_to="
    "1\n";

Ctl *
case_ionic(const char *lapse, const char *strength_as)
{
  Ctl *c = ctl_new();
  g_autofree char *text = g_strdup_printf(protocol, lapse);
  g_autofree char *name = g_build_filename(c->folder, "house.protocol", NULL);
  ctl_station(c, NULL);
  ck_assert(g_file_set_contents(name, text, -1, NULL));
  g_free(ctl(c, 0, "protocol --who MK '%s'", name));
  g_free(ctl(c, 0, "record system name=Blue-1 volume_l=2400 role=treatment max_change_day=0.5"));
  g_free(ctl(c, 0, "record tank system=Blue-1 number=1"));
  g_free(ctl(c, 0, "record bottle name=C-07 analyte=copper form=ionic strength=1.00 strength_as=%s",
             strength_as));
  g_free(ctl(c, 0, "record instrument name=P1 method=photometer sees=all error_abs=0.01"));
  g_free(ctl(c, 0, "record lot --happened '2027-03-04 08:00' code=0412 tank=Blue-1/1 heads=30"));
  g_free(ctl(c, 0, "record course --happened '2027-03-04 08:00' lot=0412 protocol='House copper'"));
  return c;
}

void
case_read(Ctl *c, const char *lines)
{
  g_autoptr(GString) csv = g_string_new("happened,system,analyte,value,instrument\r\n");
  g_auto(GStrv) each = g_strsplit(lines, "\n", -1);
  for (char **line = each; *line; line++) {
    if (strlen(*line) < 18)
      continue;
    g_string_append_printf(csv, "%.16s,Blue-1,copper,%s,P1\r\n", *line, *line + 17);
  }
  ctl_import(c, "readings", csv->str);
}

void
case_read_daily(Ctl *c, int from_day, int to_day, double value)
{
  g_autoptr(GString) lines = g_string_new(NULL);
  char number[32];
  g_ascii_formatd(number, sizeof number, "%.3f", value);
  for (int day = from_day; day <= to_day; day++)
    g_string_append_printf(lines, "2027-03-%02d 08:00 %s\n2027-03-%02d 20:00 %s\n", day, number,
                           day, number);
  case_read(c, lines->str);
}
