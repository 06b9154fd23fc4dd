// SPDX-License-Identifier: GPL-3.0-or-later
// A station whose ledger holds every field that the rules name, read by SQLite alone and looked for
// on the printed sheets: the register's fields, contacts, what was found short, and every lot that
// a batch of medicine reached. All of it is invented.
#include <check.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "paper.h"

#define AT "2027-03-09 17:32"

static Ctl *station;
static sqlite3 *db;

static const char protocol[] =
    "[protocol]\nname=House\nversion=1\nsource=invented for a test\n"
    "[phase 1]\nname=Hold\nkind=hold\nplace=role\nrole=treatment\nmin_credit_min=1440\n"
    "sighting_to=1\n"
    "[phase 1 band 1]\nanalyte=copper\nform=ionic\nside=at_or_above\nworks=0.18\ntarget=0.19\n"
    "plan=0.21\nharm=0.25\ngap_min=960\n";

static const char *const told[] = {
    "person --who MK initials=VP name='Vera Pohl' role=vet contact='vet house 7, +00 100'",
    "station --who MK --entity 'Test station' --happened 2027-01-01T00:00+01:00 --reason papers "
    "address='Harbour 3; DE-09-QUA-1' registration=QUA-77",
    "system name=Blue-1 volume_l=1000 role=treatment",
    "system name=Gold-1 volume_l=1000 role=finishing",
    "tank system=Blue-1 number=1",
    "tank system=Blue-1 number=2",
    "tank system=Gold-1 number=1",
    "instrument name=P1 method=photometer sees=all error_abs=0.01",
    "species name='Zebrasoma flavescens'",
    "supplier name='Reef House' country=Belize address='Quay 9, Orange Town' registration=BZ-5",
    "customer reference=C-33 place=Westerhafen registration=DE-42",
    "bottle name=C-07 analyte=copper form=ionic strength=1.00 strength_as=metal batch=LOT-26A "
    "expiry=2027-12-31 volume_ml=900 prescription=R-118 prescriber=VP supplier='Reef House' "
    "receipt=INV-9",
    "bottle name=C-08 analyte=copper form=ionic strength=1.00 strength_as=metal batch=LOT-26B "
    "volume_ml=100",
    "shipment --happened '2027-03-01 06:00' code=S-1 supplier='Reef House' country=Belize "
    "certificate=HC-501 transporter='Sky Freight' origin='Turneffe lagoon' "
    "origin_registration=BZ-ORIG-2",
    "lot --happened '2027-03-01 08:00' code=A tank=Blue-1/1 heads=30 shipment=S-1 "
    "species='Zebrasoma flavescens' dead_on_arrival=2",
    "lot --happened '2027-03-01 08:00' code=B tank=Blue-1/2 heads=12 shipment=S-1 "
    "species='Zebrasoma flavescens'",
    "lot --happened '2027-03-01 08:00' code=FAR tank=Gold-1/1 heads=5",
    "course --happened '2027-03-01 08:00' lot=A protocol=House",
    "course --happened '2027-03-01 08:00' lot=B protocol=House",
    "dose --happened '2027-03-01 08:05' system=Blue-1 bottle=C-07 amount_ml=190",
    "reading --happened '2027-03-01 09:00' system=Blue-1 analyte=copper value=0.19 instrument=P1",
    "reading --happened '2027-03-01 20:00' system=Blue-1 analyte=copper value=0.19 instrument=P1",
    "reading --happened '2027-03-02 09:00' system=Blue-1 analyte=copper value=0.19 instrument=P1",
    "release --happened '2027-03-02 10:00' lot=A customer=C-33 document=DN-7 "
    "transporter='Van der Tank'",
    "death --happened '2027-03-02 11:00' lot=B heads=1 cause=thin disposal='cold store' "
    "document=REND-4 post_mortem='swim bladder torn'",
    "sighting --happened '2027-03-02 12:00' system=Blue-1 lot=B sign=white_spot heads=2",
    "stock --happened '2027-03-02 13:00' bottle=C-07 change_ml=250 why=delivered words=INV-10",
    "stock --happened '2027-03-02 14:00' bottle=C-07 change_ml=-40 why=disposed "
    "words='returned to the pharmacy'",
    "visit --happened '2027-03-03 09:00' what=health_visit by=VP words='gills clear' "
    "document=VIS-21",
    "visit --happened '2027-03-03 09:10' what=surveillance words='skin scrapes negative' "
    "document=SUR-3",
    "visit --happened '2027-03-03 09:20' what=instruction words='keep until the tenth' "
    "document=ORD-8",
    "visit --happened '2027-03-03 09:30' what=biosecurity words='footbath renewed'",
};

