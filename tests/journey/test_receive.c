// SPDX-License-Identifier: GPL-3.0-or-later
// A lot is received and put on its protocol by keys; Lots shows the way that the command line
// plans.
#include "journey.h"

START_TEST(test_receive_a_lot)
{
  Ctl *c = case_ionic("pause", "metal");
  g_free(ctl(c, 0, "record tank system=Blue-1 number=2"));
  Stage *s = stage_start(c, "2027-03-05T09:00+01:00", NULL);
  stage_keys(s, "ctrl+l");
  stage_wait(s, "Receive a lot");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Number");
  stage_type(s, "0417");
  stage_keys(s, "Tab Tab");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "Blue-1/2");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Fish");
  stage_type(s, "12");
  stage_keys(s, "Return");
  g_autoptr(Table) lots = stage_rows(s, "lots", 2);
  ck_assert_str_eq(table_cell(lots, 1, "code"), "0417");
  ck_assert_double_eq(journey_number(lots, 1, "heads"), 12);
  stage_keys(s, "F4");
  stage_wait_focus(s, ATSPI_ROLE_LIST, "Lots");
  stage_keys(s, "Down");
  stage_wait(s, "No protocol yet");
  stage_keys(s, "KP_Enter");
  stage_wait(s, "Begin a protocol");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "House");
  stage_keys(s, "Return"); // on the closed list, as the key bar says
  g_autoptr(Table) courses = stage_rows(s, "courses", 2);
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-03-05 09:00' --lot 0417 --format=csv");
  ck_assert_int_ge(table_find(plan, "lot", "0417", "phase", "Hold", "what", "end", NULL), 0);
  stage_keys(s, "F8");
  stage_wait(s, "how sure");
  stage_wait(s, "Watch");
  stage_end(s);
  ctl_free(c);
}
END_TEST

// Six boxes of one shipment, invented; the counts are the sums below.
static const char *const boxes[6][12] = {
    {"22.4", "33", "6.6", "4.0", "yellow", "12", "12", "0", "0", "60", "1", ""},
    {"22.1", "33", "6.5", "4.5", "Centropyge loricula", "8", "7", "1", "1", "20", "2", ""},
    {"22.6", "34", "6.7", "3.8", "ocellaris", "30", "29", "", "", "3", "3", ""},
    {"22.0", "33", "6.6", "4.1", "Chromis viridis", "40", "38", "2", "", "2", "4", ""},
    {"22.3", "33", "6.6", "3.9", "Ctenochaetus binotatus", "8", "8", "", "", "55", "5", ""},
    {"22.5", "34", "6.8", "2.0", "Hippocampus kuda", "4", "4", "", "", "8", "Pearl-1/1", ""}};

static Ctl *
dock(void)
{
  Ctl *c = case_ionic("pause", "metal");
  g_free(ctl(c, 0, "record system name=Dock-1 volume_l=900 role=receiving"));
  g_free(ctl(c, 0, "record system name=Pearl-1 volume_l=400 role=isolation"));
  for (int i = 1; i <= 5; i++)
    g_free(ctl(c, 0, "record tank system=Dock-1 number=%d", i));
  g_free(ctl(c, 0, "record tank system=Pearl-1 number=1"));
  g_free(ctl(c, 0, "record species name='Zebrasoma flavescens' common='Yellow tang' copper=usual"));
  g_free(ctl(c, 0, "record species name='Amphiprion ocellaris' common='Clown anemonefish'"));
  g_free(
      ctl(c, 0, "record reading --happened '2027-03-05 08:00' system=Dock-1 analyte=ph value=8.1"));
  g_free(ctl(c, 0,
             "record reading --happened '2027-03-05 08:00' system=Dock-1 analyte=temperature "
             "value=25"));
  return c;
}

static void
open_box(Stage *s, const char *const box[12])
{
  for (int f = 0; f < 12; f++) {
    if (*box[f])
      stage_type(s, box[f]);
    stage_keys(s, "Return");
  }
}

