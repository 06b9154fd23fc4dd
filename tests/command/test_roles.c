// SPDX-License-Identifier: GPL-3.0-or-later
// Every kind of entry by every role: docs/roles.md is the table, and each of its cells is made to
// happen. Station invented.
#include <check.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>

#include "ctl.h"

enum { KEEPER, LEAD, VET, N_ROLES };
static const char *const initials[] = {"OT", "MK", "VV"};

// The first cell of a row, and an entry that only the role may hold back. %s = who enters it.
static const struct {
  const char *row, *entry;
} rows[] = {
    {"`station`", "station --entity 'Test station' contact_days=20"},
    {"`person`", "person role=keeper name=New initials=NN"},
    {"`person`: one's own initials, contact, PIN", "person --entity %1$s contact=112 pin=2468"},
    {"`person`: one's own role", "person --entity %1$s active=yes role=lead"},
    {"`system`", "system name=Red-1 volume_l=500 role=treatment"},
    {"`tank`", "tank system=Blue-1 number=9"},
    {"`supplier`", "supplier name=Reef"},
    {"`instrument`", "instrument name=P9 method=photometer"},
    {"`bottle`", "bottle --entity C-07 reorder_ml=50"},
    {"`bottle`: its `limit_level`", "bottle --entity C-07 limit_level=0.25"},
    {"`species`", "species name='Zebrasoma flavescens' copper=caution"},
    {"`customer`", "customer reference=C-34"},
    {"`protocol`", "protocol name=Other version=1"},
    {"`protocol`: signed off", "protocol --entity Spare/1 signed_off=yes"},
    {"`phase`", "phase protocol=Spare/1 position=2 name=More kind=observe min_elapsed_min=60"},
    {"`band`", "band phase=Spare/1/1 analyte=ph side=at_or_above works=7.8 gap_min=1440"},
    {"`shipment`", "shipment code=S-2"},
    {"`lot`", "lot code=N tank=Blue-1/2 heads=3"},
    {"`volume`", "volume system=Blue-1 volume_l=990"},
    {"`state`", "state system=Gold-2 state=empty"},
    {"`check`", "check instrument=P1 ok=yes"},
    {"`reading`", "reading system=Blue-1 analyte=ph value=8.1"},
    {"`change`", "change system=Blue-1 litres=10"},
    {"`topup`", "topup system=Blue-1 litres=2"},
    {"`dose`", "dose system=Gold-2 analyte=salinity salt_kg=0.1"},
    {"`gear`", "gear system=Blue-1 gear=air on=yes"},
    {"`sighting`", "sighting system=Blue-1 lot=B sign=white_spot"},
    {"`scrape`", "scrape lot=B finding=nothing"},
    {"`count`", "count lot=B heads=20"},
    {"`death`", "death lot=B heads=1"},
    {"`feed`", "feed lot=B eaten_share=1"},
    {"`sign`", "sign lot=B phase=1"},
    {"`sign`: as the veterinarian", "sign lot=B phase=1 vet=yes"},
    {"`accept`", "accept --reason seen lot=B phase=1 minutes=10"},
    {"`accept_open`", "accept_open --reason seen lot=B"},
    {"`split`", "split lot=B code=B2 heads=5"},
    {"`move`", "move lot=F tank=Gold-2/1"},
    {"`merge`", "merge lot=F into=F2"},
    {"`stop`", "stop lot=B why=distress"},
    {"`course`", "course lot=F protocol=Spare"},
    {"`release`: the record proves it", "release lot=A customer=C-33"},
    {"`release`: fish that were never under a protocol", "release --reason sold lot=F"},
    {"`note`", "note words=fed"},
    {"`skip`", "skip system=Blue-1 task=test"},
    {"`handover`", "handover to=MK"},
    {"`stock`", "stock bottle=C-07 change_ml=100 why=delivered"},
    {"`bath`", "bath lot=F bath=freshwater litres=10 minutes=3 temperature=25"},
    {"`visit`", "visit what=inspection words=seen"},
};

static const char protocols[] =
    "[protocol]\nname=%s\nversion=1\nsource=invented for a test\n[phase 1]\nname=Watch\n"
    "kind=observe\nplace=stay\nmin_elapsed_min=1440\nquiet_min=1440\nsighting_to=1\n";

static void
add_protocol(Ctl *c, const char *name)
{
  g_autofree char *text = g_strdup_printf(protocols, name);
  g_autofree char *file = g_build_filename(c->folder, "a.protocol", NULL);
  ck_assert(g_file_set_contents(file, text, -1, NULL));
  g_free(ctl(c, 0, "protocol --who MK '%s'", file));
}

