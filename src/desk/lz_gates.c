// SPDX-License-Identifier: GPL-3.0-or-later
// The table of gates. What a sentence adds (names, levels, times) comes from the gate that fires.
#include "lz_gates.h"

#include <glib/gi18n-lib.h>

static const LzGateRule rules[LZ_N_GATES] = {
    [LZ_GATED_OPEN_DOSE] =
        {"open_dose", N_("a second dose before a reading"),
         N_("two people may give the same dose; the second comes on top of what nobody has "
            "measured"),
         N_("common practice, no source"),
         N_("read the water after its mixing time, or correct the first dose if it was not given; "
            "if this one is in the water already, record it as given in error "
            "(given_in_error=yes) with a reason"),
         LZ_LIFT_NOBODY},
    [LZ_GATED_UNKNOWN] = {"unknown", N_("a dose into water that nobody knows"),
                          N_("what is there already may be all of it"),
                          N_("common practice, no source"),
                          N_("test first, with an instrument that passed its check"),
                          LZ_LIFT_NOBODY},
    [LZ_GATED_DOUBTED] =
        {"doubted", N_("a dose on top of a reading in doubt"),
         N_("a reading that is higher than expected may be right: somebody gave a dose and did not "
            "write it down"),
         N_("common practice, no source"),
         N_("repeat the test; if the two agree, work the dose out from them"),
         LZ_LIFT_SECOND_PERSON},
    [LZ_GATED_SLIP] =
        {"slip", N_("five times the computed dose or more"),
         N_("a decimal point slips: errors of ten times come from number keys"),
         N_("house rule of this program; Thimbleby and Cairns 2010 on slips of ten"),
         N_("type it again from the bottle and the syringe; if it is in the water already, "
            "record it as given in error (given_in_error=yes) with a reason"),
         LZ_LIFT_NOBODY},
    [LZ_GATED_HARM] = {"harm", N_("a level at the harm edge or beyond"),
                       N_("the fish there would be harmed"), N_("the protocol's own harm edge"),
                       N_("give the computed dose; if the level is right there, have the protocol "
                          "changed by the veterinarian; if it is in the water already, record it "
                          "as given in error (given_in_error=yes) with a reason"),
                       LZ_LIFT_NOBODY},
    [LZ_GATED_LARGE] = {"large", N_("more than one and a half times the computed dose"),
                        N_("volume, strength or reading may be wrong"),
                        N_("house rule of this program"),
                        N_("work it out again; a second person must agree"), LZ_LIFT_SECOND_PERSON},
    [LZ_GATED_SMALL] = {"small", N_("half of the computed dose or less"),
                        N_("too little lets the parasite through"),
                        N_("house rule of this program"),
                        N_("type the same amount again if it is meant"), LZ_LIFT_AGAIN},
    [LZ_GATED_NOT_PLANNED] =
        {"not_planned", N_("a dose that is not due, or goes beyond what the protocol plans"),
         N_("copper that rises too fast kills fish, and the next step waits for its day"),
         N_("the protocol's own steps, rise a day and plan edge; Zec, Hadfield and Hungerford 2021 "
            "on deaths in the rise"),
         N_("wait for the round that the plan names, and give what it says"),
         LZ_LIFT_SECOND_PERSON},
    [LZ_GATED_FORM] = {"form", N_("copper of another form than the course asks for"),
                       N_("each form works and kills at levels of its own, and the right one "
                          "must not follow it into that water"),
                       N_("common practice, no source"),
                       N_("give the form that the course asks for, or change the course first"),
                       LZ_LIFT_SECOND_PERSON},
    [LZ_GATED_SPECIES] =
        {"species", N_("fish or invertebrates that must not meet the medicine"),
         N_("it kills invertebrates, sharks and rays, and species that do not bear it"),
         N_("common practice, no source; classes of the species list"),
         N_("move them out first or put them elsewhere, or choose another treatment with the "
            "veterinarian"),
         LZ_LIFT_NOBODY},
    [LZ_GATED_NO_DATA] = {"no_data", N_("a species without data on the medicine"),
                          N_("no data does not mean that it is safe"),
                          N_("common practice, no source"),
                          N_("try one fish, ask the veterinarian, or enter what is known of it"),
                          LZ_LIFT_SECOND_PERSON},
    [LZ_GATED_NEVER_MEET] =
        {"never_meet", N_("medicines that must never meet in one water"),
         N_("chlorine kills fish and reacts with formalin; two forms of copper add up, and no kit "
            "tells them apart; a dechlorinator or ammonia binder sets bound copper free"),
         N_("common practice, no source"),
         N_("remove the first by water changes and carbon, read none, then begin"), LZ_LIFT_NOBODY},
    [LZ_GATED_DOUBTFUL] = {"doubtful",
                           N_("medicines, or copper and low salinity, whose meeting is doubtful"),
                           N_("each is harder on fish beside the other, and few have tried"),
                           N_("common practice, no source; the station's rule (doubtful_pairs)"),
                           N_("end the first, or ask the veterinarian"), LZ_LIFT_SECOND_PERSON},
    [LZ_GATED_EQUIPMENT] =
        {"equipment", N_("equipment that takes the medicine out or breaks it"),
         N_("carbon and resin take it up; UV light and ozone break it, or set metal free"),
         N_("common practice, no source"),
         N_("switch it off or take it out, and record that (gear)"), LZ_LIFT_REASON},
    [LZ_GATED_METHOD] =
        {"method", N_("a kit or instrument that does not see the form of copper in the water"),
         N_("it reads low or nothing while the true level may harm"),
         N_("common practice, no source"), N_("read with one that sees that form"), LZ_LIFT_KEPT},
    [LZ_GATED_EXPIRED] =
        {"expired", N_("a bottle past its expiry"), N_("its strength is not known any more"),
         N_("the label"),
         N_("open a bottle in date, and record the disposal of the old one (stock)"),
         LZ_LIFT_NOBODY},
    [LZ_GATED_PRESCRIPTION] =
        {"prescription", N_("a prescription medicine without a prescription on record"),
         N_("the veterinarian answers for it; local rules ask for the record"),
         N_("Regulation (EU) 2019/6 art. 108, as a template; local rules come first"),
         N_("enter the prescription and who prescribed it with the bottle"), LZ_LIFT_SECOND_PERSON},
    [LZ_GATED_STATION_LIMIT] = {"station_limit", N_("more than this station's own limit"),
                                N_("the station has set it for this bottle"),
                                N_("the station's setting (limit_level)"),
                                N_("give less; a lead may change the limit, with a reason"),
                                LZ_LIFT_NOBODY},
    [LZ_GATED_PUBLISHED_LIMIT] =
        {"published_limit", N_("more than what is published, with no protocol that asks for it"),
         N_("nobody has shown that fish bear it"),
         N_("copper: Zec, Hadfield and Hungerford 2021; formalin: Francis-Floyd VM061; "
            "praziquantel: Thomas 2016; peroxide: Schwartz et al. 2000; chloroquine: value from "
            "memory"),
         N_("give less, or let a signed protocol ask for it"), LZ_LIFT_SECOND_PERSON},
    [LZ_GATED_TOO_SOON] =
        {"too_soon", N_("medicine before the fish have rested after arrival"),
         N_("fish treated in their first week died more often: 7.7 % against 3.3 %"),
         N_("Zec, Hadfield and Hungerford 2021; hours by the station's setting (settle_h)"),
         N_("wait, unless they are sick already"), LZ_LIFT_REASON},
    [LZ_GATED_SALINITY_STEP] =
        {"salinity_step", N_("a larger step of salinity than the fish bear"),
         N_("the protocol of the fish there says how much at once"),
         N_("the protocol's own step and day; where it says nothing, 12 down and 3 up a day: "
            "common practice, no source"),
         N_("change less, in the steps that the adviser gives"), LZ_LIFT_REASON},
    [LZ_GATED_TOO_MUCH_WATER] = {"too_much_water", N_("a change of more than the system holds"),
                                 N_("it cannot have been, unless the water ran through"),
                                 N_("arithmetic"), N_("check the litres, or say that it dripped"),
                                 LZ_LIFT_NOBODY},
    [LZ_GATED_COUNTED_TWICE] =
        {"counted_twice", N_("copper of the new water that is on record as a dose already"),
         N_("counted twice, copper stands higher on record than in the water, and the parasite "
            "lives on in what counts as treated"),
         N_("arithmetic"),
         N_("enter what the new water held before that dose, nothing where it held none"),
         LZ_LIFT_REASON},
    [LZ_GATED_MOVE] = {"move", N_("fish into water that does not match, or before their time"),
                       N_("a step of copper or salinity harms, and an unproven phase lets the "
                          "parasite through"),
                       N_("the protocol's tolerances; common practice, no source"),
                       N_("match the water first, or wait until the phase is proven"),
                       LZ_LIFT_REASON},
    [LZ_GATED_SEEN] = {"seen", N_("fish into or out of a water in which something was seen"),
                       N_("the parasite goes along with fish, water and nets"),
                       N_("common practice, no source"),
                       N_("leave them until the sighting is answered and their course there is "
                          "served; scrape a fish, and ask the veterinarian"),
                       LZ_LIFT_REASON},
    [LZ_GATED_BATH] = {"bath", N_("a bath stronger or longer than published, or without air"),
                       N_("formalin uses up the oxygen and harms gills the warmer it is"),
                       N_("Francis-Floyd, UF/IFAS VM-77: 250 mg/L, 150 above 21 °C, 60 minutes"),
                       N_("weaker, shorter, with air, one fish first"), LZ_LIFT_NOBODY},
    [LZ_GATED_ALONE] =
        {"alone", N_("a risky dose that only one person has worked out"),
         N_("an independent second sum finds most errors; a glance at the first finds few"),
         N_("ISMP, independent double checks; the station's setting (double_check)"),
         N_("the second person works it out alone from volume, reading and strength, and types it "
            "(check_ml) without seeing the first"),
         LZ_LIFT_SECOND_PERSON},
    [LZ_GATED_DISAGREE] = {"disagree", N_("two people who came to different amounts"),
                           N_("one of them is wrong"), N_("ISMP, independent double checks"),
                           N_("both work it out again from the bottle, the reading and the volume"),
                           LZ_LIFT_NOBODY},
    [LZ_GATED_BASIS] =
        {"basis", N_("a volume or a strength that doubles, halves or goes further"),
         N_("every dose is computed from it, and every other gate judges with it: a slip of ten "
            "here gives ten times the medicine unasked"),
         N_("house rule of this program; Thimbleby and Cairns 2010 on slips of ten"),
         N_("measure the system or read the label again; if it is right, say why"), LZ_LIFT_REASON},
    [LZ_GATED_UNLIKELY] =
        {"unlikely", N_("a first figure that hardly any station has"),
         N_("nothing was before it that speaks against it, and everything after rests on it"),
         N_("house rule of this program; common practice, no source"),
         N_("look at the instrument, count or measure again; if it is right, say why"),
         LZ_LIFT_REASON},
};

const LzGateRule *
lz_gate_rule(LzGateCode code)
{
  return &rules[code];
}

const char *
lz_gate_lift(LzLift lift)
{
  static const char *const words[] = {
      [LZ_LIFT_NOBODY] = N_("nobody"),
      [LZ_LIFT_SECOND_PERSON] = N_("a second person"),
      [LZ_LIFT_REASON] = N_("whoever acts, with a reason"),
      [LZ_LIFT_AGAIN] = N_("whoever acts, by typing it again"),
      [LZ_LIFT_KEPT] = N_("nothing is stopped: kept, not used"),
  };
  return words[lift];
}
