// SPDX-License-Identifier: GPL-3.0-or-later
// The demo's set-up and its events: who comes, where they go, what is seen. All names are invented.
//
// Five shipments in 60 days: 0301-0306 went the whole way and left; 0307-0311 are watched in
// Green-1; 0312 has been observed for 30 days and may go today; 0313-0318 showed a spot on day ten
// of their hold and began anew; 0319-0323 have just reached the hold; 0324 and 0325 came yesterday;
// one shipment is due tomorrow.
#include "lz_demo_private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "lz_format.h"
#include "lz_protocol_file.h"
#include "lz_setup.h"

static const struct {
  const char *name, *role;
  double volume_l;
  int tanks;
  const char *walk;
  double loss;
} waters[N_WATERS] = {
    [DOCK_1] = {"Dock-1", "receiving", 900, 6, "4", 0},
    [BLUE_1] = {"Blue-1", "treatment", 2400, 6, "6", 0.0021},
    [BLUE_2] = {"Blue-2", "treatment", 1800, 6, "5", 0.0028},
    [RED_1] = {"Red-1", "treatment", 1200, 6, "3", 0},
    [GREEN_1] = {"Green-1", "finishing", 2000, 6, "1", 0},
    [GREEN_2] = {"Green-2", "finishing", 1600, 6, "2", 0},
    [GREY_1] = {"Grey-1", "isolation", 300, 4, "9", 0},
};

// arrival day, system and tank on arrival, fish
static const struct {
  const char *code, *species;
  int day, water, tank, heads;
  const char *shipment, *mass;
} lots[] = {
    {"0301", "Amphiprion ocellaris", -59, DOCK_1, 1, 40, "S-101", "3"},
    {"0302", "Zebrasoma flavescens", -59, DOCK_1, 2, 18, "S-101", "28"},
    {"0303", "Chrysiptera parasema", -59, DOCK_1, 3, 50, "S-101", "2"},
    {"0304", "Paracanthurus hepatus", -59, DOCK_1, 4, 14, "S-101", "22"},
    {"0305", "Chaetodon auriga", -59, DOCK_1, 5, 8, "S-101", "35"},
    {"0306", "Gramma loreto", -59, DOCK_1, 6, 24, "S-101", "3"},
    {"0307", "Zebrasoma scopas", -29, DOCK_1, 1, 20, "S-102", "25"},
    {"0308", "Amphiprion clarkii", -29, DOCK_1, 2, 30, "S-102", "5"},
    {"0309", "Heniochus acuminatus", -29, DOCK_1, 3, 9, "S-102", "40"},
    {"0310", "Pseudanthias squamipinnis", -29, DOCK_1, 4, 26, "S-102", "4"},
    {"0311", "Siganus vulpinus", -29, DOCK_1, 5, 7, "S-102", "45"},
    {"0312", "Pterapogon kauderni", -31, GREY_1, 1, 16, "S-102", "3"},
    {"0313", "Zebrasoma flavescens", -25, DOCK_1, 1, 25, "S-103", "26"},
    {"0314", "Dascyllus trimaculatus", -25, DOCK_1, 2, 36, "S-103", "4"},
    {"0315", "Pomacanthus imperator", -25, DOCK_1, 3, 4, "S-103", "60"},
    {"0316", "Acanthurus leucosternon", -25, DOCK_1, 4, 10, "S-103", "34"},
    {"0317", "Cirrhilabrus sp.", -25, DOCK_1, 5, 22, "S-103", "6"},
    {"0318", "Salarias fasciatus", -25, DOCK_1, 6, 15, "S-103", "9"},
    {"0319", "Amphiprion percula", -5, DOCK_1, 1, 45, "S-104", "3"},
    {"0320", "Ctenochaetus strigosus", -5, DOCK_1, 2, 12, "S-104", "24"},
    {"0321", "Chromis viridis", -5, DOCK_1, 3, 60, "S-104", "2"},
    {"0322", "Centropyge loricula", -5, RED_1, 1, 9, "S-104", "8"},
    {"0323", "Centropyge bispinosa", -5, RED_1, 2, 12, "S-104", "7"},
    {"0324", "Chelmon rostratus", -1, DOCK_1, 4, 6, "S-105", "30"},
    {"0325", "Valenciennea puellaris", -1, DOCK_1, 5, 14, "S-105", "10"},
};

