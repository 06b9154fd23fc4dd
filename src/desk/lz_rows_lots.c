// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of lots, living ones first: where each stands, what it has served, when it may go.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "lz_format.h"
#include "lz_rows_private.h"
#include "lz_words.h"

// "Zebrasoma flavescens (yellow tang)", or what there is of it.
static char *
species_of(const LzModel *m, const LzEntity *lot)
{
  const LzEntry *species = lz_model_species(m, lot);
  if (!species)
    return g_strdup("");
  const char *name = lz_entry_text(species, "name");
  const char *common = lz_entry_text(species, "common");
  if (!name || !*name)
    return g_strdup(common ? common : "");
  return common && *common ? g_strdup_printf("%s (%s)", name, common) : g_strdup(name);
}

static void
fill_course(LzDesk *desk, LzLotInfo *info, GPtrArray *texts)
{
  LzModel *m = desk->model;
  const lzq_lot_credit *credit = &desk->plan->credit->lots[info->index];
  const lzq_lot_plan *plan = &desk->plan->lots[info->index];
  info->served = credit->served;
  info->earliest = plan->release_earliest;
  info->likely = plan->release_likely;
  info->late = plan->release_late;
  info->firm = plan->served_firm;
  info->because = lz_keep(texts, lz_words_because(desk, &plan->because));
  if (!info->has_course || credit->protocol >= m->protocols->len)
    return;
  const lzq_protocol *protocol = &g_array_index(m->protocols, lzq_protocol, credit->protocol);
  info->phase_index = credit->phase;
  info->n_phases = protocol->n_phases;
  info->credit_min = credit->credit_min;
  info->open_min = credit->open_min;
  if (credit->phase >= protocol->n_phases)
    return;
  uint32_t phase = protocol->first_phase + credit->phase;
  info->needed_min = g_array_index(m->phases, lzq_phase, phase).min_credit_min;
  info->phase = lz_rows_text(texts, lz_desk_name(desk, "phase", phase));
}

static LzLotInfo
info_of(LzDesk *desk, uint32_t index, const LzEntity *lot, GPtrArray *texts)
{
  const LzStanding *s = lz_rows_standing(desk, index);
  LzLotInfo info = {.index = index,
                    .system = s->system,
                    .tank = s->tank,
                    .id = lot->id,
                    .code = lz_rows_text(texts, lot->label),
                    .species = lz_keep(texts, species_of(desk->model, lot)),
                    .protocol = "",
                    .phase = "",
                    .because = "",
                    .heads = s->heads,
                    .heads_received = (int)lz_entry_int(lot->first, "heads"),
                    .living = s->living,
                    .released = s->released,
                    .has_course = s->protocol != LZQ_NONE,
                    .received_at = s->received_at,
                    .earliest = LZQ_NEVER,
                    .likely = LZQ_NEVER,
                    .late = LZQ_NEVER};
  if (info.has_course)
    info.protocol = lz_rows_text(texts, lz_desk_name(desk, "protocol", s->protocol));
  if (desk->plan)
    fill_course(desk, &info, texts);
  return info;
}

// How it stands, in one sentence.
static char *
detail_of(LzDesk *desk, const LzLotInfo *info)
{
  if (!info->living)
    return *info->because   ? lz_rows_sentence(g_strdup(info->because))
           : info->released ? g_strdup(_("Released"))
                            : g_strdup(_("Not here"));
  const char *where = info->tank != LZQ_NONE ? lz_desk_name(desk, "tank", info->tank) : "";
  GString *out = g_string_new(NULL);
  g_string_append_printf(out, ngettext("%d fish", "%d fish", (unsigned long)info->heads),
                         info->heads);
  if (*where)
    g_string_append_printf(out, _(" in %s"), where);
  if (*info->phase)
    g_string_append_printf(out, ", %s", info->phase);
  if (*info->because)
    g_string_append_printf(out, ": %s", info->because);
  return lz_rows_sentence(g_string_free(out, FALSE));
}

// All that a lot's row says, but for what set-up says: of ten thousand lots most have gone, and
// their rows stay as they are.
typedef struct {
  guint rebuilds;                 // of the model, whose names it says
  guint protocols, phases, bands; // that there are
  char decimal;
  gboolean planned, living, released, served, firm;
  uint32_t system, tank, protocol, phase;
  int32_t heads;
  lzq_minute received_at, earliest, likely, late;
  int64_t credit_min, open_min;
  int because;
  double n[4];
} Made;

static Made
made_of(LzDesk *desk, uint32_t index)
{
  const LzStanding *s = lz_rows_standing(desk, index);
  Made made;
  memset(&made, 0, sizeof made);
  made.rebuilds = desk->model->rebuilds;
  made.protocols = desk->model->by_kind[LZS_PROTOCOL]->len;
  made.phases = desk->model->by_kind[LZS_PHASE]->len;
  made.bands = desk->model->by_kind[LZS_BAND]->len;
  made.decimal = lz_format_decimal();
  made.living = s->living;
  made.released = s->released;
  made.system = s->system;
  made.tank = s->tank;
  made.protocol = s->protocol;
  made.heads = s->heads;
  made.received_at = s->received_at;
  made.planned = desk->plan != NULL;
  if (!made.planned)
    return made;
  const lzq_lot_credit *credit = &desk->plan->credit->lots[index];
  const lzq_lot_plan *plan = &desk->plan->lots[index];
  made.served = credit->served;
  made.firm = plan->served_firm;
  made.phase = credit->phase;
  made.credit_min = credit->credit_min;
  made.open_min = credit->open_min;
  made.earliest = plan->release_earliest;
  made.likely = plan->release_likely;
  made.late = plan->release_late;
  made.because = (int)plan->because.code;
  memcpy(made.n, plan->because.n, sizeof made.n);
  return made;
}

// Whether the row that stands there says the same.
static gboolean
made_already(LzDesk *desk, uint32_t index)
{
  const Made made = made_of(desk, index);
  if (index >= desk->lots_made->len)
    g_array_set_size(desk->lots_made, index + 1);
  Made *before = &g_array_index(desk->lots_made, Made, index);
  if (memcmp(before, &made, sizeof made) == 0) // NOLINT(bugprone-suspicious-memory-comparison)
    return TRUE;
  memcpy(before, &made, sizeof made);
  return FALSE;
}

static void
add_lot(LzDesk *desk, LzRowList *list, uint32_t index)
{
  const LzEntity *lot = lz_model_entity_at(desk->model, LZS_LOT, index);
  char key[24];
  g_snprintf(key, sizeof key, "%" G_GINT64_FORMAT, lot->id);
  LzRow *row = lz_row_list_row(list, key);
  if (made_already(desk, index) && lz_row_info(row))
    return;
  GPtrArray *texts = lz_rows_texts();
  LzLotInfo info = info_of(desk, index, lot, texts);
  char *title =
      *info.species ? g_strdup_printf("%s, %s", info.code, info.species) : g_strdup(info.code);
  lz_row_set(row, title, detail_of(desk, &info), &info, sizeof info, texts);
}

void
lz_rows_lots(LzDesk *desk)
{
  LzRowList *list = desk->lists[LZ_LIST_LOTS];
  if (!desk->lots_made)
    desk->lots_made = g_array_new(FALSE, TRUE, sizeof(Made));
  lz_row_list_begin(list);
  for (int pass = 0; pass < 2; pass++)
    for (uint32_t i = 0; i < desk->standing->len; i++)
      if (lz_rows_standing(desk, i)->living == (pass == 0))
        add_lot(desk, list, i);
  lz_row_list_end(list);
}
