// SPDX-License-Identifier: GPL-3.0-or-later
// The fact kinds: what an entry may say about something that happened.
// The order of fields is the order of columns and of the hash chain's values: add at the end only,
// never rename, never reuse a name.
#include "lzs_kind_rows.h"

static const lzs_field f_volume[] = {
    REF("system", true, LZS_SYSTEM, "a system's name"),
    REAL("volume_l", true, 0.1, 1e7, "net litres, above zero"),
    WORD("method", false, "measured|calculated|dose_rise|salt", "how it was found"), END};
static const lzs_field f_state[] = {
    REF("system", true, LZS_SYSTEM, "a system's name"),
    WORD("state", true, "empty|disinfecting|cycling|stocked",
         "empty, disinfecting, cycling or stocked"),
    WORD("agent", false, "bleach|peroxide|drying|heat|other", "what it is disinfected with"),
    REAL("agent_mg_l", false, 0, 1e6, "mg/L of the agent"),
    INT("contact_min", false, 0, 100000, "minutes of contact"),
    END};
static const lzs_field f_check[] = {
    REF("instrument", true, LZS_INSTRUMENT, "an instrument's name"),
    BOOL("ok", "yes or no: passed"),
    TEXT("standard", false, "standard used"),
    REAL("expected", false, -1e6, 1e6, "value of the standard"),
    REAL("found", false, -1e6, 1e6, "value read"),
    REAL("expected_2", false, -1e6, 1e6, "value of the second standard"),
    REAL("found_2", false, -1e6, 1e6, "value read in the second standard"),
    BOOL("adjusted", "yes or no: set right afterwards"),
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
    WORD("analyte", false, W_GIVEN, "what was given, where no bottle is named"),
    WORD("form", false, W_FORM, "form of copper"),
    REAL("amount_ml", false, 0, 1e7, "mL from the bottle"),
    REAL("amount_mg", false, 0, 1e12, "mg of metal or active substance"),
    TEXT("typed", false, "the amount as it was typed"),
    REAL("computed_ml", false, 0, 1e7, "mL that the program asked for"),
    BOOL("in_new_water", "yes or no: mixed into the new water beforehand"),
    REAL("salt_kg", false, 0, 1e6, "kg of salt"),
    REAL("check_ml", false, 0, 1e7, "mL that a second person worked out alone"),
    TEXT("lifted", false, "gates lifted by a second person, separated by blanks"),
    BOOL("given_in_error", "yes or no: it is in the water already, and was not meant"),
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
    TEXT("photo", false, "a JPEG or PNG picture of at most 32 MB"),
    END};
static const lzs_field f_scrape[] = {
    REF("lot", true, LZS_LOT, "a lot's number"),
    REF("tank", false, LZS_TANK, "a tank as system/number"),
    WORD("finding", true,
         "nothing|cryptocaryon|amyloodinium|brooklynella|uronema|fluke|bacteria|other",
         "what was found"),
    TEXT("words", false, "in own words"),
    TEXT("document", false, "number of the laboratory's report"),
    TEXT("photo", false, "a JPEG or PNG picture of at most 32 MB"),
    END};
static const lzs_field f_count[] = {REF("lot", true, LZS_LOT, "a lot's number"),
                                    INT("heads", true, 0, 1000000, "fish counted"), END};
static const lzs_field f_death[] = {REF("lot", true, LZS_LOT, "a lot's number"),
                                    INT("heads", true, 1, 1000000, "fish dead, 1 or more"),
                                    REF("tank", false, LZS_TANK, "a tank as system/number"),
                                    TEXT("cause", false, "suspected cause"),
                                    TEXT("disposal", false, "kept or disposed, where"),
                                    TEXT("document", false, "receipt of the disposal"),
                                    TEXT("post_mortem", false, "what was found in the dead"),
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
    BOOL("keep", "yes or no: keep the credit served so far"),
    REF("prescriber", false, LZS_PERSON, "the initials of the veterinarian who prescribed it"),
    TEXT("diagnosis", false, "what it is given for"),
    END};
static const lzs_field f_release[] = {
    REF("lot", true, LZS_LOT, "a lot's number"),
    REF("customer", false, LZS_CUSTOMER, "a customer's number"),
    TEXT("document", false, "number of the certificate or delivery note"),
    TEXT("transporter", false, "transporter"), END};
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
// A bath in a vessel of its own: what was in it, and how the fish took it.
static const lzs_field f_bath[] = {
    REF("lot", true, LZS_LOT, "a lot's number"),
    WORD("bath", true, "freshwater|peroxide|formalin|praziquantel|chloroquine|other",
         "freshwater, peroxide, formalin, praziquantel, chloroquine or other"),
    REF("bottle", false, LZS_BOTTLE, "a bottle's number"),
    REAL("litres", true, 0.001, 1e7, "litres in the vessel, above zero"),
    REAL("amount_ml", false, 0, 1e7, "mL from the bottle"),
    REAL("amount_mg", false, 0, 1e12, "mg of active substance"),
    REAL("computed_ml", false, 0, 1e7, "mL that the program asked for"),
    REAL("check_ml", false, 0, 1e7, "mL that a second person worked out alone"),
    INT("minutes", true, 0, 1440, "minutes that the fish were in it"),
    REAL("temperature", false, -2, 45, "degrees C"),
    BOOL("air", "yes or no: air was on"),
    BOOL("stopped", "yes or no: ended early because of signs"),
    INT("heads", false, 0, 1000000, "fish bathed"),
    TEXT("words", false, "in own words"),
    END};
// What an authority, a veterinarian or a laboratory found or ordered, and what was done about
// biosecurity: Regulation (EU) 2016/429 art. 186, Delegated Regulation (EU) 2020/691 art. 30.
static const lzs_field f_visit[] = {
    WORD("what", true, "health_visit|surveillance|laboratory|instruction|inspection|biosecurity",
         "health_visit, surveillance, laboratory, instruction, inspection or biosecurity"),
    REF("by", false, LZS_PERSON, "initials of the veterinarian, if known here"),
    REF("system", false, LZS_SYSTEM, "a system's name"),
    REF("lot", false, LZS_LOT, "a lot's number"),
    TEXT("words", true, "result or instruction"),
    TEXT("document", false, "number of the report or order"),
    END};
static const lzs_field f_practice[] = {TEXT("words", true, "why this file is practice"), END};

const lzs_kind_spec lzs_kinds_facts[LZS_N_KINDS - LZS_LOT - 1] = {
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
    KIND(LZS_BATH, "bath", "baths", false, f_bath, NULL),
    KIND(LZS_VISIT, "visit", "visits", false, f_visit, NULL),
};