static void
setup(void)
{
  station = ctl_new();
  g_autofree char *name = g_build_filename(station->folder, "house.protocol", NULL);
  ctl_station(station, NULL);
  ck_assert(g_file_set_contents(name, protocol, -1, NULL));
  g_free(ctl(station, 0, "protocol --who MK '%s'", name));
  for (guint i = 0; i < G_N_ELEMENTS(told); i++)
    g_free(ctl(station, 0, "record %s%s", told[i], strstr(told[i], "--who") ? "" : " --who MK"));
  ck_assert_int_eq(sqlite3_open_v2(station->file, &db, SQLITE_OPEN_READONLY, NULL), SQLITE_OK);
}

static void
teardown(void)
{
  sqlite3_close(db);
  ctl_free(station);
}

// The first column of every row.
static GPtrArray *
ask(const char *sql)
{
  sqlite3_stmt *statement = NULL;
  GPtrArray *out = g_ptr_array_new_with_free_func(g_free);
  ck_assert_msg(sqlite3_prepare_v2(db, sql, -1, &statement, NULL) == SQLITE_OK, "%s: %s", sql,
                sqlite3_errmsg(db));
  while (sqlite3_step(statement) == SQLITE_ROW)
    g_ptr_array_add(out, g_strdup((const char *)sqlite3_column_text(statement, 0)));
  sqlite3_finalize(statement);
  return out;
}

static char *
letters_of(const char *text)
{
  GString *out = g_string_new(NULL);
  for (const char *p = text; *p; p++)
    if (!g_ascii_isspace(*p))
      g_string_append_c(out, *p);
  return g_string_free(out, FALSE);
}

// In the text, wherever a narrow cell broke the line.
static gboolean
holds_in(const char *part, const char *what)
{
  g_autofree char *text = letters_of(part), *wanted = letters_of(what);
  return strstr(text, wanted) != NULL;
}

static gboolean
holds(const Paper *paper, const char *what)
{
  return holds_in(paper->raw, what);
}

static const char *const sections[] = {"1 Receipts",   "2 Movements inside",
                                       "3 Dispatches", "4 Signs, scrapes and results",
                                       "5 Treatments", "6 Medicines",
                                       "7 Deaths",     "8 Disposals",
                                       "9 Notes",      "10 Where each field stands"};

// Those parts of the register that its own table says a field stands in; behind them the head.
static char *
parts_of(const Paper *paper, const char *row)
{
  const char *first = strstr(paper->raw, sections[0]);
  GString *out = g_string_new(NULL);
  ck_assert(first);
  for (guint i = 0; i + 1 < G_N_ELEMENTS(sections); i++) {
    const char *title = strchr(sections[i], ' ') + 1;
    const char *from = strstr(paper->raw, sections[i]), *to = strstr(paper->raw, sections[i + 1]);
    ck_assert_msg(from && to && from < to, "%s is not in its place", sections[i]);
    if (strstr(row, title))
      g_string_append_len(out, from, to - from);
  }
  if (strstr(row, "header"))
    g_string_append_len(out, paper->raw, first - paper->raw);
  ck_assert_msg(out->len, "no part of the register is named in %s", row);
  return g_string_free(out, FALSE);
}

