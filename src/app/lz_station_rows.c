// SPDX-License-Identifier: GPL-3.0-or-later
// Two kinds of section: those with a model of the desk behind them, and the plain ones that list
// an entity's own fields.
#include "lz_station_rows.h"

#include <glib/gi18n.h>
#include <lz_fields.h>
#include <lz_format.h>
#include <lz_medicine.h>
#include <lz_reach.h>
#include <lz_rows.h>
#include <lz_words.h>
#include <math.h>
#include <string.h>

#include "lz_instrument.h"
#include "lz_task_form.h"
#include "lz_text_table.h"

#define COLUMN(i) (1u << (i))

static const LzStationSection sections[] = {
    {"station",
     "station",
     N_("Station"),
     N_("Name, time zone, test slots and rules of the house."),
     {N_("name"), N_("zone"), N_("tests at"), N_("address")}},
    {"systems",
     "system",
     N_("Systems"),
     N_("A system is one body of water: what its tanks share, they share for better and worse."),
     {N_("name"), N_("role"), N_("net litres"), N_("tanks"), N_("fish"), N_("state")},
     COLUMN(2) | COLUMN(3) | COLUMN(4)},
    {"tanks",
     "tank",
     N_("Tanks"),
     NULL,
     {N_("tank"), N_("litres"), N_("fish"), N_("lots")},
     COLUMN(1) | COLUMN(2) | COLUMN(3)},
    {"people",
     "person",
     N_("Staff"),
     N_("Names stand outside the ledger and can be erased."),
     {N_("initials"), N_("name"), N_("role"), N_("works here")}},
    {"instruments",
     "instrument",
     N_("Instruments"),
     NULL,
     {N_("name"), N_("kind"), N_("measures"), N_("accuracy"), N_("resolution"), N_("last check"),
      N_("result"), N_("next check"), N_("reagents")},
     COLUMN(3) | COLUMN(4)},
    {"bottles",
     "bottle",
     N_("Bottles"),
     // xgettext:no-c-format
     N_("Strength as its label counts it: copper sulfate pentahydrate holds 25.5 % copper."),
     {N_("number"), N_("holds"), N_("batch"), N_("mg per mL"), N_("counted as"), N_("expiry"),
      N_("left"), N_("prescription")},
     COLUMN(3) | COLUMN(6)},
    {"medicines",
     "bottle",
     N_("Medicines"),
     N_("What went in and out of each bottle, mL, and every fish that it reached. Ctrl P prints "
        "it."),
     {N_("batch"), N_("bottle"), N_("expiry"), N_("prescription"), N_("in"), N_("given"),
      N_("left"), N_("lots reached (fish)")},
     COLUMN(4) | COLUMN(5) | COLUMN(6)},
    {"protocols",
     "protocol",
     N_("Protocols"),
     N_("Templates with their sources. A veterinarian signs off; local rules decide."),
     {N_("name"), N_("phases"), N_("signed off"), N_("lots now"), N_("source")},
     COLUMN(1) | COLUMN(3)},
    {"species",
     "species",
     N_("Species"),
     NULL,
     {N_("name"), N_("common"), N_("copper"), N_("low salinity")}},
    {"suppliers", "supplier", N_("Suppliers"), NULL, {N_("name"), N_("country")}},
    {"customers",
     "customer",
     N_("Customers"),
     N_("A number, not a person's name."),
     {N_("reference")}},
    {"shipments",
     "shipment",
     N_("Shipments"),
     NULL,
     {N_("code"), N_("due"), N_("expected heads"), N_("boxes")},
     COLUMN(2) | COLUMN(3)},
    {"ledger",
     NULL,
     N_("Ledger"),
     N_("Every entry as it was written, newest first. Enter corrects one, with a reason."),
     {N_("when"), N_("where"), N_("what"), N_("who"), N_("watched"), N_("written"), N_("reason")}},
};

const char *
lz_station_label(const LzStationSection *section)
{
  // Translators: the list of all species; "Species" elsewhere is the field of one lot
  return strcmp(section->name, "species") == 0 ? C_("section", "Species") : _(section->label);
}

