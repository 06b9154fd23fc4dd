// SPDX-License-Identifier: GPL-3.0-or-later
// The table of kinds. The order of fields is part of the hash chain: add at the end only.
#include "lzs_kind.h"

#include <math.h>
#include <string.h>

#define INF INFINITY
#define TEXT(n, need, h)                                                                           \
  {                                                                                                \
    n, LZS_T_TEXT, 0, NULL, need, 0, 0, h                                                          \
  }
#define WORD(n, need, w, h)                                                                        \
  {                                                                                                \
    n, LZS_T_WORD, 0, w, need, 0, 0, h                                                             \
  }
#define REAL(n, need, lo, hi, h)                                                                   \
  {                                                                                                \
    n, LZS_T_REAL, 0, NULL, need, lo, hi, h                                                        \
  }
#define INT(n, need, lo, hi, h)                                                                    \
  {                                                                                                \
    n, LZS_T_INT, 0, NULL, need, lo, hi, h                                                         \
  }
#define BOOL(n, h)                                                                                 \
  {                                                                                                \
    n, LZS_T_BOOL, 0, NULL, false, 0, 1, h                                                         \
  }
#define REF(n, need, k, h)                                                                         \
  {                                                                                                \
    n, LZS_T_REF, k, NULL, need, 0, 0, h                                                           \
  }
#define END                                                                                        \
  {                                                                                                \
    0                                                                                              \
  }

#define W_ANALYTE                                                                                  \
  "copper|salinity|temperature|ph|ammonia|nitrite|nitrate|oxygen|alkalinity|chlorine|"             \
  "praziquantel|chloroquine|formalin|peroxide"
#define W_FORM "none|ionic|amine|chelated"
#define W_ROLE "receiving|treatment|finishing|isolation|display"
#define W_GEAR "skimmer|uv|carbon|resin|ozone|air|heater|pump"
#define W_SIGN "nobody|person|vet"

static const lzs_field f_station[] = {
    TEXT("name", true, "the station's name"),
    TEXT("zone", true, "an IANA time zone such as Europe/Berlin"),
    TEXT("slots", false, "test slots as hh:mm separated by blanks, for example 07:30 17:00"),
    BOOL("last_in", "yes or no: the last-in rule for shared water"),
    BOOL("trust_unchecked", "yes or no: trust instruments that were never checked"),
    BOOL("double_check", "yes or no: risky doses need a second person"),
    INT("accept_max_min", false, 0, 100000, "minutes of missing credit that a person may accept"),
    INT("contact_days", false, 0, 365, "days of look-back for contacts"),
    INT("idle_min", false, 1, 600, "minutes until the name asks again"),
    WORD("paper", false, "a4|letter", "a4 or letter"),
    TEXT("address", false, "lines for the head of printed sheets"),
    BOOL("pins", "yes or no: ask for a PIN"),
    INT("late_entry_days", false, 0, 3650, "how many days back something may be entered"),
    INT("retention_years", false, 1, 100, "years for which records are kept"),
    END};
static const lzs_field f_person[] = {WORD("role", true, "keeper|lead|vet", "keeper, lead or vet"),
                                     BOOL("active", "yes or no: works here"), END};
static const lzs_field f_system[] = {
    TEXT("name", true, "a short name such as Blue-1"),
    REAL("volume_l", true, 0.1, 10000000, "net litres, above zero"),
    WORD("role", true, W_ROLE, "receiving, treatment, finishing, isolation or display"),
    INT("walk", false, 0, 100000, "place in the walk, smaller first"),
    INT("mixing_min", false, 0, 1440, "minutes until a dose is mixed, default 60"),
    REAL("max_change_day", false, 0.01, 1, "largest share of water changed in a day, 0.01 to 1"),
    REAL("source_salinity", false, 0, 60, "practical salinity of the salt water used for changes"),
    TEXT("nets", false, "name of the net and tool set"),
    END};
static const lzs_field f_tank[] = {REF("system", true, LZS_SYSTEM, "a system's name"),
                                   INT("number", true, 0, 1000000, "the number on the tank"),
                                   REAL("volume_l", false, 0.1, 10000000, "litres, above zero"),
                                   END};