static void
check_boxes(Ctl *c, const Table *lots)
{
  g_autoptr(Table) shipments = ctl_table(c, "export shipments");
  ck_assert_str_eq(table_cell(shipments, 0, "supplier"), "Orrin Bay Fisheries");
  ck_assert_double_eq(journey_number(shipments, 0, "boxes"), 6);
  for (guint i = 0; i < 6; i++) {
    guint row = i + 1; // after lot 0412
    g_autofree char *code = g_strdup_printf("%04u", 413 + i);
    ck_assert_str_eq(table_cell(lots, row, "code"), code);
    ck_assert_str_eq(table_cell(lots, row, "shipment"), table_cell(shipments, 0, "code"));
    ck_assert_str_eq(table_cell(lots, row, "who"), "MK");
    ck_assert_double_eq(journey_number(lots, row, "heads"), g_ascii_strtod(boxes[i][6], NULL));
    ck_assert_double_eq(journey_number(lots, row, "invoiced"), g_ascii_strtod(boxes[i][5], NULL));
    ck_assert_double_eq(journey_number(lots, row, "bag_temperature"),
                        g_ascii_strtod(boxes[i][0], NULL));
  }
  ck_assert_str_eq(table_cell(lots, 1, "species"), "Zebrasoma flavescens");
  ck_assert_str_eq(table_cell(lots, 3, "species"), "Amphiprion ocellaris");
  ck_assert_double_eq(journey_number(lots, 4, "dead_on_arrival"), 2);
  ck_assert_str_eq(table_cell(lots, 6, "tank"), "Pearl-1/1");
}

START_TEST(test_shipment_of_six_boxes)
{
  Ctl *c = dock();
  Stage *s = stage_start(c, "2027-03-05T09:00+01:00", NULL);
  stage_keys(s, "ctrl+b");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Supplier");
  stage_type(s, "Orrin Bay Fisheries");
  stage_keys(s, "Return");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Box 1: Temperature in the bag");
  open_box(s, boxes[0]);
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Box 2: Temperature in the bag");
  open_box(s, boxes[1]);
  // 900 L: 12 x 60 g + 7 x 20 g = 860 g, 0.96 g per litre
  stage_wait(s, "0.96 g per litre");
  open_box(s, boxes[2]);
  // the power fails between two boxes: nothing recorded, nothing lost
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Box 4: Temperature in the bag");
  g_usleep(G_USEC_PER_SEC);
  stage_kill(s, "2027-03-05T09:10+01:00");
  g_autoptr(Table) none = stage_rows(s, "lots", 1);
  stage_keys(s, "ctrl+b");
  stage_wait(s, "50 invoiced, 48 alive");
  stage_keys(s, "Page_Down Page_Down Page_Down");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Box 4: Temperature in the bag");
  open_box(s, boxes[3]);
  open_box(s, boxes[4]);
  stage_wait(s, "98 invoiced");
  open_box(s, boxes[5]);
  stage_keys(s, "ctrl+Return");
  g_autoptr(Table) lots = stage_rows(s, "lots", 7);
  check_boxes(c, lots);
  stage_wait(s, "6 boxes, 98 alive, 3 dead on arrival");
  stage_end(s);
  ctl_free(c);
}
END_TEST

// 200 for 20 on the invoice: asked about, the cursor where the reason goes, and recorded with it.
START_TEST(test_a_slip_is_asked_about)
{
  static const char *const box[12] = {"22.4", "33", "6.6", "4.0", "yellow", "20",
                                      "200",  "0",  "0",   "",    "1",      ""};
  Ctl *c = dock();
  Stage *s = stage_start(c, "2027-03-05T09:00+01:00", NULL);
  stage_keys(s, "ctrl+b");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Supplier");
  stage_type(s, "Orrin Bay Fisheries");
  stage_keys(s, "Return");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Box 1: Temperature in the bag");
  open_box(s, box);
  stage_keys(s, "ctrl+Return");
  stage_wait(s, "200 fish came, and the invoice says 20");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Reason");
  g_autoptr(Table) none = stage_rows(s, "lots", 1);
  stage_type(s, "ten bags of twenty");
  stage_keys(s, "Return");
  g_autoptr(Table) lots = stage_rows(s, "lots", 2);
  ck_assert_double_eq(journey_number(lots, 1, "heads"), 200);
  ck_assert_str_eq(table_cell(lots, 1, "reason"), "ten bags of twenty");
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_receive_a_lot, test_shipment_of_six_boxes,
                                test_a_slip_is_asked_about, NULL};
  return journey_run("journey: receiving", tests);
}
