// SPDX-License-Identifier: GPL-3.0-or-later
// The table behind docs/paper.md: every field that the three rules name, against our columns.
// Ornamental fish are no food animals: art. 108 is used as the safest template, not as a duty.
#include "lzr_rules.h"

#include <glib/gi18n-lib.h>

#define AHL "2016/429 art. 186(1)"
#define VMP "2019/6 art. 108(2)"
#define QUA "2020/691 art. 30"

static const LzrRuleField fields[] = {
    {AHL, N_("category, species and quantity of animals"), N_("Receipts: species, fish"), LZR_KEPT},
    {AHL, N_("movements in, with origin and date"), N_("Receipts: when, from"), LZR_KEPT},
    {AHL, N_("movements out, with destination and date"), N_("Dispatches: when, to"), LZR_KEPT},
    {AHL, N_("health certificates"), N_("Receipts: certificate"), LZR_KEPT},
    {AHL, N_("mortality in each epidemiological unit"), N_("Deaths: water and tank"), LZR_KEPT},
    {AHL, N_("other disease problems"), N_("Signs, scrapes and results"), LZR_KEPT},
    {AHL, N_("treatments"), N_("Treatments"), LZR_KEPT},
    {AHL, N_("test results"), N_("Signs, scrapes and results; Notes"), LZR_KEPT},
    {AHL, N_("biosecurity and surveillance measures"), N_("Notes: visits, orders, measures"),
     LZR_KEPT},
    {AHL, N_("results of animal health visits"), N_("Notes: visits, orders, measures"), LZR_KEPT},
    {VMP, N_("date of first administration"), N_("Medicines: first"), LZR_KEPT},
    {VMP, N_("name of the medicine"), N_("Medicines: medicine"), LZR_KEPT},
    {VMP, N_("quantity given"), N_("Medicines: given"), LZR_KEPT},
    {VMP, N_("name and address of the supplier"), N_("Medicines: supplier, receipt"), LZR_KEPT},
    {VMP, N_("evidence of acquisition"), N_("Medicines: supplier, receipt"), LZR_KEPT},
    {VMP, N_("identity of the animal or group"), N_("Medicines: lots reached"), LZR_KEPT},
    {VMP, N_("name and contact of the prescriber"), N_("Medicines: prescription"), LZR_KEPT},
    {VMP, N_("withdrawal period, even if zero"), N_("Medicines: none, not for food"), LZR_KEPT},
    {VMP, N_("duration of treatment"), N_("Medicines: first, last"), LZR_KEPT},
    {QUA, N_("approval number of the establishment"), N_("the station's header"), LZR_KEPT},
    {QUA, N_("origin of all animals, with its unit number"), N_("Receipts: from"), LZR_KEPT},
    {QUA, N_("destination, with its unit number"), N_("Dispatches: to"), LZR_KEPT},
    {QUA, N_("names of transporters"), N_("Receipts: carried by; Dispatches"), LZR_KEPT},
    {QUA, N_("surveillance, clinical and laboratory results"),
     N_("Signs, scrapes and results; Notes"), LZR_KEPT},
    {QUA, N_("results of post-mortem examinations"), N_("Deaths: cause"), LZR_KEPT},
    {QUA, N_("instructions of the authority during isolation"), N_("Notes"), LZR_KEPT},
    {QUA, N_("biosecurity plan and evidence of its use"), N_("the station's plan"), LZR_LINKED},
};

const LzrRuleField *
lzr_rule_fields(guint *n)
{
  *n = G_N_ELEMENTS(fields);
  return fields;
}