static const lzs_field f_instrument[] = {
    TEXT("name", true, "a short name such as P2"),
    WORD("method", true,
         "photometer|drop_test|refractometer|conductivity|hydrometer|thermometer|meter|strip",
         "photometer, drop_test, refractometer, conductivity, hydrometer, thermometer, meter or "
         "strip"),
    TEXT("sees", false,
         "forms of copper that it sees, separated by blanks: ionic amine chelated, or all"),
    REAL("error_abs", false, 0, 1000, "stated accuracy, in the unit of the analyte"),
    REAL("error_rel", false, 0, 1, "stated accuracy as a share of the reading, 0 to 1"),
    REAL("resolution", false, 0, 1000, "smallest step shown"),
    WORD("scale", false, "none|60/60f|20/20|25/25|20/4",
         "temperature mark of a specific-gravity scale"),
    END};
static const lzs_field f_bottle[] = {
    TEXT("name", true, "the number on the bottle such as C-07"),
    WORD("analyte", true, W_ANALYTE, "what it holds"),
    WORD("form", false, W_FORM, "form of copper: ionic, amine or chelated"),
    REAL("strength", true, 1e-6, 1e6, "mg per mL, above zero, as the label says"),
    WORD("strength_as", false, "metal|salt", "metal, or salt (copper sulfate pentahydrate)"),
    TEXT("batch", false, "batch on the label"),
    TEXT("expiry", false, "year-month-day"),
    REAL("volume_ml", false, 0, 1e7, "mL in the bottle when opened"),
    TEXT("prescription", false, "number of the prescription, if any"),
    REAL("reorder_ml", false, 0, 1e7, "mL below which it is ordered again"),
    END};
static const lzs_field f_species[] = {
    TEXT("name", true, "scientific name"),
    TEXT("common", false, "common name"),
    TEXT("family", false, "family"),
    WORD("copper", false, "usual|caution|avoid|unknown", "usual, caution, avoid or unknown"),
    WORD("low_salinity", false, "usual|caution|avoid|unknown", "usual, caution, avoid or unknown"),
    WORD("formalin", false, "usual|caution|avoid|unknown", "usual, caution, avoid or unknown"),
    WORD("chloroquine", false, "usual|caution|avoid|unknown", "usual, caution, avoid or unknown"),
    BOOL("invertebrate", "yes or no"),
    BOOL("cartilaginous", "yes or no"),
    TEXT("source", false, "where the classes come from"),
    REAL("length_cm", false, 0, 2000, "cm"),
    END};
static const lzs_field f_supplier[] = {TEXT("name", true, "the supplier's name"),
                                       TEXT("country", false, "country"),
                                       TEXT("address", false, "address"), END};
static const lzs_field f_customer[] = {
    TEXT("reference", true, "a customer number, not a person's name"), END};
static const lzs_field f_protocol[] = {
    TEXT("name", true, "the protocol's name"),
    INT("version", true, 1, 1000000, "1, 2, 3 ..."),
    TEXT("source", false, "where it comes from"),
    TEXT("caution", false, "cautions shown with it"),
    BOOL("signed_off", "yes or no: signed off by a veterinarian"),
    END};