// Each point of the rules, and the column of the ledger that answers it; NULL: kept elsewhere, and
// where. Reg. (EU) 2016/429 art. 186(1), Reg. (EU) 2019/6 art. 108(2), Del. Reg. (EU) 2020/691
// art. 30.
static const struct {
  const char *rule, *point, *sql, *elsewhere;
} law[] = {
    {"2016/429 art. 186(1)", "category, species", "SELECT name FROM species", NULL},
    {"2016/429 art. 186(1)", "category, species", "SELECT heads FROM lot", NULL},
    {"2016/429 art. 186(1)", "movements in", "SELECT origin FROM shipment", NULL},
    {"2016/429 art. 186(1)", "movements out", "SELECT reference FROM customer", NULL},
    {"2016/429 art. 186(1)", "health certificates", "SELECT certificate FROM shipment", NULL},
    {"2016/429 art. 186(1)", "mortality", "SELECT heads || ' dead' FROM death", NULL},
    {"2016/429 art. 186(1)", "other disease problems",
     "SELECT 'white spot' FROM sighting WHERE sign = 'white_spot'", NULL},
    {"2016/429 art. 186(1)", "biosecurity and surveillance",
     "SELECT words FROM visit WHERE what IN ('surveillance', 'biosecurity')", NULL},
    {"2016/429 art. 186(1)", "treatments", "SELECT CAST(amount_ml AS INTEGER) FROM dose", NULL},
    {"2016/429 art. 186(1)", "test results",
     "SELECT document FROM visit WHERE what = 'surveillance'", NULL},
    {"2016/429 art. 186(1)", "animal health visits",
     "SELECT words FROM visit WHERE what = 'health_visit'", NULL},
    {"2019/6 art. 108(2)", "date of first",
     "SELECT date(happened_min * 60, 'unixepoch') FROM entry "
     "WHERE kind = 'dose'",
     NULL},
    {"2019/6 art. 108(2)", "name of the medicine",
     "SELECT name FROM bottle WHERE id IN (SELECT bottle FROM dose)", NULL},
    {"2019/6 art. 108(2)", "quantity given", "SELECT CAST(amount_ml AS INTEGER) FROM dose", NULL},
    {"2019/6 art. 108(2)", "address of the supplier", "SELECT name FROM supplier", NULL},
    {"2019/6 art. 108(2)", "address of the supplier", "SELECT address FROM supplier", NULL},
    {"2019/6 art. 108(2)", "evidence of acquisition",
     "SELECT receipt FROM bottle WHERE receipt IS NOT NULL", NULL},
    {"2019/6 art. 108(2)", "identity of the animal",
     "SELECT code FROM lot WHERE code IN ('A', 'B')", NULL},
    {"2019/6 art. 108(2)", "contact of the prescriber",
     "SELECT name FROM identity WHERE initials = 'VP'", NULL},
    {"2019/6 art. 108(2)", "contact of the prescriber",
     "SELECT contact FROM identity WHERE initials = 'VP'", NULL},
    {"2019/6 art. 108(2)", "withdrawal period", "SELECT 'withdrawal period'", NULL},
    {"2019/6 art. 108(2)", "duration of treatment",
     "SELECT date(max(happened_min) * 60, "
     "'unixepoch') FROM entry WHERE kind = 'dose'",
     NULL},
    {"2020/691 art. 30", "approval number",
     "SELECT registration FROM station WHERE registration "
     "IS NOT NULL",
     NULL},
    {"2020/691 art. 30", "origin of all animals", "SELECT origin_registration FROM shipment", NULL},
    {"2020/691 art. 30", "destination", "SELECT place FROM customer", NULL},
    {"2020/691 art. 30", "destination", "SELECT registration FROM customer", NULL},
    {"2020/691 art. 30", "transporters", "SELECT transporter FROM shipment", NULL},
    {"2020/691 art. 30", "transporters", "SELECT transporter FROM \"release\"", NULL},
    {"2020/691 art. 30", "surveillance, clinical",
     "SELECT words FROM visit WHERE what = "
     "'surveillance'",
     NULL},
    {"2020/691 art. 30", "post-mortem", "SELECT post_mortem FROM death", NULL},
    {"2020/691 art. 30", "instructions of the authority",
     "SELECT words FROM visit WHERE what = 'instruction'", NULL},
    {"2020/691 art. 30", "instructions of the authority",
     "SELECT document FROM visit WHERE what = 'instruction'", NULL},
    {"2020/691 art. 30", "biosecurity plan", NULL, "kept with the station's plan"},
};

START_TEST(each_field_of_the_rules_is_printed)
{
  g_autoptr(Paper) paper = paper_print(station, "register --at '%s'", AT);
  g_autofree char *row = paper_row(paper, law[_i].rule, law[_i].point, NULL);
  ck_assert_msg(row != NULL, "%s: “%s” has no place", law[_i].rule, law[_i].point);
  if (!law[_i].sql) {
    ck_assert_msg(strstr(row, law[_i].elsewhere) != NULL, "%s", row);
    return;
  }
  g_autoptr(GPtrArray) values = ask(law[_i].sql);
  ck_assert_msg(values->len > 0, "the ledger has nothing for “%s”", law[_i].point);
  g_autofree char *parts = parts_of(paper, row);
  for (guint i = 0; i < values->len; i++)
    ck_assert_msg(holds_in(parts, values->pdata[i]), "%s, %s: “%s” is not where %s says",
                  law[_i].rule, law[_i].point, (char *)values->pdata[i], row);
}
END_TEST