// Fields of the plain sections, in the order of their titles.
static const struct {
  const char *name;
  const char *fields[5];
} plain[] = {
    {"station", {"name", "zone", "slots", "address"}},
    {"species", {"name", "common", "copper", "low_salinity"}},
    {"suppliers", {"name", "country"}},
    {"customers", {"reference"}},
    {"shipments", {"code", "due", "expected_heads", "boxes"}},
};

const LzStationSection *
lz_station_sections(guint *n)
{
  *n = G_N_ELEMENTS(sections);
  return sections;
}

// The row, owned by the store, for what its cells are sorted by.
static LzTextRow *
append(GListStore *store, gint64 id, const char *const *cells, guint n)
{
  g_autoptr(LzTextRow) row = lz_text_row_new(id, cells, n);
  g_list_store_append(store, row);
  return row;
}

static const char *
yes_no(gboolean value)
{
  return value ? _("yes") : _("no");
}

static void
system_row(GListStore *store, LzDesk *desk, gpointer row)
{
  const LzSystemInfo *i = lz_system_row_info(row);
  g_autofree char *volume = lz_format_short(i->volume_l, 1);
  g_autofree char *tanks = g_strdup_printf("%d", i->tanks);
  g_autofree char *heads = g_strdup_printf("%d", i->heads);
  const char *cells[] = {i->name, lz_words_role(i->role),  volume, tanks,
                         heads,   lz_words_state(i->state)};
  LzTextRow *made = append(store, i->id, cells, G_N_ELEMENTS(cells));
  lz_text_row_set_order(made, 2, i->volume_l); // 2 400 has a space in it
}

static void
tank_row(GListStore *store, LzDesk *desk, gpointer row)
{
  const LzTankInfo *i = lz_tank_row_info(row);
  g_autofree char *volume = lz_format_short(i->volume_l, 1);
  g_autofree char *heads = g_strdup_printf("%d", i->heads);
  g_autofree char *lots = g_strdup_printf("%d", i->lots);
  const char *cells[] = {i->name, volume, heads, lots};
  LzTextRow *made = append(store, i->id, cells, G_N_ELEMENTS(cells));
  lz_text_row_set_order(made, 1, i->volume_l);
}

static void
person_row(GListStore *store, LzDesk *desk, gpointer row)
{
  const LzPersonInfo *i = lz_person_row_info(row);
  const char *cells[] = {i->initials, i->name, i->role, yes_no(i->active)};
  append(store, i->id, cells, G_N_ELEMENTS(cells));
}

static char *
accuracy_of(const LzInstrumentInfo *i)
{
  g_autofree char *absolute = lz_format_short(i->error_abs, 3);
  g_autofree char *relative = lz_format_short(100 * i->error_rel, 1);
  return i->error_rel > 0 ? g_strdup_printf("± %s + %s %%", absolute, relative)
                          : g_strdup_printf("± %s", absolute);
}

static char *
due_of(LzDesk *desk, const LzInstrumentInfo *i)
{
  g_autofree char *due =
      i->check_due == LZQ_NEVER ? NULL : lz_format_time(lz_desk_zone(desk), i->check_due);
  return !due         ? g_strdup("–")
         : i->overdue ? g_strdup_printf(_("%s, overdue"), due)
                      : g_steal_pointer(&due);
}

// "2027-09"; a thermometer has none.
static char *
reagents_of(const LzInstrumentInfo *i)
{
  if (!*i->reagent_expiry)
    return g_strdup("–");
  return i->reagents_expired ? g_strdup_printf(_("%s, expired"), i->reagent_expiry)
                             : g_strdup(i->reagent_expiry);
}