static const struct {
  const char *name, *common, *family, *copper;
} species[] = {
    {"Amphiprion ocellaris", "false clownfish", "Pomacentridae", "usual"},
    {"Amphiprion percula", "clown anemonefish", "Pomacentridae", "usual"},
    {"Amphiprion clarkii", "yellowtail clownfish", "Pomacentridae", "usual"},
    {"Chromis viridis", "blue-green damsel", "Pomacentridae", "usual"},
    {"Chrysiptera parasema", "yellowtail damsel", "Pomacentridae", "usual"},
    {"Dascyllus trimaculatus", "three-spot dascyllus", "Pomacentridae", "usual"},
    {"Zebrasoma flavescens", "yellow tang", "Acanthuridae", "usual"},
    {"Zebrasoma scopas", "brown tang", "Acanthuridae", "usual"},
    {"Paracanthurus hepatus", "palette surgeonfish", "Acanthuridae", "usual"},
    {"Acanthurus leucosternon", "powder-blue surgeonfish", "Acanthuridae", "caution"},
    {"Ctenochaetus strigosus", "spotted surgeonfish", "Acanthuridae", "caution"},
    {"Chaetodon auriga", "threadfin butterflyfish", "Chaetodontidae", "caution"},
    {"Heniochus acuminatus", "pennant coralfish", "Chaetodontidae", "caution"},
    {"Chelmon rostratus", "copperband butterflyfish", "Chaetodontidae", "caution"},
    {"Gramma loreto", "royal gramma", "Grammatidae", "usual"},
    {"Pseudanthias squamipinnis", "sea goldie", "Serranidae", "caution"},
    {"Siganus vulpinus", "foxface", "Siganidae", "usual"},
    {"Pterapogon kauderni", "Banggai cardinalfish", "Apogonidae", "usual"},
    {"Pomacanthus imperator", "emperor angelfish", "Pomacanthidae", "caution"},
    {"Cirrhilabrus sp.", "fairy wrasse", "Labridae", "caution"},
    {"Salarias fasciatus", "jewelled blenny", "Blenniidae", "caution"},
    {"Centropyge loricula", "flame angelfish", "Pomacanthidae", "avoid"},
    {"Centropyge bispinosa", "coral beauty", "Pomacanthidae", "avoid"},
    {"Valenciennea puellaris", "maiden goby", "Gobiidae", "caution"},
};

static void
set_up_people(LzDemo *demo, int64_t at)
{
  lz_demo_act(demo, at, NULL, "station", "name", "Quay Lane station", "zone", demo->zone, "slots",
              "07:30 17:00", "last_in", "no", "trust_unchecked", "yes", "accept_max_min", "480",
              "contact_days", "14", "idle_min", "3", "paper", "a4", NULL);
  lz_demo_act(demo, at, NULL, "person", "role", "lead", "name", "Ines Ortland", "initials", "IO",
              NULL);
  lz_demo_act(demo, at, "IO", "person", "role", "keeper", "name", "Tarik Amsel", "initials", "TA",
              NULL);
  lz_demo_act(demo, at, "IO", "person", "role", "keeper", "name", "Jolanda Reem", "initials", "JR",
              NULL);
  lz_demo_act(demo, at, "IO", "person", "role", "vet", "name", "Pia Lund", "initials", "PL", NULL);
  lz_demo_act(demo, at, "IO", "supplier", "name", "Batu Selat Export", "country", "Indonesia",
              NULL);
  lz_demo_act(demo, at, "IO", "supplier", "name", "Long Cay Divers", "country", "Belize", NULL);
}

static void
set_up_waters(LzDemo *demo, int64_t at)
{
  for (int w = 0; w < N_WATERS; w++) {
    demo->water[w] = (LzDemoWater){.name = waters[w].name,
                                   .volume_l = waters[w].volume_l,
                                   .salinity = 34,
                                   .temperature = 25,
                                   .loss_per_hour = waters[w].loss,
                                   .at = at};
    lz_demo_act(demo, at, "IO", "system", "name", waters[w].name, "volume_l",
                lz_demo_num(waters[w].volume_l, 0), "role", waters[w].role, "walk", waters[w].walk,
                "mixing_min", "60", "max_change_day", "0.35", "source_salinity", "34", NULL);
    for (int t = 1; t <= waters[w].tanks; t++)
      lz_demo_act(demo, at, "IO", "tank", "system", waters[w].name, "number", lz_demo_num(t, 0),
                  "volume_l", lz_demo_num(waters[w].volume_l * 0.8 / waters[w].tanks, 0), NULL);
  }
}

// The date so many days from today, kept until the next call.
static const char *
date_in(const LzDemo *demo, int days)
{
  static char text[16];
  g_autoptr(GDateTime) day =
      g_date_time_new_from_unix_utc((lz_demo_at(demo, 0, 12, 0) + (int64_t)days * LZQ_DAY) * 60);
  g_autofree char *made = g_date_time_format(day, "%Y-%m-%d");
  g_strlcpy(text, made, sizeof text);
  return text;
}