static const lzs_field f_phase[] = {
    REF("protocol", true, LZS_PROTOCOL, "a protocol as name or name/version"),
    INT("position", true, 1, 100, "1 for the first phase, 2, 3 ..."),
    TEXT("name", true, "the phase's name"),
    WORD("kind", true,
         "rise|hold|lower|raise|copper_out|transfer|bath|feed|medicate|observe|wait|disinfect",
         "rise, hold, lower, raise, copper_out, transfer, bath, feed, medicate, observe, wait or "
         "disinfect"),
    WORD("place", false, "stay|role|next_clean", "stay, role or next_clean"),
    WORD("role", false, W_ROLE, "role of system, where place is role"),
    BOOL("reach", "yes or no: ends as soon as its bands are reached"),
    INT("min_elapsed_min", false, 0, 5256000, "minutes"),
    INT("min_credit_min", false, 0, 5256000, "minutes of credit"),
    INT("quiet_min", false, 0, 5256000, "minutes without a sighting"),
    INT("eating_days", false, 0, 1000, "days of eating"),
    REAL("eaten_share", false, 0, 1, "share eaten, 0 to 1"),
    WORD("sign", false, W_SIGN, "nobody, person or vet"),
    INT("lapse_min", false, -1, 5256000, "minutes without credit until it lapses, -1 never"),
    WORD("lapse", false, "pause|restart", "pause or restart"),
    INT("sighting_to", false, 1, 100, "position of the phase to go back to"),
    REAL("rise_per_day", false, 0, 100, "mg/L copper in any 24 hours"),
    INT("rise_steps", false, 0, 100, "steps of the rise"),
    INT("step_gap_min", false, 0, 100000, "minutes between steps"),
    REAL("salinity_fall_day", false, 0, 60, "largest fall of salinity in 24 hours"),
    REAL("salinity_rise_day", false, 0, 60, "largest rise of salinity in 24 hours"),
    REAL("salinity_step", false, 0, 60, "largest single step of salinity"),
    INT("late_tolerance_min", false, 0, 100000, "minutes that a transfer may be late"),
    REAL("tol_copper", false, 0, 100, "mg/L"),
    REAL("tol_salinity", false, 0, 60, "practical salinity"),
    REAL("tol_temperature", false, 0, 40, "degrees"),
    REAL("tol_ph", false, 0, 14, "pH"),
    BOOL("copper_free", "yes or no: the destination holds no copper"),
    WORD("medicine", false, W_ANALYTE, "medicine of a dose, bath or feed"),
    REAL("dose_level", false, 0, 100000, "mg/L, or mg per kg of fish and day in feed"),
    INT("bath_min", false, 0, 1440, "minutes of a bath"),
    TEXT("gear_on", false, "equipment that must be on, separated by blanks"),
    TEXT("gear_off", false, "equipment that must be off or out, separated by blanks"),
    END};
static const lzs_field f_band[] = {
    REF("phase", true, LZS_PHASE, "a phase as protocol/version/position"),
    WORD("analyte", true, W_ANALYTE, "an analyte"),
    WORD("form", false, W_FORM, "form of copper"),
    WORD("side", true, "at_or_above|at_or_below|between", "at_or_above, at_or_below or between"),
    REAL("works", true, -10, 100000, "edge of what works"),
    REAL("works_high", false, -10, 100000, "upper edge of between"),
    REAL("target", false, -10, 100000, "where doses aim"),
    REAL("plan", false, -10, 100000, "no plan goes beyond"),
    REAL("harm", false, -10, 100000, "where it harms"),
    INT("gap_min", true, 1, 5256000, "longest minutes between two tests"),
    BOOL("error_inside", "yes or no: the reading's error must lie inside"),
    END};
static const lzs_field f_shipment[] = {TEXT("code", true, "the shipment's number"),
                                       REF("supplier", false, LZS_SUPPLIER, "a supplier's name"),
                                       TEXT("due", false, "date and time expected"),
                                       INT("expected_heads", false, 0, 1000000, "fish expected"),
                                       TEXT("country", false, "country of origin"),
                                       TEXT("certificate", false, "health certificate number"),
                                       TEXT("waybill", false, "air waybill"),
                                       TEXT("transporter", false, "transporter"),
                                       INT("boxes", false, 0, 100000, "boxes"),
                                       END};
// A lot's first entry is its receipt.
static const lzs_field f_lot[] = {
    TEXT("code", true, "the lot's number"),
    REF("species", false, LZS_SPECIES, "a species' scientific name"),
    REF("shipment", false, LZS_SHIPMENT, "a shipment's number"),
    REF("tank", true, LZS_TANK, "a tank as system/number"),
    INT("heads", true, 0, 1000000, "fish counted, 0 or more"),
    INT("invoiced", false, 0, 1000000, "fish on the invoice"),
    INT("dead_on_arrival", false, 0, 1000000, "fish dead on arrival"),
    INT("weak", false, 0, 1000000, "weak fish"),
    REAL("mean_mass_g", false, 0.001, 1e6, "grams of one fish"),
    REAL("bag_temperature", false, -2, 45, "degrees C"),
    REAL("bag_salinity", false, 0, 60, "practical salinity"),
    REAL("bag_ph", false, 0, 14, "pH"),
    REAL("bag_ammonia", false, 0, 100, "mg/L N"),
    TEXT("box", false, "box number"),
    WORD("acclimation", false, "lift_out|bind_first|other", "lift_out, bind_first or other"),
    END};

static const lzs_field f_volume[] = {
    REF("system", true, LZS_SYSTEM, "a system's name"),
    REAL("volume_l", true, 0.1, 1e7, "net litres, above zero"),
    WORD("method", false, "measured|calculated|dose_rise|salt", "how it was found"), END};