// A served and can go, B is under way, F and F2 were never under a protocol. The times lie ahead of
// the clock, so the file is one for practice, and "now" is the last of them.
static Ctl *
station(void)
{
  Ctl *c = ctl_new();
  ctl_station(c, "accept_max_min=720");
  add_protocol(c, "House");
  add_protocol(c, "Spare");
  g_free(ctl(c, 0, "record system name=Blue-1 volume_l=1000 role=treatment"));
  g_free(ctl(c, 0, "record system name=Gold-1 volume_l=1000 role=finishing"));
  g_free(ctl(c, 0, "record system name=Gold-2 volume_l=1000 role=finishing"));
  for (int tank = 1; tank <= 3; tank++) {
    g_free(ctl(c, 0, "record tank system=Blue-1 number=%d", tank));
    g_free(ctl(c, 0, "record tank system=Gold-1 number=%d", tank));
    g_free(ctl(c, 0, "record tank system=Gold-2 number=%d", tank));
  }
  g_free(ctl(c, 0, "record instrument name=P1 method=photometer sees=all error_abs=0.01"));
  g_free(ctl(c, 0, "record bottle name=C-07 analyte=copper form=ionic strength=1"));
  g_free(ctl(c, 0, "record customer reference=C-33"));
  static const char *const lots[][2] = {
      {"A", "Gold-1/1"}, {"F", "Blue-1/1"}, {"F2", "Blue-1/2"}, {"B", "Blue-1/3"}};
  for (guint i = 0; i < G_N_ELEMENTS(lots); i++)
    g_free(ctl(c, 0, "record lot --happened '2027-03-01 08:00' code=%s tank=%s heads=20",
               lots[i][0], lots[i][1]));
  g_free(ctl(c, 0, "record course --happened '2027-03-01 08:00' lot=A protocol=House"));
  g_free(ctl(c, 0, "record course --happened '2027-03-02 20:00' lot=B protocol=House"));
  g_free(ctl(c, 0, "record person role=keeper name=Otto initials=OT"));
  g_free(ctl(c, 0, "record person --who MK role=vet name=Vera initials=VV"));
  // a second lead, so that the first may be anything else
  g_free(ctl(c, 0, "record person --who MK role=lead name=Lia initials=LL"));
  return c;
}

// The three cells of a row; FALSE if there is none.
static gboolean
find_row(char **lines, const char *row, gboolean may[N_ROLES])
{
  for (; *lines; lines++) {
    g_auto(GStrv) cells = g_strsplit(*lines, "|", -1);
    if (g_strv_length(cells) != 6 || strcmp(g_strstrip(cells[1]), row) != 0)
      continue;
    for (int role = 0; role < N_ROLES; role++) {
      const char *cell = g_strstrip(cells[2 + role]);
      ck_assert_msg(strcmp(cell, "yes") == 0 || strcmp(cell, "no") == 0, "%s: %s", row, cell);
      may[role] = *cell == 'y';
    }
    return TRUE;
  }
  return FALSE;
}

static char **
table_lines(void)
{
  g_autofree char *name = g_build_filename(g_getenv("LAZARET_DOCS"), "roles.md", NULL), *text;
  ck_assert(g_file_get_contents(name, &text, NULL, NULL));
  return g_strsplit(text, "\n", -1);
}

static void
check_cell(Ctl *c, const char *row, const char *entry, int role, gboolean may)
{
  g_autofree char *with =
      g_strdup_printf("record --dry-run --happened '2027-03-03 08:00' --who %s", initials[role]);
  g_auto(GStrv) parts = g_strsplit(entry, "%1$s", 2);
  g_autofree char *named = g_strjoinv(initials[role], parts);
  g_autofree char *said = ctl(c, may ? 0 : 1, "%s %s", with, named);
  if (!may)
    ck_assert_msg(strstr(said, "only a person whose role is vet") ||
                      (strstr(said, "who: ") && strstr(said, initials[role]) &&
                       strstr(said, "accepted is a lead")),
                  "%s by %s: %s", row, initials[role], said);
}

START_TEST(test_every_cell)
{
  Ctl *c = station();
  g_auto(GStrv) lines = table_lines();
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
    gboolean may[N_ROLES];
    ck_assert_msg(find_row(lines, rows[i].row, may), "docs/roles.md has no row %s", rows[i].row);
    for (int role = 0; role < N_ROLES; role++)
      check_cell(c, rows[i].row, rows[i].entry, role, may[role]);
  }
  ctl_free(c);
}
END_TEST