static void
set_up_shelf(LzDemo *demo, int64_t at)
{
  lz_demo_act(demo, at, "IO", "instrument", "name", "P1", "method", "photometer", "sees", "all",
              "error_abs", "0.01", "error_rel", "0.02", "resolution", "0.01", "check_days", "7",
              "standards", "0.50 mg/L standard", "reagent_batch", "4410", "reagent_expiry",
              date_in(demo, 240), NULL);
  lz_demo_act(demo, at, "IO", "instrument", "name", "M1", "method", "conductivity", "error_abs",
              "0.2", "resolution", "0.1", "check_days", "7", "standards",
              "53.0 mS/cm at 25 degrees", NULL);
  lz_demo_act(demo, at, "IO", "instrument", "name", "T1", "method", "thermometer", "error_abs",
              "0.2", "resolution", "0.1", "check_days", "28", "standards", "reference thermometer",
              NULL);
  lz_demo_act(demo, at, "IO", "instrument", "name", "K2", "method", "drop_test", "error_abs", "0.1",
              "resolution", "0.1", "check_days", "28", "standards", "0.50 mg/L standard",
              "reagent_batch", "0923", "reagent_expiry", date_in(demo, 100), NULL);
  lz_demo_act(demo, at, "IO", "bottle", "name", "C-14", "analyte", "copper", "form", "amine",
              "strength", "5.00", "strength_as", "metal", "batch", "7731", "volume_ml", "5000",
              "reorder_ml", "500", "prescription", "R-26-118", "prescriber", "PL", "receipt",
              "D-4471", "expiry", date_in(demo, 430), NULL);
  for (gsize i = 0; i < G_N_ELEMENTS(species); i++)
    lz_demo_act(demo, at, "IO", "species", "name", species[i].name, "common", species[i].common,
                "family", species[i].family, "copper", species[i].copper, NULL);
}

static gboolean
set_up_protocols(LzDemo *demo, int64_t at, GError **error)
{
  static const char *const wanted[] = {"complexed-copper-low-salinity", "lowered-salinity",
                                       "observation"};
  for (gsize i = 0; i < G_N_ELEMENTS(wanted); i++) {
    g_autofree char *name = g_strconcat(wanted[i], ".protocol", NULL);
    g_autofree char *path = g_build_filename(lz_data_dir(), "protocols", name, NULL);
    g_autoptr(GPtrArray) commands = lz_protocol_load(path, error);
    if (!commands)
      return FALSE;
    for (guint c = 0; c < commands->len; c++) {
      LzCommand *command = lz_command_copy(commands->pdata[c]);
      lz_command_set_at(command, at);
      lz_command_set_actor(command, "IO");
      lz_demo_add(demo, at, command);
    }
  }
  return TRUE;
}

gboolean
lz_demo_set_up(LzDemo *demo, GError **error)
{
  int64_t at = lz_demo_at(demo, DEMO_FIRST_DAY, 6, 0);
  lz_demo_act(demo, at, NULL, "practice", "words",
              N_("The demo station: everything in it is invented."), NULL);
  set_up_people(demo, at);
  set_up_waters(demo, at);
  set_up_shelf(demo, at);
  for (int w = BLUE_1; w <= BLUE_2; w++) {
    lz_demo_act(demo, at, "IO", "gear", "system", waters[w].name, "gear", "skimmer", "on", "yes",
                NULL);
    lz_demo_act(demo, at, "IO", "gear", "system", waters[w].name, "gear", "uv", "on", "no", NULL);
    lz_demo_act(demo, at, "IO", "gear", "system", waters[w].name, "gear", "carbon", "on", "no",
                NULL);
    lz_demo_act(demo, at, "IO", "gear", "system", waters[w].name, "gear", "resin", "on", "no",
                NULL);
  }
  return set_up_protocols(demo, at, error);
}