static void
instrument_row(GListStore *store, LzDesk *desk, gpointer row)
{
  enum { NAME, KIND, MEASURES, ACCURACY, RESOLUTION, CHECKED, RESULT, DUE, REAGENTS, N };
  const LzInstrumentInfo *i = lz_instrument_row_info(row);
  g_autofree char *method = lz_word_shown(i->method), *accuracy = accuracy_of(i);
  g_autofree char *resolution =
      i->resolution > 0 ? lz_format_short(i->resolution, 4) : g_strdup("–");
  g_autofree char *checked =
      i->ever_checked ? lz_format_time(lz_desk_zone(desk), i->checked_at) : g_strdup(_("never"));
  g_autofree char *due = due_of(desk, i), *measures = lz_instrument_measures(desk, i);
  const char *result = !i->ever_checked ? "" : i->ok ? _("passed") : _("failed");
  g_autofree char *reagents = reagents_of(i);
  const char *cells[N] = {i->name, method, measures, accuracy, resolution,
                          checked, result, due,      reagents};
  LzTextRow *made = append(store, i->id, cells, N);
  lz_text_row_set_order(made, ACCURACY, i->error_abs);
  lz_text_row_set_order(made, RESOLUTION, i->resolution > 0 ? i->resolution : NAN);
  lz_text_row_set_order(made, CHECKED, i->ever_checked ? (double)i->checked_at : NAN);
  lz_text_row_set_order(made, DUE, i->check_due == LZQ_NEVER ? NAN : (double)i->check_due);
}

// "R-12, TA"
static char *
prescription_of(LzDesk *desk, const LzBottleInfo *i)
{
  const char *vet = i->prescriber ? lz_desk_person_initials(desk, i->prescriber) : "";
  return g_strdup_printf("%s%s%s", i->prescription, *vet && *i->prescription ? ", " : "", vet);
}

static char *
expiry_of(const LzBottleInfo *i)
{
  return i->expired ? g_strdup_printf(_("%s, expired"), i->expiry) : g_strdup(i->expiry);
}

static char *
left_of(const LzBottleInfo *i)
{
  g_autofree char *left =
      isnan(i->left_ml) ? g_strdup("–") : lz_format_amount(i->left_ml, LZQ_UNIT_ML);
  return i->low ? g_strdup_printf(_("%s, order it"), left) : g_steal_pointer(&left);
}

// The strength as its label has it, which is what a person compares it with.
static void
bottle_row(GListStore *store, LzDesk *desk, gpointer row)
{
  enum { NUMBER, HOLDS, BATCH, STRENGTH, AS, EXPIRY, LEFT, PRESCRIPTION, N };
  const LzBottleInfo *i = lz_bottle_row_info(row);
  const LzEntry *entry = lz_desk_entity(desk, "bottle", i->id);
  double strength = entry ? lz_entry_number(entry, "strength") : i->strength_mg_ml;
  gboolean salt = entry && g_strcmp0(lz_entry_text(entry, "strength_as"), "salt") == 0;
  const char *as = i->analyte != LZQ_COPPER ? "" : salt ? _("salt") : _("metal");
  g_autofree char *label = lz_format_short(strength, 3), *left = left_of(i), *expiry = expiry_of(i),
                  *prescription = prescription_of(desk, i);
  g_autofree char *holds =
      i->analyte == LZQ_COPPER
          ? g_strdup_printf("%s, %s", lz_words_analyte(i->analyte), lz_words_form(i->form))
          : g_strdup(lz_words_analyte(i->analyte));
  const char *cells[N] = {i->name, holds, i->batch, label, as, expiry, left, prescription};
  LzTextRow *made = append(store, i->id, cells, N);
  lz_text_row_set_order(made, STRENGTH, strength);
  lz_text_row_set_order(made, LEFT, i->left_ml);
}

// "0313 (10), 0314 (8)"
static char *
lots_reached(LzDesk *desk, const LzBottleInfo *i)
{
  GString *text = g_string_new(NULL);
  g_autoptr(GArray) reached = lz_desk_reached(desk, i->name);
  for (guint k = 0; k < reached->len; k++) {
    const LzReach *one = &g_array_index(reached, LzReach, k);
    if (one->bottle == i->index)
      g_string_append_printf(text, "%s%s (%d)", text->len ? ", " : "",
                             lz_desk_name(desk, "lot", one->lot), one->heads);
  }
  return g_string_free(text, FALSE);
}