// No kind and no row of the page is left out here.
START_TEST(test_table_is_whole)
{
  Ctl *c = ctl_new();
  g_auto(GStrv) lines = table_lines();
  g_autofree char *kinds = ctl(c, 0, "record --kinds");
  g_auto(GStrv) each = g_strsplit(kinds, "\n", -1);
  for (char **kind = each; *kind && **kind; kind++) {
    g_autofree char *cell = g_strdup_printf("| `%.*s`", (int)strcspn(*kind, " "), *kind);
    gboolean found = FALSE;
    for (char **line = lines; *line; line++)
      found |= g_str_has_prefix(*line, cell);
    ck_assert_msg(found, "docs/roles.md has no row for %s", *kind);
  }
  for (char **line = lines; *line; line++) {
    if (!g_str_has_prefix(*line, "| `") || strstr(*line, "`practice`"))
      continue;
    gboolean found = FALSE;
    for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
      g_autofree char *begin = g_strdup_printf("| %s |", rows[i].row);
      found |= g_str_has_prefix(*line, begin);
    }
    ck_assert_msg(found, "nothing makes this happen: %s", *line);
  }
  ctl_free(c);
}
END_TEST

// Practice marks a file for good: by a clock that was handed in it comes by itself, in a file with
// real entries only by a lead.
START_TEST(test_practice)
{
  Ctl *c = ctl_new();
  ctl_station(c, NULL);
  g_free(ctl(c, 0, "record person role=keeper name=Otto initials=OT"));
  g_free(ctl(c, 0, "record person --who MK role=vet name=Vera initials=VV"));
  g_free(ctl(c, 0, "record system --who MK name=Blue-1 volume_l=1000 role=treatment"));
  g_free(ctl(c, 0, "record reading --who OT system=Blue-1 analyte=ph value=8.1"));
  g_free(ctl(c, 1, "record practice --dry-run --who OT words=x"));
  g_free(ctl(c, 1, "record practice --dry-run --who VV words=x"));
  g_free(ctl(c, 0, "record practice --dry-run --who MK words=x"));
  ctl_free(c);
}
END_TEST

// The only lead stays one; who left enters nothing that is done now; nobody is nobody.
START_TEST(test_the_last_lead)
{
  Ctl *c = ctl_new();
  ctl_station(c, NULL);
  g_free(ctl(c, 0, "record person role=keeper name=Otto initials=OT"));
  g_autofree char *no = ctl(c, 1, "record person --who MK --entity MK role=keeper");
  ck_assert_msg(strstr(no, "only lead"), "%s", no);
  g_free(ctl(c, 1, "record person --who MK --entity MK active=no"));
  g_free(ctl(c, 1, "record person --who OT --entity OT role=lead"));
  g_free(ctl(c, 1, "record person --who OT --entity MK pin=1111"));
  g_free(ctl(c, 1, "record person --who OT --entity MK --reason gone erase=yes"));
  g_free(ctl(c, 2, "record person role=lead name=X initials=XX")); // nobody said who
  g_free(ctl(c, 0, "record person --who MK --entity OT role=lead"));
  g_free(ctl(c, 0, "record person --who OT --entity MK active=no"));
  g_autofree char *left = ctl(c, 2, "record note --who MK words=x");
  ck_assert_msg(strstr(left, "works here"), "%s", left);
  ctl_free(c);
}
END_TEST

// A table and a protocol file are commands like any other.
START_TEST(test_tables_obey)
{
  Ctl *c = station();
  g_autofree char *name = g_build_filename(c->folder, "s.csv", NULL);
  ck_assert(
      g_file_set_contents(name, "who,name,volume_l,role\r\nOT,Red-1,500,treatment\r\n", -1, NULL));
  g_autofree char *no = ctl(c, 1, "import systems s.csv");
  ck_assert_msg(strstr(no, "line 2") && strstr(no, "accepted is a lead"), "%s", no);
  no = (g_free(no), ctl(c, 1, "protocol --who OT observation"));
  ck_assert_msg(strstr(no, "accepted is a lead"), "%s", no);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("command: roles");
  TCase *tc = tcase_create("roles");
  tcase_set_timeout(tc, 200);
  tcase_add_test(tc, test_every_cell);
  tcase_add_test(tc, test_table_is_whole);
  tcase_add_test(tc, test_practice);
  tcase_add_test(tc, test_the_last_lead);
  tcase_add_test(tc, test_tables_obey);
  suite_add_tcase(suite, tc);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