static const lzs_field f_state[] = {REF("system", true, LZS_SYSTEM, "a system's name"),
                                    WORD("state", true, "empty|disinfecting|cycling|stocked",
                                         "empty, disinfecting, cycling or stocked"),
                                    END};
static const lzs_field f_check[] = {REF("instrument", true, LZS_INSTRUMENT, "an instrument's name"),
                                    BOOL("ok", "yes or no: passed"),
                                    TEXT("standard", false, "standard used"),
                                    REAL("expected", false, -1e6, 1e6, "value of the standard"),
                                    REAL("found", false, -1e6, 1e6, "value read"),
                                    END};
static const lzs_field f_reading[] = {
    REF("system", true, LZS_SYSTEM, "a system's name"),
    WORD("analyte", true, W_ANALYTE, "an analyte"),
    REAL("value", true, -10, 100000, "a number, with point or comma"),
    TEXT("typed", false, "the value as it was typed"),
    TEXT("unit", false, "mg/L, ppt, SG, mS/cm, C, F ..."),
    REF("instrument", false, LZS_INSTRUMENT, "an instrument's name"),
    REAL("error", false, 0, 1000, "plus or minus"),
    BOOL("suspect", "yes or no: far from its prediction"),
    REF("confirms", false, LZS_READING, "id of the reading repeated"),
    REF("tank", false, LZS_TANK, "a tank as system/number"),
    REAL("read_temperature", false, -2, 45,
         "temperature of a specific-gravity or conductivity reading"),
    END};
static const lzs_field f_change[] = {
    REF("system", true, LZS_SYSTEM, "a system's name"),
    REAL("litres", true, 0.001, 1e7, "litres, above zero"),
    REAL("new_copper", false, 0, 1000, "mg/L copper in the new water"),
    REAL("new_salinity", false, 0, 60, "practical salinity of the new water"),
    BOOL("drip", "yes or no: continuous"),
    TEXT("disposal", false, "where the old water went"),
    REAL("new_temperature", false, -2, 45, "degrees C"),
    END};
static const lzs_field f_topup[] = {
    REF("system", true, LZS_SYSTEM, "a system's name"),
    REAL("litres", true, 0.001, 1e7, "litres, above zero"),
    REAL("new_salinity", false, 0, 60, "practical salinity, 0 for fresh water"), END};
static const lzs_field f_dose[] = {
    REF("system", true, LZS_SYSTEM, "a system's name"),
    REF("bottle", false, LZS_BOTTLE, "a bottle's number"),
    WORD("analyte", false, W_ANALYTE, "what was given, where no bottle is named"),
    WORD("form", false, W_FORM, "form of copper"),
    REAL("amount_ml", false, 0, 1e7, "mL from the bottle"),
    REAL("amount_mg", false, 0, 1e12, "mg of metal or active substance"),
    TEXT("typed", false, "the amount as it was typed"),
    REAL("computed_ml", false, 0, 1e7, "mL that the program asked for"),
    BOOL("in_new_water", "yes or no: mixed into the new water beforehand"),
    REAL("salt_kg", false, 0, 1e6, "kg of salt"),
    END};
static const lzs_field f_gear[] = {REF("system", true, LZS_SYSTEM, "a system's name"),
                                   WORD("gear", true, W_GEAR, "a piece of equipment"),
                                   BOOL("on", "yes or no: on, or in the water"), END};
static const lzs_field f_sighting[] = {
    REF("system", true, LZS_SYSTEM, "a system's name"),
    REF("tank", false, LZS_TANK, "a tank as system/number"),
    REF("lot", false, LZS_LOT, "a lot's number"),
    WORD("sign", false,
         "white_spot|velvet|fluke|flashing|fast_breathing|not_eating|frayed_fins|other|nothing",
         "what was seen"),
    INT("heads", false, 0, 1000000, "fish seen with it"),
    TEXT("words", false, "in own words"),
    END};
static const lzs_field f_scrape[] = {
    REF("lot", true, LZS_LOT, "a lot's number"),
    REF("tank", false, LZS_TANK, "a tank as system/number"),
    WORD("finding", true,
         "nothing|cryptocaryon|amyloodinium|brooklynella|uronema|fluke|bacteria|other",
         "what was found"),
    TEXT("words", false, "in own words"), END};