static void
receive(LzDemo *demo, int day)
{
  static const char *const suppliers[] = {"Batu Selat Export", "Long Cay Divers"};
  const char *shipment = "";
  for (gsize i = 0; i < G_N_ELEMENTS(lots); i++) {
    if (lots[i].day != day)
      continue;
    gboolean grey = lots[i].water == GREY_1;
    int64_t at = grey ? lz_demo_at(demo, day, 23, 30) : lz_demo_at(demo, day, 14, 0);
    if (strcmp(shipment, lots[i].shipment) != 0 &&
        !(grey == FALSE && strcmp(lots[i].shipment, "S-102") == 0))
      lz_demo_act(demo, at - 30, "IO", "shipment", "code", lots[i].shipment, "supplier",
                  suppliers[i % 2], "boxes", "6", "expected_heads", "120", NULL);
    shipment = lots[i].shipment;
    g_autofree char *tank = g_strdup_printf("%s/%d", waters[lots[i].water].name, lots[i].tank);
    lz_demo_act(demo, at, "JR", "lot", "code", lots[i].code, "species", lots[i].species, "shipment",
                lots[i].shipment, "tank", tank, "heads", lz_demo_num(lots[i].heads, 0), "invoiced",
                lz_demo_num(lots[i].heads + 1, 0), "dead_on_arrival",
                lots[i].heads > 35 ? "1" : "0", "mean_mass_g", lots[i].mass, NULL);
    const char *protocol = grey                     ? "Observation only"
                           : lots[i].water == RED_1 ? "Lowered salinity alone"
                           : lots[i].day == -1      ? NULL
                                                    : "Complexed copper with lowered salinity";
    if (protocol)
      lz_demo_act(demo, at + 10, "IO", "course", "lot", lots[i].code, "protocol", protocol, NULL);
  }
}

// Lots first .. last into tanks from `tank` on.
static void
move_lots(LzDemo *demo, int64_t at, int first, int last, const char *system, int tank)
{
  for (int n = first; n <= last; n++) {
    g_autofree char *lot = g_strdup_printf("%04d", n);
    g_autofree char *to = g_strdup_printf("%s/%d", system, tank + n - first);
    lz_demo_act(demo, at, "TA", "move", "lot", lot, "tank", to, NULL);
  }
}

static void
release_lots(LzDemo *demo, int64_t at, int first, int last)
{
  for (int n = first; n <= last; n++) {
    g_autofree char *lot = g_strdup_printf("%04d", n);
    lz_demo_act(demo, at, "IO", "release", "lot", lot, NULL);
  }
}

static void
tell_moves(LzDemo *demo, int day)
{
  if (day == -58)
    move_lots(demo, lz_demo_at(demo, day, 9, 0), 301, 306, "Blue-1", 1);
  if (day == -39)
    move_lots(demo, lz_demo_at(demo, day, 11, 0), 301, 306, "Green-1", 1);
  if (day == -26)
    release_lots(demo, lz_demo_at(demo, day, 12, 0), 301, 306);
  if (day == -28)
    move_lots(demo, lz_demo_at(demo, day, 9, 0), 307, 311, "Blue-2", 1);
  if (day == -10)
    move_lots(demo, lz_demo_at(demo, day, 11, 0), 307, 311, "Green-1", 1);
  if (day == -24)
    move_lots(demo, lz_demo_at(demo, day, 9, 0), 313, 318, "Blue-1", 1);
  if (day == -4)
    move_lots(demo, lz_demo_at(demo, day, 9, 0), 319, 321, "Blue-2", 1);
}

static void
tell_sightings(LzDemo *demo, int day)
{
  if (day == -57)
    lz_demo_act(demo, lz_demo_at(demo, day, 7, 10), "JR", "death", "lot", "0303", "heads", "2",
                "cause", "weak on arrival", "disposal", "kept cold for a look", NULL);
  if (day == -27)
    lz_demo_act(demo, lz_demo_at(demo, day, 7, 12), "TA", "death", "lot", "0310", "heads", "1",
                "cause", "weak on arrival", "disposal", "disposed", NULL);
  if (day == -12) { // day ten of the hold of 0313-0318
    lz_demo_act(demo, lz_demo_at(demo, day, 15, 10), "JR", "sighting", "system", "Blue-1", "tank",
                "Blue-1/4", "lot", "0316", "sign", "white_spot", "heads", "1", "words",
                "spots on both pectoral fins", NULL);
    lz_demo_act(demo, lz_demo_at(demo, day, 16, 0), "IO", "scrape", "lot", "0316", "finding",
                "cryptocaryon", NULL);
  }
  if (day == -3)
    lz_demo_act(demo, lz_demo_at(demo, day, 7, 15), "JR", "death", "lot", "0321", "heads", "1",
                "cause", "thin", "disposal", "disposed", NULL);
  if (day == 0) { // a date: "tomorrow" would be wrong the day after, and in one language
    g_autofree char *due = lz_format_stamp(lz_desk_zone(demo->desk), lz_demo_at(demo, 1, 11, 0));
    lz_demo_act(demo, lz_demo_at(demo, day, 0, 5), "IO", "shipment", "code", "S-106", "supplier",
                "Batu Selat Export", "due", due, "expected_heads", "60", NULL);
  }
}

void
lz_demo_tell(LzDemo *demo, int day)
{
  receive(demo, day);
  tell_moves(demo, day);
  tell_sightings(demo, day);
}