// 900 mL opened and 250 delivered, 190 given and 40 thrown away: 920 left. The second batch was
// never opened for a fish.
START_TEST(a_batch_names_every_lot_that_it_reached)
{
  g_autoptr(Paper) paper = paper_print(station, "medicines --at '%s'", AT);
  g_autofree char *sums = paper_row(paper, "900", "250", "190", "40", "920", NULL);
  ck_assert_msg(sums != NULL, "no sums in\n%.1500s", paper->rows);
  static const char *const papers[] = {
      "LOT-26A", "2027-12-31", "R-118",     "Vera Pohl",
      "INV-9",   "INV-10",     "delivered", "returned to the pharmacy"};
  for (guint i = 0; i < G_N_ELEMENTS(papers); i++)
    ck_assert_msg(holds(paper, papers[i]), "no %s", papers[i]);
  // lots that came into the dosed water before the dose and had not left it
  g_autoptr(GPtrArray) reached =
      ask("SELECT DISTINCT l.code || ' ' || l.heads FROM dose d JOIN entry de ON de.id = d.id JOIN "
          "tank t ON t.system = d.system JOIN lot l ON l.tank = t.id JOIN entry le ON le.id = l.id "
          "WHERE le.happened_min <= de.happened_min");
  ck_assert_uint_eq(reached->len, 2);
  const char *from = strstr(paper->rows, "Batch LOT-26A");
  ck_assert(from && strstr(from, "2 lots reached"));
  for (guint i = 0; i < reached->len; i++) {
    g_auto(GStrv) parts = g_strsplit(reached->pdata[i], " ", 2);
    g_autofree char *pattern = g_strdup_printf("(?m)^\\s*%s\\s.*\\s%s\\s+C-07", parts[0], parts[1]);
    ck_assert_msg(g_regex_match_simple(pattern, from, 0, 0), "no %s in\n%.1500s", pattern, from);
  }
  ck_assert(strstr(from, "FAR") == NULL);
  ck_assert(strstr(strstr(from, "Batch LOT-26B"), "it reached no fish"));
}
END_TEST

// Released, then the last reading turns out to have been 0.17: that is told on the lot's record and
// on the handover; and so is the sighting in the water that it had left two hours before.
START_TEST(what_is_found_later_stands_on_the_record)
{
  g_autoptr(GPtrArray) last = ask("SELECT max(id) FROM entry WHERE kind = 'reading'");
  g_autoptr(Paper) before = paper_print(station, "lot-record --lot A --at '%s'", AT);
  ck_assert(strstr(before->raw, "Found later") == NULL);
  paper_in_order(before->raw, "Contacts", "2027-03-02 12:00", "was in Blue-1 and left before", "B",
                 "Released 2027-03-02 10:00", NULL);
  g_autoptr(Paper) other = paper_print(station, "lot-record --lot FAR --at '%s'", AT);
  paper_in_order(other->raw, "Contacts", "None.", NULL);
  g_free(ctl(station, 0,
             "record reading --who MK --corrects %s --reason misread --happened '2027-03-02 09:00' "
             "system=Blue-1 analyte=copper value=0.17 instrument=P1",
             (char *)last->pdata[0]));
  g_autoptr(Paper) after = paper_print(station, "lot-record --lot A --at '%s'", AT);
  paper_in_order(after->raw, "Found later, to be looked at:", "released on", "short of “Hold”",
                 "Ledger checked", NULL);
  g_autoptr(Paper) handover = paper_print(station, "handover --at '%s'", AT);
  paper_in_order(handover->raw, "Out of range now", "Lot A, at C-33:", "short of “Hold”",
                 "Water under treatment", NULL);
}
END_TEST

// Signs are words of the ledger's code: a German register says them in German.
START_TEST(german_signs_are_german)
{
  g_setenv("LANGUAGE", "de", TRUE);
  g_autoptr(Paper) paper = paper_print(station, "register --at '%s'", AT);
  g_unsetenv("LANGUAGE");
  g_autofree char *row = paper_row(paper, "2027-03-02 12:00", "weiße Pünktchen, 2 Fische", NULL);
  ck_assert_msg(row != NULL, "%s", paper->rows);
  ck_assert(strstr(paper->rows, "white") == NULL);
}
END_TEST

// Two sightings of one water that met the same lots are one line with both times; a reading of
// another day keeps its date on the line of its figure.
START_TEST(sightings_with_the_same_lots_are_one_line)
{
  g_free(ctl(station, 0,
             "record sighting --who MK --happened '2027-03-02 15:00' system=Blue-1 lot=B "
             "sign=white_spot heads=3"));
  g_autoptr(Paper) handover = paper_print(station, "handover --at '%s'", AT);
  paper_in_order(handover->flow, "15:00", "12:00", "in contact were lots", NULL);
  ck_assert_uint_eq(paper_count(handover->raw, "in contact were lots"), 1);
  g_autofree char *row = paper_row(handover, "Blue-1", "03-02 09:00", NULL);
  ck_assert_msg(row != NULL, "%s", handover->rows);
}
END_TEST

int
main(void)
{
  Suite *s = suite_create("report");
  TCase *t = tcase_create("papers");
  tcase_set_timeout(t, 120);
  tcase_add_unchecked_fixture(t, setup, teardown);
  tcase_add_loop_test(t, each_field_of_the_rules_is_printed, 0, G_N_ELEMENTS(law));
  tcase_add_test(t, a_batch_names_every_lot_that_it_reached);
  tcase_add_test(t, what_is_found_later_stands_on_the_record);
  tcase_add_test(t, german_signs_are_german);
  tcase_add_test(t, sightings_with_the_same_lots_are_one_line);
  suite_add_tcase(s, t);
  SRunner *runner = srunner_create(s);
  srunner_set_fork_status(runner, CK_NOFORK);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