static void
medicine_row(GListStore *store, LzDesk *desk, gpointer row)
{
  const LzBottleInfo *i = lz_bottle_row_info(row);
  LzMedicineUse use = lz_desk_medicine_use(desk, i->id, 0, lz_desk_now(desk) + 1);
  double opened = isnan(use.opened_ml) ? 0 : use.opened_ml;
  g_autofree char *in = lz_format_short(opened + use.in_ml, 1);
  g_autofree char *given = lz_format_short(use.given_ml, 1);
  g_autofree char *left = isnan(use.left_ml) ? g_strdup("–") : lz_format_short(use.left_ml, 1);
  g_autofree char *lots = lots_reached(desk, i);
  g_autofree char *prescription = prescription_of(desk, i);
  enum { BATCH, BOTTLE, EXPIRY, PRESCRIPTION, IN, GIVEN, LEFT, LOTS, N };
  const char *cells[N] = {i->batch, i->name, i->expiry, prescription, in, given, left, lots};
  LzTextRow *made = append(store, i->id, cells, N);
  lz_text_row_set_order(made, IN, opened + use.in_ml);
  lz_text_row_set_order(made, GIVEN, use.given_ml);
  lz_text_row_set_order(made, LEFT, use.left_ml);
}

static void
protocol_row(GListStore *store, LzDesk *desk, gpointer row)
{
  const LzProtocolInfo *i = lz_protocol_row_info(row);
  g_autofree char *phases = g_strdup_printf("%u", i->n_phases);
  g_autofree char *courses = g_strdup_printf("%d", i->courses);
  const char *cells[] = {i->name, phases, yes_no(i->signed_off), courses, i->source};
  append(store, i->id, cells, G_N_ELEMENTS(cells));
}

typedef void (*RowMaker)(GListStore *store, LzDesk *desk, gpointer row);

static const struct {
  const char *name;
  GListModel *(*model)(LzDesk *desk);
  RowMaker make;
} models[] = {
    {"systems", lz_desk_systems, system_row},
    {"tanks", lz_desk_tanks, tank_row},
    {"people", lz_desk_people, person_row},
    {"instruments", lz_desk_instruments, instrument_row},
    {"bottles", lz_desk_bottles, bottle_row},
    {"medicines", lz_desk_bottles, medicine_row},
    {"protocols", lz_desk_protocols, protocol_row},
};

static char *
field_text(const LzEntry *entry, const LzField *field)
{
  if (!field || !lz_entry_has(entry, field->name))
    return g_strdup("");
  if (field->type == LZ_FIELD_TEXT)
    return g_strdup(lz_entry_text(entry, field->name));
  if (field->type == LZ_FIELD_WORD)
    return lz_word_shown(lz_entry_text(entry, field->name));
  return lz_format_short(lz_entry_number(entry, field->name), 3);
}

static void
fill_plain(GListStore *store, LzDesk *desk, const LzStationSection *section,
           const char *const *fields)
{
  g_autoptr(GArray) ids = lz_desk_entities(desk, section->kind);
  const LzKind *kind = lz_kind_find(section->kind);
  for (guint i = 0; ids && i < ids->len; i++) {
    int64_t id = g_array_index(ids, int64_t, i);
    LzEntry *entry = lz_desk_entity(desk, section->kind, id);
    char *cells[LZ_TEXT_ROW_MAX] = {NULL};
    guint n = 0;
    for (; entry && fields[n]; n++)
      cells[n] = field_text(entry, lz_kind_field(kind, fields[n]));
    if (entry)
      append(store, id, (const char *const *)cells, n);
    for (guint c = 0; c < n; c++)
      g_free(cells[c]);
  }
}

GListModel *
lz_station_rows(LzDesk *desk, const LzStationSection *section)
{
  GListStore *store = g_list_store_new(LZ_TYPE_TEXT_ROW);
  for (size_t m = 0; m < G_N_ELEMENTS(models); m++) {
    if (strcmp(models[m].name, section->name) != 0)
      continue;
    GListModel *model = models[m].model(desk);
    for (guint i = 0; i < g_list_model_get_n_items(model); i++) {
      g_autoptr(GObject) row = g_list_model_get_item(model, i);
      models[m].make(store, desk, row);
    }
  }
  for (size_t p = 0; p < G_N_ELEMENTS(plain); p++)
    if (strcmp(plain[p].name, section->name) == 0)
      fill_plain(store, desk, section, plain[p].fields);
  return G_LIST_MODEL(store);
}
