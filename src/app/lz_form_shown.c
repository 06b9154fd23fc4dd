// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_form_shown.h"

#include <glib/gi18n.h>
#include <lz_words.h>

static const struct {
  const char *kind, *title;
  const char *fields[18];
} forms[] = {
    {"reading", N_("New reading"), {"system", "analyte", "value", "unit", "instrument"}},
    {"dose",
     N_("Dose given"),
     {"system", "bottle", "amount_ml", "salt_kg", "in_new_water", "given_in_error"}},
    {"change",
     N_("Water changed"),
     {"system", "litres", "new_salinity", "new_copper", "drip", "disposal"}},
    {"topup", N_("Water topped up"), {"system", "litres", "new_salinity"}},
    {"gear", N_("Equipment on or off"), {"system", "gear", "on"}},
    {"stock", N_("Waste and stock of a bottle"), {"bottle", "change_ml", "why", "words"}},
    {"stop", N_("Stop a course"), {"lot", "why"}},
    {"note", N_("A note"), {"words", "system", "lot"}},
    {"sighting",
     N_("I see something"),
     {"sign", "system", "tank", "lot", "heads", "words", "photo"}},
    {"scrape", N_("Scrape"), {"lot", "tank", "finding", "words", "photo"}},
    {"death",
     N_("Death"),
     {"lot", "heads", "tank", "cause", "disposal", "document", "post_mortem"}},
    {"count", N_("Count"), {"lot", "heads"}},
    {"feed", N_("Fed"), {"lot", "food", "grams", "eaten_share", "bottle", "medicine_mg"}},
    {"move", N_("Move a lot"), {"lot", "tank"}},
    {"split", N_("Split a lot"), {"lot", "code", "heads", "tank"}},
    {"merge", N_("Merge two lots"), {"lot", "into"}},
    {"course",
     N_("Begin a protocol"),
     {"lot", "protocol", "phase", "keep", "prescriber", "diagnosis"}},
    {"accept", N_("Accept missing credit"), {"lot", "phase", "minutes"}},
    {"release", N_("Release a lot"), {"lot", "customer", "document", "transporter"}},
    {"bath",
     N_("Bath given"),
     {"lot", "bath", "bottle", "litres", "amount_ml", "minutes", "temperature", "air", "heads",
      "stopped", "words"}},
    {"visit", N_("Visit, result or order"), {"what", "by", "system", "lot", "words", "document"}},
    {"lot",
     N_("Receive a lot"),
     {"code", "species", "tank", "heads", "invoiced", "dead_on_arrival", "weak", "shipment",
      "bag_temperature", "bag_salinity", "bag_ph", "acclimation"}},
    {"person", N_("A person"), {"initials", "name", "role", "contact", "pin", "active", "erase"}},
    {"system",
     N_("A system"),
     {"name", "volume_l", "role", "walk", "source_salinity", "mixing_min", "max_change_day",
      "max_heads", "max_g_per_l"}},
    {"tank", N_("A tank"), {"system", "number", "volume_l"}},
    {"instrument",
     N_("An instrument"),
     {"name", "method", "sees", "error_abs", "error_rel", "resolution", "scale", "check_days",
      "standards", "reagent_batch", "reagent_expiry"}},
    {"bottle",
     N_("A bottle"),
     {"name", "analyte", "form", "strength", "strength_as", "batch", "expiry", "volume_ml",
      "reorder_ml", "supplier", "receipt", "prescription", "prescriber", "limit_level"}},
    {"check",
     N_("Check of an instrument"),
     {"instrument", "ok", "standard", "expected", "found", "expected_2", "found_2", "adjusted"}},
    {"station",
     N_("The station"),
     {"name", "zone", "slots", "last_in", "double_check", "accept_max_min", "idle_min", "paper",
      "address", "pins", "late_entry_days", "registration", "settle_h", "unseen_exit",
      "pressure_hpa", "altitude_m"}},
};

const char *const *
lz_form_shown(const char *kind)
{
  for (size_t i = 0; i < G_N_ELEMENTS(forms); i++)
    if (g_strcmp0(forms[i].kind, kind) == 0)
      return forms[i].fields;
  return NULL;
}

const char *
lz_form_title(const char *kind)
{
  for (size_t i = 0; i < G_N_ELEMENTS(forms); i++)
    if (g_strcmp0(forms[i].kind, kind) == 0)
      return _(forms[i].title);
  return lz_words_kind(kind);
}
