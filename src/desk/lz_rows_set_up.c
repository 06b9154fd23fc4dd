// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of what a station has: people, instruments with their last check, bottles with what is left
// in them, protocols with the lots under them.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_check.h"
#include "lz_format.h"
#include "lz_medicine.h"
#include "lz_rows_private.h"
#include "lz_words.h"

typedef void (*AddRow)(LzDesk *desk, gpointer row, const LzEntity *entity);

static void
fill(LzDesk *desk, LzList which, lzs_kind kind, AddRow add)
{
  const GPtrArray *all = desk->model->by_kind[kind];
  lz_row_list_begin(desk->lists[which]);
  for (guint i = 0; i < all->len; i++) {
    const LzEntity *entity = all->pdata[i];
    char key[24];
    g_snprintf(key, sizeof key, "%" G_GINT64_FORMAT, entity->id);
    add(desk, lz_row_list_row(desk->lists[which], key), entity);
  }
  lz_row_list_end(desk->lists[which]);
}

// --- people

static const char *
role_words(const char *role)
{
  if (g_strcmp0(role, "lead") == 0)
    return _("lead");
  return g_strcmp0(role, "vet") == 0 ? _("veterinarian") : _("keeper");
}

static void
add_person(LzDesk *desk, gpointer row, const LzEntity *person)
{
  GPtrArray *texts = lz_rows_texts();
  LzPersonInfo info = {.id = person->id,
                       .name = lz_rows_text(texts, lz_desk_person_name(desk, person->id)),
                       .initials = lz_rows_text(texts, lz_desk_person_initials(desk, person->id)),
                       .role = lz_rows_text(texts, role_words(lz_entry_text(person->now, "role"))),
                       .active = !lz_entry_has(person->now, "active") ||
                                 lz_entry_int(person->now, "active") != 0};
  char *title = *info.initials ? g_strdup_printf("%s, %s", info.initials, info.name)
                               : g_strdup(_("a person whose name was erased"));
  char *detail =
      info.active ? g_strdup(info.role) : g_strdup_printf(_("%s, no longer works here"), info.role);
  lz_row_set(row, title, lz_rows_sentence(detail), &info, sizeof info, texts);
}

// --- instruments

static void
find_check(LzDesk *desk, LzInstrumentInfo *info)
{
  const LzModel *m = desk->model;
  for (guint k = 0; k < m->checks->len; k++) {
    const uint32_t i = g_array_index(m->checks, uint32_t, k);
    const lzq_record *r = &g_array_index(m->records, lzq_record, i);
    if (r->instrument != info->index || r->at > desk->now || r->at < info->checked_at ||
        !lz_model_record_holds(m, i))
      continue;
    info->ever_checked = TRUE;
    info->checked_at = r->at;
    info->ok = r->ok;
  }
}

static void
find_due(LzDesk *desk, const LzEntity *entity, LzInstrumentInfo *info)
{
  int64_t days = lz_entry_int(entity->now, "check_days");
  lzq_minute from = info->ever_checked ? info->checked_at : entity->first->at;
  info->check_due = days > 0 ? from + days * LZQ_DAY : LZQ_NEVER;
  info->overdue = days > 0 && info->check_due <= desk->now;
  info->reagents_expired = desk->now >= lz_expiry_end(lz_desk_zone(desk), info->reagent_expiry);
}

static void
add_instrument(LzDesk *desk, gpointer row, const LzEntity *entity)
{
  const lzq_instrument *i = &g_array_index(desk->model->instruments, lzq_instrument, entity->index);
  GPtrArray *texts = lz_rows_texts();
  LzInstrumentInfo info = {
      .index = entity->index,
      .id = entity->id,
      .name = lz_rows_text(texts, entity->label),
      .method = lz_rows_text(texts, lz_entry_text(entity->now, "method")),
      .error_abs = i->error_abs,
      .error_rel = i->error_rel,
      .resolution = i->resolution,
      .checked_at = LZQ_LONG_AGO,
      .sees = lz_rows_text(texts, lz_entry_text(entity->now, "sees")),
      .standards = lz_rows_text(texts, lz_entry_text(entity->now, "standards")),
      .reagent_batch = lz_rows_text(texts, lz_entry_text(entity->now, "reagent_batch")),
      .reagent_expiry = lz_rows_text(texts, lz_entry_text(entity->now, "reagent_expiry"))};
  find_check(desk, &info);
  find_due(desk, entity, &info);
  char *detail = NULL;
  if (info.ever_checked) {
    g_autofree char *when = lz_format_time(lz_desk_zone(desk), info.checked_at);
    detail = g_strdup_printf(info.ok ? _("Passed its check on %s")
                                     : _("Failed its check on %s: its readings since the last good "
                                         "check are suspect"),
                             when);
  }
  lz_row_set(row, g_strdup(entity->label), detail ? detail : g_strdup(_("Never checked")), &info,
             sizeof info, texts);
}