static const lzs_field f_count[] = {REF("lot", true, LZS_LOT, "a lot's number"),
                                    INT("heads", true, 0, 1000000, "fish counted"), END};
static const lzs_field f_death[] = {REF("lot", true, LZS_LOT, "a lot's number"),
                                    INT("heads", true, 1, 1000000, "fish dead, 1 or more"),
                                    REF("tank", false, LZS_TANK, "a tank as system/number"),
                                    TEXT("cause", false, "suspected cause"),
                                    TEXT("disposal", false, "kept or disposed, where"),
                                    END};
static const lzs_field f_feed[] = {REF("lot", true, LZS_LOT, "a lot's number"),
                                   TEXT("food", false, "what was fed"),
                                   REAL("grams", false, 0, 1e6, "grams"),
                                   REAL("eaten_share", true, 0, 1, "share eaten, 0 to 1"),
                                   REF("bottle", false, LZS_BOTTLE, "medicine in the feed"),
                                   REAL("medicine_mg", false, 0, 1e9, "mg given"),
                                   END};
static const lzs_field f_sign[] = {REF("lot", true, LZS_LOT, "a lot's number"),
                                   INT("phase", true, 1, 100, "position of the phase"),
                                   BOOL("vet", "yes or no: by the veterinarian"), END};
static const lzs_field f_accept[] = {REF("lot", true, LZS_LOT, "a lot's number"),
                                     INT("phase", true, 1, 100, "position of the phase"),
                                     INT("minutes", true, 0, 5256000, "minutes of missing credit"),
                                     END};
static const lzs_field f_accept_open[] = {REF("lot", true, LZS_LOT, "a lot's number"), END};
static const lzs_field f_split[] = {REF("lot", true, LZS_LOT, "a lot's number"),
                                    TEXT("code", true, "number of the new lot"),
                                    INT("heads", true, 1, 1000000, "fish that go into it"),
                                    REF("tank", false, LZS_TANK, "a tank as system/number"), END};
static const lzs_field f_move[] = {REF("lot", true, LZS_LOT, "a lot's number"),
                                   REF("tank", true, LZS_TANK, "a tank as system/number"), END};
static const lzs_field f_merge[] = {REF("lot", true, LZS_LOT, "the lot that ends"),
                                    REF("into", true, LZS_LOT, "the lot that stays"), END};
static const lzs_field f_stop[] = {REF("lot", true, LZS_LOT, "a lot's number"),
                                   WORD("why", false, "distress|vet|other_parasite|other", "why"),
                                   END};
static const lzs_field f_course[] = {
    REF("lot", true, LZS_LOT, "a lot's number"),
    REF("protocol", true, LZS_PROTOCOL, "a protocol as name or name/version"),
    INT("phase", false, 1, 100, "position of the phase to begin with, default 1"),
    BOOL("keep", "yes or no: keep the credit served so far"), END};
static const lzs_field f_release[] = {REF("lot", true, LZS_LOT, "a lot's number"),
                                      REF("customer", false, LZS_CUSTOMER, "a customer's number"),
                                      END};
static const lzs_field f_note[] = {REF("system", false, LZS_SYSTEM, "a system's name"),
                                   REF("lot", false, LZS_LOT, "a lot's number"),
                                   TEXT("words", true, "in own words"), END};
static const lzs_field f_skip[] = {REF("system", false, LZS_SYSTEM, "a system's name"),
                                   REF("lot", false, LZS_LOT, "a lot's number"),
                                   TEXT("task", true, "kind of the task"),
                                   WORD("analyte", false, W_ANALYTE, "an analyte"), END};
static const lzs_field f_handover[] = {
    REF("to", false, LZS_PERSON, "who takes over"),
    INT("sheet", false, 1, 1000000000, "number of the printed sheet"), END};
static const lzs_field f_stock[] = {
    REF("bottle", true, LZS_BOTTLE, "a bottle's number"),
    REAL("change_ml", true, -1e7, 1e7, "mL in, or out as a negative number"),
    WORD("why", true, "delivered|spilled|disposed|counted|other", "why"),
    TEXT("words", false, "where, receipt"), END};
static const lzs_field f_practice[] = {TEXT("words", true, "why this file is practice"), END};

#define KIND(k, n, p, setup, f, label)                                                             \
  [k] = {k, n, p, setup, f, sizeof(f) / sizeof((f)[0]) - 1, label}