// --- bottles

static void
add_bottle(LzDesk *desk, gpointer row, const LzEntity *entity)
{
  const lzq_bottle *b = &g_array_index(desk->model->bottles, lzq_bottle, entity->index);
  GPtrArray *texts = lz_rows_texts();
  double reorder = lz_entry_number(entity->now, "reorder_ml");
  LzBottleInfo info = {.index = entity->index,
                       .id = entity->id,
                       .name = lz_rows_text(texts, entity->label),
                       .batch = lz_rows_text(texts, lz_entry_text(entity->now, "batch")),
                       .expiry = lz_rows_text(texts, lz_entry_text(entity->now, "expiry")),
                       .analyte = b->analyte,
                       .form = b->form,
                       .strength_mg_ml = b->strength_mg_ml,
                       .left_ml = lz_medicine_left(desk, entity->id, desk->now + 1),
                       .prescription =
                           lz_rows_text(texts, lz_entry_text(entity->now, "prescription")),
                       .receipt = lz_rows_text(texts, lz_entry_text(entity->now, "receipt")),
                       .prescriber = lz_entry_int(entity->now, "prescriber"),
                       .supplier = lz_entry_int(entity->now, "supplier")};
  info.expired = desk->now >= lz_expiry_end(lz_desk_zone(desk), info.expiry);
  info.low = info.left_ml < reorder; // false where either is not known
  g_autofree char *strength = lz_format_short(b->strength_mg_ml, 3);
  g_autofree char *left = isnan(info.left_ml) ? g_strdup(_("how much is left is not known"))
                                              : lz_format_amount(info.left_ml, LZQ_UNIT_ML);
  char *detail = isnan(info.left_ml) ? g_strdup_printf(_("%1$s mg/mL; %2$s"), strength, left)
                 : info.low ? g_strdup_printf(_("%1$s mg/mL; %2$s left: order it"), strength, left)
                            : g_strdup_printf(_("%1$s mg/mL; %2$s left"), strength, left);
  char *title = g_strdup_printf("%s, %s", entity->label, lz_words_analyte(b->analyte));
  lz_row_set(row, title, detail, &info, sizeof info, texts);
}

// --- protocols

static void
add_protocol(LzDesk *desk, gpointer row, const LzEntity *entity)
{
  const lzq_protocol *p = &g_array_index(desk->model->protocols, lzq_protocol, entity->index);
  GPtrArray *texts = lz_rows_texts();
  LzProtocolInfo info = {.index = entity->index,
                         .id = entity->id,
                         .name = lz_rows_text(texts, entity->label),
                         .source = lz_rows_text(texts, lz_entry_text(entity->now, "source")),
                         .caution = lz_rows_text(texts, lz_entry_text(entity->now, "caution")),
                         .version = (int)p->version,
                         .n_phases = p->n_phases,
                         .signed_off = lz_entry_int(entity->now, "signed_off") != 0};
  for (uint32_t i = 0; i < desk->standing->len; i++) {
    const LzStanding *s = lz_rows_standing(desk, i);
    info.courses += s->living && s->protocol == entity->index;
  }
  g_autofree char *phases =
      g_strdup_printf(ngettext("%u phase", "%u phases", info.n_phases), info.n_phases);
  g_autofree char *courses = g_strdup_printf(
      ngettext("%d lot under it", "%d lots under it", (unsigned)info.courses), info.courses);
  char *detail = g_strdup_printf("%s, %s, %s", phases, courses,
                                 info.signed_off ? _("signed off by a veterinarian")
                                                 : _("not signed off by a veterinarian"));
  lz_row_set(row, g_strdup(entity->label), detail, &info, sizeof info, texts);
}

void
lz_rows_set_up(LzDesk *desk)
{
  fill(desk, LZ_LIST_PEOPLE, LZS_PERSON, add_person);
  fill(desk, LZ_LIST_INSTRUMENTS, LZS_INSTRUMENT, add_instrument);
  fill(desk, LZ_LIST_BOTTLES, LZS_BOTTLE, add_bottle);
  fill(desk, LZ_LIST_PROTOCOLS, LZS_PROTOCOL, add_protocol);
}