static const lzs_kind_spec kinds[LZS_N_KINDS] = {
    KIND(LZS_STATION, "station", "stations", true, f_station, "name"),
    KIND(LZS_PERSON, "person", "people", true, f_person, NULL),
    KIND(LZS_SYSTEM, "system", "systems", true, f_system, "name"),
    KIND(LZS_TANK, "tank", "tanks", true, f_tank, "number"),
    KIND(LZS_INSTRUMENT, "instrument", "instruments", true, f_instrument, "name"),
    KIND(LZS_BOTTLE, "bottle", "bottles", true, f_bottle, "name"),
    KIND(LZS_SPECIES, "species", "species", true, f_species, "name"),
    KIND(LZS_SUPPLIER, "supplier", "suppliers", true, f_supplier, "name"),
    KIND(LZS_CUSTOMER, "customer", "customers", true, f_customer, "reference"),
    KIND(LZS_PROTOCOL, "protocol", "protocols", true, f_protocol, "name"),
    KIND(LZS_PHASE, "phase", "phases", true, f_phase, "position"),
    KIND(LZS_BAND, "band", "bands", true, f_band, NULL),
    KIND(LZS_SHIPMENT, "shipment", "shipments", true, f_shipment, "code"),
    KIND(LZS_LOT, "lot", "lots", true, f_lot, "code"),
    KIND(LZS_VOLUME, "volume", "volumes", false, f_volume, NULL),
    KIND(LZS_STATE, "state", "states", false, f_state, NULL),
    KIND(LZS_CHECK, "check", "checks", false, f_check, NULL),
    KIND(LZS_READING, "reading", "readings", false, f_reading, NULL),
    KIND(LZS_CHANGE, "change", "changes", false, f_change, NULL),
    KIND(LZS_TOPUP, "topup", "topups", false, f_topup, NULL),
    KIND(LZS_DOSE, "dose", "doses", false, f_dose, NULL),
    KIND(LZS_GEAR, "gear", "gears", false, f_gear, NULL),
    KIND(LZS_SIGHTING, "sighting", "sightings", false, f_sighting, NULL),
    KIND(LZS_SCRAPE, "scrape", "scrapes", false, f_scrape, NULL),
    KIND(LZS_COUNT, "count", "counts", false, f_count, NULL),
    KIND(LZS_DEATH, "death", "deaths", false, f_death, NULL),
    KIND(LZS_FEED, "feed", "feeds", false, f_feed, NULL),
    KIND(LZS_SIGN, "sign", "signs", false, f_sign, NULL),
    KIND(LZS_ACCEPT, "accept", "accepts", false, f_accept, NULL),
    KIND(LZS_ACCEPT_OPEN, "accept_open", "accepts_open", false, f_accept_open, NULL),
    KIND(LZS_SPLIT, "split", "splits", false, f_split, NULL),
    KIND(LZS_MOVE, "move", "moves", false, f_move, NULL),
    KIND(LZS_MERGE, "merge", "merges", false, f_merge, NULL),
    KIND(LZS_STOP, "stop", "stops", false, f_stop, NULL),
    KIND(LZS_COURSE, "course", "courses", false, f_course, NULL),
    KIND(LZS_RELEASE, "release", "releases", false, f_release, NULL),
    KIND(LZS_NOTE, "note", "notes", false, f_note, NULL),
    KIND(LZS_SKIP, "skip", "skips", false, f_skip, NULL),
    KIND(LZS_HANDOVER, "handover", "handovers", false, f_handover, NULL),
    KIND(LZS_STOCK, "stock", "stocks", false, f_stock, NULL),
    KIND(LZS_PRACTICE, "practice", "practices", false, f_practice, NULL),
};

const lzs_kind_spec *
lzs_kind_get(lzs_kind kind)
{
  return &kinds[kind];
}

const lzs_kind_spec *
lzs_kind_find(const char *name)
{
  for (int k = 0; k < LZS_N_KINDS; k++)
    if (strcmp(kinds[k].name, name) == 0 || strcmp(kinds[k].plural, name) == 0)
      return &kinds[k];
  return NULL;
}

int
lzs_kind_field(const lzs_kind_spec *spec, const char *field)
{
  for (size_t i = 0; i < spec->n_fields; i++)
    if (strcmp(spec->fields[i].name, field) == 0)
      return (int)i;
  return -1;
}
